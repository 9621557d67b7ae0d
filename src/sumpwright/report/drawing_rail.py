# SPDX-License-Identifier: Apache-2.0
"""The rail face with its holes: places from a datum hole, diameters, position tolerances."""

import math
from collections.abc import Iterator

from sumpwright.report.drawing import (
    PLAIN,
    SMALL,
    Page,
    Path,
    Place,
    Ring,
    Size,
    Words,
    number_text,
    path,
    scale_for,
)
from sumpwright.report.text import plain
from sumpwright.studies.rail_result import HoleLine, RailResult

COLUMNS = (15.0, 20.0, 20.0, 18.0, 18.0)
PER_COLUMN = 44
WIDE = sum(COLUMNS)


def rail_page(rail: RailResult) -> Page:
    """The flange's face from above, nose to the right."""
    count = math.ceil(len(rail.holes) / PER_COLUMN)
    spots = [*rail.edge, *rail.opening, *(h.at_m for h in rail.holes)]
    low = (min(p[0] for p in spots), min(p[1] for p in spots))
    high = (max(p[0] for p in spots), max(p[1] for p in spots))
    size = (high[0] - low[0], high[1] - low[1])
    room = (340.0 - count * (WIDE + 3.0), 165.0)
    scale = scale_for(size, room)
    page = Page("rail", "Rail face and bolt holes", rail.units, scale)
    place = Place(scale, low, (42.0, 100.0))
    page.add(path([place(rail.edge)], "OUTLINE"))
    if rail.opening:
        page.add(path([place(rail.opening)], "FINE"))
    page.add(*_holes(rail, place), *_sizes(rail, place, low, high))
    for k in range(count):
        _table(page, rail, k, 406.0 - (count - k) * (WIDE + 3.0))
    _notes(page, rail)
    return page


def _holes(rail: RailResult, place: Place) -> Iterator[Ring | Path | Words]:
    middle = [sum(h.at_m[k] for h in rail.holes) / len(rail.holes) for k in (0, 1)]
    for hole in rail.holes:
        x, y = place.spot(*hole.at_m)
        radius = 500.0 * hole.diameter_m / place.scale
        reach = radius + 1.5
        yield Ring((x, y), radius)
        yield path([[(x - reach, y), (x + reach, y)], [(x, y - reach), (x, y + reach)]], "CENTRE")
        inward = 1.0 if hole.at_m[1] < middle[1] else -1.0
        up = inward * (reach + 1.2) - (0.0 if inward > 0.0 else 2.6)
        yield Words((x + 0.6, y + up), plain(hole.name), SMALL, bold=True)


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
    return [plain(hole.name)[:9], *(number_text(v, rail.units) for v in numbers)]


def _notes(page: Page, rail: RailResult) -> None:
    datum = plain(rail.holes[0].name)
    lines = (
        f"Seen from above: ahead to the right, left up. Datum: hole {datum}, x ahead, y to the "
        "left.",
        f"pos. dia.: zone round the true place that a hole's centre stays in; off by dx, dy "
        f"counts 2 x root(dx² + dy²). {rail.thread}, ISO 273 {rail.fit}.",
        "Fine line: inner edge of the block's rail. Drill after welding and skimming.",
    )
    for k, line in enumerate(lines):
        page.add(Words((18.0, 66.0 - 5.0 * k), line, PLAIN if k == 0 else SMALL))
