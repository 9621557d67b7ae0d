# SPDX-License-Identifier: Apache-2.0
"""The tables of the report: fill sheet, dipstick, parking, gaps, hold."""

from collections.abc import Callable
from dataclasses import dataclass

from sumpwright.report.limit import WAYS, limit_number
from sumpwright.report.text import plain
from sumpwright.studies.result import CheckResult, Clearance, PanFill, PanHold, Parked
from sumpwright.units import shown

Row = tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """A titled table; the first column is words, the others numbers."""

    key: str
    title: str
    head: Row
    rows: tuple[Row, ...]
    note: str = ""


def tables(result: CheckResult) -> tuple[Table, ...]:
    """All tables the result has data for, in the report's order."""
    found = [_fill_sheet(result), _dipstick(result), _parked(result), _gaps(result)]
    found += [_ground(result), _hold(result)]
    return tuple(t for t in found if t is not None)


def _length(value: float | None, units: str) -> str:
    return "–" if value is None else shown(value, "length", units)


def _volume(value: float | None, units: str) -> str:
    return "–" if value is None else shown(value, "volume", units)


def _beside(words: str, read: Callable[[PanFill], str], fill: PanFill) -> Row:
    stock = () if fill.stock is None else (read(fill.stock),)
    return (words, read(fill), *stock)


def _fill_sheet(result: CheckResult) -> Table:
    fill, units = result.fill, result.units

    def both(volume: float | None, height: float | None) -> str:
        if volume is None or height is None:
            return "–"
        return f"{_volume(volume, units)} at {_length(height, units)}"

    rows = [
        _beside(
            "Service fill, with filter and cooler",
            lambda f: _volume(f.service_fill_m3, units),
            fill,
        ),
        _beside("Full mark, cold", lambda f: both(f.full_m3, f.full_height_m), fill),
        _beside("Low mark, cold", lambda f: both(f.low_m3, f.low_height_m), fill),
        _beside("The full fill, hot", lambda f: both(f.hot_m3, f.hot_height_m), fill),
        _beside("Hot oil below the crank sweep", lambda f: _length(f.crank_gap_m, units), fill),
        _beside("Most, cold", lambda f: _volume(f.usable_m3, units), fill),
        _beside("Oil reaches the rail at", lambda f: both(f.brim_m3, f.brim_height_m), fill),
        _beside("Whole inside, to the rail", lambda f: _volume(f.cavity_m3, units), fill),
        _beside("Pan's lowest inside point", lambda f: _length(f.lowest_m, units), fill),
    ]
    head = ("", "new") if fill.stock is None else ("", "new", "stock")
    note = (
        "Heights are of the oil's surface over the pan rail, so a minus is below it; car on level "
        f"ground. The most is set by: {fill.usable_by}. Hot oil is {fill.expansion:.3f} times its "
        "cold volume."
    )
    return Table("fill-sheet", "Fill sheet", head, tuple(rows), plain(note))


def _dipstick(result: CheckResult) -> Table | None:
    scale, units = result.fill.dipstick, result.units
    if scale is None:
        return None
    marks = [(g.along_m, _volume(g.volume_m3, units), "") for g in scale.graduations]
    marks.append((scale.full_along_m, _volume(result.fill.full_m3, units), "FULL"))
    if scale.low_along_m is not None:
        marks.append((scale.low_along_m, _volume(result.fill.low_m3, units), "LOW"))
    marks.append((scale.low_end_along_m, "–", "no reading beyond"))
    rows: dict[str, Row] = {}
    for along, volume, name in sorted(marks, key=lambda m: m[0]):
        place = _length(along, units)
        told = name or rows.get(place, ("", "", ""))[2]
        rows[place] = (place, volume, told)
    note = "Distances along the stick from its stop. Cold oil, drained back, car on level ground."
    head = ("from the stop", "oil in the pan", "mark")
    return Table("dipstick-marks", "Dipstick marks", head, tuple(rows.values()), note)


def _parked(result: CheckResult) -> Table | None:
    fill, units = result.fill, result.units
    if not fill.parked:
        return None
    stick = fill.dipstick is not None

    def row(p: Parked) -> Row:
        reads = (_volume(p.dipstick_reads_m3, units),) if stick else ()
        side = plain(f"{p.side} uphill, {p.slope_deg:.0f}°")
        return (side, *reads, _length(p.crank_gap_m, units))

    head = ("parked with", *(("stick reads",) if stick else ()), "oil below the crank")
    note = f"With the full fill in the pan ({_volume(fill.full_m3, units)}), cold."
    return Table("parked", "Parked on a slope", head, tuple(map(row, fill.parked)), note)


