# SPDX-License-Identifier: Apache-2.0
"""The tables of the report on oil: fill sheet, dipstick, parking, hold; then those on room."""

from collections.abc import Callable

from sumpwright.report.limit import WAYS, limit_number, low_number, slope_text
from sumpwright.report.sheet_feed import feed_tables
from sumpwright.report.sheet_room import room_tables
from sumpwright.report.table import Row, Table, length_text, volume_text
from sumpwright.report.text import plain
from sumpwright.studies.result import CheckResult, PanFill, PanHold, Parked
from sumpwright.units import shown


def tables(result: CheckResult) -> tuple[Table, ...]:
    """All tables the result has data for, in the report's order."""
    oil = [_fill_sheet(result), _dipstick(result), _parked(result)]
    feed = [] if result.feed is None else feed_tables(result.feed, result.units)
    found = [*oil, *room_tables(result), _hold(result), *feed]
    return tuple(t for t in found if t is not None)


def _beside(words: str, read: Callable[[PanFill], str], fill: PanFill) -> Row:
    stock = () if fill.stock is None else (read(fill.stock),)
    return (words, read(fill), *stock)


def _fill_sheet(result: CheckResult) -> Table:
    fill, units = result.fill, result.units

    def both(volume: float | None, height: float | None) -> str:
        if volume is None or height is None:
            return "–"
        return f"{volume_text(volume, units)} at {length_text(height, units)}"

    rows = [
        _beside(
            "Service fill, with filter and cooler",
            lambda f: volume_text(f.service_fill_m3, units),
            fill,
        ),
        _beside("Full mark, cold", lambda f: both(f.full_m3, f.full_height_m), fill),
        _beside("Low mark, cold", lambda f: both(f.low_m3, f.low_height_m), fill),
        _beside("The full fill, hot", lambda f: both(f.hot_m3, f.hot_height_m), fill),
        _beside("Hot oil below the crank sweep", lambda f: length_text(f.crank_gap_m, units), fill),
        _beside("Most, cold", lambda f: volume_text(f.usable_m3, units), fill),
        _beside("Oil reaches the rail at", lambda f: both(f.brim_m3, f.brim_height_m), fill),
        _beside("Whole inside, to the rail", lambda f: volume_text(f.cavity_m3, units), fill),
        _beside("Pan's lowest inside point", lambda f: length_text(f.lowest_m, units), fill),
    ]
    rows = [row for row in rows if any(cell != "–" for cell in row[1:])]
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
    marks = [(g.along_m, volume_text(g.volume_m3, units), "") for g in scale.graduations]
    marks.append((scale.full_along_m, volume_text(result.fill.full_m3, units), "FULL"))
    if scale.low_along_m is not None:
        marks.append((scale.low_along_m, volume_text(result.fill.low_m3, units), "LOW"))
    marks.append((scale.low_end_along_m, "–", "no reading beyond"))
    rows: dict[str, Row] = {}
    for along, volume, name in sorted(marks, key=lambda m: m[0]):
        place = length_text(along, units)
        told = name or rows.get(place, ("", "", ""))[2]
        rows[place] = (place, volume, told)
    note = "Distances along the stick from its stop. Cold oil, drained back, car on level ground."
    head = ("from the stop", "oil in the pan", "mark")
    fold = 2 if len(rows) > 8 else 1
    return Table("dipstick-marks", "Dipstick marks", head, tuple(rows.values()), note, fold)


def _parked(result: CheckResult) -> Table | None:
    fill, units = result.fill, result.units
    if not fill.parked:
        return None
    stick = any(p.dipstick_reads_m3 is not None for p in fill.parked)
    crank = any(p.crank_gap_m is not None for p in fill.parked)
    if not stick and not crank:
        return None

    def row(p: Parked) -> Row:
        reads = (volume_text(p.dipstick_reads_m3, units),) if stick else ()
        gap = (length_text(p.crank_gap_m, units),) if crank else ()
        return (plain(f"{p.side} uphill, {p.slope_deg:.0f}°"), *reads, *gap)

    head = (("stick reads",) if stick else ()) + (("oil below the crank",) if crank else ())
    note = f"With the full fill in the pan ({volume_text(fill.full_m3, units)}), cold."
    rows = tuple(map(row, fill.parked))
    return Table("parked", "Parked on a slope", ("parked with", *head), rows, note)


def _hold(result: CheckResult) -> Table | None:
    hold = result.hold
    if hold is None:
        return None
    pans = [hold] if hold.stock is None else [hold, hold.stock]
    names = ["new"] if hold.stock is None else ["new", "stock"]
    rows: list[Row] = []
    for way, words in WAYS.items():
        full = [f"{limit_number(p, way)} g" for p in pans]
        rows.append((words, *full, *(f"{low_number(p, way)}" for p in pans)))
    for words, key in (
        ("Nose uphill", "slope_up_deg"),
        ("Nose downhill", "slope_down_deg"),
        ("Left side uphill", "slope_left_deg"),
        ("Right side uphill", "slope_right_deg"),
    ):
        slopes = [slope_text(getattr(p, key)) for p in pans]
        rows.append((words, *slopes, *("–" for _ in pans)))
    head = ("pickup covered up to", *names, *(f"{n}, at the low mark" for n in names))
    return Table("hold-table", "Hold and slopes", head, tuple(rows), _hold_note(hold, result.units))


def _hold_note(hold: PanHold, units: str) -> str:
    speed = "" if hold.rpm is None else f" at {hold.rpm:.0f} rpm"
    note = (
        f"Oil really in the new pan{speed}: {shown(hold.oil_m3, 'volume', units)}, hot; pickup "
        f"flow {shown(hold.flow_m3_s, 'flow', units)}. At rest the oil stands "
        f"{length_text(hold.cover_at_rest_m, units)} over the rim after the draw-down of "
        f"{length_text(hold.drawdown_at_rest_m, units)}. Looked at up to "
        f"{max(hold.magnitudes_g):.2f} g."
    )
    if hold.submergence_ratio is not None:
        note += (
            f" Submergence at rest over that of ANSI/HI 9.8: {hold.submergence_ratio:.2f}, a risk "
            "index only; that standard is for large water intakes."
        )
    return note
