# SPDX-License-Identifier: Apache-2.0
"""`sumpwright read JOB LOG...`: did pressure fall short, when, which way round, how badly?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import INPUT_PROBLEM, json_text, say_problems, stdout_takes_colour
from sumpwright.cli.progress import Progress, progress_shown
from sumpwright.errors import InputError

if TYPE_CHECKING:
    from sumpwright.studies.read import Read
    from sumpwright.studies.read_result import ReadResult

UNSAVED = "the answer stands, not all of it was saved (--no-report and --no-record ask for none)."


def read(
    paths: Annotated[
        list[Path],
        typer.Argument(
            metavar="[JOB] LOG...",
            readable=False,
            help="The job folder, then logs of one session: CSV of any layout, MDF4, or readings "
            "typed by hand. Without a job the log is judged by itself.",
        ),
    ],
    *,
    channel: Annotated[
        list[str] | None,
        typer.Option(metavar="ROLE=COLUMN", help="Which column is what: pressure=AN7. Kept."),
    ] = None,
    unit: Annotated[
        list[str] | None,
        typer.Option(metavar="ROLE=UNIT", help="Where the log does not say: pressure=psi. Kept."),
    ] = None,
    radius: Annotated[
        str | None,
        typer.Option(metavar="QUANTITY", help='Of the circle, where no g was logged: "30 m".'),
    ] = None,
    no_prediction: Annotated[
        bool, typer.Option("--no-prediction", help="Leave out what the network says.")
    ] = False,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the whole result as JSON, SI units.")
    ] = False,
    no_report: Annotated[
        bool, typer.Option("--no-report", help="Write no report into out/.")
    ] = False,
    no_record: Annotated[
        bool, typer.Option("--no-record", help="File no record of it under records/.")
    ] = False,
) -> None:
    """Judge oil pressure in a log against what it should be, left against right.

    With a job it also says what the network foretold, and files a record that `release` asks for.
    Exit status 0 no dip, 1 dips, 2 input problem. Example: sumpwright read my-pan tests/day.csv
    """
    from sumpwright.cli.read_option import asked
    from sumpwright.studies.read import read_logs

    wanted = asked(paths, channel, unit, radius, prediction=not no_prediction)
    with progress_shown() as progress:
        found = read_logs(wanted, progress)
        pages, unsaved = _saved(found, progress, report=not no_report, record=not no_record)
    typer.echo(_said(found.result, pages, as_json))
    raise _exit(found.result, unsaved)


def _exit(result: "ReadResult", unsaved: InputError | None) -> typer.Exit:
    if unsaved is not None:
        say_problems(unsaved, False, UNSAVED)
        return typer.Exit(INPUT_PROBLEM)
    return typer.Exit(1 if result.summary.dips else 0)


def _said(result: "ReadResult", pages: tuple[Path, ...], as_json: bool) -> str:
    from sumpwright.cli.read_text import read_text

    if as_json:
        return json_text(result.as_json())
    return read_text(result, pages, colour=stdout_takes_colour())


def _saved(
    found: "Read", progress: Progress, *, report: bool, record: bool
) -> tuple[tuple[Path, ...], InputError | None]:
    """Pages and record; or what kept one from being saved, which takes no answer away."""
    from sumpwright.report.read_write import write_read
    from sumpwright.studies.read import file_record, keep_names

    pages: tuple[Path, ...] = ()
    if found.folder is None:
        return pages, None
    try:
        keep_names(found)
        if report:
            progress("setting the pages", 0.95)
            pages = write_read(found.result, found.folder)
        if record:
            pages += file_record(found)
    except InputError as err:
        return pages, err
    return pages, None
