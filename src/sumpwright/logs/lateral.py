# SPDX-License-Identifier: Apache-2.0
"""Acceleration to the side for logs that have none, from what else was logged.

Positive to the left. Each way out comes with the sentence that says what was taken for granted.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.logs.lap import lap_acceleration, laps_of
from sumpwright.logs.log import Channel, Floats, Log

EARTH = 6_371_008.8
"""[m] mean radius; a circle of degrees on it is right to 0.6 % anywhere."""
_SMOOTH = 1.0
"""[s] over which the track is smoothed: GPS positions wander by a metre or so."""
_LEAST_SPEED = 2.0
"""[m/s] below it the direction of a GPS track is noise."""


def with_lateral(log: Log, *, radius: float | None = None) -> tuple[Log, str | None]:
    """A log with ``ay``, and the sentence that says where it is from.

    In this order: as logged; speed times yaw rate; speed and the curve of the GPS track; circle
    radius with yaw rate, speed or lap times.

    Parameters
    ----------
    log : Log [-]
        Any.
    radius : float or None [m]
        Of the circle that was driven, if one was.

    Returns
    -------
    log : Log [-]
        The same one where ``ay`` was logged or nothing helps.
    text : str or None [-]
        None where ``ay`` was logged or nothing helps.

    Raises
    ------
    RangeError
        If `radius` is not above 0.

    Source
    ------
    [ISO-4138]: speed times yaw rate, and v^2 / r, of the steady state. Checked by
    tests/logs/test_lateral.py.
    """
    if radius is not None and not radius > 0.0:
        raise RangeError(f"a circle's radius is over 0 m, got {radius} m")
    if "ay" in log:
        return log, None
    for needed, way in _WAYS:
        if all(role in log for role in needed):
            got = way(log)
            if len(got[0]) > 1:
                return _added(log, *got)
    if radius is not None:
        for role, circle in _CIRCLES:
            got = circle(log, radius) if role in log else _NOTHING
            if len(got[0]) > 1:
                return _added(log, *got)
    return log, None


def track_curve(time: Floats, latitude: Floats, longitude: Floats) -> tuple[Floats, Floats, Floats]:
    """Speed along a GPS track and its curvature, smoothed over a second.

    Parameters
    ----------
    time : (n,) [s]
        Rising strictly.
    latitude : (n,) [rad]
        North.
    longitude : (n,) [rad]
        East.

    Returns
    -------
    time : (m,) [s]
        Even steps; empty where there are too few fixes.
    speed : (m,) [m/s]
    curvature : (m,) [1/m]
        Positive to the left; 0 below 2 m/s.

    Source
    ------
    Geometry: (x' y'' - y' x'') / v^3 of a local parabola. Checked by tests/logs/test_lateral.py.
    """
    fresh = np.append(True, (np.diff(latitude) != 0.0) | (np.diff(longitude) != 0.0))
    if np.count_nonzero(fresh) < 5:  # a parabola of five points is the least that smooths
        return np.zeros(0), np.zeros(0), np.zeros(0)
    from scipy.signal import savgol_filter

    t, north, east = time[fresh], latitude[fresh], np.unwrap(longitude[fresh])
    step = float(np.median(np.diff(t)))  # loggers repeat a fix until the next one comes
    even = np.arange(t[0], t[-1], step)
    middle = float(np.mean(north))
    x = np.interp(even, t, EARTH * np.cos(middle) * (east - east[0]))
    y = np.interp(even, t, EARTH * (north - north[0]))
    width = max(5, 2 * int(0.5 * _SMOOTH / step) + 1)
    if len(even) < width:
        return np.zeros(0), np.zeros(0), np.zeros(0)
    vx, vy = (savgol_filter(a, width, 2, deriv=1, delta=step) for a in (x, y))
    ax, ay = (savgol_filter(a, width, 2, deriv=2, delta=step) for a in (x, y))
    speed = np.hypot(vx, vy)
    fast = speed > _LEAST_SPEED
    bend = np.where(fast, (vx * ay - vy * ax) / np.where(fast, speed, 1.0) ** 3, 0.0)
    return even, speed, bend


Made = tuple[Floats, Floats, str]
_NOTHING: Made = (np.zeros(0), np.zeros(0), "")


def _added(log: Log, time: Floats, value: Floats, text: str) -> tuple[Log, str | None]:
    ay = Channel("ay", "none", "m/s^2", text, time, value)
    return replace(log, channels={**log.channels, "ay": ay}), f"acceleration to the side: {text}"


def _from_yaw(log: Log) -> Made:
    time, speed, yaw = _shared(log["speed"], log["yaw_rate"])
    return time, speed * yaw, "speed times yaw rate, as if the car did not slide"


def _from_track(log: Log) -> Made:
    time, own, bend = track_curve(*_shared(log["latitude"], log["longitude"]))
    text = "speed and the curve of the GPS track, smoothed over 1 s: quick changes are rounded off"
    if "speed" not in log or not len(time):
        return time, own**2 * bend, text
    speed = log["speed"]
    inside = (time >= speed.time[0]) & (time <= speed.time[-1])
    time, bend = time[inside], bend[inside]
    return time, np.interp(time, speed.time, speed.value) ** 2 * bend, text


def _circle_yaw(log: Log, radius: float) -> Made:
    yaw = log["yaw_rate"]
    text = f"yaw rate on a circle of {radius:.4g} m radius, driven all the time"
    return yaw.time, radius * yaw.value * np.abs(yaw.value), text


def _circle_speed(log: Log, radius: float) -> Made:
    speed = log["speed"]
    return speed.time, speed.value**2 / radius, f"speed on {_to_left(radius)}"


def _circle_laps(log: Log, radius: float) -> Made:
    laps = laps_of(log)
    if not laps:
        return _NOTHING
    clock = next(log[r].time for r in ("pressure", "rpm", "lap") if r in log)
    starts = np.array([lap.start for lap in laps])
    size = np.array([lap_acceleration(lap.duration, radius=radius) for lap in laps])
    time = clock[(clock >= starts[0]) & (clock < laps[-1].end)]
    value = size[np.searchsorted(starts, time, side="right") - 1]
    return time, value, f"middle of each whole lap, by its time, on {_to_left(radius)}"


def _to_left(radius: float) -> str:
    return (
        f"a circle of {radius:.4g} m radius, driven all the time and taken to the left, "
        "because nothing in the log tells left from right"
    )


def _shared(one: Channel, other: Channel) -> tuple[Floats, Floats, Floats]:
    """Both on the times of the quicker one, where both were logged."""
    clock = one.time if one.rate >= other.rate else other.time
    if not len(one.time) or not len(other.time):
        return np.zeros(0), np.zeros(0), np.zeros(0)
    first, last = max(one.time[0], other.time[0]), min(one.time[-1], other.time[-1])
    time = clock[(clock >= first) & (clock <= last)]
    return (
        time, np.interp(time, one.time, one.value), np.interp(time, other.time, other.value),
    )  # fmt: skip


_WAYS: tuple[tuple[tuple[str, ...], Callable[[Log], Made]], ...] = (
    (("speed", "yaw_rate"), _from_yaw),
    (("latitude", "longitude"), _from_track),
)
_CIRCLES: tuple[tuple[str, Callable[[Log, float], Made]], ...] = (
    ("yaw_rate", _circle_yaw), ("speed", _circle_speed), ("lap", _circle_laps),
)  # fmt: skip
