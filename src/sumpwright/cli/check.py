# SPDX-License-Identifier: Apache-2.0
"""`sumpwright check JOB`: the verdict."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import json_text, stdout_takes_colour
from sumpwright.cli.progress import Progress, progress_shown

if TYPE_CHECKING:
    from sumpwright.studies.check import Checked


def check(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="The job folder, or its job.yaml.")],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_report: Annotated[
        bool, typer.Option("--no-report", help="Write no report into out/.")
    ] = False,
) -> None:
    """Say whether the new pan meets every requirement that can be judged, stock beside new.

    Writes out/report.html and out/report.pdf. Exit status 0 met, 1 not met, 2 input problem.
    """
    from sumpwright.cli.check_text import check_text
    from sumpwright.studies.check import check_with_bodies

    with progress_shown() as progress:
        checked = check_with_bodies(job, progress)
        pages = () if no_report else _report(checked, progress)
    result, colour = checked.result, stdout_takes_colour()
    text = json_text(result.as_json()) if as_json else check_text(result, pages, colour=colour)
    typer.echo(text)
    raise typer.Exit(1 if result.verdict == "not met" else 0)


def _report(checked: "Checked", progress: Progress) -> tuple[Path, ...]:
    from sumpwright.report.write import write_report
    from sumpwright.studies.staging import scene

    progress("staging the pictures", 0.0)
    return write_report(checked.result, scene(checked), checked.loaded.folder, progress)
