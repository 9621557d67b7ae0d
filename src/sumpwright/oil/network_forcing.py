# SPDX-License-Identifier: Apache-2.0
"""What drives a network over time, and the times where a step in time must end."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.network_array import Forcing
from sumpwright.oil.table import not_negative

Floats = NDArray[np.float64]

SLOPE_CHANGE = 15.0
"""m/s^3; a change of the force's slope by this ends a step: half a quick driver's jerk."""


def forcing_of(
    time: ArrayLike, force: ArrayLike, flow: ArrayLike = 0.0, rate: ArrayLike = 0.0
) -> Forcing:
    """What drives a network, with the times where a step must end.

    Parameters
    ----------
    time : (t,) [s]
        Rising, at least two.
    force : (t, 3) [m/s^2]
        Specific force, against effective gravity, in the pan's frame; nowhere zero.
    flow : (t,) or float [m^3/s]
        That the pump draws.
    rate : (t,) or float [1/s]
        At which oil up in the engine comes home.

    Returns
    -------
    forcing : Forcing [SI]

    Raises
    ------
    RangeError
        If time does not rise, or the force vanishes.
    """
    t, f = np.array(time, dtype=float), np.array(force, dtype=float)
    if len(t) < 2 or not (np.diff(t) > 0.0).all() or f.shape != (len(t), 3):
        raise RangeError("a forcing needs rising times, at least 2, and a force (x, y, z) at each")
    if not (np.linalg.norm(f, axis=1) > 1e-3).all():
        raise RangeError("effective gravity vanishes on the way: the oil would float")
    q = np.broadcast_to(not_negative(flow, "flow", "m^3/s"), t.shape).copy()
    home = np.broadcast_to(not_negative(rate, "rate of return", "1/s"), t.shape).copy()
    scale = max(float(q.max()), 1e-12) / 10.0, max(float(home.max()), 1e-12) / 10.0
    channels = np.column_stack([f, q / scale[0] * 3.0, home / scale[1] * 3.0])
    return Forcing(t, f, q, home, _corners(t, channels))


def _corners(time: Floats, channels: Floats) -> Floats:
    """Inner nodes where the slopes have changed enough since the last one."""
    slope = np.diff(channels, axis=0) / np.diff(time)[:, None]
    change = np.abs(np.diff(slope, axis=0)).max(axis=1, initial=0.0)
    passed = np.floor(np.cumsum(change) / SLOPE_CHANGE)
    big = (np.diff(passed, prepend=0.0) > 0.0) | (change > 0.5 * SLOPE_CHANGE)
    return np.asarray(time[1:-1][big])
