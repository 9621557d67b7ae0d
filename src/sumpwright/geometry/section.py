# SPDX-License-Identifier: Apache-2.0
"""What a flat cut through a closed body looks like, and how much of it lies below a line."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Outlines = list[Floats]


@dataclass(frozen=True, eq=False)
class CutPlane:
    """A plane and the picture axes on it: `across` to the right, `up`, `normal` at the viewer."""

    origin: Floats
    normal: Floats
    across: Floats

    @cached_property
    def up(self) -> Floats:
        """(3,) upward axis of the picture."""
        return np.cross(self.normal, self.across)

    def flat(self, points: ArrayLike) -> Floats:
        """`points` (..., 3) [m] seen along the normal: (..., 2) [m] from the origin."""
        away = np.asarray(points, dtype=float) - self.origin
        return np.stack([away @ self.across, away @ self.up], axis=-1)

    def line_of(self, up: ArrayLike, height: float) -> tuple[Floats, float]:
        """Direction (2,) and height [m] of the line that the plane ``up . x = height`` cuts."""
        tilt = np.asarray(up, dtype=float)
        line = np.array([tilt @ self.across, tilt @ self.up])
        return line, float(height - tilt @ self.origin)


def cut_plane(*, origin: ArrayLike, normal: ArrayLike, across: ArrayLike) -> CutPlane:
    """A cut plane with unit axes at right angles.

    Parameters
    ----------
    origin : (3,) [m]
        Where the picture's zero is.
    normal : (3,) [-]
        Toward the viewer; any length but zero.
    across : (3,) [-]
        To the right of the picture; its part along the normal is dropped.

    Returns
    -------
    plane : CutPlane

    Raises
    ------
    RangeError
        If `normal` is zero or `across` is along it.
    """
    toward, right = np.asarray(normal, dtype=float), np.asarray(across, dtype=float)
    size = float(np.linalg.norm(toward))
    if size == 0.0:
        raise RangeError("a cut plane needs a normal that is not zero")
    toward = toward / size
    right = right - (right @ toward) * toward
    width = float(np.linalg.norm(right))
    if width < 1e-12:  # rounding of a direction that lies along the normal
        raise RangeError("a cut plane needs an across direction that is not along its normal")
    return CutPlane(np.asarray(origin, dtype=float), toward, right / width)


def section_outlines(mesh: Mesh, plane: CutPlane) -> Outlines:
    """Outlines of the cut of a closed mesh; solid on the left of each, so holes run clockwise.

    A vertex on the plane counts as above it, so every triangle that is cut has exactly two cut
    edges and a plane through vertices, edges or faces needs no special case: a face in the plane
    is shown where the body lies below it, not where the body lies above.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed, triangles facing outward, corners shared by number.
    plane : CutPlane [m]
        Where to cut.

    Returns
    -------
    outlines : list of (k, 2) [m]
        In the plane's axes; empty where the plane misses the body.

    Raises
    ------
    RangeError
        If an open edge of the mesh crosses the plane.
    """
    side = (mesh.vertices - plane.origin) @ plane.normal
    start, end = _cut_edges(mesh.faces, side >= 0.0)
    first, last = (edges.min(axis=1) * len(side) + edges.max(axis=1) for edges in (start, end))
    by_first, by_last = np.argsort(first, kind="stable"), np.argsort(last, kind="stable")
    if not np.array_equal(first[by_first], last[by_last]):
        raise RangeError("a section needs a closed mesh: an open edge crosses the cut")
    following = np.zeros(len(first), dtype=np.int64)
    following[by_last] = by_first
    points = plane.flat(_crossings(mesh.vertices, side, start))
    loops = (_without_repeats(points[ring]) for ring in _rings(following))
    return [loop for loop in loops if len(loop) > 2]


def _cut_edges(faces: Ints, above: NDArray[np.bool_]) -> tuple[Ints, Ints]:
    """(n, 2) vertex numbers of the edge where each piece of outline starts, and where it ends."""
    tall = above[faces]
    count = tall.sum(axis=1)
    cut = (count == 1) | (count == 2)
    faces, tall, count = faces[cut], tall[cut], count[cut]
    lone = np.where((count == 1)[:, None], tall, ~tall).argmax(axis=1)
    row = np.arange(len(faces))
    a, b, c = (faces[row, (lone + k) % 3] for k in range(3))
    ab, ac = np.stack([a, b], axis=1), np.stack([a, c], axis=1)
    rising = (count == 1)[:, None]
    return np.where(rising, ab, ac), np.where(rising, ac, ab)


def _crossings(vertices: Floats, side: Floats, edges: Ints) -> Floats:
    low, high = edges.min(axis=1), edges.max(axis=1)
    share = (side[low] / (side[low] - side[high]))[:, None]
    return np.asarray(vertices[low] * (1.0 - share) + vertices[high] * share)


def _rings(following: Ints) -> list[list[int]]:
    """The cycles of a permutation."""
    rest, rings, step = set(range(len(following))), [], following.tolist()
    while rest:
        at = rest.pop()
        ring = [at]
        while (at := step[at]) != ring[0]:
            ring.append(at)
            rest.discard(at)
        rings.append(ring)
    return rings


def _without_repeats(loop: Floats) -> Floats:
    return np.asarray(loop[(loop != np.roll(loop, 1, axis=0)).any(axis=1)])


def outline_area(outlines: Outlines) -> float:
    """Area inside outlines, holes taken off.

    Parameters
    ----------
    outlines : list of (k, 2) [m]
        Solid on the left.

    Returns
    -------
    area : float [m^2]
    """
    total = 0.0
    for loop in outlines:
        x, y = (loop - loop.mean(axis=0)).T
        total += 0.5 * float(x @ np.roll(y, -1) - y @ np.roll(x, -1))
    return total


def outlines_below(outlines: Outlines, up: ArrayLike, height: float) -> Outlines:
    """The part of outlines below the line ``up . p = height``.

    Each outline stays one loop: where the line cuts it into several, the pieces are joined along
    the line by seams without area.

    Parameters
    ----------
    outlines : list of (k, 2) [m]
        In the axes of a cut plane.
    up : (2,) [-]
        Away from the side that is kept; need not be of length 1.
    height : float [m]
        Of the line along `up`.

    Returns
    -------
    below : list of (k, 2) [m]
    """
    kept = (_loop_below(loop, loop @ np.asarray(up, dtype=float) - height) for loop in outlines)
    return [loop for loop in kept if len(loop) > 2]


def _loop_below(loop: Floats, over: Floats) -> Floats:
    """One loop kept where `over` <= 0: its own points, and a point on each edge that crosses."""
    after, over_after = np.roll(loop, -1, axis=0), np.roll(over, -1)
    crosses = (over <= 0.0) != (over_after <= 0.0)
    share = np.where(crosses, over, 0.0) / np.where(crosses, over - over_after, 1.0)
    points = np.stack([loop, loop + share[:, None] * (after - loop)], axis=1)
    keep = np.stack([over <= 0.0, crosses], axis=1)
    return np.asarray(points[keep])


def surface_spans(outlines: Outlines, up: ArrayLike, height: float) -> Floats:
    """Where the line ``up . p = height`` runs inside outlines.

    Parameters
    ----------
    outlines : list of (k, 2) [m]
        In the axes of a cut plane.
    up : (2,) [-]
        Normal of the line; need not be of length 1.
    height : float [m]
        Of the line along `up`.

    Returns
    -------
    spans : (n, 2, 2) [m]
        Both ends of each piece of the line that is inside.
    """
    tilt = np.asarray(up, dtype=float)
    hits = [np.zeros((0, 2))]
    for loop in outlines:
        over = loop @ tilt - height
        after, over_after = np.roll(loop, -1, axis=0), np.roll(over, -1)
        crosses = (over <= 0.0) != (over_after <= 0.0)
        share = over[crosses] / (over[crosses] - over_after[crosses])
        hits.append(loop[crosses] + share[:, None] * (after - loop)[crosses])
    points = np.concatenate(hits)
    order = np.argsort(points @ np.array([tilt[1], -tilt[0]]), kind="stable")
    return points[order].reshape(-1, 2, 2)
