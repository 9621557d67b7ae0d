# SPDX-License-Identifier: Apache-2.0
"""`sumpwright check JOB`: the verdict."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import json_text, stdout_takes_colour
from sumpwright.cli.progress import Progress, progress_shown

if TYPE_CHECKING:
    from sumpwright.studies.result import CheckResult


def check(
    job: Annotated[Path, typer.Argument(help="The job folder, or its job.yaml.")],
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
    from sumpwright.studies.check import check as verdict_on

    with progress_shown() as progress:
        result = verdict_on(job, progress)
        pages = () if no_report else _report(result, job, progress)
    colour = stdout_takes_colour()
    text = json_text(result.as_json()) if as_json else check_text(result, pages, colour=colour)
    typer.echo(text)
    raise typer.Exit(0 if result.verdict == "met" else 1)


def _report(result: "CheckResult", job: Path, progress: Progress) -> tuple[Path, ...]:
    from sumpwright.report.write import write_report

    return write_report(result, job.parent if job.is_file() else job, progress)
