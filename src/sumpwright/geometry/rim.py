# SPDX-License-Identifier: Apache-2.0
"""The pickup's inlet rim: a circle, or a closed polygon of points."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.disc import disc_reach, square_basis

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Rim:
    """Edge of the pickup's mouth; build with `Rim.circle` or `Rim.polygon`."""

    corners: Floats
    """(k, 3) points of the polygon, in order round it; the centre alone for a circle [m]."""
    axis: Floats
    """(3,) unit vector the mouth is square to."""
    radius: float = 0.0
    """Of the circle [m]; 0 for a polygon."""

    @classmethod
    def circle(cls, centre: ArrayLike, axis: ArrayLike, *, radius: float) -> "Rim":
        """A round rim: `centre` (3,) [m], `axis` (3,) of any length, `radius` [m]."""
        middle, normal = np.asarray(centre, dtype=float), np.asarray(axis, dtype=float)
        length = np.linalg.norm(normal)
        if not (np.isfinite(middle).all() and np.isfinite(length) and length and radius > 0):
            raise InputError([_problem(f"radius {1e3 * radius:g} mm, axis {normal.tolist()}")])
        return cls(middle.reshape(1, 3), normal / length, float(radius))

    @classmethod
    def polygon(cls, points: ArrayLike) -> "Rim":
        """A rim of straight pieces between `points` (k, 3) [m], in order round it."""
        corners = np.asarray(points, dtype=float)
        if corners.ndim != 2 or corners.shape[1:] != (3,) or not np.isfinite(corners).all():
            raise InputError([_problem("points that are not x, y, z triples")])
        vector = _area_vector(corners)
        size = np.linalg.norm(vector)
        if size <= 1e-12 * np.ptp(corners, axis=0).max(initial=0.0) ** 2 or len(corners) < 3:
            raise InputError([_problem(f"{len(corners)} points that enclose no area")])
        return cls(corners, vector / size)

    def highest_height(self, ups: ArrayLike) -> Floats:
        """(k,) largest n.x over the rim [m] for each unit vector n of `ups` (k, 3); exact."""
        directions = np.atleast_2d(np.asarray(ups, dtype=float))
        top = (directions @ self.corners.T).max(axis=1)
        return np.asarray(top + disc_reach(directions, self.axis, self.radius))

    @cached_property
    def area(self) -> float:
        """Area of the mouth [m^2]; of its flat projection where the points are not in a plane."""
        if self.radius:
            return float(np.pi * self.radius**2)
        return float(np.linalg.norm(_area_vector(self.corners)))

    @property
    def equivalent_diameter(self) -> float:
        """Diameter of the circle of the same area [m]."""
        return float(np.sqrt(4.0 * self.area / np.pi))

    @cached_property
    def centre(self) -> Floats:
        """(3,) centroid of the mouth [m]."""
        first = self.corners[0]
        spokes = self.corners - first
        twice = np.cross(spokes, np.roll(spokes, -1, axis=0)) @ self.axis
        if not twice.any():
            return np.asarray(first)
        middles = (spokes + np.roll(spokes, -1, axis=0)) / 3.0
        return np.asarray(first + (twice @ middles) / twice.sum())

    def points(self, count: int) -> Floats:
        """(count, 3) points evenly spaced along the rim [m].

        A polygon's corners are among them only where the spacing happens to hit them.
        """
        if self.radius:
            angle = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
            circle = np.stack([np.cos(angle), np.sin(angle)], axis=1)
            return np.asarray(self.corners[0] + self.radius * circle @ square_basis(self.axis))
        closed = np.concatenate([self.corners, self.corners[:1]])
        run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(closed, axis=0), axis=1))])
        at = np.linspace(0.0, run[-1], count, endpoint=False)
        return np.stack([np.interp(at, run, closed[:, i]) for i in range(3)], axis=1)


def _area_vector(corners: Floats) -> Floats:
    """(3,) normal of a closed polygon times its area [m^2]."""
    spokes = corners - corners[0]  # about a corner, so that far-off coordinates cost no digits
    return np.asarray(0.5 * np.cross(spokes, np.roll(spokes, -1, axis=0)).sum(axis=0))


def _problem(found: str) -> Problem:
    return Problem(
        code="GEO-250",
        where="pickup rim",
        found=found,
        needed="a circle with a radius over 0 mm and an axis, or points round a mouth in order",
        do="check the rim's numbers and their order",
    )
