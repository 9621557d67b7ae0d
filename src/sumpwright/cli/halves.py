# SPDX-License-Identifier: Apache-2.0
"""`sumpwright halves JOB`: where the pan is split, what reaches it, and how it is joined."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems, stdout_takes_colour
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.halves import Halved
    from sumpwright.studies.halves_result import HalvesResult

UNSAVED = "the answer stands, its files were not saved (--no-files asks for none)."


def halves(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_files: Annotated[
        bool, typer.Option("--no-files", help="Write no files into out/halves/.")
    ] = False,
) -> None:
    """Part the pan into two halves to be milled and welded, or propose where.

    Writes both halves as STEP and a picture of what no cutter reaches into out/halves/. Exit
    status 0 they can be made, 1 something is lacking, 2 input problem.
    """
    from sumpwright.studies.halves import halved_of

    with progress_shown() as progress:
        halved = halved_of(job, progress)
        files, unsaved = ((), None) if no_files else _written(halved, progress)
    typer.echo(_said(halved.result, files, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)
    raise typer.Exit(1 if halved.result.lacks else 0)


def _said(result: "HalvesResult", files: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.halves_text import halves_text

    if as_json:
        return json_text(result.as_json())
    return halves_text(result, files, colour=stdout_takes_colour())


def _written(halved: "Halved", progress: Progress) -> tuple[tuple[Path, ...], InputError | None]:
    """The files; or what kept them from being saved."""
    from sumpwright.report.halves_write import write_halves

    progress("writing the halves and reading them again", 0.97)
    try:
        return write_halves(halved), None
    except InputError as err:
        return (), err
