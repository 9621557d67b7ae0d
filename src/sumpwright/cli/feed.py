# SPDX-License-Identifier: Apache-2.0
"""`sumpwright feed JOB`: does the pump get oil, cold and hot?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems, stdout_takes_colour
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.feed_result import FeedResult

UNSAVED = "the answer stands, its report was not saved (--no-report asks for none)."


def feed(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_report: Annotated[
        bool, typer.Option("--no-report", help="Write no report into out/.")
    ] = False,
) -> None:
    """Say what pressure is left at the pump's inlet, over temperature and engine speed.

    Needs the pan's suction line, the pump and the oil in the job. Writes out/feed.html and
    out/feed.pdf. Exit status 0 met, 1 not met, 2 input problem.
    """
    from sumpwright.studies.feed import feed_of

    with progress_shown() as progress:
        result = feed_of(job, progress)
        pages, unsaved = ((), None) if no_report else _report(result, job, progress)
    typer.echo(_said(result, pages, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)
    raise typer.Exit(1 if result.verdict == "not met" else 0)


def _said(result: "FeedResult", pages: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.feed_text import feed_text

    if as_json:
        return json_text(result.as_json())
    return feed_text(result, pages, colour=stdout_takes_colour())


def _report(
    result: "FeedResult", job: Path, progress: Progress
) -> tuple[tuple[Path, ...], InputError | None]:
    """The report's files; or what kept it from being saved, which takes no answer away."""
    from sumpwright.report.feed_write import write_feed

    progress("drawing", 0.9)
    try:
        return write_feed(result, job if job.is_dir() else job.parent), None
    except InputError as err:
        return (), err
