# SPDX-License-Identifier: Apache-2.0
"""`sumpwright prints JOB`: what is printed to try the fit."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.prints_result import PrintsResult

UNSAVED = "the answer stands, its prints were not saved (--no-files asks for none)."


def prints(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    solid: Annotated[
        bool, typer.Option("--solid", help="Fill the pan's inside: the printer's infill is enough.")
    ] = False,
    no_files: Annotated[
        bool, typer.Option("--no-files", help="Write no prints into out/prints/.")
    ] = False,
) -> None:
    """Cut the pan to the job's printer, key the pieces and lay each flat.

    Writes 3MF and STL of each piece, and of the pickup housing, into out/prints/. They are for
    trying the fit only. Exit status 0, or 2 input problem.
    """
    from sumpwright.studies.prints import prints_of

    with progress_shown() as progress:
        result = prints_of(job, progress, solid=solid)
        files, unsaved = ((), None) if no_files else _written(result, job, progress)
    typer.echo(_said(result, files, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)


def _said(result: "PrintsResult", files: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.prints_text import prints_text

    return json_text(result.as_json()) if as_json else prints_text(result, files)


def _written(
    result: "PrintsResult", job: Path, progress: Progress
) -> tuple[tuple[Path, ...], InputError | None]:
    """The files; or what kept them from being saved."""
    from sumpwright.job.load import job_path
    from sumpwright.report.prints_write import write_prints

    progress("writing the prints and reading them again", 0.9)
    try:
        return write_prints(result, job_path(job).parent), None
    except InputError as err:
        return (), err
