# SPDX-License-Identifier: Apache-2.0
"""Cuts through the pan at its deepest place, along and across, with depth, wall, floor, width."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sumpwright.geometry.section import CutPlane, cut_plane, section_outlines
from sumpwright.report.drawing import (
    PLAIN,
    SMALL,
    Floats,
    Page,
    Place,
    Size,
    Words,
    number_text,
    path,
    scale_for,
)
from sumpwright.report.drawing_size import LETTER
from sumpwright.report.lettering import text_width
from sumpwright.studies.make_result import Made

ROOM = (300.0, 84.0)
LOW = 1e-4
"""m over the lowest point that still counts as it"""
BESIDE = 4e-3
"""m inside the end of a floor, where its thickness is looked at: past the start of its rounding"""
ROOMY = 12.0
"""mm on paper that a floor's figure needs, over it and along it"""
LINES_APART = 8.0
"""mm on paper between the split's line and the width's, so that their words keep clear"""


@dataclass(frozen=True, eq=False)
class Cut:
    """One cut: the metal, and the inside where oil is."""

    title: str
    metal: list[Floats]
    inside: list[Floats]
    low: Floats
    high: Floats


def section_page(made: Made) -> Page:
    """Both cuts at one scale; heights count from the rail."""
    units = made.loaded.job.units
    spot = deepest_place(made)
    cuts = [
        _cut(made, "A: lengthwise, seen from the right", spot, (0, -1, 0), (1, 0, 0)),
        _cut(made, "B: across, seen from behind", spot, (-1, 0, 0), (0, -1, 0)),
    ]
    wide = max(float((c.high - c.low)[0]) for c in cuts)
    tall = max(float((c.high - c.low)[1]) for c in cuts)
    scale = scale_for((wide, tall), ROOM)
    page = Page("sections", "Sections through the deepest place", units, scale)
    split = None if made.halved is None else made.halved.result.height_m
    for cut, base in zip(cuts, (187.0, 82.0), strict=True):
        _draw(page, cut, base, 50.0 + 0.5 * (ROOM[0] - 1e3 * wide / scale), split)
    said = [number_text(float(v), units) for v in spot[:2]]
    words = f"A at y {said[1]}, B at x {said[0]} of the engine's axes. Metal is filled."
    page.add(Words((18.0, 26.0), words, PLAIN))
    page.add(Words((18.0, 20.5), "Walls are measured level, depths from the rail.", SMALL))
    if not cuts[0].metal:
        page.add(Words((18.0, 15.0), "The job gives no outside: only the inside is drawn.", PLAIN))
    return page


def deepest_place(made: Made) -> Floats:
    """Middle of the inside's lowest floor [m]."""
    points = made.bodies.new.cavity.vertices
    lowest = points[points[:, 2] < points[:, 2].min() + LOW]
    return np.asarray(0.5 * (lowest.min(axis=0) + lowest.max(axis=0)))


def _cut(made: Made, title: str, spot: Floats, normal: object, across: object) -> Cut:
    origin = np.array([spot[0], spot[1], made.bodies.new.cavity.bounds[1, 2]])
    plane = cut_plane(
        origin=origin, normal=np.asarray(normal, float), across=np.asarray(across, float)
    )
    inside = section_outlines(made.bodies.new.cavity, plane)
    metal = _metal(made, plane)
    points = np.concatenate(metal or inside)
    return Cut(title, metal, inside, points.min(axis=0), points.max(axis=0))


def _metal(made: Made, plane: CutPlane) -> list[Floats]:
    """Of the pan whole, everything drilled; nothing where the job gives no outside."""
    body = next((body for body in made.whole if body.key == "pan"), None)
    return [] if body is None else section_outlines(body.mesh, plane)


def _draw(page: Page, cut: Cut, base: float, start: float, split: float | None) -> None:
    low = (float(cut.low[0]), float(cut.low[1]))
    place = Place(page.scale, low, (start, base))
    if cut.metal:
        page.add(path([place(loop) for loop in cut.metal], "METAL"))
    else:
        page.add(path([place(loop) for loop in cut.inside], "OUTLINE"))
    top = place.spot(0.0, float(cut.high[1]))[1]
    page.add(Words((start - 22.0, top + 18.0), cut.title, PLAIN, bold=True))
    left, right = (place.spot(float(v[0]), 0.0)[0] for v in (cut.low, cut.high))
    rail = place.spot(0.0, 0.0)[1]
    page.add(path([[(left - 4.0, rail), (right + 4.0, rail)]], "CENTRE", closed=False))
    if split is not None:
        _split(page, place, split, (left, right))
    page.add(Size((left, top), (right, top), (left, top + 9.0)))
    start_x, end_x, depth = _lowest(cut.inside)
    page.add(Size((left, rail), place.spot(start_x, depth), (left - 10.0, rail), upright=True))
    if cut.metal:
        under = _lowest(cut.metal)
        foot = place.spot(under[0], under[2])
        page.add(Size((left, rail), foot, (left - 20.0, rail), upright=True))
        page.add(*_thickness(cut, place, (start_x, end_x, depth), right + 9.0))
    floors = [(place.spot(x, z), z) for x, z in _floors(cut.inside, page.scale)]
    for foot, _ in floors:
        page.add(Size((foot[0], rail), foot, foot, upright=True, share=0.75))
    share = 0.5
    if split is not None and 1e3 * abs(share * depth - split) / page.scale < LINES_APART:
        share = 0.7
    _across(page, cut, place, [foot[0] for foot, z in floors if z < share * depth], share)


