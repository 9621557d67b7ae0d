# SPDX-License-Identifier: Apache-2.0
"""How deep one body's skin goes into another body."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.inside import ON_SKIN, SkinTree
from sumpwright.geometry.mesh import Mesh, Points

Floats = NDArray[np.float64]

_FINE = 1e-5
"""Patches that could better the depth by less than this are dropped [m]."""
_MOST = 20_000
"""Patches looked at in one pass: a flat face that lies level in the other body ties everywhere."""


@dataclass(frozen=True)
class Depth:
    """The deepest place found: how deep [m], where, and the other skin's point nearest to it."""

    depth: float
    point: Points
    nearest: Points


def deepest(mover: Mesh, fixed: SkinTree) -> Depth | None:
    """The point of a skin that lies deepest inside another body.

    Depth, negative outside, changes by no more than the way walked, so a patch whose corners are
    far from the record cannot hold a new one; the others are cut in four until nothing can better
    it by 0.01 mm, or more than 20,000 patches tie. What is returned is never more than the truth.

    Parameters
    ----------
    mover : Mesh [m]
        Whose skin is searched.
    fixed : SkinTree [m]
        Closed body, same frame.

    Returns
    -------
    depth : Depth [m]
        None where no point of the skin was found more than 1e-9 m inside.
    """
    low, high = fixed.mesh.bounds
    corners = mover.corners
    touching = (corners.max(axis=1) >= low).all(axis=1) & (corners.min(axis=1) <= high).all(axis=1)
    number, place = np.unique(mover.faces[touching], return_inverse=True)
    points = mover.vertices[number]
    best: Depth | None = None
    if len(points):
        best, depths = _looked_at(points, fixed, None)
        best = _searched(points[place.reshape(-1, 3)], depths[place.reshape(-1, 3)], fixed, best)
    return best if best is not None and best.depth > ON_SKIN else None


def _searched(patches: Points, depths: Floats, fixed: SkinTree, best: Depth) -> Depth:
    """The record after cutting every patch that may hold a better one."""
    while True:
        sides = np.linalg.norm(patches - np.roll(patches, 1, axis=1), axis=2)
        # No point of a triangle is further from its nearest corner than longest side / sqrt(3).
        reach = sides.max(axis=1) / np.sqrt(3.0)
        may = (depths.max(axis=1) + reach > best.depth + _FINE) & (reach > _FINE)
        if not may.any() or 4 * np.count_nonzero(may) > _MOST:
            return best
        patches, depths = patches[may], depths[may]
        middles = (patches + np.roll(patches, -1, axis=1)) / 2.0
        best, new = _looked_at(middles.reshape(-1, 3), fixed, best)
        patches = _quartered(patches, middles)
        depths = _quartered(depths, new.reshape(-1, 3))


def _quartered(corner: Floats, middle: Floats) -> Floats:
    """Values (m, 3, ...) at corners and at middles of sides 01, 12, 20, as (4 m, 3, ...)."""
    a, b, c = (corner[:, i] for i in range(3))
    p, q, r = (middle[:, i] for i in range(3))
    four = ((a, p, r), (p, b, q), (r, q, c), (p, q, r))
    return np.concatenate([np.stack(t, axis=1) for t in four])


def _looked_at(points: Points, fixed: SkinTree, best: Depth | None) -> tuple[Depth, Floats]:
    """The better of `best` and the deepest of `points`, and the depth of each, negative outside."""
    distance, nearest = fixed.nearest(points)
    depths = np.where(fixed.encloses(points), distance, -distance)
    at = int(np.argmax(depths))
    if best is None or depths[at] > best.depth:
        best = Depth(float(depths[at]), points[at], nearest[at])
    return best, depths
