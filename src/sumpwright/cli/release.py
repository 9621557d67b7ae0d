# SPDX-License-Identifier: Apache-2.0
"""`sumpwright release JOB`: the dossier of a revision, or what it still lacks."""

from pathlib import Path
from typing import Annotated

import typer

from sumpwright.cli.door import json_text
from sumpwright.cli.progress import progress_shown


def release(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    torque: Annotated[
        str | None,
        typer.Option(
            metavar="TEXT",
            help="Of the pan's bolts, for the fitting sheet. Default: the job's `fitting.torque`.",
        ),
    ] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
) -> None:
    """Write out/release-REVISION.html and .pdf, if every requirement has its evidence.

    Otherwise name each that has not, write nothing, and leave with exit status 2. A requirement
    that is `off` is not asked for; the dossier says so.
    """
    from sumpwright.report.dossier_write import write_dossier
    from sumpwright.studies.release import release as released

    with progress_shown() as progress:
        result = released(job, torque=torque, progress=progress)
        pages = write_dossier(result, job if job.is_dir() else job.parent)
    said = f"revision {result.revision} released: {' and '.join(map(str, pages))}"
    typer.echo(json_text(result.as_json()) if as_json else said)
