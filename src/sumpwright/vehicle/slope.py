# SPDX-License-Identifier: Apache-2.0
"""Hills and banks: gravity that leans in the car's axes, as an acceleration that does the same.

Effective gravity is level gravity less the acceleration, so a slope whose gravity is g_s stands for

.. math:: a = (0, 0, -g) - g_s

and effective gravity keeps its length, g, exactly. A direction is the side of the car that points
uphill, from +x toward +y: 0 nose uphill, pi/2 left side.
"""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.geometry.frame import STANDARD_GRAVITY, slope_gravity
from sumpwright.vehicle.circle import chosen_speed
from sumpwright.vehicle.guard import not_negative, positive
from sumpwright.vehicle.leg import ACCEL_STEP, LONGEST_STEP
from sumpwright.vehicle.manoeuvre import JERK, RUN_UP
from sumpwright.vehicle.motion import Floats, Motion, Span, within_jerk

SLOPE_JERK = 5.0
"""m/s^3; [common-practice]: a road does not tip a car over faster, half a radian a second."""
_LEVEL = np.array([0.0, 0.0, -1.0])
_STEEPEST = 0.5 * math.pi


def hill(
    direction: float,
    slope: float,
    *,
    duration: float,
    speed: float = 0.0,
    run_up: float = RUN_UP,
    jerk: float = SLOPE_JERK,
) -> Motion:
    """From level ground on to a slope, and staying there at one speed or standing.

    Parameters
    ----------
    direction : float [rad]
        The side of the car that points uphill, from +x toward +y.
    slope : float [rad]
        Angle of the ground, 0 to under a right angle.
    duration : float [s]
        On the slope.
    speed : float [m/s]
        Held; 0 is standing.
    run_up : float [s]
        On level ground before.
    jerk : float [m/s^3]
        The ground tips by jerk/g radians a second.

    Returns
    -------
    motion : Motion [m/s^2]
        The span ``slope`` is the whole slope.

    Source
    ------
    [ISO-8855] axes, [closed-form]. Checked by tests/vehicle/test_slope.py.
    """
    tipping = _angle(slope) * STANDARD_GRAVITY / positive(jerk, "jerk limit", "m/s^3")
    before = not_negative(run_up, "run-up", "s")
    ends = [before, before + tipping, before + tipping + positive(duration, "duration", "s")]
    time = _steps([0.0, *ends], _angle(slope) * STANDARD_GRAVITY)
    share = np.interp(time, [0.0, *ends], [0.0, 0.0, 1.0, 1.0])
    held = np.full_like(time, not_negative(speed, "speed", "m/s"))
    motion = Motion(
        time=time,
        accel=tilt_accel(direction, share * slope),
        speed=held,
        distance=held * time,
        spans=(Span("slope", ends[1], ends[2]),),
    )
    return within_jerk(motion, jerk)


def tilted(motion: Motion, direction: float, slope: float) -> Motion:
    """A motion driven on an even slope instead of on level ground, such as braking downhill.

    Parameters
    ----------
    motion : Motion [m/s^2]
        In the plane of the ground; the car keeps its side to the hill.
    direction : float [rad]
        The side of the car that points uphill, from +x toward +y. For a motion that goes round
        this would turn with the car: such a motion is refused.
    slope : float [rad]
        Angle of the ground, 0 to under a right angle.

    Returns
    -------
    motion : Motion [m/s^2]
        Already on the slope when it begins.

    Raises
    ------
    RangeError
        If the car does not keep its heading, or the slope is too steep.

    Source
    ------
    [ISO-8855] axes, [closed-form]. Checked by tests/vehicle/test_slope.py.
    """
    if motion.curvature is None or motion.curvature.any():
        raise RangeError("only a motion straight ahead keeps one side of the car to the hill")
    return replace(motion, accel=motion.accel + tilt_accel(direction, _angle(slope)))


def banked_circle(
    radius: float,
    bank: float,
    *,
    speed: float | None = None,
    accel: float | None = None,
    duration: float = 10.0,
    left: bool = True,
    run_up: float = RUN_UP,
    jerk: float = JERK,
) -> Motion:
    r"""A steady circle on a banked road; the bank grows and goes with the curvature.

    .. math:: a_y = \kappa v^2 \cos\beta - g \sin\beta, \quad
              a_z = \kappa v^2 \sin\beta - g (1 - \cos\beta)

    Parameters
    ----------
    radius : float [m]
        Of the path, seen from above.
    bank : float [rad]
        beta: positive where the inner side is lower, negative where the road falls outward.
    speed : float or None [m/s]
        Given, or
    accel : float or None [m/s^2]
        v^2/R, level and toward the centre, given: one of the two.
    duration : float [s]
        Of the full circle.
    left : bool [-]
        Turns left; else right.
    run_up : float [s]
        Straight and level before and after.
    jerk : float [m/s^3]
        Transitions are as short as it allows for turn, for bank and for both together.

    Returns
    -------
    motion : Motion [m/s^2]
        The span ``steady`` is the full circle.

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_slope.py.
    """
    v = chosen_speed(radius, speed=speed, accel=accel)
    level = v**2 / radius
    lean = _angle(abs(bank)) * STANDARD_GRAVITY
    # Rate of change over the onset is largest at its end. Where bank and turn nearly cancel it is
    # small, but a car does not get into either faster than into that one alone.
    rate = math.hypot(level - math.copysign(lean, bank), level * bank)
    reach = max(rate, level, lean)
    onset = reach / positive(jerk, "jerk limit", "m/s^3")
    before = not_negative(run_up, "run-up", "s")
    ends = np.cumsum([0.0, before, onset, positive(duration, "duration", "s"), onset, before])
    time = _steps(ends.tolist(), reach)
    share = np.interp(time, ends, [0.0, 0.0, 1.0, 1.0, 0.0, 0.0])
    motion = Motion(
        time=time,
        accel=_banked(share * level, share * bank),
        speed=np.full_like(time, v),
        distance=v * time,
        curvature=share / radius,
        spans=(Span("steady", float(ends[2]), float(ends[3])),),
    )
    motion = within_jerk(motion, jerk)
    return motion if left else motion.mirrored()


def tilt_accel(direction: float, slope: Floats | float) -> Floats:
    """Acceleration on level ground that the oil takes for a slope.

    Parameters
    ----------
    direction : float [rad]
        The side of the car that points uphill, from +x toward +y.
    slope : (...) [rad]
        Angle of the ground.

    Returns
    -------
    accel : (..., 3) [m/s^2]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_slope.py.
    """
    return np.asarray(STANDARD_GRAVITY * (_LEVEL - slope_gravity(direction, slope)))


def _banked(level: Floats, bank: Floats) -> Floats:
    """A level acceleration to the left in a car that leans left with the road."""
    turn = np.stack([np.zeros_like(level), level * np.cos(bank), level * np.sin(bank)], axis=-1)
    return np.asarray(turn + tilt_accel(-0.5 * math.pi, bank))


def _angle(slope: float) -> float:
    if not 0.0 <= slope < _STEEPEST:
        raise RangeError(f"a slope is 0 to under 90 degrees, got {math.degrees(slope):.4g}")
    return slope


def _steps(ends: list[float], reach: float) -> Floats:
    """Times through all ends, acceleration changing by less than `reach` between any two ends."""
    pieces = [np.zeros(1)]
    for start, end in pairwise(ends):
        count = math.ceil(max((end - start) / LONGEST_STEP, reach / ACCEL_STEP))
        if end > start:
            pieces.append(start + (end - start) * np.arange(1, count + 1) / count)
            pieces[-1][-1] = end
    return np.concatenate(pieces)
