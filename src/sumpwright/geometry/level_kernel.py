# SPDX-License-Identifier: Apache-2.0
"""Compiled heart of the level engine; level.py is the door and holds the theory.

A body is a heap-ordered binary tree over blocks of neighbouring triangles. Row ``k`` of ``nodes``
is one box: centre (0:3), half size (3:6), sum of area vectors a (6:9) and the symmetric part of
the sum of a c^T (9:15, order xx yy zz xy xz yz), c the triangle's middle. Children of k are 2k and
2k + 1; the second half of the rows are leaves. ``corners`` are the triangles' corner points.
All coordinates count from the body's own reference point.
"""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

DEEP = 128
"""Stack of the tree walk: two entries a generation, so good for 2**63 blocks."""

FLAT = 1e-14
"""Share of the skin below which an area of free surface is rounding of the sums."""

RUN = 32
"""Questions that start from one another."""


@compiled
def triangle_below(h0: float, h1: float, h2: float, s: float) -> tuple[float, float]:
    """Integral of max(s - h, 0) and of the wetted share over a triangle of area 1."""
    if h0 > h1:
        h0, h1 = h1, h0
    if h1 > h2:
        h1, h2 = h2, h1
    if h0 > h1:
        h0, h1 = h1, h0
    if s <= h0:
        return 0.0, 0.0
    if s >= h2:
        return s - (h0 + h1 + h2) / 3.0, 1.0
    if s <= h1:
        share = (s - h0) / (h1 - h0) * ((s - h0) / (h2 - h0))
        return share * (s - h0) / 3.0, share
    dry = (h2 - s) / (h2 - h1) * ((h2 - s) / (h2 - h0))
    # the mean over the whole triangle, plus what the dry tip counted as negative
    return (s - h0 + s - h1 + s - h2) / 3.0 + dry * (h2 - s) / 3.0, 1.0 - dry


@compiled
def below(
    nodes: Floats, corners: Floats, areas: Floats, block: int, up: Floats, s: float
) -> tuple[float, float]:
    """Volume below the plane up.x = s, and the area of the plane inside the body just below s."""
    ux, uy, uz = up[0], up[1], up[2]
    ax, ay, az = abs(ux), abs(uy), abs(uz)
    leaves = nodes.shape[0] // 2
    stack = np.zeros(DEEP, dtype=np.int64)
    stack[0] = 1
    top = 1
    volume = 0.0
    surface = 0.0
    while top > 0:
        top -= 1
        k = stack[top]
        row = nodes[k]
        middle = ux * row[0] + uy * row[1] + uz * row[2]
        size = ax * row[3] + ay * row[4] + az * row[5]
        if not size >= 0.0 or middle - size >= s:
            continue
        if middle + size < s:
            if k == 1:
                s = middle + size  # far above, s times the rounding of the sums would grow
            flat = ux * row[6] + uy * row[7] + uz * row[8]
            lift = (
                ux * ux * row[9]
                + uy * uy * row[10]
                + uz * uz * row[11]
                + 2.0 * (ux * uy * row[12] + ux * uz * row[13] + uy * uz * row[14])
            )
            volume -= s * flat - lift
            surface -= flat
        elif k < leaves:
            stack[top] = 2 * k
            stack[top + 1] = 2 * k + 1
            top += 2
        else:
            first = (k - leaves) * block
            for t in range(first, min(first + block, corners.shape[0])):
                c = corners[t]
                depth, share = triangle_below(
                    ux * c[0] + uy * c[1] + uz * c[2],
                    ux * c[3] + uy * c[4] + uz * c[5],
                    ux * c[6] + uy * c[7] + uz * c[8],
                    s,
                )
                if share > 0.0:
                    flat = ux * areas[t, 0] + uy * areas[t, 1] + uz * areas[t, 2]
                    volume -= flat * depth
                    surface -= flat * share
    return volume, surface


@compiled
def reach(nodes: Floats, corners: Floats, block: int, up: Floats) -> float:
    """Highest up.x over the body."""
    ux, uy, uz = up[0], up[1], up[2]
    ax, ay, az = abs(ux), abs(uy), abs(uz)
    leaves = nodes.shape[0] // 2
    stack = np.zeros(DEEP, dtype=np.int64)
    stack[0] = 1
    top = 1
    best = -np.inf
    while top > 0:
        top -= 1
        k = stack[top]
        row = nodes[k]
        size = ax * row[3] + ay * row[4] + az * row[5]
        if not size >= 0.0 or ux * row[0] + uy * row[1] + uz * row[2] + size <= best:
            continue
        if k < leaves:
            a, b = nodes[2 * k], nodes[2 * k + 1]
            lead = ux * (b[0] - a[0]) + uy * (b[1] - a[1]) + uz * (b[2] - a[2])
            stack[top] = 2 * k if lead > 0.0 else 2 * k + 1  # the likelier one comes off first
            stack[top + 1] = 2 * k + 1 if lead > 0.0 else 2 * k
            top += 2
            continue
        first = (k - leaves) * block
        for t in range(first, min(first + block, corners.shape[0])):
            c = corners[t]
            for i in range(0, 9, 3):
                best = max(best, ux * c[i] + uy * c[i + 1] + uz * c[i + 2])
    return best


