# SPDX-License-Identifier: Apache-2.0
"""What the oil is put through: acceleration of the body over time, without a step.

Axes are ISO 8855's: x forward, y left, z up, turning with the car; a left-hand turn accelerates
toward +y. The acceleration is what leaves effective gravity when taken from level gravity, so on a
slope it holds the tilt as well. Between nodes it runs straight, so the jerk, its rate of change in
the car's axes, is constant there and finite everywhere. It is that of a car which points where it
goes: what yaw acceleration adds ahead of or behind the point that follows the path is not in it.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.vehicle.guard import positive

Floats = NDArray[np.float64]

_ARRAYS = ("time", "accel", "speed", "distance", "curvature", "engine_speed")
_ROUNDING = 1e-9  # relative; a jerk above its limit by less is the limit
_DIGITS = 8.0 * float(np.finfo(float).eps)


@dataclass(frozen=True)
class Span:
    """A part of a motion with a name, such as one stage of a programme."""

    name: str
    start: float
    """[s]"""
    end: float
    """[s]"""


@dataclass(frozen=True, eq=False)
class Motion:
    """Acceleration over time; arrays are read-only and of one length n."""

    time: Floats
    """(n,) [s], from 0 and rising; steps differ in length"""
    accel: Floats
    """(n, 3) [m/s^2] of the body, forward, left, up; straight between nodes"""
    speed: Floats | None = None
    """(n,) [m/s], where known"""
    distance: Floats | None = None
    """(n,) [m] driven, where known"""
    curvature: Floats | None = None
    """(n,) [1/m] of the path, positive to the left, where known"""
    engine_speed: Floats | None = None
    """(n,) [rad/s], where known"""
    spans: tuple[Span, ...] = ()

    def __post_init__(self) -> None:
        for name in _ARRAYS:
            if getattr(self, name) is not None:
                values = np.array(getattr(self, name), dtype=np.float64, order="C")
                values.setflags(write=False)
                object.__setattr__(self, name, values)
        self._check()

    def _check(self) -> None:
        n = len(self.time)
        for name in _ARRAYS:
            values = getattr(self, name)
            shape = (n, 3) if name == "accel" else (n,)
            if values is not None and (values.shape != shape or not np.isfinite(values).all()):
                raise RangeError(f"{name} of a motion must be finite and of shape {shape}")
        if n < 2 or self.time[0] != 0.0 or not (np.diff(self.time) > 0.0).all():
            raise RangeError("time of a motion must start at 0 s and rise from node to node")

    @property
    def duration(self) -> float:
        """[s]"""
        return float(self.time[-1])

    @property
    def accel_g(self) -> Floats:
        """(n, 3) [g] of the body."""
        return np.asarray(self.accel / STANDARD_GRAVITY)

    @property
    def jerk(self) -> Floats:
        """(n - 1,) [m/s^3] size of the rate of change of acceleration between nodes."""
        rate = np.diff(self.accel, axis=0) / np.diff(self.time)[:, None]
        return np.asarray(np.linalg.norm(rate, axis=1))

    @property
    def peak_jerk(self) -> float:
        """Largest jerk [m/s^3]."""
        return float(self.jerk.max())

    @property
    def size(self) -> float:
        """Largest acceleration [m/s^2], of any axis."""
        return float(np.abs(self.accel).max())

    def at(self, time: ArrayLike) -> Floats:
        """Acceleration (..., 3) [m/s^2] at times (...) [s]; RangeError outside the motion."""
        t = self._within(time)
        return np.stack([np.interp(t, self.time, axis) for axis in self.accel.T], axis=-1)

    def engine_speed_at(self, time: ArrayLike) -> Floats:
        """Engine speed (...) [rad/s] at times (...) [s]; RangeError outside or where not known."""
        if self.engine_speed is None:
            raise RangeError("this motion has no engine speed: give one")
        return np.asarray(np.interp(self._within(time), self.time, self.engine_speed))

    def mirrored(self) -> "Motion":
        """The same motion with left and right changed."""
        curvature = None if self.curvature is None else -self.curvature
        return replace(self, accel=self.accel * [1.0, -1.0, 1.0], curvature=curvature)

    def _within(self, time: ArrayLike) -> Floats:
        t = np.asarray(time, dtype=float)
        bad = ~((t >= 0.0) & (t <= self.duration))
        if bad.any():
            raise RangeError(
                f"time {t[bad].flat[0]:.6g} s is outside the motion, 0 to {self.duration:.6g} s"
            )
        return t


def level_motion(
    time: ArrayLike, forward: ArrayLike, left: ArrayLike, start_speed: float
) -> Motion:
    """A motion on a level road, with speed, distance and curvature from its accelerations.

    Parameters
    ----------
    time : (n,) [s]
        From 0, rising.
    forward : (n,) [m/s^2]
        Rate of change of speed; straight between nodes, so speed and distance are exact.
    left : (n,) [m/s^2]
        Toward the left.
    start_speed : float [m/s]
        At time 0.

    Returns
    -------
    motion : Motion [m/s^2]

    Raises
    ------
    RangeError
        If the car would roll backward, or stands while it turns.
    """
    t, ax, ay = (np.asarray(a, dtype=float) for a in (time, forward, left))
    step = np.diff(t)
    gained = np.cumsum(0.5 * (ax[:-1] + ax[1:]) * step)
    speed = start_speed + np.concatenate([[0.0], gained])
    speed[np.abs(speed) < 1e-9] = 0.0  # a stop within rounding is a stop
    if speed.min() < 0.0:
        raise RangeError(f"the car would roll backward, at {speed.min():.4g} m/s")
    if (ay[speed == 0.0] != 0.0).any():
        raise RangeError("a car that stands cannot turn: give it a speed")
    moved = np.cumsum(speed[:-1] * step + step**2 * (2.0 * ax[:-1] + ax[1:]) / 6.0)
    bend = np.divide(ay, speed**2, out=np.zeros_like(ay), where=speed > 0.0)
    return Motion(
        time=t,
        accel=np.stack([ax, ay, np.zeros_like(ax)], axis=1),
        speed=speed,
        distance=np.concatenate([[0.0], moved]),
        curvature=bend,
    )


def within_jerk(motion: Motion, jerk: float) -> Motion:
    """The motion, once its jerk is nowhere above a limit.

    Parameters
    ----------
    motion : Motion [m/s^2]
        To judge.
    jerk : float [m/s^3]
        The limit.

    Returns
    -------
    motion : Motion [m/s^2]

    Raises
    ------
    RangeError
        Names the largest jerk and the limit.
    """
    step = np.diff(motion.time)
    # Over very short steps the rounding of time and acceleration is all there is to see.
    seen = _DIGITS * (positive(jerk, "jerk limit", "m/s^3") * motion.duration + motion.size)
    if (motion.jerk * step > jerk * step * (1.0 + _ROUNDING) + seen).any():
        raise RangeError(
            f"this needs a jerk of {motion.peak_jerk:.4g} m/s^3, and the limit is {jerk:.4g}: "
            "drive it more gently, or raise the limit"
        )
    return motion
