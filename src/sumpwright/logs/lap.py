# SPDX-License-Identifier: Apache-2.0
"""Laps of a circle: from the heading, from the lap channel, and what a lap's time says."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.logs.log import Floats, Log

FULL_TURN = 2.0 * math.pi


@dataclass(frozen=True)
class Lap:
    """Once round."""

    start: float
    """[s]"""
    end: float
    """[s]"""
    turn: Literal["left", "right", ""] = ""
    """Empty where only a lap number was logged"""

    @property
    def duration(self) -> float:
        """[s]."""
        return self.end - self.start


def heading(time: ArrayLike, yaw_rate: ArrayLike) -> Floats:
    """Angle turned since the first row, to the left.

    Parameters
    ----------
    time : (n,) [s]
        Rising strictly.
    yaw_rate : (n,) [rad/s]
        Positive to the left.

    Returns
    -------
    angle : (n,) [rad]
        By the trapezoidal rule, 0 at the first row.
    """
    t, w = np.asarray(time, dtype=float), np.asarray(yaw_rate, dtype=float)
    steps = 0.5 * (w[1:] + w[:-1]) * np.diff(t)
    return np.concatenate(([0.0], np.cumsum(steps)))


def laps_by_heading(time: ArrayLike, yaw_rate: ArrayLike) -> tuple[Lap, ...]:
    """Full turns one after another, each with the way it went.

    Where the car changes side a lap begun is given up: counting starts again from the farthest
    point of the heading.

    Parameters
    ----------
    time : (n,) [s]
        Rising strictly.
    yaw_rate : (n,) [rad/s]
        Positive to the left.

    Returns
    -------
    laps : tuple of Lap [s]

    Source
    ------
    Geometry: a lap turns the car through 2 pi. Checked by tests/logs/test_lap.py.
    """
    t, w = np.asarray(time, dtype=float), np.asarray(yaw_rate, dtype=float)
    if len(t) < 2:
        return ()
    angle = heading(t, w)
    laps: list[Lap] = []
    for first, last in _one_way(angle):
        laps += _full_turns(t[first : last + 1], angle[first : last + 1])
    return tuple(laps)


def laps_by_number(time: ArrayLike, number: ArrayLike) -> tuple[Lap, ...]:
    """Whole laps of a lap channel; the first and the last, begun before or cut off, are left out.

    Parameters
    ----------
    time : (n,) [s]
        Rising strictly.
    number : (n,) [-]
        Of the lap; a lap starts where it changes.

    Returns
    -------
    laps : tuple of Lap [s]
    """
    t = np.asarray(time, dtype=float)
    at = np.flatnonzero(np.diff(np.asarray(number, dtype=float))) + 1
    return tuple(Lap(float(a), float(b)) for a, b in zip(t[at][:-1], t[at][1:], strict=True))


def laps_of(log: Log) -> tuple[Lap, ...]:
    """A log's whole laps: by heading where yaw rate was logged, else by lap number.

    Parameters
    ----------
    log : Log [-]
        Any.

    Returns
    -------
    laps : tuple of Lap [s]
    """
    if "yaw_rate" in log:
        return laps_by_heading(log["yaw_rate"].time, log["yaw_rate"].value)
    if "lap" in log:
        return laps_by_number(log["lap"].time, log["lap"].value)
    return ()


def lap_acceleration(duration: float, *, radius: float) -> float:
    """Acceleration to the side of a circle that is driven evenly.

    Parameters
    ----------
    duration : float [s]
        Of a lap.
    radius : float [m]
        Of the path of the car's middle.

    Returns
    -------
    a : float [m/s^2]
        (2 pi / duration)^2 radius.

    Raises
    ------
    RangeError
        If either is not above 0.

    Source
    ------
    [ISO-4138], v^2 / r of the steady circle. Checked by tests/logs/test_lap.py.
    """
    if not (duration > 0.0 and radius > 0.0):
        raise RangeError(f"a lap needs a time and a radius over 0, got {duration} s, {radius} m")
    return (FULL_TURN / duration) ** 2 * radius


def _one_way(angle: Floats) -> list[tuple[int, int]]:
    """Rows between turning points of the heading that lie half a turn or more apart."""
    steps = np.sign(np.diff(angle)).astype(np.int64)
    moving = np.flatnonzero(steps)
    if not len(moving):
        return []
    changes: NDArray[np.int64] = moving[1:][np.diff(steps[moving]) != 0]
    corners = [0, *changes.tolist(), len(angle) - 1]
    kept = [corners[0]]
    for place in corners[1:]:
        if (
            len(kept) > 1
            and (angle[place] - angle[kept[-1]]) * (angle[kept[-1]] - angle[kept[-2]]) >= 0.0
        ):
            kept[-1] = place  # goes on the same way
        elif abs(angle[place] - angle[kept[-1]]) >= math.pi or len(kept) == 1:
            kept.append(place)
    return list(zip(kept[:-1], kept[1:], strict=True))


def _full_turns(time: Floats, angle: Floats) -> list[Lap]:
    way = 1.0 if angle[-1] >= angle[0] else -1.0
    turned = np.maximum.accumulate(way * (angle - angle[0]))
    rising = np.concatenate(([True], np.diff(turned) > 0.0))
    count = int(turned[-1] / FULL_TURN + 1e-9)  # a whole number of turns, but for rounding
    marks = np.interp(np.arange(count + 1) * FULL_TURN, turned[rising], time[rising])
    turn: Literal["left", "right"] = "left" if way > 0.0 else "right"
    return [Lap(float(a), float(b), turn) for a, b in zip(marks[:-1], marks[1:], strict=True)]
