# SPDX-License-Identifier: Apache-2.0
"""`sumpwright hold JOB`: how long the pickup stays covered, which way and at what g."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.motion_result import HoldMapResult

UNSAVED = "the answer stands, its report was not saved (--no-report asks for none)."


def hold(
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
    """Say for how long the pickup stays covered, over direction, g and engine speed.

    Doors working, stuck open, stuck shut, and without baffles. Judges nothing: the targets are
    judged by check. Takes up to a minute; stopped by Ctrl-C it goes on from there the next time.
    Writes out/hold-map.html and .pdf. Exit status 0, or 2 for an input problem.
    """
    from sumpwright.studies.hold_map import hold_map

    with progress_shown() as progress:
        result = hold_map(job, progress)
        pages, unsaved = ((), None) if no_report else _report(result, job, progress)
    typer.echo(_said(result, pages, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)


def _said(result: "HoldMapResult", pages: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.hold_text import hold_text

    return json_text(result.as_json()) if as_json else hold_text(result, pages)


def _report(
    result: "HoldMapResult", job: Path, progress: Progress
) -> tuple[tuple[Path, ...], InputError | None]:
    """The report's files; or what kept it from being saved, which takes no answer away."""
    from sumpwright.report.hold_map_write import write_hold_map

    try:
        return write_hold_map(result, job if job.is_dir() else job.parent, progress), None
    except InputError as err:
        return (), err
