# SPDX-License-Identifier: Apache-2.0
"""What `rail` is told on its command line, as numbers; one clear sentence where it is none."""

from pathlib import Path

from sumpwright.errors import InputError, Problem
from sumpwright.studies.rail_scan import ScanAsk
from sumpwright.units import to_si

SHAPES = {
    "--bar": "x1,y1,x2,y2,LENGTH, such as 120,840,2480,842,200mm",
    "--corners": "x1,y1,x2,y2,x3,y3,x4,y4,WIDTH,HEIGHT, such as 90,900,1500,870,1430,120,160,150,"
    "297mm,210mm",
    "--hole": "SMALLEST,LARGEST, such as 5mm,9mm",
}


def scan_ask(picture: Path, bar: str, dpi: float | None, corners: str, hole: str) -> ScanAsk:
    """What to look for in a picture; every option that is empty is not asked for."""
    ends = _numbers("--bar", bar, 4, 1) if bar else None
    return ScanAsk(
        picture=picture,
        bar=(ends[0], ends[1], ends[2], ends[3], ends[4]) if ends else None,
        dpi=dpi,
        corners=_numbers("--corners", corners, 8, 2) if corners else None,
        sizes=hole_sizes(hole),
    )


def hole_sizes(hole: str) -> tuple[float, float] | None:
    """Smallest and largest diameter of ``--hole`` [m]; None where it is empty."""
    if not hole:
        return None
    low, high = _numbers("--hole", hole, 0, 2)
    if not 1e-3 <= low < high <= 0.1:
        raise InputError([_problem("--hole", hole)])
    return low, high


def refuse_mixed(scan: Path | None, mesh: bool, scaled: bool, keep: bool) -> None:
    """Options that mean nothing without another, or exclude each other."""
    if scan is not None and mesh:
        raise InputError([_excluded("--scan and --mesh", "one of the two", "run it twice")])
    if scan is None and scaled:
        found, do = "a scale without a picture", "name the picture with --scan, or leave it out"
        raise InputError([_excluded(found, "--scan IMAGE beside it", do)])
    if keep and scan is None and not mesh:
        do = "name what to keep: --scan IMAGE with its scale, or --mesh"
        raise InputError([_excluded("--keep alone", "--scan or --mesh beside it", do)])


def _numbers(option: str, text: str, plain: int, lengths: int) -> tuple[float, ...]:
    parts = [part.strip() for part in text.split(",")]
    if len(parts) != plain + lengths:
        raise InputError([_problem(option, text)])
    try:
        numbers = [float(part) for part in parts[:plain]]
        sizes = [to_si(part, "m") for part in parts[plain:]]
    except ValueError as err:
        raise InputError([_problem(option, text)]) from err
    if any(not abs(n) < 1e6 for n in (*numbers, *sizes)):
        raise InputError([_problem(option, text)])
    return (*numbers, *sizes)


def _problem(option: str, text: str) -> Problem:
    do = "picture elements count from the upper left corner; lengths carry their unit"
    return Problem("RAIL-508", option, text, SHAPES[option], do)


def _excluded(found: str, needed: str, do: str) -> Problem:
    return Problem("CLI-402", "the options", found, needed, do)
