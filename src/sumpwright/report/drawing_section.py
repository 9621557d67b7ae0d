# SPDX-License-Identifier: Apache-2.0
"""Cuts through the pan at its deepest place, along and across, with depth, wall, floor, width."""

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
from sumpwright.studies.make_result import Made

ROOM = (300.0, 84.0)
LOW = 1e-4
"""m over the lowest point that still counts as it"""


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
    for cut, base in zip(cuts, (187.0, 82.0), strict=True):
        _draw(page, cut, base)
    said = [number_text(float(v), units) for v in spot[:2]]
    words = f"A at y {said[1]}, B at x {said[0]} of the engine's axes. Metal is filled."
    page.add(Words((18.0, 22.0), words, PLAIN))
    if not _solid(made):
        page.add(Words((18.0, 16.0), "The job gives no outside: only the inside is drawn.", PLAIN))
    return page


def deepest_place(made: Made) -> Floats:
    """Middle of the inside's lowest floor [m]."""
    points = made.bodies.new.cavity.vertices
    lowest = points[points[:, 2] < points[:, 2].min() + LOW]
    return np.asarray(0.5 * (lowest.min(axis=0) + lowest.max(axis=0)))


def _solid(made: Made) -> bool:
    return made.halved is not None or made.bodies.new.outside is not None


def _cut(made: Made, title: str, spot: Floats, normal: object, across: object) -> Cut:
    origin = np.array([spot[0], spot[1], made.bodies.new.cavity.bounds[1, 2]])
    plane = cut_plane(
        origin=origin, normal=np.asarray(normal, float), across=np.asarray(across, float)
    )
    inside = section_outlines(made.bodies.new.cavity, plane)
    metal = _metal(made, plane, inside)
    points = np.concatenate(metal or inside)
    return Cut(title, metal, inside, points.min(axis=0), points.max(axis=0))


def _metal(made: Made, plane: CutPlane, inside: list[Floats]) -> list[Floats]:
    if made.halved is not None:
        return section_outlines(made.halved.body, plane)
    outside = made.bodies.new.outside
    if outside is None:
        return []
    return [*section_outlines(outside, plane), *(loop[::-1] for loop in inside)]


def _draw(page: Page, cut: Cut, base: float) -> None:
    low = (float(cut.low[0]), float(cut.low[1]))
    place = Place(page.scale, low, (50.0, base))
    if cut.metal:
        page.add(path([place(loop) for loop in cut.metal], "METAL"))
    else:
        page.add(path([place(loop) for loop in cut.inside], "OUTLINE"))
    top = place.spot(0.0, float(cut.high[1]))[1]
    page.add(Words((18.0, top + 18.0), cut.title, PLAIN, bold=True))
    left, right = (place.spot(float(v[0]), 0.0)[0] for v in (cut.low, cut.high))
    rail = place.spot(0.0, 0.0)[1]
    page.add(path([[(left - 4.0, rail), (right + 4.0, rail)]], "CENTRE", closed=False))
    page.add(Size((left, top), (right, top), (left, top + 9.0)))
    floor = np.concatenate(cut.inside)
    deep = floor[int(floor[:, 1].argmin())]
    at = place.spot(float(deep[0]), float(deep[1]))
    page.add(Size((left, rail), at, (left - 10.0, at[1]), upright=True))
    if cut.metal:
        under = place.spot(*_below(cut, float(deep[0])))
        page.add(Size((left, rail), under, (left - 20.0, rail), upright=True))
        page.add(Size(at, (at[0], under[1]), (right + 9.0, at[1]), upright=True))
    _across(page, cut, place)


def _below(cut: Cut, x: float) -> tuple[float, float]:
    points = np.concatenate(cut.metal)
    return x, float(points[:, 1].min())


def _across(page: Page, cut: Cut, place: Place) -> None:
    """Width inside and wall, half way down."""
    depth = 0.5 * float(np.concatenate(cut.inside)[:, 1].min())
    inside = _crossings(cut.inside, depth)
    if len(inside) < 2:
        return
    a, b = (place.spot(v, depth) for v in (inside[0], inside[-1]))
    page.add(Size(a, b, (a[0], a[1])))
    if cut.metal:
        metal = _crossings(cut.metal, depth)
        if len(metal) > 1:
            page.add(Size(place.spot(metal[-2], depth), place.spot(metal[-1], depth), a))
    said = number_text(-depth, page.units)
    page.add(Words((a[0] + 3.0, a[1] - 4.0), f"at {said} below the rail", SMALL))


def _crossings(loops: list[Floats], height: float) -> list[float]:
    """Where outlines cross a level line, in order."""
    found: list[float] = []
    for loop in loops:
        after = np.roll(loop, -1, axis=0)
        crosses = (loop[:, 1] > height) != (after[:, 1] > height)
        a, b = loop[crosses], after[crosses]
        share = (height - a[:, 1]) / (b[:, 1] - a[:, 1])
        found += (a[:, 0] + share * (b[:, 0] - a[:, 0])).tolist()
    return sorted(found)