@compiled
def height_of(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    skin: float,
    several: bool,
    total: float,
    up: Floats,
    volume: float,
    guess: float,
) -> tuple[float, float, int]:
    """Lowest plane that has `volume` below it, the area there, and the evaluations spent.

    Newton on a rising, piecewise cubic function, inside a bracket that every evaluation shrinks.
    `skin` is the body's whole area; it tells free surface and volume from their own rounding.
    A body in `several` pieces may have gaps that no volume tells apart: then look just below, too.
    """
    foot, crown = -reach(nodes, corners, block, -up), reach(nodes, corners, block, up)
    if volume <= 0.0:
        return foot, 0.0, 0
    if volume >= total * (1.0 - 1e-15):
        return crown, 0.0, 0
    size = max(abs(foot), abs(crown))
    flat, tiny = FLAT * skin, 4e-16 * size
    slack, noise = 1e-15 * volume, min(2e-16 * skin * size, 1e-6 * volume)
    low, high = foot, crown
    s = guess if low < guess < high else low + (high - low) * volume / total
    surface, last = 0.0, np.inf
    for spent in range(1, 200):
        found, surface = below(nodes, corners, areas, block, up, s)
        open_here = surface > flat  # else s is in a gap between bodies, or at an end
        miss = found - volume
        if miss >= (-slack if open_here else -noise):
            high = s
        else:
            low = s
        if open_here:
            stalled = 0.5 * last <= abs(miss) <= noise
            if stalled or abs(miss) <= slack or abs(miss) <= tiny * surface:
                lower = s - 4.0 * max(tiny, noise / surface)
                if not several or lower <= low:
                    return s, surface, spent
                held, area = below(nodes, corners, areas, block, up, lower)
                if area > flat or held < volume - noise:
                    return s, surface, spent
                open_here, high = False, lower
        if high - low <= tiny:
            return high, below(nodes, corners, areas, block, up, low)[1], spent
        s = _next(s, surface, foot, crown, found, volume, total) if open_here else low
        if not low < s < high:
            s = 0.5 * (low + high)
        last = abs(miss)
    return high, surface, 200


@compiled
def _next(
    s: float,
    surface: float,
    foot: float,
    crown: float,
    found: float,
    volume: float,
    total: float,
) -> float:
    """Newton's step on the logarithms of volume and depth, or of what is left of both above.

    A level starts in a tip or an edge, where volume goes as a power of depth: one step on the
    logarithms, where plain Newton gains a third of the way each time.
    """
    if 2.0 * volume <= total:
        depth = s - foot
        return float(foot + depth * (volume / found) ** (found / (surface * depth)))
    depth, left = crown - s, total - found
    return float(crown - depth * ((total - volume) / left) ** (left / (surface * depth)))


@compiled
def many_below(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    ups: Floats,
    heights: Floats,
    items: Ints,
    volume: Floats,
    surface: Floats,
) -> None:
    """`below` for each of `items`, answers into `volume` and `surface`."""
    for k in items:
        volume[k], surface[k] = below(nodes, corners, areas, block, ups[k], heights[k])


@compiled
def many_heights(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    skin: float,
    several: bool,
    total: float,
    ups: Floats,
    volumes: Floats,
    runs: Ints,
    height: Floats,
    surface: Floats,
) -> None:
    """`height_of` for RUN questions from each of `runs`; each starts from the answers before it.

    Runs are of fixed length so that answers do not depend on how many threads share them.
    """
    for run in runs:
        first = run * RUN
        for k in range(first, min(first + RUN, len(volumes))):
            height[k], surface[k], _ = height_of(
                nodes,
                corners,
                areas,
                block,
                skin,
                several,
                total,
                ups[k],
                volumes[k],
                _foreseen(height[first:k]),
            )


@compiled
def _foreseen(before: Floats) -> float:
    """The next of a row of heights, by a parabola through the last three; nan of none."""
    n = len(before)
    if n > 2:
        return float(3.0 * (before[n - 1] - before[n - 2]) + before[n - 3])
    return float(before[n - 1]) if n else np.nan


@compiled
def many_reaches(
    nodes: Floats, corners: Floats, block: int, ups: Floats, items: Ints, extent: Floats
) -> None:
    """Lowest and highest up.x for each of `items`, answers into `extent` (k, 2)."""
    for k in items:
        extent[k, 0] = -reach(nodes, corners, block, -ups[k])
        extent[k, 1] = reach(nodes, corners, block, ups[k])
