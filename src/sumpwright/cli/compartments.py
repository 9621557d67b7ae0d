# SPDX-License-Identifier: Apache-2.0
"""`sumpwright compartments JOB`: what the program understood of the baffles."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems
from sumpwright.cli.progress import progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.compartment import Looked

PICTURE = "compartments.svg"
UNSAVED = "the list stands, its picture was not saved (--no-picture asks for none)."


def compartments(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_picture: Annotated[
        bool, typer.Option("--no-picture", help="Write no picture into out/.")
    ] = False,
) -> None:
    """List the compartments that the baffles make of the new pan, and the ways between them.

    Writes out/compartments.svg: the pan in plan and in two cuts. Look whether it is what you meant.
    """
    from sumpwright.studies.compartment import compartments_with_bodies

    with progress_shown() as progress:
        looked = compartments_with_bodies(job, progress)
    picture, unsaved = (None, None) if no_picture else _drawn(looked)
    typer.echo(_said(looked, picture, as_json))
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)


def _said(looked: "Looked", picture: Path | None, as_json: bool) -> str:
    from sumpwright.cli.compartments_text import compartments_text

    if as_json:
        return json_text(looked.result.as_json())
    return compartments_text(looked.result, picture)


def _drawn(looked: "Looked") -> tuple[Path | None, InputError | None]:
    """The picture's file; or what kept it from being saved."""
    from sumpwright.atomic import write_atomic, write_problem
    from sumpwright.report.compartment_view import compartment_view
    from sumpwright.studies.compartment_scene import compartment_scene

    path = looked.loaded.folder / "out" / PICTURE
    svg = compartment_view(looked.result, compartment_scene(looked))
    try:
        path.parent.mkdir(exist_ok=True)
        write_atomic(path, svg)
    except OSError as err:
        return None, InputError([write_problem(path.parent, err)])
    except InputError as err:
        return None, err
    return path, None
