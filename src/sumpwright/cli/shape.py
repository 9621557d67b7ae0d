# SPDX-License-Identifier: Apache-2.0
"""`sumpwright shape JOB`: the pan drawn from the job's numbers."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.progress import progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.shape_result import ShapeResult

UNSAVED = "the answer stands, its solids were not saved (--no-files asks for none)."


def shape(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_files: Annotated[
        bool, typer.Option("--no-files", help="Write no solids into out/shape/.")
    ] = False,
) -> None:
    """Draw the pan from the job's numbers: its inside, its outside and the metal between.

    Writes STEP and STL files of each and a picture into out/shape/. Exit status 0 drawn, 2 input
    problem.
    """
    from sumpwright.studies.shape import shape_of

    with progress_shown() as progress:
        result = shape_of(job, progress)
        files, unsaved = ((), None) if no_files else _written(result, job)
    typer.echo(_said(result, files, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)


def _said(result: "ShapeResult", files: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.shape_text import shape_text

    return json_text(result.as_json()) if as_json else shape_text(result, files)


def _written(result: "ShapeResult", job: Path) -> tuple[tuple[Path, ...], InputError | None]:
    """The files; or what kept them from being saved."""
    from sumpwright.job.load import job_path
    from sumpwright.report.shape_write import write_shape

    try:
        return write_shape(result, job_path(job).parent), None
    except InputError as err:
        return (), err
