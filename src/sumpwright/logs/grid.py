# SPDX-License-Identifier: Apache-2.0
"""Channels of a log at other times: what is faster than the new clock is averaged away."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError

Floats = NDArray[np.float64]

LONGEST_GAP = 1.0
"""s; over a longer gap nothing is made up, unless a channel is always as slow; [common-practice]"""
SPACINGS = 3.0
"""Of a channel's own: a gap is longer than so many."""


def gap_of(time: Floats) -> float:
    """Longest spacing of a channel that is no gap.

    Parameters
    ----------
    time : (k,) [s]
        Of its samples, rising.

    Returns
    -------
    gap : float [s]
    """
    if len(time) < 2:
        return LONGEST_GAP
    return max(LONGEST_GAP, SPACINGS * float(np.median(np.diff(time))))


def resampled(time: Floats, value: Floats, at: Floats, *, gap: float) -> Floats:
    """A channel at other times; where those are wider apart, its mean around each.

    Straight between samples. The mean is over one spacing of the new clock, exact for the
    straight lines, so that what swings faster does not come back as something slow.

    Parameters
    ----------
    time : (k,) [s]
        Rising.
    value : (k,) [any]
    at : (n,) [s]
        Rising.
    gap : float [s]
        Over a longer spacing nothing is made up.

    Returns
    -------
    found : (n,) [any]
        nan before the first sample, after the last, and in gaps.

    Raises
    ------
    RangeError
        Without samples.

    Source
    ------
    [closed-form]. Checked by tests/logs/test_grid.py.
    """
    if not len(time):
        raise RangeError("a channel without samples cannot be put on another clock")
    found = np.interp(at, time, value, left=np.nan, right=np.nan)
    if len(time) < 2:
        return np.asarray(found)
    wide = float(np.median(np.diff(at))) if len(at) > 1 else 0.0
    if wide > 1.5 * (time[-1] - time[0]) / (len(time) - 1):
        found = np.where(np.isfinite(found), _mean(time, value, at, wide), np.nan)
    after = np.clip(np.searchsorted(time, at, side="left"), 1, len(time) - 1)
    apart = time[after] - time[after - 1]
    exact = (at == time[after]) | (at == time[after - 1])
    return np.asarray(np.where((apart > gap) & ~exact, np.nan, found))


def _mean(time: Floats, value: Floats, at: Floats, wide: float) -> Floats:
    """Mean of the straight lines over `wide` around each time, less of it at the ends."""
    steps = np.diff(time)
    whole = np.concatenate([[0.0], np.cumsum(0.5 * (value[1:] + value[:-1]) * steps)])

    def area(t: Floats) -> Floats:
        k = np.clip(np.searchsorted(time, t, side="right") - 1, 0, len(steps) - 1)
        here = t - time[k]
        slope = (value[k + 1] - value[k]) / steps[k]
        return np.asarray(whole[k] + here * (value[k] + 0.5 * slope * here))

    low, high = (np.clip(at + s * 0.5 * wide, time[0], time[-1]) for s in (-1.0, 1.0))
    width = np.maximum(high - low, 1e-12)
    return np.asarray((area(high) - area(low)) / width)
