# SPDX-License-Identifier: Apache-2.0
"""The tables of the report on room: gaps to the car, the guard, the ground."""

from collections.abc import Callable

from sumpwright.report.table import Row, Table, length_text
from sumpwright.report.text import plain
from sumpwright.studies.result import CheckResult, Clearance, ObstacleGap, Triple
from sumpwright.units import shown_number, unit_name

COLUMNS = 4
"""Obstacles beside one another in one table."""


def room_tables(result: CheckResult) -> list[Table | None]:
    """Tightest gaps, the gaps in every engine position, ground and guard."""
    room, units = result.clearance, result.units
    if room is None:
        return []
    gaps = [_tightest(room, units), *_positions(room, units)] if room.obstacles else []
    return [*gaps, _ground(room, units)]


def gap_text(gap: float, units: str) -> str:
    """A gap, or how deep the bodies overlap."""
    size = length_text(abs(gap), units)
    return f"overlap {size}" if gap < 0.0 else size


def _place(place: Triple, units: str) -> str:
    digits = 0 if units == "metric" else 2
    numbers = (f"{shown_number(c, 'length', units):.{digits}f}" for c in place)
    joined = ", ".join(n.replace("-0", "0") if float(n) == 0.0 else n for n in numbers)
    return f"{joined} {unit_name('length', units)}".replace("-", "−")


def _tightest(room: Clearance, units: str) -> Table:
    stock = {} if room.stock is None else {o.obstacle: o for o in room.stock.obstacles}

    def row(o: ObstacleGap) -> Row:
        beside = (gap_text(stock[o.obstacle].worst.gap_m, units),) if o.obstacle in stock else ()
        least = gap_text(o.worst.gap_m, units)
        asked = length_text(o.needed_m, units)
        spot = _place(o.worst.on_pan_m, units)
        return (plain(o.obstacle), asked, least, plain(o.worst.case), spot, *beside)

    head: Row = ("", "asked for", "tightest", "in engine position", "at x, y, z")
    head = (*head, "stock pan, tightest") if stock else head
    note = "Places are on the new pan, in the car's axes: x forward, y left, z up from the ground."
    rows = tuple(map(row, room.obstacles))
    return Table("gaps", "Gaps to the car", head, rows, note, words=(0, 3))


def _positions(room: Clearance, units: str) -> list[Table]:
    """A row for each engine position, a column for each obstacle, a few to a table."""
    cases = [c.case for c in room.obstacles[0].cases]
    if len(cases) < 2:
        return []
    tables = []
    for first in range(0, len(room.obstacles), COLUMNS):
        some = room.obstacles[first : first + COLUMNS]
        rows = tuple(
            (plain(case), *(gap_text(o.cases[k].gap_m, units) for o in some))
            for k, case in enumerate(cases)
        )
        head = ("engine position", *(plain(o.obstacle) for o in some))
        more = ", continued" if first else ""
        title = f"Gaps in every engine position{more}"
        tables.append(Table("positions", title, head, rows))
    return tables


def _guard_lowest(room: Clearance) -> float | None:
    return None if room.guard is None else room.guard.obstacle_lowest_m


def _over_guard(room: Clearance) -> float | None:
    return None if room.guard is None else room.guard.margin_m


def _ground(room: Clearance, units: str) -> Table | None:
    if room.guard is None and room.ground_m is None:
        return None
    cells: list[tuple[str, Callable[[Clearance], float | None]]] = [
        ("Pan's lowest point, engine at rest", lambda c: c.lowest_point_m[2]),
        ("Over the ground at ride height, lowest of all positions", lambda c: c.ground_m),
        ("Over the ground at full bump", lambda c: c.ground_at_bump_m),
    ]
    if room.guard is not None:
        guard = plain(room.guard.obstacle)
        cells.append((f"Lowest point of {guard}", _guard_lowest))
        cells.append(("Pan over that, lowest of all positions", _over_guard))
    rows = []
    for words, read in cells:
        stock = () if room.stock is None else (length_text(read(room.stock), units),)
        rows.append((words, length_text(read(room), units), *stock))
    head = ("", "new") if room.stock is None else ("", "new", "stock")
    return Table("ground", "Ground and guard", head, tuple(rows))
