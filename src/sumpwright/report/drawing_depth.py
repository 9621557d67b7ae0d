# SPDX-License-Identifier: Apache-2.0
"""The pan in plan with the depth of its floor: lines of equal depth, and figures between them."""

from collections.abc import Iterator

import numpy as np

from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.section import cut_plane, section_outlines
from sumpwright.report.drawing import (
    PLAIN,
    SMALL,
    Floats,
    Page,
    Path,
    Place,
    Size,
    Words,
    number_text,
    path,
    scale_for,
)
from sumpwright.report.drawing_label import Taken, words_box
from sumpwright.report.drawing_section import deepest_place
from sumpwright.studies.make_result import Made

ROOM = (300.0, 180.0)
LINES = 8
"""About as many lines of equal depth"""
STEP = 15.0
"""mm on paper from figure to figure"""
LEVEL = 0.05
"""mm on paper within which points are equally far out"""
HAIR = 1e-6
"""m below the rail: the opening"""


def depth_page(made: Made) -> Page:
    """From above, nose to the right; depths count down from the rail."""
    cavity = made.bodies.new.cavity
    units = made.loaded.job.units
    low, high = cavity.bounds
    size = (float(high[0] - low[0]), float(high[1] - low[1]))
    scale = scale_for(size, ROOM)
    page = Page("depth", "Depth of the inside, rail to floor", units, scale)
    spare = [0.5 * (r - 1e3 * s / scale) for r, s in zip(ROOM, size, strict=True)]
    corner = (45.0 + max(spare[0], 0.0), 92.0 + max(spare[1], 0.0))
    place = Place(scale, (float(low[0]), float(low[1])), corner)
    every = _every(float(high[2] - low[2]), units)
    lines = _lines(cavity, place, every)
    page.add(*lines, *_figures(cavity, place, units, lines))
    page.add(*_over_all(lines, place, low, high), *_cuts(made, place, low, high))
    words = (
        "Seen from above: ahead to the right, left up. Figures: depth of the floor below the rail.",
        f"Lines of equal depth every {number_text(every, units)}; heavy: the widest of the inside "
        "just below the rail.",
        f"Deepest {number_text(float(high[2] - low[2]), units)}. A and B: where the sections are.",
    )
    for k, line in enumerate(words):
        page.add(Words((18.0, 66.0 - 5.0 * k), line, PLAIN if k == 0 else SMALL))
    return page


def _over_all(lines: list[Path], place: Place, low: Floats, high: Floats) -> Iterator[Size]:
    """Length and width, from the points that are farthest out."""
    points = np.concatenate([loop for line in lines for loop in line.loops])
    left, bottom = place.spot(float(low[0]), float(low[1]))
    for k, away in ((0, (left, bottom - 10.0)), (1, (left - 12.0, bottom))):
        ends = []
        for value, edge in ((points[:, k].min(), low), (points[:, k].max(), high)):
            near = points[np.abs(points[:, k] - value) < LEVEL]
            spot = near[int(near[:, 1 - k].argmin())].copy()
            spot[k] = place(edge[:2])[k]  # between two lines the inside may be a hair wider
            ends.append((float(spot[0]), float(spot[1])))
        yield Size(ends[0], ends[1], away, upright=k == 1)


def _cuts(made: Made, place: Place, low: Floats, high: Floats) -> Iterator[Path | Words]:
    """Short lines past the outline where the sections are cut, with their letters."""
    x, y = place.spot(*(float(v) for v in deepest_place(made)[:2]))
    left, _ = place.spot(float(low[0]), float(low[1]))
    right, top = place.spot(float(high[0]), float(high[1]))
    stubs = [[(right + 2.0, y), (right + 9.0, y)], [(left - 9.0, y), (left - 2.0, y)]]
    yield path([*stubs, [(x, top + 2.0), (x, top + 9.0)]], "CENTRE", closed=False)
    yield Words((right + 10.5, y - 0.5 * PLAIN), "A", PLAIN, bold=True)
    yield Words((x, top + 10.5), "B", PLAIN, "middle", bold=True)


def floor_depth(cavity: Mesh, spots: Floats) -> Floats:
    """(n,) depth of the floor below the top [m] at (n, 2) places; nan outside the inside."""
    corners = cavity.corners
    a, b, c = (corners[:, k, :] for k in range(3))
    twice = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    down = twice < -1e-14
    a, b, c, twice = a[down], b[down], c[down], twice[down]
    depth = np.full(len(spots), np.nan)
    for k, (x, y) in enumerate(spots):
        u = ((x - a[:, 0]) * (c[:, 1] - a[:, 1]) - (y - a[:, 1]) * (c[:, 0] - a[:, 0])) / twice
        v = ((b[:, 0] - a[:, 0]) * (y - a[:, 1]) - (b[:, 1] - a[:, 1]) * (x - a[:, 0])) / twice
        hit = (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0)
        if hit.any():
            z = a[hit, 2] + u[hit] * (b[hit, 2] - a[hit, 2]) + v[hit] * (c[hit, 2] - a[hit, 2])
            depth[k] = cavity.bounds[1, 2] - float(z.min())
    return depth


def _every(depth: float, units: str) -> float:
    unit = 1e-3 if units == "metric" else 25.4e-3 / 10.0
    steps = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
    return next((unit * s for s in steps if depth / (unit * s) <= LINES), unit * steps[-1])


def _lines(cavity: Mesh, place: Place, every: float) -> list[Path]:
    top, deep = float(cavity.bounds[1, 2]), float(np.ptp(cavity.bounds[:, 2]))
    found = []
    for depth in (HAIR, *np.arange(every, deep - HAIR, every)):
        plane = cut_plane(origin=(0, 0, top - depth), normal=(0, 0, 1), across=(1, 0, 0))
        loops = [place(loop) for loop in section_outlines(cavity, plane)]
        if loops:
            found.append(path(loops, "OUTLINE" if depth == HAIR else "FINE"))
    return found


def _figures(cavity: Mesh, place: Place, units: str, lines: list[Path]) -> list[Words]:
    """Depths on a grid, where they stand clear of the lines."""
    (x0, y0, _), (x1, y1, _) = cavity.bounds
    step = 1e-3 * STEP * place.scale
    xs = x0 + (x1 - x0 - step * int((x1 - x0) / step)) / 2.0 + step * np.arange(500)
    ys = y0 + (y1 - y0 - step * int((y1 - y0) / step)) / 2.0 + step * np.arange(500)
    spots = np.array([(x, y) for x in xs[xs < x1 - 1e-3] for y in ys[ys < y1 - 1e-3]])
    taken = Taken([[*loop, loop[0]] for line in lines for loop in line.loops])
    factor, digits = (1e3, 0) if units == "metric" else (1e3 / 25.4, 1)
    found = (
        Words((float(p[0]), float(p[1]) - 1.2), f"{factor * d:.{digits}f}", SMALL, "middle")
        for p, d in zip(place(spots), floor_depth(cavity, spots), strict=True)
        if not np.isnan(d)
    )
    return [words for words in found if taken.clear(words_box(words))]
