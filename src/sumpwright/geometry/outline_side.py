# SPDX-License-Identifier: Apache-2.0
"""An outline's sides each moved by its own distance, and where an outline crosses itself.

Lines stay lines and arcs keep their centres; corners are where neighbours meet again. That is how a
wall is put round an outline, and how an outline grows smaller towards the floor where sides lean.
"""

import math
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile

Floats = NDArray[np.float64]

TANGENT = 1e-9
"""Of a sine, or a length in m: two sides this near to running on in each other do."""


def moved_sides(profile: Profile, distances: ArrayLike) -> Profile:
    """The outline with each side moved out by its own distance.

    Parameters
    ----------
    profile : Profile [m]
        Counter-clockwise.
    distances : (n,) [m]
        Outward, of the side from each corner to the next; negative moves it in.

    Returns
    -------
    profile : Profile [m]

    Raises
    ------
    RangeError
        Where a side is used up, or two neighbours no longer meet.
    """
    out = np.broadcast_to(np.asarray(distances, dtype=float), len(profile.points))
    count = len(profile.points)
    sides = [_Side(profile, k, float(out[k])) for k in range(count)]
    corners = np.array(
        [_meeting(sides[k - 1], sides[k], profile.points[k], k) for k in range(count)]
    )
    ends = np.roll(corners, -1, axis=0)
    bulges = [
        s.bulge(a, b, k) for k, (s, a, b) in enumerate(zip(sides, corners, ends, strict=True))
    ]
    return Profile(corners, np.array(bulges))


def sides_meeting(profile: Profile, k: int, distance: float) -> Floats:
    """Where the two sides at a corner meet once both are moved: the centre of a rounding.

    Parameters
    ----------
    profile : Profile [m]
        Either way round.
    k : int [-]
        The corner.
    distance : float [m]
        To the right, run as the outline is.

    Returns
    -------
    place : (2,) [m]

    Raises
    ------
    RangeError
        Where they do not meet.
    """
    before = (k - 1) % len(profile.points)
    one, two = (_Side(profile, side, distance) for side in (before, k))
    return _meeting(one, two, profile.points[k], k)


class _Side:
    """One side, moved: a line by a point and its direction, or a circle."""

    def __init__(self, profile: Profile, k: int, out: float) -> None:
        a, b = profile.points[k], profile.ends[k]
        half = 0.5 * (b - a)
        self.along = half / max(float(np.hypot(*half)), 1e-30)
        right = np.array([self.along[1], -self.along[0]])
        self.point = a + out * right
        self.old = float(profile.bulges[k])
        self.radius = 0.0
        if self.old != 0.0:
            left = np.array([-half[1], half[0]])
            self.centre = 0.5 * (a + b) + left * (1.0 - self.old**2) / (2.0 * self.old)
            self.radius = float(np.hypot(*(a - self.centre)))
            self.radius += out if self.old > 0.0 else -out
            if self.radius <= 0.0:
                raise RangeError(f"the arc from corner {k + 1} is used up")

    def bulge(self, a: Floats, b: Floats, k: int) -> float:
        """Of the side between its new ends."""
        if self.old == 0.0:
            if float((b - a) @ self.along) <= 1e-6:
                raise RangeError(f"the side from corner {k + 1} is used up")
            return 0.0
        start, end = a - self.centre, b - self.centre
        turn = math.atan2(start[0] * end[1] - start[1] * end[0], float(start @ end))
        before = 4.0 * math.atan(self.old)
        turn += 2.0 * math.pi * round((before - turn) / (2.0 * math.pi))
        if turn * before <= 0.0:
            raise RangeError(f"the arc from corner {k + 1} is used up")
        return math.tan(0.25 * turn)


def _meeting(one: _Side, two: _Side, old: Floats, k: int) -> Floats:
    """Where two neighbours meet, nearest to where they did."""
    if one.radius == 0.0 and two.radius == 0.0:
        cross = float(one.along[0] * two.along[1] - one.along[1] * two.along[0])
        if abs(cross) < TANGENT:
            return _run_on(one.point + float((old - one.point) @ one.along) * one.along, two, k)
        gap = two.point - one.point
        step = (gap[0] * two.along[1] - gap[1] * two.along[0]) / cross
        return np.asarray(one.point + step * one.along)
    if one.radius > 0.0 and two.radius > 0.0 and _one_circle(one, two):
        arm = old - one.centre
        return np.asarray(one.centre + arm * one.radius / float(np.hypot(*arm)))
    circle, other = (one, two) if one.radius > 0.0 else (two, one)
    found = _line_circle(other, circle) if other.radius == 0.0 else _two_circles(other, circle)
    if not len(found):
        raise RangeError(f"the sides that meet at corner {k + 1} no longer do")
    return np.asarray(found[np.linalg.norm(found - old, axis=1).argmin()])


