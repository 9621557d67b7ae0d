# SPDX-License-Identifier: Apache-2.0
"""Compiled heart of the pool finder; pool.py is the door and holds the theory."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled
from sumpwright.geometry.level_kernel import triangle_below

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@compiled
def _find(parent: Ints, k: int) -> int:
    """The number that stands for the set that k is in."""
    while parent[k] != k:
        parent[k] = parent[parent[k]]
        k = parent[k]
    return k


@compiled
def _wetted(flat: Floats, faces: Ints, rise: Floats, s: float) -> tuple[Ints, Floats]:
    """Pieces of the skin below s: of each corner its piece, and under each piece its volume.

    `flat` (n, 3) has the corners' two coordinates across up and their height; `rise` (m,) the
    share of each triangle's area vector along up. A piece is named by one of its corners.
    """
    parent = np.arange(len(flat))
    volume = np.zeros(len(flat))
    for t in range(len(faces)):
        for i in range(3):
            a, b = faces[t, i], faces[t, (i + 1) % 3]
            if flat[a, 2] < s and flat[b, 2] < s:
                ra, rb = _find(parent, a), _find(parent, b)
                if ra < rb:
                    parent[rb] = ra
                elif rb < ra:
                    parent[ra] = rb
    for t in range(len(faces)):
        a, b, c = faces[t]
        deep, _ = triangle_below(flat[a, 2], flat[b, 2], flat[c, 2], s)
        if deep > 0.0:
            low = a if flat[a, 2] < s else (b if flat[b, 2] < s else c)
            volume[_find(parent, low)] -= rise[t] * deep
    for k in range(len(parent)):
        parent[k] = _find(parent, k)
    return parent, volume


@compiled
def _surrounding(
    flat: Floats, faces: Ints, s: float, piece: Ints, volume: Floats, point: Floats, tiny: float
) -> int:
    """The piece of smallest volume over `tiny` that has `point` (in flat coordinates) on its wet
    side; -1 where there is none. Straight down from there the piece is crossed an odd number of
    times."""
    odd = np.zeros(len(flat), dtype=np.bool_)
    x, y, h = point
    for t in range(len(faces)):
        a, b, c = faces[t]
        if flat[a, 2] >= s and flat[b, 2] >= s and flat[c, 2] >= s:
            continue
        if flat[a, 2] >= h and flat[b, 2] >= h and flat[c, 2] >= h:
            continue
        over = _right_of(flat, a, b, x, y) != _right_of(flat, b, c, x, y)
        if over == _right_of(flat, c, a, x, y):
            continue
        if _height_at(flat[a], flat[b], flat[c], x, y) < h:
            low = a if flat[a, 2] < s else (b if flat[b, 2] < s else c)
            odd[piece[low]] = not odd[piece[low]]
    best = -1
    for k in range(len(flat)):
        if odd[k] and volume[k] > tiny and (best < 0 or volume[k] < volume[best]):
            best = k
    return best


@compiled
def _right_of(flat: Floats, a: int, b: int, x: float, y: float) -> bool:
    """Whether a line from (x, y) toward +x crosses side a b; alike for both its triangles."""
    if a > b:
        a, b = b, a
    ya, yb = flat[a, 1], flat[b, 1]
    if (ya > y) == (yb > y):
        return False
    return bool(x < flat[a, 0] + (y - ya) / (yb - ya) * (flat[b, 0] - flat[a, 0]))


@compiled
def _height_at(a: Floats, b: Floats, c: Floats, x: float, y: float) -> float:
    """Height of a triangle's plane over (x, y)."""
    ux, uy, uh = b[0] - a[0], b[1] - a[1], b[2] - a[2]
    vx, vy, vh = c[0] - a[0], c[1] - a[1], c[2] - a[2]
    twice = ux * vy - uy * vx
    if twice == 0.0:
        return float(min(a[2], b[2], c[2]))
    p = ((x - a[0]) * vy - (y - a[1]) * vx) / twice
    q = (ux * (y - a[1]) - uy * (x - a[0])) / twice
    return float(a[2] + p * uh + q * vh)


@compiled
def _pool_of(
    flat: Floats, faces: Ints, rise: Floats, s: float, point: Floats, tiny: float
) -> tuple[float, float]:
    """Volume of the pool that holds `point`, 0 where none does, and of all pools."""
    piece, volume = _wetted(flat, faces, rise, s)
    whole, pools, islands = 0.0, 0, 0
    for k in range(len(volume)):
        whole += volume[k]
        pools += volume[k] > tiny
        islands += volume[k] < -tiny
    if pools < 2:
        return whole, whole
    mine = _surrounding(flat, faces, s, piece, volume, point, tiny)
    if mine < 0:
        return 0.0, whole
    held = volume[mine]
    for k in range(len(volume) if islands else 0):
        if volume[k] < -tiny:
            corner = flat[k]
            if _surrounding(flat, faces, s, piece, volume, corner, tiny) == mine:
                held += volume[k]
    return held, whole


@compiled
def many_pools(
    vertices: Floats,
    faces: Ints,
    areas: Floats,
    frames: Floats,
    heights: Floats,
    point: Floats,
    tiny: float,
    items: Ints,
    held: Floats,
    whole: Floats,
) -> None:
    """Volume of the pool that holds a point, and of all pools, for each of some planes.

    Parameters
    ----------
    vertices : (n, 3) [m]
        Corner points.
    faces : (m, 3) [-]
        Vertex numbers of a welded mesh.
    areas : (m, 3) [m^2]
        Area vectors.
    frames : (k, 3, 3) [-]
        Row vectors: two across, then up.
    heights : (k,) [m]
        Of the planes, along up.
    point : (3,) [m]
        Where the pool is asked for.
    tiny : float [m^3]
        Smaller pools are none.
    items : (j,) [-]
        Which planes.
    held : (k,) [m^3]
        Gets the volume of the pool.
    whole : (k,) [m^3]
        Gets the volume of all of them.
    """
    for k in items:
        flat = vertices @ frames[k].T
        rise = areas @ frames[k, 2]
        held[k], whole[k] = _pool_of(flat, faces, rise, heights[k], frames[k] @ point, tiny)
