# SPDX-License-Identifier: Apache-2.0
"""Where numbers and names go on a flat pattern, so that no line of it is covered."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.metal.flat_pattern import FlatPattern, Polygon, turned
from sumpwright.studies.sheet_part_result import CutSheet, SheetsResult

Floats = NDArray[np.float64]

_PLACES = (0.5, 0.25, 0.75, 0.1, 0.9)
"""Along a line, the best first."""
_GRID = 9
"""Places looked at each way across a part for its name."""


@dataclass(frozen=True, eq=False)
class Place:
    """Where a word's middle goes, and whether it reads upward."""

    at: Floats
    upright: bool


def bend_spots(pattern: FlatPattern, off: float, room: float) -> list[Floats]:
    """(2,) [m] for the number of each bend: `off` from its line, and `room` from every other line.

    Beside the line's middle on the side that stays, if nothing is there; else where most room is.
    """
    from shapely import LineString, Point

    lines = [pattern.polygon.boundary, *(LineString(bend.middle) for bend in pattern.bends)]
    found: list[Floats] = []
    for bend in pattern.bends:
        best, most = bend.middle[0], -1.0
        for spot in _beside(bend.middle, -bend.out, bend.along, off):
            here = Point(spot)
            apart = min(float(line.distance(here)) for line in lines)
            near = min((0.5 * float(np.hypot(*(spot - other))) for other in found), default=room)
            free = min(apart, near)
            if free > most + 1e-9:
                best, most = spot, free
            if free >= room:
                break
        found.append(best)
    return found


def _beside(line: Floats, side: Floats, along: Floats, off: float) -> Iterator[Floats]:
    for share in _PLACES:
        for sign in (1.0, -1.0):
            yield line[0] + share * (line[1] - line[0]) + sign * off * side
    yield line[0] - off * along
    yield line[1] + off * along


def mark_places(
    pattern: FlatPattern, sizes: dict[str, tuple[float, float]]
) -> list[tuple[str, Place]]:
    """Beside the longest line of each name, a place for a word of a width and a height [m]."""
    longest: dict[str, Floats] = {}
    for name, line in pattern.marks:
        before = longest.get(name)
        if before is None or _length(line) > _length(before):
            longest[name] = line
    lines = [pattern.polygon.boundary, *(_string(line) for _, line in pattern.marks)]
    return [(name, _mark_place(line, lines, *sizes[name])) for name, line in longest.items()]


def _mark_place(line: Floats, lines: Sequence[Any], width: float, height: float) -> Place:
    from shapely import box

    way = (line[1] - line[0]) / max(_length(line), 1e-12)
    upright = abs(way[1]) > abs(way[0])
    # over a level line, left of an upright one, the side on which one writes
    side = np.array([-1.0, 0.0]) if upright else np.array([0.0, 1.0])
    half = 0.5 * np.array([height, width] if upright else [width, height])
    first: Place | None = None
    for sign in (1.0, -1.0):
        for share in _PLACES:
            at = line[0] + share * (line[1] - line[0]) + 0.9 * sign * height * side
            first = first or Place(at, upright)
            room = box(*(at - half), *(at + half))
            if not any(room.intersects(other) for other in lines):
                return Place(at, upright)
    assert first is not None
    return first


def place_within(polygon: Polygon, width: float, height: float) -> Place | None:
    """Where a word of a width and a height fits in a part and covers no edge; None if nowhere."""
    from shapely import box, prepare

    prepare(polygon)
    middle = middle_of(polygon)
    a, b, c, d = polygon.bounds
    grid = [np.array([x, y]) for x in np.linspace(a, c, _GRID) for y in np.linspace(b, d, _GRID)]
    spots = [middle, *sorted(grid, key=lambda at: float(np.hypot(*(at - middle))))]
    for at in spots:
        for upright in (False, True):
            half = 0.5 * np.array([height, width] if upright else [width, height])
            if polygon.contains(box(*(at - half), *(at + half))):
                return Place(at, upright)
    return None


def names_within(
    laid: Sequence[tuple[str, Polygon]], width: Callable[[str], float], height: float
) -> tuple[list[tuple[str, Place]], list[str]]:
    """Names of parts where they fit, numbers where they do not; and what the numbers stand for."""
    words: list[tuple[str, Place]] = []
    numbered: list[str] = []
    for name, polygon in laid:
        place = place_within(polygon, width(name), height)
        if place is None:
            numbered.append(f"{len(numbered) + 1} {name}")
            words.append((str(len(numbered)), Place(middle_of(polygon), False)))
        else:
            words.append((name, place))
    return words, numbered


def placed_parts(result: SheetsResult, sheet: CutSheet) -> list[tuple[str, Polygon]]:
    """Each part of a nest: its name, and where it lies [m]."""
    from shapely import affinity

    parts = {item.key: item for item in result.items}
    found = []
    for at in sheet.laid:
        (a, b), (c, d) = np.round(turned(at.turn)).tolist()
        matrix = [a, b, c, d, *at.shift]
        flat = parts[at.key].pattern.polygon
        found.append((parts[at.key].name, affinity.affine_transform(flat, matrix)))
    return found


def middle_of(polygon: Polygon) -> Floats:
    """(2,) [m] of the largest circle within a part."""
    from shapely import maximum_inscribed_circle

    return np.asarray(maximum_inscribed_circle(polygon, 1e-4).coords[0])


def _length(line: Floats) -> float:
    return float(np.hypot(*(line[1] - line[0])))


def _string(line: Floats) -> Any:
    from shapely import LineString

    return LineString(line)
