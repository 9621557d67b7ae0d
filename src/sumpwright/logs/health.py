# SPDX-License-Identifier: Apache-2.0
"""What is wrong with the sensors of a log and the way they were logged."""

import numpy as np

from sumpwright.logs.fault_rest import rest_notes
from sumpwright.logs.fault_trace import clipped_note, dropout_note, spike_note
from sumpwright.logs.log import Channel, Log, Role
from sumpwright.logs.note import RUNNING, Note, equal_runs
from sumpwright.logs.sensor_fit import time_constant
from sumpwright.logs.sensor_lag import SLOWEST_SENSOR, slow_rate, slow_sensor

_STUCK = 2.0
"""[s] [common-practice]: no live sensor shows exactly one value for so long in a moving car."""
_STUCK_OVER = 10.0
"""Times the usual stay on one value, for sensors with coarse steps."""
_LIVELY = 1.2
"""Largest over least of what ought to have moved the reading."""
_MOVING = 5.0
"""[m/s]"""
_TURNS: dict[Role, float] = {"ay": 2.0, "yaw_rate": 0.15}
"""[m/s^2] and [rad/s] from 5 % to 95 % of a stay: the car turned in it."""
_LONG_STRAIGHT = 20.0
"""[s]; where nothing else tells of turns, a coarse sensor may read 0 on a straight."""
_LEAST_RATE: dict[Role, tuple[float, str]] = {
    "rpm": (10.0, "a change of gear can then look like a dip; log it 10 times a second or more"),
    "ay": (5.0, "quick changes of side are rounded off; log it 5 times a second or more"),
}
"""[1/s] [common-practice]."""


def sensor_notes(log: Log) -> tuple[Note, ...]:
    """Everything found wrong with a log's sensors, those first that matter to dips.

    Parameters
    ----------
    log : Log [-]
        Any.

    Returns
    -------
    notes : tuple of Note [-]

    Source
    ------
    [common-practice] for the limits. Checked by tests/logs/test_health.py.
    """
    channels = [c for c in log.channels.values() if len(c.time)]
    if log.typed:
        return tuple(_typed(c) for c in channels if c.role == "pressure")
    found: list[Note | None] = []
    for channel in channels:
        found += [
            dropout_note(channel), stuck_note(log, channel), clipped_note(channel),
            spike_note(channel), *rest_notes(log, channel), rate_note(channel),
        ]  # fmt: skip
    found.append(_slow(log))
    notes = [note for note in found if note is not None]
    return tuple(sorted(notes, key=lambda note: not note.matters))


def stuck_note(log: Log, channel: Channel) -> Note | None:
    """Note on a reading that stays while what moves it goes on, if any.

    Parameters
    ----------
    log : Log [-]
        With engine speed or road speed, to know by that the car was at work.
    channel : Channel [-]
        Of that log.

    Returns
    -------
    note : Note or None [-]
        Its times are those of the longest stay.
    """
    if channel.role not in ("pressure", "rpm", "ax", "ay", "speed", "yaw_rate"):
        return None
    first, last = equal_runs(channel.value)
    stays = channel.time[last] - channel.time[first]
    usual = float(np.median(stays)) if len(stays) > 1 else 0.0
    spans = [
        (float(channel.time[first[i]]), float(channel.time[last[i]]))
        for i in np.flatnonzero(stays >= max(_STUCK, _STUCK_OVER * usual))
        if _ought_to_move(log, channel, int(first[i]), int(last[i]))
    ]
    if not spans:
        return None
    start, end = max(spans, key=lambda span: span[1] - span[0])
    total = sum(b - a for a, b in spans)
    text = (
        f"stays on exactly one value for {end - start:.1f} s at {start:.1f} s while the car is at "
        f"work ({total:.1f} s in all); look at the sensor, the plug and the logger's input"
    )
    matters = channel.role in ("pressure", "rpm")
    return Note(channel.role, "stuck", text, start, end, matters)


def rate_note(channel: Channel) -> Note | None:
    """Note on a channel that was logged too seldom, if it was.

    Parameters
    ----------
    channel : Channel [-]
        Any; only pressure, engine speed and acceleration to the side are looked at.

    Returns
    -------
    note : Note or None [-]
    """
    rate = fresh_rate(channel)
    if rate <= 0.0:
        return None
    if channel.role == "pressure":
        text = slow_rate(rate)
        return None if text is None else Note("pressure", "rate", text, matters=True)
    least, why = _LEAST_RATE.get(channel.role, (0.0, ""))
    if rate >= 0.98 * least:  # a logger's clock is not exact
        return None
    text = f"logged {rate:.3g} times a second: {why}"
    return Note(channel.role, "rate", text, matters=channel.role == "rpm")


def fresh_rate(channel: Channel) -> float:
    """New values a second; less than rows where a logger repeats each value until the next.

    Parameters
    ----------
    channel : Channel [-]
        Any.

    Returns
    -------
    rate : float [1/s]
        0 with fewer than two rows.
    """
    first, last = equal_runs(channel.value)
    if len(first) < 20:
        return channel.rate
    rows = last - first + 1
    if np.quantile(rows, 0.1) < 2.0:  # single rows are common: nothing is repeated
        return channel.rate
    return channel.rate / float(np.median(rows))


def _ought_to_move(log: Log, channel: Channel, first: int, last: int) -> bool:
    start, end = float(channel.time[first]), float(channel.time[last])
    value = float(channel.value[first])
    if channel.role == "rpm":
        works = value > RUNNING or float(channel.value.max()) <= RUNNING  # never turned: dead
        return works and _ratio(log, "speed", start, end, _MOVING) > _LIVELY
    engine = _ratio(log, "rpm", start, end, RUNNING)
    if channel.role == "pressure":
        top = float(channel.value.max())
        at_relief = value >= 0.95 * top > float(channel.value.min())
        return engine > _LIVELY and not at_relief  # the relief valve holds it, or it is clipped
    if channel.role == "speed":
        return value > _MOVING and engine > _LIVELY
    if channel.role == "ax":
        return _ratio(log, "speed", start, end, _MOVING) > _LIVELY
    other: Role = "yaw_rate" if channel.role == "ay" else "ay"
    if other in log:
        return _spread(log[other], start, end) > _TURNS[other]
    moves = _ratio(log, "speed", start, end, _MOVING) >= 1.0
    return moves and end - start >= _LONG_STRAIGHT


def _ratio(log: Log, role: Role, start: float, end: float, least: float) -> float:
    """Largest over least value between two times, of those over `least`; 0 where they are few."""
    if role not in log:
        return 0.0
    channel = log[role]
    a, b = np.searchsorted(channel.time, [start, end])
    value = channel.value[a : b + 1]
    value = value[value > least]
    if len(value) < max(2.0, _STUCK * channel.rate):
        return 0.0
    return float(value.max() / value.min())


def _spread(channel: Channel, start: float, end: float) -> float:
    a, b = np.searchsorted(channel.time, [start, end])
    value = channel.value[a : b + 1]
    return float(np.ptp(np.percentile(value, [5, 95]))) if len(value) else 0.0


def _slow(log: Log) -> Note | None:
    tau = time_constant(log, at_least=SLOWEST_SENSOR)
    text = slow_sensor(tau) if tau is not None else None
    return None if text is None else Note("pressure", "slow", text, matters=True)


def _typed(channel: Channel) -> Note:
    spacing = 1.0 / channel.rate if channel.rate else 0.0
    apart = f"{spacing:.3g} s apart" if spacing else "a single one"
    text = f"readings typed by hand, {apart}: dips between them were not seen; log pressure"
    return Note(channel.role, "rate", text, matters=True)
