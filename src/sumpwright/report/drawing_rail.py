# SPDX-License-Identifier: Apache-2.0
"""The rail face with its holes: places from a datum hole, diameters, position tolerances."""

import math
from collections.abc import Iterator

from sumpwright.report.drawing import (
    SMALL,
    Floats,
    Page,
    Path,
    Place,
    Ring,
    Size,
    Spot,
    Words,
    number_text,
    path,
    scale_for,
)
from sumpwright.report.drawing_frame import wrapped_notes
from sumpwright.report.drawing_label import Taken, named_beside
from sumpwright.report.drawing_size import LETTER
from sumpwright.report.lettering import fitted
from sumpwright.report.text import plain
from sumpwright.studies.make_result import BoltPitch
from sumpwright.studies.rail_result import HoleLine, RailResult
from sumpwright.units import shown

COLUMNS = (17.0, 19.5, 19.5, 17.0, 18.0)
PER_COLUMN, PER_SHEET = 44, 4
"""Holes in a column of the table, columns on a sheet"""
WIDE = sum(COLUMNS)
PAST = 1.5
"""mm that a hole's cross stands out of it"""


def rail_pages(rail: RailResult, pitch: BoltPitch | None = None) -> tuple[Page, ...]:
    """The flange's face from above, nose to the right; a long table has sheets of its own."""
    count = math.ceil(len(rail.holes) / PER_COLUMN)
    if count == 1:
        page = _face(rail, pitch, 340.0 - WIDE - 3.0)
        _table(page, rail, 0, 403.0 - WIDE)
        return (page,)
    tables = []
    for number, first in enumerate(range(0, count, PER_SHEET), 1):
        key = "rail-holes" if number == 1 else f"rail-holes-{number}"
        sheet = Page(key, "Table of bolt holes", rail.units, 1.0, true=False)
        for k in range(first, min(first + PER_SHEET, count)):
            _table(sheet, rail, k, 18.0 + (k - first) * (WIDE + 6.0))
        tables.append(sheet)
    return (_face(rail, pitch, 340.0), *tables)


def _face(rail: RailResult, pitch: BoltPitch | None, wide: float) -> Page:
    spots = [*rail.edge, *rail.opening, *(h.at_m for h in rail.holes)]
    low = (min(p[0] for p in spots), min(p[1] for p in spots))
    high = (max(p[0] for p in spots), max(p[1] for p in spots))
    size = (high[0] - low[0], high[1] - low[1])
    room = (wide, 165.0)
    scale = scale_for(size, room)
    page = Page("rail", "Rail face and bolt holes", rail.units, scale)
    spare = [0.5 * (r - 1e3 * s / scale) for r, s in zip(room, size, strict=True)]
    place = Place(scale, low, (42.0 + spare[0], 107.0 + spare[1]))
    page.add(path([place(rail.edge)], "OUTLINE"))
    if rail.opening:
        page.add(path([place(rail.opening)], "FINE"))
    sizes = tuple(_sizes(rail, place, low, high))
    page.add(*_holes(rail, place, sizes), *sizes)
    _notes(page, rail, pitch)
    return page


def _holes(
    rail: RailResult, place: Place, sizes: tuple[Size, ...]
) -> Iterator[Ring | Path | Words]:
    middle = [sum(h.at_m[k] for h in rail.holes) / len(rail.holes) for k in (0, 1)]
    centre = place.spot(*middle)
    spots = [(hole, place.spot(*hole.at_m), _reach(hole, place)) for hole in rail.holes]
    crosses = {hole.name: _cross(spot, reach) for hole, spot, reach in spots}
    taken = Taken([*_drawn(rail, place, sizes), *(c for both in crosses.values() for c in both)])
    for hole, (x, y), reach in spots:
        yield Ring((x, y), reach - PAST)
        yield path(crosses[hole.name], "CENTRE", closed=False)
        inward = centre[0] - x, centre[1] - y
        # along the nearer side the names stand in one row: straight inward from it
        way = (0.0, inward[1]) if _flat(inward, rail) else (inward[0], 0.0)
        yield from named_beside(plain(hole.name), (x, y), reach, way, taken)


def _reach(hole: HoleLine, place: Place) -> float:
    return 500.0 * hole.diameter_m / place.scale + PAST


def _cross(spot: Spot, reach: float) -> list[list[Spot]]:
    x, y = spot
    return [[(x - reach, y), (x + reach, y)], [(x, y - reach), (x, y + reach)]]


def _flat(inward: Spot, rail: RailResult) -> bool:
    """Whether the nearer side of the flange runs along."""
    sides = [max(p[k] for p in rail.edge) - min(p[k] for p in rail.edge) for k in (0, 1)]
    return abs(inward[1]) * sides[0] >= abs(inward[0]) * sides[1]


