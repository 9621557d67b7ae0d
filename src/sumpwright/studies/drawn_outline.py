# SPDX-License-Identifier: Apache-2.0
"""Outlines as the job draws them: corners, arcs through a point, roundings."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile
from sumpwright.geometry.profile_round import rounded_corners
from sumpwright.job.profile import Corner

Floats = NDArray[np.float64]

SAME = 1e-6
"""m; corners nearer to each other than this are one."""


def drawn_profile(corners: Sequence[Corner]) -> Profile:
    """Corners and arcs as typed, sharp.

    RangeError where two corners coincide, or an arc's three points are in line.
    """
    points = np.array([c.at for c in corners])
    same = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1) < SAME
    if same.any():
        k = int(same.argmax())
        raise RangeError(f"corners {k + 1} and {(k + 1) % len(points) + 1} lie at the same place")
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

    Where a line runs on in an arc smoothly there is nothing to round. RangeError where roundings
    need more of a side than there is, or an arc's three points are in line.
    """
    return rounded_corners(drawn_profile(corners), own_radii(corners, radius))


def own_radii(corners: Sequence[Corner], radius: float) -> Floats:
    """(n,) [m] of each corner's rounding: its own, or else `radius`."""
    return np.array([radius if c.radius is None else c.radius for c in corners])
