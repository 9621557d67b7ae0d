# SPDX-License-Identifier: Apache-2.0
"""Laps of a circle: from the heading, from the lap channel, and what a lap's time says."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.logs.log import Floats, Log

FULL_TURN = 2.0 * math.pi
_TURNING_POINT = 0.1
"""[s] to which turning points of the heading are sought; the yaw rate is near 0 there."""
_LOOK = 1.5
"""[s] ahead and behind, in which a car that goes straight hardly turns."""
_SLOWEST_TURN = 0.02
"""[rad/s]: 20 m/s on a circle of 1 km radius; a gauge's offset is less."""
_STRAIGHT = 0.1
"""[rad] turned before the first lap is begun, so that a straight ahead of it is not in its time."""


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

    Where the car changes side or goes straight, a lap begun is given up and counting starts again.

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
    for first, last in _one_way(t, angle):
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
    return tuple(Lap(float(a), float(b)) for a, b in pairwise(t[at]))


def laps_of(log: Log) -> tuple[Lap, ...]:
    """A log's whole laps: by lap number where there are any, else by heading.

    Parameters
    ----------
    log : Log [-]
        Any.

    Returns
    -------
    laps : tuple of Lap [s]
    """
    numbered = laps_by_number(log["lap"].time, log["lap"].value) if "lap" in log else ()
    if numbered or "yaw_rate" not in log:
        return numbered
    return laps_by_heading(log["yaw_rate"].time, log["yaw_rate"].value)


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


def _one_way(time: Floats, angle: Floats) -> list[tuple[int, int]]:
    """First and last row of each stretch in which the car turns one way, straights left out."""
    step = float(np.median(np.diff(time)))
    rows = np.append(
        np.arange(0, len(angle) - 1, max(1, int(_TURNING_POINT / step))), len(angle) - 1
    )
    coarse = angle[rows]
    near = max(1, round(_LOOK / (step * (rows[1] - rows[0]))))
    place = np.arange(len(rows))
    ahead = np.abs(coarse[np.minimum(place + near, len(rows) - 1)] - coarse)
    behind = np.abs(coarse - coarse[np.maximum(place - near, 0)])
    turns = np.maximum(ahead, behind) > _LOOK * _SLOWEST_TURN
    edges = np.flatnonzero(np.diff(np.concatenate(([0], turns.astype(np.int64), [0]))))
    found: list[tuple[int, int]] = []
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        if abs(np.ptp(coarse[first:last])) >= FULL_TURN - _STRAIGHT:
            found += pairwise(_turning_points(rows[first:last], coarse[first:last]))
    return found


def _turning_points(rows: NDArray[np.int64], angle: Floats) -> list[int]:
    """Rows where the heading turns back by half a turn or more, with both ends."""
    steps = np.sign(np.diff(angle))
    moving = np.flatnonzero(steps)
    changes = moving[1:][np.diff(steps[moving]) != 0.0]
    kept = [0]
    for place in [*changes.tolist(), len(angle) - 1]:
        step = angle[place] - angle[kept[-1]]
        if len(kept) > 1 and step * (angle[kept[-1]] - angle[kept[-2]]) >= 0.0:
            kept[-1] = place  # goes on the same way
        elif abs(step) >= math.pi or len(kept) == 1:
            kept.append(place)
    return [int(row) for row in rows[kept]]


def _full_turns(time: Floats, angle: Floats) -> list[Lap]:
    way = 1.0 if angle[-1] >= angle[0] else -1.0
    turned = np.maximum.accumulate(way * (angle - angle[0]))
    last = int(np.argmax(turned))
    rising = np.append(np.diff(turned[: last + 1]) > 0.0, True)
    count = int(turned[-1] / FULL_TURN + 1e-9)  # a whole number of turns, but for rounding
    begin = min(max(float(turned[-1]) - count * FULL_TURN, 0.0), _STRAIGHT)
    marks = begin + np.arange(count + 1) * FULL_TURN
    at = np.interp(marks, turned[: last + 1][rising], time[: last + 1][rising])
    turn: Literal["left", "right"] = "left" if way > 0.0 else "right"
    return [Lap(float(a), float(b), turn) for a, b in pairwise(at)]