def _drawn(
    rail: RailResult, place: Place, sizes: tuple[Size, ...]
) -> Iterator[Floats | list[Spot]]:
    """Lines that names keep clear of."""
    for loop in (rail.edge, rail.opening):
        if loop:
            yield place([*loop, loop[0]])
    for size in sizes:
        k = 1 if size.upright else 0
        for spot in (size.a, size.b):
            end = list(size.away)
            end[k] = spot[k]
            yield [spot, (end[0], end[1])]


def _sizes(
    rail: RailResult, place: Place, low: tuple[float, float], high: tuple[float, float]
) -> Iterator[Size]:
    """Over all, and from the datum hole to the holes farthest along and across."""
    left, bottom = place.spot(*low)
    right, top = place.spot(*high)
    yield Size((left, bottom), (right, bottom), (left, bottom - 20.0))
    yield Size((left, bottom), (left, top), (left - 20.0, bottom), upright=True)
    datum = place.spot(*rail.holes[0].at_m)
    far, wide = (place.spot(*_far(rail, k)) for k in (0, 1))
    if abs(far[0] - datum[0]) > 1.0:
        yield Size(datum, far, (datum[0], bottom - 10.0))
    if abs(wide[1] - datum[1]) > 1.0:
        yield Size(datum, wide, (left - 10.0, datum[1]), upright=True)


def _far(rail: RailResult, k: int) -> tuple[float, float]:
    """The hole farthest along axis `k` from the datum; of equals the nearest across."""
    x = _at(rail)

    def away(p: tuple[float, float]) -> tuple[float, float]:
        return round(abs(p[k] - x[k]), 6), -abs(p[1 - k] - x[1 - k])

    return max((h.at_m for h in rail.holes), key=away)


def _at(rail: RailResult) -> tuple[float, float]:
    return rail.holes[0].at_m


def _table(page: Page, rail: RailResult, k: int, left: float) -> None:
    rows = [["hole", "x", "y", "dia.", "pos. dia."]]
    part = rail.holes[k * PER_COLUMN : (k + 1) * PER_COLUMN]
    rows += [_row(hole, rail) for hole in part]
    page.rows((left, 282.0), COLUMNS, rows, step=5.0)


def _row(hole: HoleLine, rail: RailResult) -> list[str]:
    away = [hole.at_m[k] - _at(rail)[k] for k in (0, 1)]
    numbers = (*away, hole.diameter_m, max(hole.own_m, 0.0))
    name = fitted(plain(hole.name), LETTER * SMALL, COLUMNS[0] - 2.0)
    return [name, *(number_text(v, rail.units) for v in numbers)]


def pitch_lines(pitch: BoltPitch, units: str) -> tuple[str, ...]:
    """Bolt pitch against the flange's thickness, its source and its limit."""

    def mm(value: float) -> str:
        return shown(value, "length", units)

    most = ", ".join(f"{mm(limit)} on {kind}" for kind, limit in pitch.most_m.items())
    wide = " and ".join(kind for kind, v in pitch.most_m.items() if pitch.widest_m > v + 1e-6)
    judged = f"Wider than that on {wide}." if wide else "The bolts keep to that."
    one, other = (plain(name) for name in pitch.between)
    usual = ""
    if pitch.usual_m is not None:
        low, high = (mm(v) for v in pitch.usual_m)
        usual = f" Usual for {pitch.bolt}: {low} to {high} (no source)."
    return (
        f"Bolt pitch {mm(pitch.least_m)} to {mm(pitch.widest_m)}, widest {one} to {other}.{usual}",
        f"Guide for {pitch.bolt} through {mm(pitch.flange_m)}: at most {most}. {judged}",
        f"As it is, bolt pitch counts the flange's bending {pitch.grows:.2f} times.",
        "The guide, 2 d + 6 t / (m + 0.5), is of pressure vessels (TEMA, from memory; m: ASME "
        "VIII): a hint for a pan.",
    )


def _notes(page: Page, rail: RailResult, pitch: BoltPitch | None) -> None:
    datum = plain(rail.holes[0].name)
    lines = (
        f"Seen from above: ahead to the right, left up. Datum: hole {datum}, x ahead, y to the "
        "left.",
        "pos. dia.: zone round the true place that a hole's centre stays in; off by dx, dy counts "
        "2 x root(dx² + dy²).",
        f"{rail.thread}, ISO 273 {rail.fit}. Fine line: inner edge of the block's rail. Drill "
        "after welding and skimming.",
        *(() if pitch is None else pitch_lines(pitch, rail.units)),
    )
    for k, line in enumerate(wrapped_notes(lines)):
        page.add(Words((18.0, 66.0 - 4.6 * k), line, SMALL))
