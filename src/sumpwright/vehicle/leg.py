# SPDX-License-Identifier: Apache-2.0
"""The pieces that manoeuvres are made of: legs of straight-running acceleration, driven paths.

A change of speed is a trapezoid of acceleration, so speed over time is an S-curve: up at the jerk
limit, held, down at the jerk limit. Its distance is the mean speed times its time.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.vehicle.guard import not_negative, positive
from sumpwright.vehicle.motion import Floats, Motion, level_motion
from sumpwright.vehicle.path import Path

ACCEL_STEP = 0.02 * STANDARD_GRAVITY
"""m/s^2; nodes are set so close that acceleration changes by no more between two: at a jerk j the
time step is ACCEL_STEP/j."""
LONGEST_STEP = 0.05
"""s; nodes are no further apart even where nothing changes, so speed is smooth between them."""

_SHORTEST_HOLD = 1e-9  # s; a shorter one is all rounding, and the peak without it is the same


class Leg(NamedTuple):
    """A stretch of time over which acceleration runs straight to a value."""

    duration: float
    """[s]; a leg of 0 s is left out"""
    forward: float = 0.0
    """[m/s^2] at its end"""
    left: float = 0.0
    """[m/s^2] at its end"""


def legs_motion(
    legs: Sequence[Leg], start_speed: float, start: tuple[float, float] = (0.0, 0.0)
) -> Motion:
    """A motion on a level road through legs of straight-running acceleration.

    Parameters
    ----------
    legs : sequence of Leg [s, m/s^2]
        In order.
    start_speed : float [m/s]
        At time 0.
    start : (2,) [m/s^2]
        Acceleration forward and left at time 0.

    Returns
    -------
    motion : Motion [m/s^2]
    """
    taken = [leg for leg in legs if leg.duration > 0.0]
    time = np.concatenate([[0.0], np.cumsum([leg.duration for leg in taken])])
    accel = np.array([start, *[(leg.forward, leg.left) for leg in taken]])
    fine = fine_times(time, accel)
    forward, left = (np.interp(fine, time, axis) for axis in accel.T)
    return level_motion(fine, forward, left, not_negative(start_speed, "speed", "m/s"))


def driven(path: Path, speed: float) -> Motion:
    r"""A path driven at one speed.

    .. math:: a_y = \kappa v^2

    Parameters
    ----------
    path : Path [m]
        On a level road.
    speed : float [m/s]
        v.

    Returns
    -------
    motion : Motion [m/s^2]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_manoeuvre.py.
    """
    time = path.arc_length / positive(speed, "speed", "m/s")
    left = path.curvature * speed**2
    fine = fine_times(time, left[:, None])
    return level_motion(fine, np.zeros_like(fine), np.interp(fine, time, left), speed)


def speed_change(
    *, start: float, end: float, accel: float, jerk: float, left: float = 0.0
) -> tuple[Leg, Leg, Leg]:
    r"""Legs that take a car from one speed to another with a limited jerk.

    Without a hold in the middle where the change is too small for the full acceleration: then the
    peak is the root of jerk times change.

    .. math:: T = |\Delta v|/a + a/j, \quad s = T (v_1 + v_2)/2

    Parameters
    ----------
    start : float [m/s]
        v_1.
    end : float [m/s]
        v_2.
    accel : float [m/s^2]
        a, the largest acceleration or deceleration; positive.
    jerk : float [m/s^3]
        j, the limit of its rate.
    left : float [m/s^2]
        Sideways acceleration held all along.

    Returns
    -------
    legs : (3,) of Leg [s, m/s^2]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_leg.py.
    """
    change = abs(end - start)
    rate = positive(jerk, "jerk limit", "m/s^3")
    peak = positive(accel, "acceleration", "m/s^2")
    held = change / peak - peak / rate
    if held < _SHORTEST_HOLD:
        peak, held = math.sqrt(change * rate), 0.0
    signed = math.copysign(peak, end - start)
    return (
        Leg(peak / rate, signed, left),
        Leg(held, signed, left),
        Leg(peak / rate, 0.0, left),
    )


def fine_times(time: Floats, accel: Floats) -> Floats:
    """Times between which neither clock nor acceleration goes far; the given ones stay.

    Parameters
    ----------
    time : (n,) [s]
        Rising.
    accel : (n, k) [m/s^2]
        Straight between the times.

    Returns
    -------
    time : (m,) [s]
        Steps of `LONGEST_STEP` and `ACCEL_STEP` at most.
    """
    step = np.diff(time)
    change = np.abs(np.diff(accel, axis=0)).max(axis=1)
    parts = np.maximum(step / LONGEST_STEP, change / ACCEL_STEP)
    count = np.maximum(1, np.ceil(parts * (1.0 - 1e-12))).astype(np.int64)
    piece = np.repeat(np.arange(len(count)), count)
    part = np.arange(len(piece)) - np.repeat(np.cumsum(count) - count, count)
    return np.append(time[piece] + part * (step / count)[piece], time[-1])
