# SPDX-License-Identifier: Apache-2.0
"""Whole courses as paths: a turn with its transitions, the figure-eight, the slalom."""

import math

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.vehicle.guard import positive, whole
from sumpwright.vehicle.path import Floats, Path, arc, chained, clothoid, path_of

_NODES = 256  # per wave of a slalom
_STEP = 2.0 * math.pi / _NODES
_GAUSS_AT, _GAUSS_WEIGHT = np.polynomial.legendre.leggauss(40)
_STEEPEST = math.radians(60.0)


def turn(radius: float, angle: float, transition: float) -> Path:
    """Straight ahead into a left turn and out again: clothoid, arc, clothoid.

    Parameters
    ----------
    radius : float [m]
        Of the arc.
    angle : float [rad]
        Of the arc alone; each clothoid turns by transition/(2 radius) more.
    transition : float [m]
        Length of each clothoid.

    Returns
    -------
    path : Path [m]
    """
    spiral = math.sqrt(positive(radius, "radius", "m") * positive(transition, "transition", "m"))
    entry = clothoid(spiral, transition)
    return chained(entry, arc(radius, angle), entry.mirrored().reversed())


def figure_eight(radius: float, transition: float, laps: int = 1) -> Path:
    r"""Two circles joined by clothoids: a lap left, a lap right, back at the start.

    Each lobe begins and ends straight at the crossing. With tau = L/(2R) the turn of a clothoid,
    and (xm, R + p) the circle's centre seen from the clothoid's start, the lobe meets itself again
    after an arc of

    .. math:: \varphi = 2 (\pi - \delta - \tau), \quad \tan\delta = x_m / (R + p)

    The centres lie 2 hypot(xm, R + p) apart, so more than two radii.

    Parameters
    ----------
    radius : float [m]
        R, of both circles.
    transition : float [m]
        L, of each of the four clothoids.
    laps : int [-]
        How many times the whole eight is driven.

    Returns
    -------
    path : Path [m]
        From the crossing; left first. `Path.mirrored` goes right first.

    Raises
    ------
    RangeError
        If the transitions are so long that no circle is left between them.

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_course.py.
    """
    r, long = positive(radius, "radius", "m"), positive(transition, "transition", "m")
    spiral = clothoid(math.sqrt(r * long), long)
    tau = 0.5 * long / r
    middle = float(spiral.x[-1]) - r * math.sin(tau)
    rise = float(spiral.y[-1]) + r * math.cos(tau)
    angle = 2.0 * (math.pi - math.atan2(middle, rise) - tau)
    if tau >= math.pi or angle <= 0.0:
        raise RangeError(
            f"transitions of {long:.4g} m leave no circle of radius {r:.4g} m between them: "
            "drive slower, turn the wheel faster or take a larger radius"
        )
    lobe = turn(r, angle, long)
    return chained(*[lobe, lobe.mirrored()] * whole(laps, "laps"))


def slalom(cone_spacing: float, offset: float, cones: int) -> Path:
    r"""A weave round cones in a line: the heading swings as a sine over arc length.

    The first cone is passed on its left. From cone to cone is half a wave; the heading's swing and
    the wave's length follow from spacing d and offset c by Bessel and Struve functions,

    .. math:: 2c/d = H_0(\omega)/J_0(\omega), \quad L = 2d/J_0(\omega)

    The way in and out is half a wave long, one hump of curvature from straight ahead to the full
    swing of heading, and begins beside the line of cones.

    Parameters
    ----------
    cone_spacing : float [m]
        d, from cone to cone along the line.
    offset : float [m]
        c, of the path to the side of each cone.
    cones : int [-]
        How many are passed, left and right by turns.

    Returns
    -------
    path : Path [m]
        Heading along the line at both ends; y = 0 is the line of cones.

    Raises
    ------
    RangeError
        If the path would swing out by more than 60 degrees: offset too large for the spacing.

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_course.py.
    """
    ratio = 2.0 * positive(offset, "offset", "m") / positive(cone_spacing, "cone spacing", "m")
    swing = _swing(ratio)
    wave = 2.0 * cone_spacing / _mean(np.cos, swing)
    half = _NODES // 2
    s, k = _weave(swing, wave, whole(cones, "cones"))
    hump = 0.5 * wave * np.arange(half + 1) / half
    rise = 2.0 * swing / wave * (1.0 - np.cos(4.0 * np.pi * hump / wave))
    leave = rise if cones % 2 else -rise
    steps = [hump, hump[-1] + s[1:], hump[-1] + s[-1] + hump[1:]]
    course = path_of(np.concatenate(steps), np.concatenate([rise, k[1:], leave[1:]]))
    crossing = int(np.searchsorted(course.arc_length, hump[-1]))
    return Path(
        course.arc_length, course.curvature, course.x, course.y - course.y[crossing], course.heading
    )


def _weave(swing: float, wave: float, cones: int) -> tuple[Floats, Floats]:
    """Arc length and curvature from one crossing of the line to another, `cones` half waves on."""
    s = 0.5 * wave * np.arange(cones * _NODES // 2 + 1) / (_NODES // 2)
    # Straight lines between nodes cut a sine short; raised by this the heading is exact at nodes,
    # and does not creep away from the line of cones.
    raised = math.tan(0.5 * _STEP) / (0.5 * _STEP)
    return s, -2.0 * np.pi * swing * raised / wave * np.sin(2.0 * np.pi * s / wave)


def _mean(function: np.ufunc, swing: float) -> float:
    """Mean of a function of swing*sin(t) over half a turn: J0 with cos, Struve's H0 with sin."""
    t = 0.5 * np.pi * (1.0 + _GAUSS_AT)
    return float(0.5 * _GAUSS_WEIGHT @ function(swing * np.sin(t)))


def _swing(ratio: float) -> float:
    """Largest heading of a weave whose width over its half length is `ratio`, by bisection."""
    low, high = 0.0, _STEEPEST
    if ratio > _mean(np.sin, high) / _mean(np.cos, high):
        raise RangeError(
            f"an offset of {0.5 * ratio:.3g} of the spacing is too far out: the path would turn "
            "by more than 60 degrees. Take a wider spacing or a smaller offset"
        )
    for _ in range(80):
        middle = 0.5 * (low + high)
        if _mean(np.sin, middle) < ratio * _mean(np.cos, middle):
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
