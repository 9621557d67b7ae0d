# SPDX-License-Identifier: Apache-2.0
"""Compiled area, centroid and second moments of a body's cut; body arrays as in level_kernel.py.

By Green's theorem over the segments in which triangles cross the plane: each has the body on its
left seen from above, so their sum is that over the outlines, which need not be put together.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.kernel import compiled, run_in_threads
from sumpwright.geometry.level import LevelBody
from sumpwright.geometry.level_reach import DEEP
from sumpwright.geometry.level_tree import BLOCK

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class CutMoments:
    """Area and moments of each plane's cut through a body."""

    area: Floats
    """(k,) [m^2]"""
    centroid: Floats
    """(k, 3) [m]; nan where nothing is cut"""
    second_moments: Floats
    """(k, 2, 2) integrals of x x, x y and y y about the centroid [m^4]; x along the given axis,
    y a quarter turn on from it seen from above."""


def surface_moments(
    body: LevelBody, up: ArrayLike, height: ArrayLike, axis: ArrayLike
) -> CutMoments:
    """Area, centroid and second moments of the surface where planes cut a body.

    Parameters
    ----------
    body : LevelBody [m]
        From `level_body`.
    up : (k, 3) [-]
        Unit normals of the planes.
    height : (k,) [m]
        Their signed distances from the frame's origin along `up`; where a face lies in the
        plane, the cut is the one just below it.
    axis : (k, 3) [-]
        Unit vectors in the planes.

    Returns
    -------
    moments : CutMoments [m^2, m, m^4]

    Raises
    ------
    RangeError
        If an axis does not lie in its plane, or is not of length 1.

    Source
    ------
    [closed-form]. Checked by tests/geometry/test_surface_moment.py.
    """
    ups, axes = (np.ascontiguousarray(np.atleast_2d(np.asarray(a, float))) for a in (up, axis))
    local = np.atleast_1d(np.asarray(height, dtype=float)) - ups @ body.reference
    off = np.abs(np.stack([(ups * axes).sum(1), (ups**2).sum(1) - 1.0, (axes**2).sum(1) - 1.0]))
    if not (off < 1e-9).all():
        raise RangeError(
            f"axis and up must be unit vectors at right angles, off by {off.max():.3g}"
        )
    found = np.zeros((len(local), 7))

    def work(items: Ints) -> None:
        many_surface_moments(body.nodes, body.corners, BLOCK, ups, local, axes, items, found)

    run_in_threads(work, len(local))
    middle = np.where(found[:, :1] > 0.0, found[:, 1:4] + body.reference, np.nan)
    second = found[:, [4, 6, 6, 5]].reshape(-1, 2, 2)
    return CutMoments(area=found[:, 0], centroid=middle, second_moments=second)


@compiled
def many_surface_moments(
    nodes: Floats,
    corners: Floats,
    block: int,
    ups: Floats,
    heights: Floats,
    axes: Floats,
    items: Ints,
    found: Floats,
) -> None:
    """`surface_moment_of` for several planes.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    block : int [-]
        Triangles a leaf.
    ups : (k, 3) [-]
        Unit normals.
    heights : (k,) [m]
        Of the planes.
    axes : (k, 3) [-]
        Unit vectors in the planes.
    items : (j,) [-]
        Which of them to answer.
    found : (k, 7) [m^2, m, m, m, m^4, m^4, m^4]
        Where the answers go.
    """
    for k in items:
        surface_moment_of(nodes, corners, block, ups[k], heights[k], axes[k], found[k])


