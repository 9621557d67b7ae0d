# SPDX-License-Identifier: Apache-2.0
"""Triangles of one mesh that run through each other.

Candidates come from a tree of boxes over the triangles, walked against itself a level at a time
with numpy: no compiled kernel to wait for, and no library that was tried answers this question
without also naming every neighbour. A pair then counts only where the two cross by more than
`TOUCH`; bodies that merely touch, and neighbours that share a corner, do not.

Source of the pair test: [MOLLER-1997], two triangles cross where their spans on the common line
of their planes overlap.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.curve import along_curve
from sumpwright.geometry.merge import exactly_merged
from sumpwright.geometry.mesh import Faces, Mesh, Points

TOUCH = 1e-6
"""Shallower crossings are contact [m]; thirty times what a single-precision STL resolves."""
MAX_NEAR_PAIRS = 50_000_000
"""Most near pairs looked at, some twenty seconds; a sound 100,000-triangle pan has a million."""
_AT_ONCE = 400_000  # pairs held at a time; about 100 MB

Numbers = NDArray[np.intp]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


def self_overlaps(mesh: Mesh) -> Numbers:
    """Pairs of triangles that cross, or lie on each other facing the same way.

    Parameters
    ----------
    mesh : Mesh [m]
        Any triangles; those without area are passed over.

    Returns
    -------
    pairs : (k, 2) [-]
        Triangle numbers, the smaller first; none shares a corner point with its partner.

    Raises
    ------
    RangeError
        If over `MAX_NEAR_PAIRS` pairs lie near each other: needles in a fan, thousands of them.

    Source
    ------
    [MOLLER-1997]
    """
    merged = exactly_merged(mesh)
    corners = merged.corners - (merged.bounds.mean(axis=0) if len(merged.faces) else 0.0)
    size = np.linalg.norm(merged.area_vectors, axis=1)
    some = np.flatnonzero(size > 0.0)
    normals = merged.area_vectors[some] / size[some, None]
    found = [np.zeros((0, 2), dtype=np.intp)]
    seen = 0
    for a, b in _near_pairs(corners[some]):
        seen += len(a)
        if seen > MAX_NEAR_PAIRS:
            raise RangeError(f"over {MAX_NEAR_PAIRS:,} pairs of triangles are near each other")
        apart = ~_share_corner(merged.faces[some[a]], merged.faces[some[b]])
        a, b = a[apart], b[apart]
        hit = _crossing(corners[some], normals, a, b)
        found.append(np.sort(np.stack([some[a[hit]], some[b[hit]]], axis=1), axis=1))
    pairs = np.concatenate(found)
    return pairs[np.lexsort((pairs[:, 1], pairs[:, 0]))]


def _near_pairs(corners: Points) -> Iterator[tuple[Numbers, Numbers]]:
    """Pairs of different triangles whose boxes meet, in portions."""
    if len(corners) < 2:
        return
    order, levels = _box_tree(corners)
    root = np.zeros(1, dtype=np.intp)
    waiting = [(0, root, root)]
    while waiting:
        depth, a, b = waiting.pop()
        if len(a) > _AT_ONCE:
            half = len(a) // 2
            waiting += [(depth, a[:half], b[:half]), (depth, a[half:], b[half:])]
        elif depth + 1 == len(levels):
            other = a != b
            yield order[a[other]], order[b[other]]
        else:
            waiting.append((depth + 1, *_children(levels[depth + 1], a, b)))


def _box_tree(corners: Points) -> tuple[Numbers, list[Floats]]:
    """Triangles in an order that keeps neighbours together, and boxes of 1, 2, 4, ... groups.

    A box is (low, -high), so that two meet where each low is at most minus the other's second half.
    """
    low, high = corners.min(axis=1), corners.max(axis=1)
    order = np.argsort(along_curve(low + high), kind="stable")
    depth = int(np.ceil(np.log2(len(corners))))
    boxes = np.full((2**depth, 6), np.inf)  # places beyond the last triangle meet nothing
    boxes[: len(corners)] = np.hstack([low, -high])[order]
    levels = [boxes]
    for _ in range(depth):
        levels.append(levels[-1].reshape(-1, 2, 6).min(axis=1))
    return order, levels[::-1]


def _children(boxes: Floats, a: Numbers, b: Numbers) -> tuple[Numbers, Numbers]:
    """Pairs one level down whose boxes meet, each once; `a` is never above `b`."""
    one = np.concatenate([2 * a, 2 * a, 2 * a + 1, 2 * a + 1])
    two = np.concatenate([2 * b, 2 * b + 1, 2 * b, 2 * b + 1])
    keep = one <= two
    one, two = one[keep], two[keep]
    meet = np.ones(len(one), dtype=bool)
    for axis in range(3):
        meet &= boxes[one, axis] <= -boxes[two, axis + 3]
        meet &= boxes[two, axis] <= -boxes[one, axis + 3]
    return one[meet], two[meet]


def _share_corner(one: Faces, two: Faces) -> Flags:
    """Whether two triangles have a vertex in common."""
    same = np.zeros(len(one), dtype=bool)
    for i in range(3):
        for j in range(3):
            same |= one[:, i] == two[:, j]
    return same


def _crossing(corners: Points, normals: Points, a: Numbers, b: Numbers) -> Flags:
    """Whether triangles `a` and `b` run through each other by more than `TOUCH`."""
    hit = np.zeros(len(a), dtype=bool)
    # height of each corner over the other's plane; most pairs end here
    over_a = np.einsum("ijk,ik->ij", corners[b] - corners[a, :1], normals[a])
    live = np.flatnonzero((over_a.min(axis=1) < -TOUCH) == (over_a.max(axis=1) > TOUCH))
    a, b, over_a = a[live], b[live], over_a[live]
    over_b = np.einsum("ijk,ik->ij", corners[a] - corners[b, :1], normals[b])
    through_a, through_b = (
        (h.min(axis=1) < -TOUCH) & (h.max(axis=1) > TOUCH) for h in (over_a, over_b)
    )
    both = np.flatnonzero(through_a & through_b)
    line = np.cross(normals[a[both]], normals[b[both]])
    line /= np.linalg.norm(line, axis=1, keepdims=True)
    low_a, high_a = _span(corners[a[both]], over_b[both], line)
    low_b, high_b = _span(corners[b[both]], over_a[both], line)
    hit[live[both]] = np.minimum(high_a, high_b) - np.maximum(low_a, low_b) > TOUCH
    flat = (np.abs(over_a).max(axis=1) <= TOUCH) & (np.abs(over_b).max(axis=1) <= TOUCH)
    flat &= np.einsum("ij,ij->i", normals[a], normals[b]) > 0.0  # facing each other is contact
    lying = np.flatnonzero(flat)
    hit[live[lying]] = _covers(corners[a[lying]], corners[b[lying]], normals[a[lying]])
    return hit


def _span(corners: Points, height: Floats, line: Points) -> tuple[Floats, Floats]:
    """Where each triangle meets the other's plane, as a span along `line` from the origin."""
    along = np.einsum("ijk,ik->ij", corners, line)
    low, high = np.full(len(along), np.inf), np.full(len(along), -np.inf)
    for i, j in ((0, 1), (1, 2), (2, 0)):
        cut = (height[:, i] < 0.0) != (height[:, j] < 0.0)
        drop = np.where(cut, height[:, i] - height[:, j], 1.0)
        place = along[:, i] + (along[:, j] - along[:, i]) * height[:, i] / drop
        low = np.where(cut, np.minimum(low, place), low)
        high = np.where(cut, np.maximum(high, place), high)
    return low, high


def _covers(one: Points, two: Points, normal: Points) -> Flags:
    """Whether two triangles of one plane cover each other by more than `TOUCH` all ways."""
    apart = np.zeros(len(one), dtype=bool)
    for shape in (one, two):
        for i in range(3):
            side = shape[:, (i + 1) % 3] - shape[:, i]
            across = np.cross(normal, side)
            across /= np.linalg.norm(across, axis=1, keepdims=True)
            p, q = (np.einsum("ijk,ik->ij", t, across) for t in (one, two))
            shared = np.minimum(p.max(1), q.max(1)) - np.maximum(p.min(1), q.min(1))
            apart |= shared <= TOUCH
    return ~apart