def _one_circle(one: _Side, two: _Side) -> bool:
    away = float(np.hypot(*(two.centre - one.centre)))
    return away < TANGENT and abs(two.radius - one.radius) < TANGENT


def _run_on(spot: Floats, two: _Side, k: int) -> Floats:
    """A corner in a straight run; its two halves must have moved alike."""
    away = spot - two.point
    if abs(float(away[0] * two.along[1] - away[1] * two.along[0])) > 1e-9:
        raise RangeError(f"the sides that meet at corner {k + 1} run on straight and lean apart")
    return spot


def _line_circle(line: _Side, circle: _Side) -> Floats:
    foot = line.point + float((circle.centre - line.point) @ line.along) * line.along
    over = circle.radius**2 - float(((foot - circle.centre) ** 2).sum())
    if over < -TANGENT * circle.radius:
        return np.zeros((0, 2))
    half = math.sqrt(max(over, 0.0))
    return np.array([foot + half * line.along, foot - half * line.along])


def _two_circles(one: _Side, two: _Side) -> Floats:
    gap = two.centre - one.centre
    apart = float(np.hypot(*gap))
    if apart < TANGENT:
        return np.zeros((0, 2))
    along = (apart**2 + one.radius**2 - two.radius**2) / (2.0 * apart)
    over = one.radius**2 - along**2
    if over < -TANGENT * one.radius:
        return np.zeros((0, 2))
    foot, half = one.centre + along * gap / apart, math.sqrt(max(over, 0.0))
    left = np.array([-gap[1], gap[0]]) / apart
    return np.array([foot + half * left, foot - half * left])


def crossing(profile: Profile) -> Floats | None:
    """Where an outline crosses or touches itself (2,) [m]; None where it does not.

    Parameters
    ----------
    profile : Profile [m]
        Closed.

    Returns
    -------
    place : (2,) or None [m]
    """
    a = profile.polygon()
    b = np.roll(a, -1, axis=0)
    count = len(a)
    for k in range(count - 2):
        others = np.arange(k + 2, count - (1 if k == 0 else 0))
        hit = _crossed(a[k], b[k], a[others], b[others])
        if hit is not None:
            return hit
    return next((p for p, q in pairwise([*a, a[0]]) if np.linalg.norm(p - q) < 1e-9), None)


def _crossed(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats | None:
    """Where the piece a to b meets the first of the pieces c to d."""
    one, two, gap = b - a, d - c, c - a
    cross = one[0] * two[:, 1] - one[1] * two[:, 0]
    flat = np.abs(cross) < 1e-18
    safe = np.where(flat, 1.0, cross)
    along = (gap[:, 0] * two[:, 1] - gap[:, 1] * two[:, 0]) / safe
    across = (gap[:, 0] * one[1] - gap[:, 1] * one[0]) / safe
    inside = (along >= 0.0) & (along <= 1.0) & (across >= 0.0) & (across <= 1.0) & ~flat
    return np.asarray(a + along[inside][0] * one) if inside.any() else None


def distance_to(profile: Profile, point: ArrayLike) -> float:
    """From a point to the outline [m]; negative where the point lies outside it.

    Parameters
    ----------
    profile : Profile [m]
        Closed.
    point : (2,) [m]
        Any.

    Returns
    -------
    distance : float [m]
    """
    a = profile.polygon()
    b, p = np.roll(a, -1, axis=0), np.asarray(point, dtype=float)
    side = b - a
    share = ((p - a) * side).sum(axis=1) / np.maximum((side**2).sum(axis=1), 1e-30)
    nearest = a + np.clip(share, 0.0, 1.0)[:, None] * side
    away = float(np.linalg.norm(p - nearest, axis=1).min())
    start, end = a - p, b - p
    turn = np.arctan2(start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0], (start * end).sum(axis=1))
    return away if abs(float(turn.sum())) > math.pi else -away
