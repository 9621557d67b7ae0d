# SPDX-License-Identifier: Apache-2.0
"""`sumpwright check JOB`: the verdict."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems, stdout_takes_colour
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.check import Checked
    from sumpwright.studies.result import CheckResult

UNSAVED = "the verdict stands, its report was not saved (--no-report asks for none)."


def check(
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
    """Say whether the new pan meets every requirement that can be judged, stock beside new.

    Writes out/report.html and out/report.pdf. Exit status 0 met, 1 not met, 2 input problem.
    """
    from sumpwright.studies.check import check_with_bodies

    with progress_shown() as progress:
        checked = check_with_bodies(job, progress)
        pages, unsaved = ((), None) if no_report else _report(checked, progress)
    typer.echo(_said(checked.result, pages, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)
    raise typer.Exit(1 if checked.result.verdict == "not met" else 0)


def _said(result: "CheckResult", pages: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.check_text import check_text

    if as_json:
        return json_text(result.as_json())
    return check_text(result, pages, colour=stdout_takes_colour())


def _report(checked: "Checked", progress: Progress) -> tuple[tuple[Path, ...], InputError | None]:
    """The report's files; or what kept it from being saved, which takes no verdict away."""
    from sumpwright.report.write import write_report
    from sumpwright.studies.staging import scene

    progress("staging the pictures", 0.0)
    try:
        return write_report(checked.result, scene(checked), checked.loaded.folder, progress), None
    except InputError as err:
        return (), err
