# SPDX-License-Identifier: Apache-2.0
"""Nearest points on a skin, and which points lie inside it."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.mesh import Mesh, Points
from sumpwright.geometry.winding import winding

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

ON_SKIN = 1e-9
"""Points nearer to the skin than this count as on it, and as inside [m]."""
_CLOSE = 1e-4
# of the body's size: nearer than this the sign is asked of the exact sum over all faces, because
# the fast one works in single precision
_FEW_PAIRS = 2_000_000  # points times triangles for which the library need not be woken
_WHOLE = 1e-6  # turns this near to a whole number are sure: the sum's rounding is far less
_FEW = 8  # points for which a plain sum is quicker than building the library's tree


@dataclass(frozen=True, eq=False)
class SkinTree:
    """A mesh with the search tree that finds the skin's nearest point; built when first asked."""

    mesh: Mesh

    @cached_property
    def _middle(self) -> Points:
        return np.asarray(self.mesh.bounds.mean(axis=0))

    @cached_property
    def _local(self) -> Points:
        """(n, 3) vertices about the middle: single precision must not be spent on the offset."""
        return np.ascontiguousarray(self.mesh.vertices - self._middle)

    @cached_property
    def _tree(self) -> Any:
        import igl

        tree = igl.AABB()
        tree.init(self._local, self.mesh.faces)
        return tree

    def nearest(self, points: Points) -> tuple[Floats, Points]:
        """(k,) distance to the skin [m] and (k, 3) the nearest point on it, for `points` (k, 3)."""
        local = np.ascontiguousarray(points - self._middle)
        squared, _, spots = self._tree.squared_distance(self._local, self.mesh.faces, local)
        return np.sqrt(squared), spots + self._middle

    def encloses(self, points: Points) -> Flags:
        """(k,) whether each of `points` is inside, by winding number; blind within 1e-6 of size.

        A skin with holes encloses what it surrounds by more than half; an inside-out one is read
        as if it were not.
        """
        import igl

        low, high = self.mesh.bounds
        maybe = ((points >= low) & (points <= high)).all(axis=1)
        if maybe.any():
            local = np.ascontiguousarray(points[maybe] - self._middle)
            turns = igl.fast_winding_number(self._local, self.mesh.faces, local)
            maybe[maybe] = np.abs(turns) > 0.5
        return np.asarray(maybe)

    def exactly_encloses(self, points: Points) -> Flags:
        """(k,) as `encloses`, by the solid angles of all faces in double precision; slow."""
        import igl

        local = np.ascontiguousarray(points - self._middle)
        if len(local) <= _FEW:
            turns = winding(self._local[self.mesh.faces], local)
        else:
            turns = np.asarray(igl.winding_number(self._local, self.mesh.faces, local))
        return np.asarray(np.abs(turns) > 0.5)


def inside(mesh: Mesh, points: ArrayLike) -> Flags:
    """Which points lie inside a closed mesh, its skin included.

    A point within 1e-9 m of the skin counts as inside; further off the answer is that of the
    winding number, exact to rounding near the skin.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed; bodies inside bodies that face inward are voids.
    points : (k, 3) [m]
        In the mesh's frame.

    Returns
    -------
    inside : (k,) [-]
    """
    places = np.asarray(points, dtype=float).reshape(-1, 3)
    answer = np.zeros(len(places), dtype=bool)
    low, high = mesh.bounds
    maybe = np.flatnonzero(((places >= low - ON_SKIN) & (places <= high + ON_SKIN)).all(axis=1))
    if len(maybe) * len(mesh.faces) <= _FEW_PAIRS:
        answer[maybe] = winding(mesh.corners, places[maybe]) > 1.0 - _WHOLE
        maybe = maybe[~answer[maybe]]
    if not len(maybe):
        return answer
    tree = SkinTree(mesh)
    distance, _ = tree.nearest(places[maybe])
    close = distance < _CLOSE * float(np.linalg.norm(high - low))
    answer[maybe[~close]] = tree.encloses(places[maybe[~close]])
    answer[maybe[close]] = tree.exactly_encloses(places[maybe[close]])
    answer[maybe[distance <= ON_SKIN]] = True
    return answer
