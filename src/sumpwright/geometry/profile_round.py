# SPDX-License-Identifier: Apache-2.0
"""Corners of an outline of lines and arcs, rounded: where a line runs into an arc too."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.outline_side import sides_meeting
from sumpwright.geometry.profile import Profile, corner_turns, rounded_profile

Floats = NDArray[np.float64]

SMOOTH = 1e-6
"""rad; sides that meet at less run on in each other and leave nothing to round."""
SLACK = 1e-9
"""m; by which two roundings may share a side."""


def rounded_corners(profile: Profile, radii: ArrayLike) -> Profile:
    """Each corner rounded by an arc that runs on in both its sides, straight or bent.

    Parameters
    ----------
    profile : Profile [m]
        Sharp, either way round.
    radii : (n,) [m]
        Of each corner's rounding; 0 leaves it as it is.

    Returns
    -------
    profile : Profile [m]
        Run as it was.

    Raises
    ------
    RangeError
        Where two roundings need more of a side than there is, or no arc of that radius meets both
        sides.
    """
    radius = np.broadcast_to(np.asarray(radii, dtype=float), len(profile.points))
    if not profile.bulges.any():
        return rounded_profile(profile.points, radius)
    turns = corner_turns(profile)
    found = [_rounding(profile, k, float(turns[k]), float(radius[k])) for k in range(len(turns))]
    points, bulges = [], []
    for k, start in enumerate(found):
        if start.bulge != 0.0:
            points.append(start.come)
            bulges.append(start.bulge)
        points.append(start.leave)
        bulges.append(_trimmed(profile, k, start, found[(k + 1) % len(found)]))
    after = np.roll(np.array(points), -1, axis=0)
    kept = np.linalg.norm(after - points, axis=1) > SLACK
    return Profile(np.array(points)[kept], np.array(bulges)[kept])


@dataclass(frozen=True, eq=False)
class _Rounding:
    """One corner: where its arc starts and ends; both at the corner where it is left sharp."""

    come: Floats
    leave: Floats
    bulge: float


def _rounding(profile: Profile, k: int, turn: float, radius: float) -> _Rounding:
    corner = profile.points[k]
    if radius <= 0.0 or abs(turn) < SMOOTH:
        return _Rounding(corner, corner, 0.0)
    if math.pi - abs(turn) < SMOOTH:
        raise RangeError(f"corner {k + 1} turns back on itself")
    left = math.copysign(1.0, turn)
    try:
        centre = sides_meeting(profile, k, -left * radius)
    except RangeError as err:
        said = f"no rounding of {1e3 * radius:.4g} mm meets both sides of corner {k + 1}"
        raise RangeError(said) from err
    come, leave = (_foot(profile, side % len(profile.points), centre) for side in (k - 1, k))
    a, b = come - centre, leave - centre
    sweep = left * math.atan2(float(a[0] * b[1] - a[1] * b[0]), float(a @ b))
    if sweep <= 0.0:
        raise RangeError(f"no rounding of {1e3 * radius:.4g} mm meets both sides of corner {k + 1}")
    return _Rounding(come, leave, left * math.tan(0.25 * sweep))


def _trimmed(profile: Profile, k: int, start: _Rounding, end: _Rounding) -> float:
    """Bulge of what is left of a side between the roundings at its ends."""
    whole = _way(profile, k, profile.ends[k])
    first = _way(profile, k, start.leave) if start.bulge else 0.0
    last = _way(profile, k, end.come) if end.bulge else whole
    if first > last + SLACK or min(first, last) < -SLACK or max(first, last) > whole + SLACK:
        raise RangeError(
            f"the roundings at corners {k + 1} and {(k + 1) % len(profile.points) + 1} need "
            f"{1e3 * (first + whole - last):.4g} mm of a side of {1e3 * whole:.4g} mm"
        )
    turn = math.atan(float(profile.bulges[k])) * (last - first) / whole
    return math.tan(turn)


def _circle(profile: Profile, k: int) -> tuple[Floats, float]:
    """Centre and radius of an arc."""
    a, b, bulge = profile.points[k], profile.ends[k], float(profile.bulges[k])
    half = 0.5 * (b - a)
    centre = 0.5 * (a + b) + np.array([-half[1], half[0]]) * (1.0 - bulge**2) / (2.0 * bulge)
    return centre, float(np.hypot(*(a - centre)))


def _foot(profile: Profile, k: int, point: Floats) -> Floats:
    """The place on a side, or on its line or circle, that is nearest to a point."""
    a, b = profile.points[k], profile.ends[k]
    if profile.bulges[k] == 0.0:
        along = (b - a) / float(np.linalg.norm(b - a))
        return np.asarray(a + float((point - a) @ along) * along)
    centre, radius = _circle(profile, k)
    arm = point - centre
    return np.asarray(centre + arm * radius / float(np.hypot(*arm)))


def _way(profile: Profile, k: int, point: Floats) -> float:
    """Length along a side from its start to a place on it; negative before its start."""
    a, b, bulge = profile.points[k], profile.ends[k], float(profile.bulges[k])
    if bulge == 0.0:
        return float((point - a) @ (b - a)) / float(np.linalg.norm(b - a))
    centre, radius = _circle(profile, k)
    one, two = a - centre, point - centre
    angle = math.copysign(1.0, bulge) * math.atan2(
        float(one[0] * two[1] - one[1] * two[0]), float(one @ two)
    )
    whole = 4.0 * math.atan(abs(bulge))
    # of the two ways round to it the one nearer to the middle of the side
    angle += 2.0 * math.pi * round((0.5 * whole - angle) / (2.0 * math.pi))
    return angle * radius
