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
    """Volume below the plane up.x = s, and the area of the plane inside the body."""
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
        reach = ax * row[3] + ay * row[4] + az * row[5]
        if not reach >= 0.0 or middle - reach >= s:
            continue
        if middle + reach <= s:
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
def extent(vertices: Floats, up: Floats) -> tuple[float, float]:
    """Lowest and highest up.x over the vertices."""
    low = np.inf
    high = -np.inf
    for k in range(vertices.shape[0]):
        h = up[0] * vertices[k, 0] + up[1] * vertices[k, 1] + up[2] * vertices[k, 2]
        low = min(low, h)
        high = max(high, h)
    return low, high


@compiled
def height_of(
    nodes: Floats,
    corners: Floats,
    areas: Floats,
    block: int,
    vertices: Floats,
    total: float,
    up: Floats,
    volume: float,
    guess: float,
) -> tuple[float, float, int]:
    """Lowest plane that has `volume` below it, the area there, and the evaluations spent.

    Newton on a rising, piecewise cubic function, inside a bracket that every evaluation shrinks.
    """
    low, high = extent(vertices, up)
    if volume <= 0.0:
        return low, below(nodes, corners, areas, block, up, low)[1], 1
    if volume >= total * (1.0 - 1e-15):
        return high, 0.0, 1
    slack = 1e-14 * volume + 1e-17 * total  # a few roundings of the sum over the skin
    tiny = 4e-16 * max(abs(low), abs(high))
    s = guess if low < guess < high else low + (high - low) * volume / total
    surface = 0.0
    for spent in range(1, 200):
        found, surface = below(nodes, corners, areas, block, up, s)
        miss = found - volume
        if miss >= -slack:
            high = s
        else:
            low = s
        if surface > 0.0 and abs(miss) <= slack:
            return s, surface, spent
        step = -miss / surface if surface > 0.0 else np.inf
        if abs(step) <= tiny or high - low <= tiny:
            return s if abs(step) <= tiny else high, surface, spent
        s = s + step
        if not low < s < high or miss == 0.0:
            s = 0.5 * (low + high)
    return high, surface, 200


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
    vertices: Floats,
    total: float,
    ups: Floats,
    volumes: Floats,
    items: Ints,
    height: Floats,
    surface: Floats,
) -> None:
    """`height_of` for each of `items`; each starts from the answer before it."""
    guess = np.nan
    for k in items:
        height[k], surface[k], _ = height_of(
            nodes, corners, areas, block, vertices, total, ups[k], volumes[k], guess
        )
        guess = height[k]


@compiled
def moment_below(corners: Floats, areas: Floats, up: Floats, s: float) -> Floats:
    """Integral of position over the liquid, and its volume last: (4,).

    Each triangle is cut at the plane into at most two; over those, products of linear functions
    integrate exactly: A/12 (sum f sum g + sum f g). The cap drops out because up.x - s = 0 there.
    """
    answer = np.zeros(4)
    lifted = 0.0
    point = np.zeros((4, 3))
    for t in range(corners.shape[0]):
        flat = up[0] * areas[t, 0] + up[1] * areas[t, 1] + up[2] * areas[t, 2]
        if flat == 0.0:
            continue
        count = 0
        for i in range(3):
            j = (i + 1) % 3
            hi = -s
            hj = -s
            for d in range(3):
                hi += up[d] * corners[t, 3 * i + d]
                hj += up[d] * corners[t, 3 * j + d]
            if hi < 0.0:
                point[count] = corners[t, 3 * i : 3 * i + 3]
                count += 1
            if (hi < 0.0) != (hj < 0.0):
                share = hi / (hi - hj)
                for d in range(3):
                    a = corners[t, 3 * i + d]
                    point[count, d] = a + share * (corners[t, 3 * j + d] - a)
                count += 1
        size = np.sqrt(areas[t, 0] ** 2 + areas[t, 1] ** 2 + areas[t, 2] ** 2)
        for fan in range(1, count - 1):
            p, q, r = point[0], point[fan], point[fan + 1]
            piece = flat / size * 0.5 * _twice_area(p, q, r)
            f = np.zeros(3)
            for d in range(3):
                f[0] += up[d] * p[d]
                f[1] += up[d] * q[d]
                f[2] += up[d] * r[d]
            f -= s
            total = f[0] + f[1] + f[2]
            for d in range(3):
                cross = total * (p[d] + q[d] + r[d]) + f[0] * p[d] + f[1] * q[d] + f[2] * r[d]
                answer[d] += piece / 12.0 * cross
            lifted += piece / 24.0 * (total * total + f[0] ** 2 + f[1] ** 2 + f[2] ** 2)
            answer[3] += piece * total / 3.0
    for d in range(3):
        answer[d] -= up[d] * lifted
    return answer


@compiled
def _twice_area(p: Floats, q: Floats, r: Floats) -> float:
    ax, ay, az = q[0] - p[0], q[1] - p[1], q[2] - p[2]
    bx, by, bz = r[0] - p[0], r[1] - p[1], r[2] - p[2]
    cx, cy, cz = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
    return float(np.sqrt(cx * cx + cy * cy + cz * cz))
