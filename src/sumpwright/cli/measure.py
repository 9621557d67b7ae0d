# SPDX-License-Identifier: Apache-2.0
"""`sumpwright measure FILE`: what one body holds, no job needed."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sumpwright.cli.door import json_text
from sumpwright.cli.progress import progress_shown

if TYPE_CHECKING:
    from sumpwright.studies.result import MeasureResult

NO_LEVEL = "--accel changes nothing without --volume or --height"


def measure(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", readable=False, help="STEP, STL, 3MF or PLY file.")
    ],
    unit: Annotated[
        str | None, typer.Option(metavar="UNIT", help="Of the file's numbers: mm, cm, m, in or ft.")
    ] = None,
    volume: Annotated[
        str | None, typer.Option(metavar="QUANTITY", help='Say where this much stands: "4.6 L".')
    ] = None,
    height: Annotated[
        str | None,
        typer.Option(metavar="QUANTITY", help='Say what is held below a height: "-60 mm".'),
    ] = None,
    accel: Annotated[
        str | None,
        typer.Option(
            metavar='"AX AY AZ"', help="The body's acceleration in g: x forward, y left, z up."
        ),
    ] = None,
    us: Annotated[bool, typer.Option("--us", help="Show inches and quarts.")] = False,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the result as JSON, SI units.")
    ] = False,
) -> None:
    """Volume, area and soundness of a body; with a volume or a height, the oil's level in it.

    A height is the surface's signed distance from the file's origin, up, against gravity as the
    oil feels it.
    """
    from sumpwright.cli.measure_option import measure_options
    from sumpwright.studies.measure import measure as study

    options = measure_options(file, unit=unit, volume=volume, height=height, accel=accel)
    with progress_shown() as progress:
        progress("reading the file", 0.0)
        result = study(file, **options)
    if accel is not None and result.level is None:
        typer.echo(NO_LEVEL, err=True)
    typer.echo(json_text(result.as_json()) if as_json else _text(result, us))


def _text(result: "MeasureResult", us: bool) -> str:
    from sumpwright.cli.measure_text import measure_text

    return measure_text(result, us=us)
