# SPDX-License-Identifier: Apache-2.0
"""`sumpwright history JOB`: what changed from one revision to the next, in numbers."""

from pathlib import Path
from typing import Annotated

import typer

from sumpwright.cli.door import json_text


def history(
    job: Annotated[Path, typer.Argument(metavar="JOB", readable=False, help="The job folder.")],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_figures: Annotated[
        bool, typer.Option("--no-figures", help="Only what was typed; computes nothing.")
    ] = False,
) -> None:
    """Say what changed at every revision, and what that did to fill and static hold.

    A kept revision has the job file, not the geometry files: where those are no longer the same,
    no figures are given for it.
    """
    from sumpwright.cli.history_text import history_text
    from sumpwright.studies.history import history as told_of

    told = told_of(job, figures=not no_figures)
    typer.echo(json_text(told.as_json()) if as_json else history_text(told))
