# SPDX-License-Identifier: Apache-2.0
"""Which samples of a log say what pressure should be."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.note import RUNNING, equal_runs

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

GENTLE = 0.25 * STANDARD_GRAVITY
"""[m/s^2] below which oil stays where it is [common-practice]."""
SETTLING = 0.5
"""[s] on both sides of a gentle part that are not learnt from [common-practice]."""
PRIMING = 2.0
"""[s] after a start in which pressure builds up [common-practice]."""
STUCK, LIVELY = 2.0, 1.2
"""[s] on one value, while engine speed goes by this ratio: the sensor's [common-practice]."""


def gentle(ax: Floats, ay: Floats, step: float) -> Mask:
    """Where no push has moved oil for a moment; all where none is logged.

    Parameters
    ----------
    ax : (n,) [m/s^2]
        nan where not logged.
    ay : (n,) [m/s^2]
        The same.
    step : float [s]

    Returns
    -------
    gentle : (n,) [-]
    """
    from scipy.ndimage import maximum_filter1d

    push = np.fmax(np.abs(np.nan_to_num(ax)), np.abs(np.nan_to_num(ay)))
    wide = 2 * round(SETTLING / step) + 1 if step > 0.0 else 1
    return np.asarray(maximum_filter1d(push, wide) < GENTLE)


def pumping(time: Floats, pressure: Floats, speed: Floats) -> Mask:
    """Where the engine has turned for a while and the reading is alive.

    Parameters
    ----------
    time : (n,) [s]
        Rising.
    pressure : (n,) [Pa]
    speed : (n,) [rad/s]
        Both nan where not logged.

    Returns
    -------
    pumping : (n,) [-]
    """
    on = speed > RUNNING
    off = np.maximum.accumulate(np.where(on, -np.inf, time))
    some = pressure > 0.02 * np.nanmax(pressure) if np.isfinite(pressure).any() else on
    return np.asarray(on & (time - off > PRIMING) & some & ~_frozen(time, pressure, speed))


def _frozen(time: Floats, pressure: Floats, speed: Floats) -> Mask:
    """On one value below its largest for long, while the engine's speed went up and down."""
    first, last = equal_runs(pressure)
    top = 0.95 * float(np.nanmax(pressure)) if np.isfinite(pressure).any() else 0.0
    found = np.zeros(len(time), dtype=bool)
    long = (time[last] - time[first] >= STUCK) & (pressure[first] < top)
    for a, b in zip(first[long], last[long], strict=True):
        turned = speed[a : b + 1][speed[a : b + 1] > RUNNING]
        if len(turned) and turned.max() > LIVELY * turned.min():
            found[a : b + 1] = True
    return found
