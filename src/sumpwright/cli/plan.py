# SPDX-License-Identifier: Apache-2.0
"""`sumpwright plan JOB`: what to run, at what numbers, and where to stop."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.feed import UNSAVED
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.plan_result import PlanResult


def plan(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_report: Annotated[
        bool, typer.Option("--no-report", help="Write no sheets into out/.")
    ] = False,
) -> None:
    """Lay out a test day: bench checks, then stages from slow to fast, both ways round.

    Each stage has its g, speed, gear, laps, expected oil pressure and the line to stop at.
    Writes out/plan.html and out/plan.pdf to print. Exit status 0, or 2 for an input problem.
    """
    from sumpwright.studies.plan import plan as plan_of

    with progress_shown() as progress:
        result = plan_of(job, progress)
        pages, unsaved = ((), None) if no_report else _report(result, job, progress)
    typer.echo(_said(result, pages, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)


def _said(result: "PlanResult", pages: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.plan_text import plan_text

    if as_json:
        return json_text(result.as_json())
    return plan_text(result, pages)


def _report(
    result: "PlanResult", job: Path, progress: Progress
) -> tuple[tuple[Path, ...], InputError | None]:
    """The sheets' files; or what kept them from being saved, which takes no answer away."""
    from sumpwright.report.plan_write import write_plan

    progress("drawing", 0.9)
    try:
        return write_plan(result, job if job.is_dir() else job.parent), None
    except InputError as err:
        return (), err
