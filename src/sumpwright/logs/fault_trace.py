# SPDX-License-Identifier: Apache-2.0
"""Faults that show in a channel's trace by itself: dropouts, spikes, values cut off."""

import numpy as np

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.log import Channel, Role
from sumpwright.logs.note import Note, equal_runs

_GAP = 5.0
"""Times the usual spacing: longer is no jitter."""
_LEAST_GAP = 0.25
"""[s] the shortest dip that matters fits in."""
_SPIKE = 8.0
"""Standard deviations of what noise does from row to row."""
_LEAST_SPIKE = 0.1
"""Of the channel's own span."""
_SPIKE_RATE = 20.0
"""[1/s]; in a slower log one row may be a true dip."""
_CUT = 5.0
"""Times as often as the values next to it."""
_ABRUPT = 0.25
"""Of the usual step from row to row, with which a value that is cut off comes to the end."""
_BOTH_ENDS: tuple[Role, ...] = ("ax", "ay", "az", "yaw_rate")
_NOT_CUT = {"pressure": 0.0, "ax": 0.3 * STANDARD_GRAVITY, "ay": 0.3 * STANDARD_GRAVITY,
            "az": 0.3 * STANDARD_GRAVITY, "yaw_rate": 0.1}  # fmt: skip
"""SI; an end of the range nearer to 0 is no end of a sensor."""


def dropout_note(channel: Channel) -> Note | None:
    """Note on times without rows, if any.

    Parameters
    ----------
    channel : Channel [-]
        Any.

    Returns
    -------
    note : Note or None [-]
        Its times are those of the longest gap.

    Source
    ------
    [common-practice]. Checked by tests/logs/test_health.py.
    """
    if len(channel.time) < 3:
        return None
    spacing = np.diff(channel.time)
    gaps = np.flatnonzero(spacing > max(_GAP * float(np.median(spacing)), _LEAST_GAP))
    if not len(gaps):
        return None
    longest = int(gaps[np.argmax(spacing[gaps])])
    start, end = float(channel.time[longest]), float(channel.time[longest + 1])
    text = (
        f"{_count(len(gaps), 'gap')} without values, {spacing[gaps].sum():.3g} s in all, the "
        f"longest {end - start:.2g} s at {start:.1f} s; look at the plug and the wire"
    )
    return Note(channel.role, "dropout", text, start, end, channel.role == "pressure")


def spike_note(channel: Channel) -> Note | None:
    """Note on single rows that leap away and back, if any.

    Parameters
    ----------
    channel : Channel [-]
        Any.

    Returns
    -------
    note : Note or None [-]
        Its times are those of the largest.

    Source
    ------
    [common-practice]. Checked by tests/logs/test_health.py.
    """
    value = channel.value
    if len(value) < 20 or channel.rate < _SPIKE_RATE:
        return None
    before, behind = value[1:-1] - value[:-2], value[1:-1] - value[2:]
    leap = np.where(before * behind > 0.0, np.minimum(np.abs(before), np.abs(behind)), 0.0)
    steps = np.abs(before)
    usual = 1.4826 * float(np.median(steps[steps > 0.0])) if steps.any() else 0.0
    low, high = np.percentile(value, [1, 99])
    spikes = np.flatnonzero(leap > max(_SPIKE * usual, _LEAST_SPIKE * float(high - low)))
    if not len(spikes):
        return None
    largest = int(spikes[np.argmax(leap[spikes])]) + 1
    text = (
        f"{_count(len(spikes), 'spike')} of a single row, the largest at "
        f"{channel.time[largest]:.2f} s; look at the plug, the earth and what runs beside the wire"
    )
    start, end = float(channel.time[largest - 1]), float(channel.time[largest + 1])
    return Note(channel.role, "spikes", text, start, end, channel.role == "pressure")


def clipped_note(channel: Channel) -> Note | None:
    """Note on values cut off at the end of a sensor's range, if any.

    Parameters
    ----------
    channel : Channel [-]
        Any; only pressure, accelerations and yaw rate are looked at.

    Returns
    -------
    note : Note or None [-]
        Its times are those of the longest stay.

    Source
    ------
    [common-practice]. Checked by tests/logs/test_health.py.
    """
    if channel.role not in _NOT_CUT or len(channel.value) < 20:
        return None
    signs = (1.0, -1.0) if channel.role in _BOTH_ENDS else (1.0,)
    notes = [_cut_off(channel, sign) for sign in signs]
    return next((note for note in notes if note is not None), None)


def _cut_off(channel: Channel, sign: float) -> Note | None:
    value = sign * channel.value
    top = float(value.max())
    first, last = equal_runs(value)
    stays = (value[first] == top) & (last - first >= 2)
    if top <= _NOT_CUT[channel.role] or not stays.any():
        return None
    levels, often = np.unique(value[value >= top - 0.1 * float(np.ptp(value))], return_counts=True)
    beside = often[-4:-1]
    rows = int(often[-1])
    if len(levels) < 2 or rows < 10 or rows < _CUT * float(beside.max()):
        return None
    entry = np.abs(np.diff(value)[first[stays & (first > 0)] - 1])
    steps = np.abs(np.diff(value))
    if len(entry) and np.median(entry) < _ABRUPT * np.median(steps[steps > 0.0]):
        return None  # it came there gently: a plateau of a smoothed channel
    longest = int(np.argmax(np.where(stays, last - first, -1)))
    start, end = float(channel.time[first[longest]]), float(channel.time[last[longest]])
    what = "the relief valve or the end" if channel.role == "pressure" else "the end"
    text = (
        f"{rows} rows at exactly the {'largest' if sign > 0.0 else 'least'} value, longest at "
        f"{start:.1f} s: {what} of the sensor's or the logger's range; what is beyond is not known"
    )
    return Note(channel.role, "clipped", text, start, end)


def _count(number: int, what: str) -> str:
    return f"1 {what}" if number == 1 else f"{number} {what}s"
