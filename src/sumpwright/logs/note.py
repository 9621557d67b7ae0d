# SPDX-License-Identifier: Apache-2.0
"""A note on a sensor or the way it was logged, and what several looks at it share."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.log import Channel, Floats, Log, Role

NoteKind = Literal["dropout", "stuck", "clipped", "spikes", "drift", "offset", "slow", "rate"]
Bools = NDArray[np.bool_]
RUNNING = 300.0 * np.pi / 30.0
"""[rad/s] [common-practice]: slower than any engine idles."""
STANDING = 0.5
"""[m/s]"""


@dataclass(frozen=True)
class Note:
    """Something wrong with a sensor or the way it was logged."""

    channel: Role
    kind: NoteKind
    text: str
    """One sentence: what was found, and what to do"""
    start: float | None = None
    """[s]"""
    end: float | None = None
    """[s]"""
    matters: bool = False
    """Dips that count can have been missed or made up because of it"""


def equal_runs(value: Floats) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First and last row of each run of exactly equal values.

    Parameters
    ----------
    value : (n,) [-]
        Any.

    Returns
    -------
    first : (m,) [-]
    last : (m,) [-]
    """
    if not len(value):
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    changes = np.flatnonzero(np.diff(value)) + 1
    return np.append(0, changes), np.append(changes - 1, len(value) - 1)


def nearest(channel: Channel, time: Floats) -> Floats:
    """Value of a channel that was logged last at each time; the first before that.

    Parameters
    ----------
    channel : Channel [-]
        With one row or more.
    time : (k,) [s]
        Rising or not.

    Returns
    -------
    value : (k,) [SI of the channel]
    """
    at = np.searchsorted(channel.time, time, side="right") - 1
    return channel.value[np.maximum(at, 0)]


def running(log: Log, time: Floats) -> Bools | None:
    """Where the engine turns; None where no engine speed was logged.

    Parameters
    ----------
    log : Log [-]
        Any.
    time : (k,) [s]
        Rising.

    Returns
    -------
    on : (k,) or None [-]
    """
    if "rpm" not in log or not len(log["rpm"].time):
        return None
    return np.asarray(nearest(log["rpm"], time) > RUNNING)


def standing(log: Log, time: Floats) -> Bools | None:
    """Where the car stands; None where no road speed was logged.

    Parameters
    ----------
    log : Log [-]
        Any.
    time : (k,) [s]
        Rising.

    Returns
    -------
    still : (k,) or None [-]
    """
    if "speed" not in log or not len(log["speed"].time):
        return None
    return np.asarray(nearest(log["speed"], time) < STANDING)