@compiled
def surface_moment_of(
    nodes: Floats, corners: Floats, block: int, up: Floats, s: float, axis: Floats, found: Floats
) -> None:
    """Area, centroid, and second moments x x, y y, x y about it, of a plane's cut.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    block : int [-]
        Triangles a leaf.
    up : (3,) [-]
        Unit normal.
    s : float [m]
        The plane's height.
    axis : (3,) [-]
        Unit vector in the plane, x; y is up cross x.
    found : (7,) [m^2, m, m, m, m^4, m^4, m^4]
        Where the answer goes; the centroid is 0 where nothing is cut.
    """
    ux, uy, uz = up[0], up[1], up[2]
    leaves = nodes.shape[0] // 2
    stack = np.zeros(DEEP, dtype=np.int64)
    ends, frame = np.zeros((2, 2)), np.zeros((2, 3))
    for i in range(3):
        frame[0, i] = axis[i]
        frame[1, i] = up[i - 2] * axis[i - 1] - up[i - 1] * axis[i - 2]  # up cross axis
    sums = np.zeros(9)  # count, origin x and y, then the sums about that origin
    stack[0] = 1
    top = 1
    while top > 0:
        top -= 1
        k = stack[top]
        row = nodes[k]
        size = abs(ux) * row[3] + abs(uy) * row[4] + abs(uz) * row[5]
        if not abs(ux * row[0] + uy * row[1] + uz * row[2] - s) <= size:
            continue
        if k < leaves:
            stack[top], stack[top + 1] = 2 * k, 2 * k + 1
            top += 2
            continue
        first = (k - leaves) * block
        for t in range(first, min(first + block, corners.shape[0])):
            h0 = ux * corners[t, 0] + uy * corners[t, 1] + uz * corners[t, 2] - s
            h1 = ux * corners[t, 3] + uy * corners[t, 4] + uz * corners[t, 5] - s
            h2 = ux * corners[t, 6] + uy * corners[t, 7] + uz * corners[t, 8] - s
            if (h0 < 0.0) != (h1 < 0.0) or (h1 < 0.0) != (h2 < 0.0):
                _put_end(corners, t, 0, 3, h0, h1, frame, ends)
                _put_end(corners, t, 3, 6, h1, h2, frame, ends)
                _put_end(corners, t, 6, 0, h2, h0, frame, ends)
                _add_segment(ends, sums)
    _finish(sums, up, s, frame, found)


@compiled
def _put_end(
    c: Floats, t: int, i: int, j: int, hi: float, hj: float, frame: Floats, ends: Floats
) -> None:
    """Where a side crosses: the segment runs from where sides go down to where they come up."""
    if (hi < 0.0) == (hj < 0.0):
        return
    share = hi / (hi - hj)
    px = c[t, i] + share * (c[t, j] - c[t, i])
    py = c[t, i + 1] + share * (c[t, j + 1] - c[t, i + 1])
    pz = c[t, i + 2] + share * (c[t, j + 2] - c[t, i + 2])
    end = 1 if hi < 0.0 else 0
    ends[end, 0] = frame[0, 0] * px + frame[0, 1] * py + frame[0, 2] * pz
    ends[end, 1] = frame[1, 0] * px + frame[1, 1] * py + frame[1, 2] * pz


@compiled
def _add_segment(ends: Floats, sums: Floats) -> None:
    """One segment's share; the first sets the origin, so that a small cut far out does not
    cancel."""
    if sums[0] == 0.0:
        sums[1], sums[2] = ends[0, 0], ends[0, 1]
    sums[0] += 1.0
    ax, ay = ends[0, 0] - sums[1], ends[0, 1] - sums[2]
    bx, by = ends[1, 0] - sums[1], ends[1, 1] - sums[2]
    cross = ax * by - ay * bx
    sums[3] += cross / 2.0
    sums[4] += cross * (ax + bx) / 6.0
    sums[5] += cross * (ay + by) / 6.0
    sums[6] += cross * (ax * ax + ax * bx + bx * bx) / 12.0
    sums[7] += cross * (ay * ay + ay * by + by * by) / 12.0
    sums[8] += cross * (2.0 * (ax * ay + bx * by) + ax * by + bx * ay) / 24.0


@compiled
def _finish(sums: Floats, up: Floats, s: float, frame: Floats, found: Floats) -> None:
    """From sums about the origin to figures about the centroid."""
    area = sums[3]
    found[:] = 0.0
    if not area > 0.0:
        return
    x, y = sums[4] / area, sums[5] / area
    found[0] = area
    found[4] = max(sums[6] - area * x * x, 0.0)
    found[5] = max(sums[7] - area * y * y, 0.0)
    found[6] = sums[8] - area * x * y
    for k in range(3):
        found[1 + k] = s * up[k] + (x + sums[1]) * frame[0, k] + (y + sums[2]) * frame[1, k]
