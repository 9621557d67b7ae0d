# SPDX-License-Identifier: Apache-2.0
"""`sumpwright rail JOB`: does the bolt pattern go onto the engine?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems, stdout_takes_colour
from sumpwright.cli.progress import progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.rail_result import RailResult
    from sumpwright.studies.rail_scan import Found

UNSAVED = "the answer stands, its picture was not saved (--no-picture asks for none)."


def rail(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    scan: Annotated[
        Path | None,
        typer.Option(metavar="IMAGE", readable=False, help="Find the holes in a scan or photo."),
    ] = None,
    bar: Annotated[
        str, typer.Option(metavar="X1,Y1,X2,Y2,LENGTH", help="Its scale: a bar in it.")
    ] = "",
    dpi: Annotated[float | None, typer.Option(help="Its scale: a flatbed's resolution.")] = None,
    corners: Annotated[
        str,
        typer.Option(
            metavar="X1,Y1,...,X4,Y4,W,H",
            help="Its scale, of a photo: a rectangle's corners, from the lower left round.",
        ),
    ] = "",
    mesh: Annotated[
        bool, typer.Option("--mesh", help="Find the holes in the stock pan's flange.")
    ] = False,
    hole: Annotated[
        str, typer.Option(metavar="SMALLEST,LARGEST", help="Diameters to look for: 5mm,9mm.")
    ] = "",
    keep: Annotated[
        bool, typer.Option("--keep", help="Write what was found into the job file.")
    ] = False,
    leave: Annotated[
        str, typer.Option(metavar="NAME,NAME", help="Keep all but these, as marked.")
    ] = "",
    name: Annotated[str, typer.Option(help="What to call it in the job: scan, by default.")] = "",
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_picture: Annotated[
        bool, typer.Option("--no-picture", help="Write no picture into out/rail/.")
    ] = False,
) -> None:
    """Say whether the bolt pattern goes onto the engine as measured, cold and hot.

    With --scan or --mesh it finds the holes instead and marks them in out/rail/: look at it, then
    run it again with --keep. Exit status 0 met, 1 not met, 2 input problem.
    """
    from sumpwright.cli.rail_option import refuse_mixed, scan_ask

    refuse_mixed(scan, mesh, bool(bar or corners or dpi is not None), keep)
    if scan is None and not mesh:
        _judge(job, as_json, no_picture)
    ask = None if scan is None else scan_ask(scan, bar, dpi, corners, hole)
    found = _found(job, ask, hole)
    kept = _kept(job, found, name or found.how, leave) if keep else ""
    _show(job, found, kept, as_json, no_picture)


def _judge(job: Path, as_json: bool, no_picture: bool) -> None:
    from sumpwright.cli.rail_text import rail_text
    from sumpwright.studies.rail import rail_of

    result = rail_of(job)
    path, unsaved = (None, None) if no_picture else _drawn(job, result)
    said = json_text(result.as_json()) if as_json else ""
    typer.echo(said or rail_text(result, path, colour=stdout_takes_colour()))
    _leave(unsaved, 1 if result.verdict == "not met" else 0)


def _found(job: Path, ask: object, hole: str) -> "Found":
    from sumpwright.cli.rail_option import hole_sizes
    from sumpwright.studies.rail_mesh import mesh_scan_of
    from sumpwright.studies.rail_scan import ScanAsk, scan_of

    with progress_shown() as progress:
        if isinstance(ask, ScanAsk):
            return scan_of(job, ask, progress)
        return mesh_scan_of(job, hole_sizes(hole), progress)


def _kept(job: Path, found: "Found", name: str, leave: str) -> str:
    from sumpwright.studies.rail_keep import keep_found

    return keep_found(job, found, name, tuple(n.strip() for n in leave.split(",") if n.strip()))


def _show(job: Path, found: "Found", kept: str, as_json: bool, no_picture: bool) -> None:
    from sumpwright.cli.rail_text import found_text

    path, unsaved = (None, None) if no_picture else _drawn(job, found)
    said = json_text({**found.as_json(), "kept": kept}) if as_json else ""
    typer.echo(said or found_text(found, path, kept))
    _leave(unsaved, 0)


def _drawn(job: Path, what: "Found | RailResult") -> tuple[Path | None, InputError | None]:
    """The picture's file; or what kept it from being saved, which takes no answer away."""
    from sumpwright.report.rail_mark import write_marked, write_rail
    from sumpwright.studies.rail_result import RailResult

    folder = job if job.is_dir() else job.parent
    try:
        if isinstance(what, RailResult):
            return write_rail(folder, what), None
        return write_marked(folder, what), None
    except InputError as err:
        return None, err


def _leave(unsaved: InputError | None, status: int) -> None:
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        raise typer.Exit(INPUT_PROBLEM)
    raise typer.Exit(status)
