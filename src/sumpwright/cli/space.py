# SPDX-License-Identifier: Apache-2.0
"""`sumpwright space JOB`: how much pan fits below the rail?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.report.space_write import Written
    from sumpwright.studies.space import Spaced

UNSAVED = "the answer stands, its files were not saved (--no-files asks for none)."

Typed = str | None


def space(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    kick_out: Annotated[
        Typed,
        typer.Option(help="How far the space goes beyond the opening, left and right: '12 mm'."),
    ] = None,
    left: Annotated[Typed, typer.Option(help="The same on the left only.")] = None,
    right: Annotated[Typed, typer.Option(help="The same on the right only.")] = None,
    front: Annotated[Typed, typer.Option(help="Ahead of the opening; none unless asked.")] = None,
    rear: Annotated[Typed, typer.Option(help="Behind the opening; none unless asked.")] = None,
    flange: Annotated[
        Typed, typer.Option(help="How far below the rail kick-outs begin; 30 mm.")
    ] = None,
    wall: Annotated[
        Typed, typer.Option(help="Of the pan. Default: new.shape.wall, or 3 mm.")
    ] = None,
    corner: Annotated[
        Typed,
        typer.Option(help="Radius of inside corners. Default: the smallest cutter's, or 6 mm."),
    ] = None,
    depth: Annotated[
        Typed, typer.Option(help="Deepest that the inside may be below the rail.")
    ] = None,
    grid: Annotated[Typed, typer.Option(help="Step of the grid; 3.5 mm.")] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_files: Annotated[bool, typer.Option("--no-files", help="Write nothing into out/.")] = False,
) -> None:
    """Find the largest makeable space below the rail, and how many litres it is.

    It keeps every clearance in every case of movement. Writes out/space/: free-space.stl,
    free-space.step and a picture. Exit status 0 the fill fits, 1 it does not, 2 input problem.
    """
    typed = {k: v for k, v in locals().items() if k not in ("job", "as_json", "no_files")}
    spaced, files, unsaved = _answered(job, typed, no_files)
    typer.echo(_said(spaced, files, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)
    raise typer.Exit(1 if spaced.result.verdict == "not met" else 0)


def _answered(
    job: Path, typed: dict[str, Typed], no_files: bool
) -> tuple["Spaced", "Written | None", InputError | None]:
    from sumpwright.studies.space import space_with_bodies
    from sumpwright.studies.space_typed import space_typed

    asked = space_typed(typed)
    with progress_shown() as progress:
        spaced = space_with_bodies(job, asked, progress)
        files, unsaved = (None, None) if no_files else _written(spaced, progress)
    return spaced, files, unsaved


def _written(spaced: "Spaced", progress: Progress) -> tuple["Written | None", InputError | None]:
    """The files; or what kept them from being saved, which takes no answer away."""
    from sumpwright.report.space_write import write_space

    try:
        return write_space(spaced, progress), None
    except InputError as err:
        return None, err


def _said(spaced: "Spaced", files: "Written | None", as_json: bool) -> str:
    from sumpwright.cli.space_text import space_text

    if as_json:
        written = None if files is None else files.as_json()
        return json_text({**spaced.result.as_json(), "files": written})
    return space_text(spaced.result, files)
