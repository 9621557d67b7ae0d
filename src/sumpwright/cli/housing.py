# SPDX-License-Identifier: Apache-2.0
"""`sumpwright housing JOB`: the pickup housing, its screen and the flange that retains it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.progress import progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.housing_result import HousingResult

UNSAVED = "the answer stands, its solids were not saved (--no-files asks for none)."


def housing(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_files: Annotated[
        bool, typer.Option("--no-files", help="Write no solids into out/housing/.")
    ] = False,
) -> None:
    """Build the pickup housing, screen and retaining flange from the job's numbers.

    Writes a STEP file of each, and a picture, into out/housing/. Exit status 0 it can stand
    there, 1 it strikes floor, wall, baffle or door or as good as does, or its inlet stands too near
    the floor or over the oil at the low mark, 2 input problem.
    """
    from sumpwright.studies.housing import housing_of

    with progress_shown() as progress:
        result = housing_of(job, progress)
        files, unsaved = ((), None) if no_files else _written(result, job)
    typer.echo(_said(result, files, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)
    raise typer.Exit(1 if result.verdict == "not met" else 0)


def _said(result: "HousingResult", files: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.housing_text import housing_text

    return json_text(result.as_json()) if as_json else housing_text(result, files)


def _written(result: "HousingResult", job: Path) -> tuple[tuple[Path, ...], InputError | None]:
    """The files; or what kept them from being saved."""
    from sumpwright.job.load import job_path
    from sumpwright.report.housing_write import write_housing

    try:
        return write_housing(result, job_path(job).parent), None
    except InputError as err:
        return (), err
