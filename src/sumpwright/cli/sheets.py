# SPDX-License-Identifier: Apache-2.0
"""`sumpwright sheets JOB`: what is cut, bent and nested from sheet."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.sheet_part_result import SheetsResult

UNSAVED = "the list stands, its drawings were not saved (--no-files asks for none)."


def sheets(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_files: Annotated[
        bool, typer.Option("--no-files", help="Write no drawings into out/sheets/.")
    ] = False,
) -> None:
    """Make flat patterns of the new pan's baffles and doors, and nest them on the shop's sheets.

    Writes a DXF and a picture of each part and each sheet into out/sheets/. Exit status 0 met, 1
    where a part cannot be folded, assembled or cut as it is or the shop has no sheet for it, 2
    input problem.
    """
    from sumpwright.studies.sheet_part import sheets_of_job

    with progress_shown() as progress:
        result = sheets_of_job(job, progress)
        files, unsaved = ((), None) if no_files else _written(result, job, progress)
    typer.echo(_said(result, files, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)
    raise typer.Exit(1 if result.verdict == "not met" else 0)


def _said(result: "SheetsResult", files: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.sheets_text import sheets_text

    return json_text(result.as_json()) if as_json else sheets_text(result, files)


def _written(
    result: "SheetsResult", job: Path, progress: Progress
) -> tuple[tuple[Path, ...], InputError | None]:
    """The drawings; or what kept them from being saved, which takes no answer away."""
    from sumpwright.report.sheets_write import write_sheets

    try:
        return write_sheets(result, job if job.is_dir() else job.parent, progress), None
    except InputError as err:
        return (), err
