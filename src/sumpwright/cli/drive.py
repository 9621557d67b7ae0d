# SPDX-License-Identifier: Apache-2.0
"""`sumpwright drive JOB MANOEUVRE`: the oil in motion."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems, stdout_takes_colour
from sumpwright.cli.drive_key import with_manoeuvre_keys
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.drive import Drove
    from sumpwright.studies.motion_result import DriveResult

UNSAVED = "the answer stands, its report was not saved (--no-report asks for none)."


@with_manoeuvre_keys
def drive(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    manoeuvre: Annotated[
        str,
        typer.Argument(
            metavar="MANOEUVRE",
            help="A name in the job, a kind with options (circle, figure-eight, slalom, brake, "
            "brake-and-turn, launch, hill, bank, kerb, skidpad), or a log as a CSV file of time "
            "in s, ax, ay, az in g and rpm.",
        ),
    ],
    *,
    oil: Annotated[
        str | None, typer.Option(metavar="QUANTITY", help='hot, cold or a temperature: "60 degC".')
    ] = None,
    doors: Annotated[
        str, typer.Option(metavar="WORDS", help="working, stuck open, stuck shut or no baffles.")
    ] = "working",
    start: Annotated[
        str | None,
        typer.Option(
            metavar="LIST",
            help='Oil in each compartment at first: "A=1.2 L, B=0.8 L". Default: settled.',
        ),
    ] = None,
    chance: Annotated[
        str,
        typer.Option(metavar="NUMBER", help="Samples for the chance that a requirement fails."),
    ] = "0",
    seed: Annotated[str, typer.Option(metavar="NUMBER", help="Of those samples.")] = "1",
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_report: Annotated[
        bool, typer.Option("--no-report", help="Write no report into out/.")
    ] = False,
    **options: str | None,
) -> None:
    """Say where the oil goes in a manoeuvre, and whether the pickup keeps it.

    Options behind a manoeuvre of the job stand instead of what the job says. Exit status 0 met, 1
    not met, 2 input problem. Examples: sumpwright drive my-pan "left circle" --accel "1.2 g";
    sumpwright drive my-pan brake --speed "120 km/h" --decel "1.1 g" --gear 3
    """
    from sumpwright.cli.drive_option import asked
    from sumpwright.studies.drive import drive_with_scene

    wanted = asked(manoeuvre, options, oil=oil, doors=doors, start=start, chance=chance, seed=seed)
    with progress_shown() as progress:
        drove = drive_with_scene(job, wanted, progress)
        pages, unsaved = ((), None) if no_report else _report(drove, progress)
    typer.echo(_said(drove.result, pages, as_json))
    raise _exit(drove.result, unsaved)


def _exit(result: "DriveResult", unsaved: InputError | None) -> typer.Exit:
    from sumpwright.cli.drive_text import drive_verdict

    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        return typer.Exit(INPUT_PROBLEM)
    return typer.Exit(1 if drive_verdict(result) == "not met" else 0)


def _said(result: "DriveResult", pages: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.drive_text import drive_text

    if as_json:
        return json_text(result.as_json())
    return drive_text(result, pages, colour=stdout_takes_colour())


def _report(drove: "Drove", progress: Progress) -> tuple[tuple[Path, ...], InputError | None]:
    """The report's files; or what kept it from being saved, which takes no answer away."""
    from sumpwright.report.drive_write import write_drive
    from sumpwright.studies.motion_scene import motion_scene

    progress("drawing", 0.0)
    scene = motion_scene(drove.bodies, drove.parted)
    try:
        return write_drive(drove.result, scene, drove.loaded.folder, progress), None
    except InputError as err:
        return (), err