def _gaps(result: CheckResult) -> Table | None:
    room, units = result.clearance, result.units
    if room is None or not room.obstacles:
        return None
    rows = []
    for obstacle in room.obstacles:
        for case in obstacle.cases:
            overlap = case.gap_m < 0.0
            gap = _length(abs(case.gap_m), units)
            place = ", ".join(_length(c, units) for c in case.on_pan_m)
            asked = _length(obstacle.needed_m, units)
            worst = " (tightest)" if case == obstacle.worst and len(obstacle.cases) > 1 else ""
            name = plain(f"{obstacle.obstacle}: {case.case}{worst}")
            rows.append((name, f"overlap {gap}" if overlap else gap, asked, place))
    head = ("obstacle and engine position", "gap", "asked for", "place on the pan x, y, z")
    note = "Places in the car's axes: x forward, y left, z up from the ground."
    return Table("gaps", "Gaps to the car", head, tuple(rows), note)


def _guard_lowest(room: Clearance) -> float | None:
    return None if room.guard is None else room.guard.obstacle_lowest_m


def _over_guard(room: Clearance) -> float | None:
    return None if room.guard is None else room.guard.margin_m


def _ground(result: CheckResult) -> Table | None:
    room, units = result.clearance, result.units
    if room is None or (room.guard is None and room.ground_m is None):
        return None
    cells: list[tuple[str, Callable[[Clearance], float | None]]] = [
        ("Pan's lowest point, engine at rest", lambda c: c.lowest_point_m[2]),
        ("Over the ground at ride height, lowest of all positions", lambda c: c.ground_m),
        ("Over the ground at full bump", lambda c: c.ground_at_bump_m),
    ]
    if room.guard is not None:
        guard = plain(room.guard.obstacle)
        cells.append((f"Lowest point of {guard}", _guard_lowest))
        cells.append((f"Pan over that, {plain(room.guard.case)}", _over_guard))
    rows = []
    for words, read in cells:
        stock = () if room.stock is None else (_length(read(room.stock), units),)
        rows.append((words, _length(read(room), units), *stock))
    head = ("", "new") if room.stock is None else ("", "new", "stock")
    return Table("ground", "Ground and guard", head, tuple(rows))


def _hold(result: CheckResult) -> Table | None:
    hold = result.hold
    if hold is None:
        return None
    pans = [hold] if hold.stock is None else [hold, hold.stock]
    names = ["new"] if hold.stock is None else ["new", "stock"]
    rows: list[Row] = []
    for way, words in WAYS.items():
        full = [f"{limit_number(p, way)} g" for p in pans]
        low = [f"{getattr(p.low_mark, f'{way}_g'):.2f} g" if p.low_mark else "–" for p in pans]
        rows.append((words, *full, *low))
    for words, key in (
        ("Nose uphill", "slope_up_deg"),
        ("Nose downhill", "slope_down_deg"),
        ("Left side uphill", "slope_left_deg"),
        ("Right side uphill", "slope_right_deg"),
    ):
        slopes = [f"{getattr(p, key):.1f}°" for p in pans]
        rows.append((words, *slopes, *("–" for _ in pans)))
    head = ("pickup covered up to", *names, *(f"{n}, at the low mark" for n in names))
    return Table("hold-table", "Hold and slopes", head, tuple(rows), _hold_note(hold, result.units))


def _hold_note(hold: PanHold, units: str) -> str:
    speed = "" if hold.rpm is None else f" at {hold.rpm:.0f} rpm"
    note = (
        f"Oil really in the new pan{speed}: {shown(hold.oil_m3, 'volume', units)}, hot; pickup "
        f"flow {shown(hold.flow_m3_s, 'flow', units)}. At rest the oil stands "
        f"{_length(hold.cover_at_rest_m, units)} over the rim after the draw-down of "
        f"{_length(hold.drawdown_at_rest_m, units)}. Looked at up to "
        f"{max(hold.magnitudes_g):.2f} g."
    )
    if hold.submergence_ratio is not None:
        note += (
            f" Submergence at rest over that of ANSI/HI 9.8: {hold.submergence_ratio:.2f}, a risk "
            "index only; that standard is for large water intakes."
        )
    return note
