# SPDX-License-Identifier: Apache-2.0
"""Steady driving on a circle: speed, radius, lap time and acceleration, each from the others.

The published test is a circle of 100 m, 30 m at the least, driven both ways round in steps of
0.5 m/s^2 or less. Accelerations are toward the centre.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.vehicle.guard import positive

PREFERRED_RADIUS = 100.0
"""m; [ISO-4138], from memory."""
SMALLEST_RADIUS = 30.0
"""m; the smallest that [ISO-4138] takes, from memory. Smaller circles can be computed all the same:
a shop's skidpad often is."""
LARGEST_STEP = 0.5
"""m/s^2; steps of acceleration between stages are no larger than this by [ISO-4138]."""


def lateral_accel(speed: ArrayLike, radius: ArrayLike) -> NDArray[np.float64]:
    r"""Acceleration toward the centre.

    .. math:: a = v^2 / R

    Parameters
    ----------
    speed : (...) [m/s]
        v.
    radius : (...) [m]
        R.

    Returns
    -------
    accel : (...) [m/s^2]

    Raises
    ------
    RangeError
        If the radius is not positive or the speed is negative.

    Source
    ------
    [ISO-4138]. Checked by tests/vehicle/test_circle.py.
    """
    return np.asarray(_least(speed, "speed", "m/s") ** 2 / _above(radius, "radius", "m"))


def circle_speed(accel: ArrayLike, radius: ArrayLike) -> NDArray[np.float64]:
    r"""Speed that makes an acceleration on a circle.

    .. math:: v = \sqrt{a R}

    Parameters
    ----------
    accel : (...) [m/s^2]
        a, toward the centre.
    radius : (...) [m]
        R.

    Returns
    -------
    speed : (...) [m/s]

    Raises
    ------
    RangeError
        If the radius is not positive or the acceleration is negative.

    Source
    ------
    [ISO-4138]. Checked by tests/vehicle/test_circle.py.
    """
    return np.sqrt(_least(accel, "acceleration", "m/s^2") * _above(radius, "radius", "m"))


def lap_time(accel: ArrayLike, radius: ArrayLike) -> NDArray[np.float64]:
    r"""Time of one lap at a steady acceleration.

    .. math:: T = 2 \pi \sqrt{R / a}

    Parameters
    ----------
    accel : (...) [m/s^2]
        a, toward the centre.
    radius : (...) [m]
        R, of the path the car's middle takes.

    Returns
    -------
    time : (...) [s]

    Raises
    ------
    RangeError
        If radius or acceleration is not positive.

    Source
    ------
    [ISO-4138]. Checked by tests/vehicle/test_circle.py.
    """
    ratio = _above(radius, "radius", "m") / _above(accel, "acceleration", "m/s^2")
    return np.asarray(2.0 * math.pi * np.sqrt(ratio))


def accel_of_lap(radius: ArrayLike, time: ArrayLike) -> NDArray[np.float64]:
    r"""Mean acceleration of a timed lap, which is how a skidpad is read with a stopwatch.

    .. math:: a = 4 \pi^2 R / T^2

    Parameters
    ----------
    radius : (...) [m]
        R, of the path the car's middle takes.
    time : (...) [s]
        T, of one lap.

    Returns
    -------
    accel : (...) [m/s^2]

    Raises
    ------
    RangeError
        If radius or time is not positive.

    Source
    ------
    [ISO-4138]. Checked by tests/vehicle/test_circle.py.
    """
    r, t = _above(radius, "radius", "m"), _above(time, "lap time", "s")
    return np.asarray(4.0 * math.pi**2 * r / t**2)


def chosen_speed(radius: float, *, speed: float | None = None, accel: float | None = None) -> float:
    """The speed on a circle, given as itself or by the acceleration it makes.

    Parameters
    ----------
    radius : float [m]
        Of the tightest part of the path.
    speed : float or None [m/s]
        Given, or
    accel : float or None [m/s^2]
        given: exactly one of the two.

    Returns
    -------
    speed : float [m/s]

    Raises
    ------
    RangeError
        If both or neither are given, or a number is not positive.
    """
    if (speed is None) == (accel is None):
        raise RangeError("give the speed or the acceleration, one of the two")
    if speed is not None:
        return positive(speed, "speed", "m/s")
    assert accel is not None
    return math.sqrt(positive(accel, "acceleration", "m/s^2") * positive(radius, "radius", "m"))


def _above(value: ArrayLike, what: str, unit: str) -> NDArray[np.float64]:
    numbers = np.asarray(value, dtype=float)
    positive(_worst(numbers), what, unit)
    return numbers


def _least(value: ArrayLike, what: str, unit: str) -> NDArray[np.float64]:
    numbers = np.asarray(value, dtype=float)
    if not (numbers >= 0.0).all() or not np.isfinite(numbers).all():
        raise RangeError(f"{what} must be 0 {unit} or more and finite, got {_worst(numbers):.6g}")
    return numbers


def _worst(numbers: NDArray[np.float64]) -> float:
    """One value that a guard would refuse, if there is one: not finite before the smallest."""
    flat = np.atleast_1d(numbers).ravel()
    odd = flat[~np.isfinite(flat)]
    return float(odd[0]) if odd.size else float(flat.min(initial=np.inf))