def _split(page: Page, place: Place, height: float, ends: tuple[float, float]) -> None:
    """Where the halves part."""
    y = place.spot(0.0, height)[1]
    page.add(path([[(ends[0] - 4.0, y), (ends[1] + 4.0, y)]], "CENTRE", closed=False))
    words = f"split, {number_text(-height, page.units)} below the rail"
    page.add(Words((ends[1] + 6.0, y + 0.5), words, SMALL))


def _floors(inside: list[Floats], scale: float) -> list[tuple[float, float]]:
    """Middle and height of level floors but the deepest, where a figure has room."""
    pieces: dict[float, list[tuple[float, float]]] = {}
    for loop in inside:
        for a, b in zip(loop, np.roll(loop, -1, axis=0), strict=True):
            if abs(b[1] - a[1]) < LOW and -a[1] * 1e3 / scale > ROOMY:
                ends = sorted((float(a[0]), float(b[0])))
                pieces.setdefault(round(float(a[1]), 4), []).append((ends[0], ends[1]))
    lowest = min(pieces, default=0.0)
    runs = {z: _longest(spans) for z, spans in pieces.items() if z > lowest}
    return [(0.5 * (a + b), z) for z, (a, b) in runs.items() if 1e3 * (b - a) / scale > ROOMY]


def _longest(spans: list[tuple[float, float]]) -> tuple[float, float]:
    """Of pieces in one line, the longest run of those that touch."""
    runs: list[tuple[float, float]] = []
    for a, b in sorted(spans):
        if runs and a <= runs[-1][1] + LOW:
            runs[-1] = (runs[-1][0], max(b, runs[-1][1]))
        else:
            runs.append((a, b))
    return max(runs, key=lambda run: run[1] - run[0])


def _lowest(loops: list[Floats]) -> tuple[float, float, float]:
    """Both ends of the lowest floor, and its height [m]."""
    points = np.concatenate(loops)
    floor = float(points[:, 1].min())
    along = points[points[:, 1] < floor + LOW, 0]
    return float(along.min()), float(along.max()), floor


def _thickness(
    cut: Cut, place: Place, floor: tuple[float, float, float], away: float
) -> Iterator[Size]:
    """Of the floor, where it is deepest, beside what stands in its middle."""
    start, end, depth = floor
    x = end - min(BESIDE, 0.5 * (end - start))
    under = [z for z in _crossings(cut.metal, x, axis=0) if z < depth - LOW]
    if under:
        a, b = place.spot(end, depth), place.spot(end, max(under))
        yield Size(a, b, (away, a[1]), upright=True)


def _across(page: Page, cut: Cut, place: Place, crossed: list[float], share: float) -> None:
    """Width inside and wall, at a share of the depth; `crossed` is where upright dimensions are."""
    depth = share * float(np.concatenate(cut.inside)[:, 1].min())
    inside = _crossings(cut.inside, depth)
    if len(inside) < 2:
        return
    a, b = (place.spot(v, depth) for v in (inside[0], inside[-1]))
    page.add(Size(a, b, (a[0], a[1])))
    if cut.metal:
        metal = _crossings(cut.metal, depth)
        if len(metal) > 1:
            page.add(Size(place.spot(metal[-2], depth), place.spot(metal[-1], depth), a))
    words = f"at {number_text(-depth, page.units)} below the rail"
    wide = text_width(words, LETTER * SMALL)
    starts = [b[0] - 3.0 - wide, a[0] + 3.0, 0.5 * (a[0] + b[0] - wide)]
    free = (x for x in starts if not any(x - 1.0 < at < x + wide + 1.0 for at in crossed))
    page.add(Words((next(free, starts[0]), b[1] - 4.0), words, SMALL))


def _crossings(loops: list[Floats], at: float, axis: int = 1) -> list[float]:
    """Where outlines cross a level line, in order; an upright one for axis 0."""
    found: list[float] = []
    for loop in loops:
        after = np.roll(loop, -1, axis=0)
        crosses = (loop[:, axis] > at) != (after[:, axis] > at)
        a, b = loop[crosses], after[crosses]
        share = (at - a[:, axis]) / (b[:, axis] - a[:, axis])
        found += (a[:, 1 - axis] + share * (b[:, 1 - axis] - a[:, 1 - axis])).tolist()
    return sorted(found)
