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

from sumpwright.geometry.kernel import compiled, compiled_lean
from sumpwright.geometry.level_reach import DEEP, reach

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FLAT = 1e-14
"""Share of the skin below which an area of free surface is rounding of the sums."""


@compiled_lean
def triangle_below(h0: float, h1: float, h2: float, s: float) -> tuple[float, float]:
    """Integral of max(s - h, 0) and of the wetted share over a triangle of area 1.

    Parameters
    ----------
    h0 : float [m]
        Height of a corner.
    h1 : float [m]
        Of the next.
    h2 : float [m]
        Of the third.
    s : float [m]
        Height of the surface.

    Returns
    -------
    depth, share : float [m], float [-]

    Source
    ------
    [closed-form] a linear function over a cut triangle.
    """
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
def band_of(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    up: Floats,
    low: float,
    high: float,
    cut: Floats,
) -> tuple[float, float, int]:
    """The body as a plane between two heights sees it: sums for what is wholly below, triangles
    for what the band cuts. Any plane in the band is then answered from the triangles alone.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    areas : (m, 3) [m^2]
        Their area vectors.
    block : int [-]
        Triangles a leaf.
    up : (3,) [-]
        Unit vector.
    low : float [m]
        Lower edge of the band.
    high : float [m]
        Upper edge.
    cut : (m, 4) [m, m, m, m^2]
        Where the cut triangles go: heights of the corners, area seen along up.

    Returns
    -------
    flat, lift, count : float [m^2], float [m^3], int [-]
        Sums of area and of area times height below, number of rows of `cut`.
    """
    ux, uy, uz = up[0], up[1], up[2]
    ax, ay, az = abs(ux), abs(uy), abs(uz)
    leaves = nodes.shape[0] // 2
    stack = np.zeros(DEEP, dtype=np.int64)
    stack[0] = 1
    top, count, flat, lift = 1, 0, 0.0, 0.0
    while top > 0:
        top -= 1
        k = stack[top]
        row = nodes[k]
        middle = ux * row[0] + uy * row[1] + uz * row[2]
        size = ax * row[3] + ay * row[4] + az * row[5]
        if not size >= 0.0 or middle - size >= high:
            continue
        if middle + size < low:
            flat += ux * row[6] + uy * row[7] + uz * row[8]
            lift += _lift(row, ux, uy, uz)
        elif k < leaves:
            stack[top] = 2 * k
            stack[top + 1] = 2 * k + 1
            top += 2
        else:
            first = (k - leaves) * block
            for t in range(first, min(first + block, corners.shape[0])):
                c = corners[t]
                h0 = ux * c[0] + uy * c[1] + uz * c[2]
                h1 = ux * c[3] + uy * c[4] + uz * c[5]
                h2 = ux * c[6] + uy * c[7] + uz * c[8]
                if min(h0, h1, h2) >= high:
                    continue
                seen = ux * areas[t, 0] + uy * areas[t, 1] + uz * areas[t, 2]
                if max(h0, h1, h2) < low:
                    flat += seen
                    lift += seen * (h0 + h1 + h2) / 3.0
                else:
                    cut[count, 0], cut[count, 1], cut[count, 2], cut[count, 3] = h0, h1, h2, seen
                    count += 1
    return flat, lift, count


@compiled
def _lift(row: Floats, ux: float, uy: float, uz: float) -> float:
    """Sum of area seen along up times height over a whole box of the tree."""
    square = ux * ux * row[9] + uy * uy * row[10] + uz * uz * row[11]
    return float(square + 2.0 * (ux * uy * row[12] + ux * uz * row[13] + uy * uz * row[14]))


@compiled
def in_band(flat: float, lift: float, cut: Floats, count: int, s: float) -> tuple[float, float]:
    """Volume below a plane of the band, and the area of the plane inside the body just below it.

    Parameters
    ----------
    flat : float [m^2]
        As from `band_of`.
    lift : float [m^3]
        As from `band_of`.
    cut : (m, 4) [m, m, m, m^2]
        As filled by `band_of`.
    count : int [-]
        Its rows in use.
    s : float [m]
        The plane's height, in the band.

    Returns
    -------
    volume, surface : float [m^3], float [m^2]
    """
    volume, surface = lift - s * flat, -flat
    for t in range(count):
        depth, share = triangle_below(cut[t, 0], cut[t, 1], cut[t, 2], s)
        volume -= cut[t, 3] * depth
        surface -= cut[t, 3] * share
    return volume, surface


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
    """Volume below each of several planes, and the area of the plane inside the body.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    areas : (m, 3) [m^2]
        Their area vectors.
    block : int [-]
        Triangles a leaf.
    ups : (k, 3) [-]
        Unit vectors.
    heights : (k,) [m]
        Of the planes.
    items : (j,) [-]
        Which of them to answer.
    volume : (k,) [m^3]
        Where the volumes go.
    surface : (k,) [m^2]
        Where the areas go.
    """
    cut = scratch(corners)
    for k in items:
        # far from the body, s times the rounding of the sums would grow
        s = min(heights[k], reach(nodes, corners, block, ups[k]))
        s = max(s, -reach(nodes, corners, block, -ups[k]))
        flat, lift, count = band_of(nodes, corners, areas, block, ups[k], s, s, cut)
        volume[k], surface[k] = in_band(flat, lift, cut, count, s)


@compiled
def scratch(corners: Floats) -> Floats:
    """Room for every triangle of a body, for `band_of` to fill as far as it needs.

    Parameters
    ----------
    corners : (m, 9) [m]
        Of the body's triangles.

    Returns
    -------
    cut : (m, 4) [any]
        Not filled: filling it would cost more than a level does.
    """
    return np.empty((corners.shape[0], 4))  # noqa: TID251
