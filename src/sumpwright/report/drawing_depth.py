# SPDX-License-Identifier: Apache-2.0
"""The pan in plan with the depth of its floor: lines of equal depth, and figures between them."""

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
from sumpwright.studies.make_result import Made

ROOM = (300.0, 180.0)
LINES = 8
"""About as many lines of equal depth"""
STEP = 15.0
"""mm on paper from figure to figure"""
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
    place = Place(scale, (float(low[0]), float(low[1])), (45.0, 88.0))
    every = _every(float(high[2] - low[2]), units)
    page.add(*_lines(cavity, place, every), *_figures(cavity, place, units))
    left, bottom = place.spot(float(low[0]), float(low[1]))
    right, top = place.spot(float(high[0]), float(high[1]))
    page.add(
        Size((left, bottom), (right, bottom), (left, bottom - 10.0)),
        Size((left, bottom), (left, top), (left - 12.0, bottom), upright=True),
    )
    words = (
        "Seen from above: ahead to the right, left up. Figures: depth of the floor below the rail.",
        f"Lines of equal depth every {number_text(every, units)}; heavy: the widest of the inside "
        "just below the rail.",
        f"Deepest {number_text(float(high[2] - low[2]), units)}.",
    )
    for k, line in enumerate(words):
        page.add(Words((18.0, 66.0 - 5.0 * k), line, PLAIN if k == 0 else SMALL))
    return page


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


def _figures(cavity: Mesh, place: Place, units: str) -> list[Words]:
    (x0, y0, _), (x1, y1, _) = cavity.bounds
    step = 1e-3 * STEP * place.scale
    xs = x0 + (x1 - x0 - step * int((x1 - x0) / step)) / 2.0 + step * np.arange(500)
    ys = y0 + (y1 - y0 - step * int((y1 - y0) / step)) / 2.0 + step * np.arange(500)
    spots = np.array([(x, y) for x in xs[xs < x1 - 1e-3] for y in ys[ys < y1 - 1e-3]])
    depths = floor_depth(cavity, spots)
    digits = 1e3 if units == "metric" else 1e3 / 25.4
    return [
        Words(
            (float(p[0]), float(p[1]) - 1.2),
            f"{digits * d:.0f}" if units == "metric" else f"{digits * d:.1f}",
            SMALL,
            "middle",
        )
        for p, d in zip(place(spots), depths, strict=True)
        if not np.isnan(d)
    ]
