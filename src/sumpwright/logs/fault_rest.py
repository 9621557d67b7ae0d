# SPDX-License-Identifier: Apache-2.0
"""Faults that show when the car stands or the engine is off: what ought to read 0 then."""

import numpy as np

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.log import Channel, Log
from sumpwright.logs.note import Bools, Note, equal_runs, running, standing

_ABSOLUTE = (85_000.0, 106_000.0)
"""[Pa] of the atmosphere from the sea to 1400 m."""
_LEAST = {"pressure": 10_000.0, "ax": 0.05 * STANDARD_GRAVITY, "ay": 0.05 * STANDARD_GRAVITY,
          "yaw_rate": 0.02}  # fmt: skip
"""SI; smaller offsets change no dip."""
_RUN_DOWN = 5.0
"""[s] after the engine stops, in which pressure still falls."""
_LEAST_TIME = 0.5
"""[s] at rest, to be judged by."""


def rest_notes(log: Log, channel: Channel) -> tuple[Note, ...]:
    """Notes on what a channel reads where it ought to read 0.

    Parameters
    ----------
    log : Log [-]
        With engine speed, for pressure; with road speed, for the others.
    channel : Channel [-]
        Of that log; only pressure, accelerations and yaw rate are looked at.

    Returns
    -------
    notes : tuple of Note [-]
        ``offset`` of the first rest, ``drift`` from the first to the last.

    Source
    ------
    [common-practice]. Checked by tests/logs/test_health.py.
    """
    limit = _LEAST.get(channel.role)
    rest = _at_rest(log, channel) if limit is not None else None
    if limit is None or rest is None:
        return ()
    rests = _rests(channel, rest)
    if not rests:
        return ()
    notes = [_offset(channel, *rests[0], limit)]
    if len(rests) > 1:
        notes.append(_drift(channel, rests[0], rests[-1], limit))
    return tuple(note for note in notes if note is not None)


def _at_rest(log: Log, channel: Channel) -> Bools | None:
    time = channel.time
    if channel.role != "pressure":
        return standing(log, time)
    on = running(log, time)
    if on is None or not len(time):
        return None
    ran = np.maximum.accumulate(np.where(on, time, -np.inf))
    return ~on & (time - ran > _RUN_DOWN)


def _rests(channel: Channel, rest: Bools) -> list[tuple[float, float, float]]:
    """Start, end and middle value of each rest that lasts."""
    first, last = equal_runs(rest.astype(np.float64))
    keep = rest[first] & (channel.time[last] - channel.time[first] >= _LEAST_TIME)
    rows = list(zip(first[keep], last[keep] + 1, strict=True))
    ends = rows if len(rows) < 2 else [rows[0], rows[-1]]
    return [
        (float(channel.time[a]), float(channel.time[b - 1]), float(np.median(channel.value[a:b])))
        for a, b in ends
    ]


def _offset(channel: Channel, start: float, end: float, reads: float, limit: float) -> Note | None:
    if abs(reads) < limit:
        return None
    when = "with the engine off" if channel.role == "pressure" else "with the car standing"
    text = f"reads {_shown(channel, reads)} {when}, at {start:.1f} s: {_mend(channel, reads)}"
    return Note(channel.role, "offset", text, start, end, channel.role == "pressure")


def _drift(
    channel: Channel,
    early: tuple[float, float, float],
    late: tuple[float, float, float],
    limit: float,
) -> Note | None:
    change = late[2] - early[2]
    if abs(change) < limit:
        return None
    text = (
        f"what it reads at rest goes from {_shown(channel, early[2])} at {early[0]:.1f} s to "
        f"{_shown(channel, late[2])} at {late[0]:.1f} s: a sensor or a supply that warms up; "
        "see to it before small differences are believed"
    )
    return Note(channel.role, "drift", text, early[0], late[1], channel.role == "pressure")


def _mend(channel: Channel, reads: float) -> str:
    if channel.role == "pressure":
        if _ABSOLUTE[0] <= reads <= _ABSOLUTE[1]:
            return "about the atmosphere, so the sensor is an absolute one; take that off"
        return "it ought to read 0; set the sensor's zero, or take that off"
    if channel.role == "yaw_rate":
        return "it ought to read 0; set the sensor's zero"
    return "the logger is not level, or the ground is not; level it and set its zero"


def _shown(channel: Channel, value: float) -> str:
    if channel.role == "pressure":
        return f"{value / 1e3:.0f} kPa"
    if channel.role == "yaw_rate":
        return f"{np.degrees(value):.1f} deg/s"
    return f"{value / STANDARD_GRAVITY:.2f} g"
