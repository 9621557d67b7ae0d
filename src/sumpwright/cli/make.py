# SPDX-License-Identifier: Apache-2.0
"""`sumpwright make JOB`: the pack that a shop makes a revision from."""

from pathlib import Path
from typing import Annotated

import typer

from sumpwright.cli.door import json_text
from sumpwright.cli.progress import progress_shown


def make(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    to: Annotated[
        Path | None,
        typer.Option("--to", metavar="DIR", help="Write the pack here, not into out/make/."),
    ] = None,
    anyway: Annotated[
        bool, typer.Option("--anyway", help="Make it although something speaks against it.")
    ] = False,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print what the manifest says as JSON, SI units.")
    ] = False,
) -> None:
    """Write the pack for the shop: solids, flat patterns, prints, drawings, lists, a manifest.

    Checks first, and refuses what fails unless --anyway. Writes out/make/REVISION/. Exit status 0
    made, 1 made although something speaks against it, 2 refused or input problem.
    """
    from sumpwright.cli.make_text import make_text
    from sumpwright.report.make_write import write_make
    from sumpwright.studies.make import make_of

    with progress_shown() as progress:
        made = make_of(job, progress, anyway=anyway)
        place, pack = write_make(made, progress, to=to)
    typer.echo(json_text(pack.as_json()) if as_json else make_text(pack, place))
    raise typer.Exit(1 if pack.against else 0)
