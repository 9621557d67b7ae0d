# SPDX-License-Identifier: Apache-2.0
"""Outlines as the job draws them: corners, arcs through a point, roundings."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile, rounded_profile
from sumpwright.job.profile import Corner

Floats = NDArray[np.float64]


def drawn_profile(corners: Sequence[Corner]) -> Profile:
    """Corners and arcs as typed, sharp; RangeError where an arc's three points are in line."""
    points = np.array([c.at for c in corners])
    bulges = np.zeros(len(points))
    for k, corner in enumerate(corners):
        if corner.through is not None:
            bulges[k - 1] = _bulge(points[k - 1], np.array(corner.through), points[k], k)
    return Profile(points, bulges)


def _bulge(start: Floats, through: Floats, end: Floats, k: int) -> float:
    """Of the arc by three points: the angle at the middle one is half of what is left of a turn."""
    a, b = start - through, end - through
    cross, dot = float(a[0] * b[1] - a[1] * b[0]), float(a @ b)
    if abs(cross) < 1e-12:
        raise RangeError(f"the arc to corner {k + 1} has its three points in a line")
    angle = math.atan2(cross, dot)  # signed, at the middle point
    turn = 2.0 * (math.pi - abs(angle)) * (1.0 if angle < 0.0 else -1.0)
    return math.tan(0.25 * turn)


def rounded_outline(corners: Sequence[Corner], radius: float) -> Profile:
    """Corners and arcs as typed, rounded by their own radius or else by `radius` [m].

    The ends of an arc stay sharp. RangeError where roundings need more of a side than there is, or
    an arc's three points are in line.
    """
    sharp = drawn_profile(corners)
    bent = sharp.bulges != 0.0
    own = [radius if c.radius is None else c.radius for c in corners]
    radii = np.where(bent | np.roll(bent, 1), 0.0, own)
    if not radii.any():
        return sharp
    rounded = rounded_profile(sharp.points, radii)
    bulges = rounded.bulges.copy()
    for corner, bulge in zip(sharp.points[bent], sharp.bulges[bent], strict=True):
        bulges[np.linalg.norm(rounded.points - corner, axis=1).argmin()] = bulge
    return Profile(rounded.points, bulges)
