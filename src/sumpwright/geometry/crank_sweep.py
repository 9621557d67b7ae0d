# SPDX-License-Identifier: Apache-2.0
"""The space that crank, rods and counterweights sweep, and how low it reaches in any direction."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.disc import disc_reach, square_basis
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class CrankSweep:
    """A cylinder or a body; build with `CrankSweep.between` or `CrankSweep.of_body`."""

    tips: Floats
    """(k, 3) points [m]: the two ends of the centreline, or the outermost points of a body."""
    axis: Floats
    """(3,) unit vector along the centreline."""
    radius: float = 0.0
    """Swing radius [m]; 0 for a body."""
    body: Mesh | None = None

    @classmethod
    def between(cls, start: ArrayLike, end: ArrayLike, *, radius: float) -> "CrankSweep":
        """A cylinder from `start` to `end` (3,) [m] of the centreline, of swing `radius` [m]."""
        tips = np.stack([np.asarray(start, dtype=float), np.asarray(end, dtype=float)])
        length = np.linalg.norm(tips[1] - tips[0])
        if not (np.isfinite(length) and length > 0 and np.isfinite(radius) and radius > 0):
            found = f"length {1e3 * length:g} mm, radius {1e3 * radius:g} mm"
            raise InputError([_problem(found, "a length and a swing radius over 0 mm")])
        return cls(tips, (tips[1] - tips[0]) / length, float(radius))

    @classmethod
    def of_body(cls, body: Mesh) -> "CrankSweep":
        """The sweep as a body drawn elsewhere."""
        if not len(body.faces):
            raise InputError([_problem("a body without faces", "a closed body")])
        return cls(
            _outermost(body.vertices[np.unique(body.faces)]), np.array([1.0, 0, 0]), 0.0, body
        )

    def lowest_height(self, ups: ArrayLike) -> Floats:
        """(k,) smallest n.x over the sweep [m] for each unit vector n of `ups` (k, 3); exact."""
        directions = np.atleast_2d(np.asarray(ups, dtype=float))
        low = (directions @ self.tips.T).min(axis=1)
        return np.asarray(low - disc_reach(directions, self.axis, self.radius))

    def mesh(self, sides: int = 96) -> Mesh:
        """The sweep as a closed mesh for pictures; a cylinder gets `sides` flats, corners on it."""
        if self.body is not None:
            return self.body
        angle = np.linspace(0.0, 2.0 * np.pi, sides, endpoint=False)
        circle = self.radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)
        ring = circle @ square_basis(self.axis)
        a = np.arange(sides)
        b = np.roll(a, -1)
        hub = np.full(sides, 2 * sides)
        faces = [(a, b, b + sides), (a, b + sides, a + sides), (hub, b, a)]
        faces.append((hub + 1, a + sides, b + sides))
        vertices = np.concatenate([ring + self.tips[0], ring + self.tips[1], self.tips])
        return Mesh(vertices, np.concatenate([np.stack(f, axis=1) for f in faces]))


def _outermost(points: Floats) -> Floats:
    """The corners of the convex hull: only they can be lowest in some direction."""
    from scipy.spatial import ConvexHull, QhullError

    try:
        return np.asarray(points[ConvexHull(points).vertices])
    except QhullError:  # flat or tiny bodies have no hull; every point then stays a candidate
        return points


def _problem(found: str, needed: str) -> Problem:
    do = "check the crank sweep's ends and radius, or its file"
    return Problem(code="GEO-257", where="crank sweep", found=found, needed=needed, do=do)
