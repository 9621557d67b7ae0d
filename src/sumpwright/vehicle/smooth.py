# SPDX-License-Identifier: Apache-2.0
"""Smoothing that delays nothing: a Gauss filter, and a limit on how fast values may change."""

import math

import numpy as np
from numpy.typing import ArrayLike

from sumpwright.vehicle.guard import positive
from sumpwright.vehicle.motion import Floats

_FINENESS = 3.0  # nodes per sigma: straight lines between follow a swing at the cut-off within 1 %
_REACH = 4.0  # sigma to either side that the filter looks; 6e-5 of its weight lies beyond


def gauss_filtered(time: ArrayLike, values: ArrayLike, cutoff: float) -> tuple[Floats, Floats]:
    r"""Values at even times, without what swings faster than a cut-off.

    The first and last values are taken to have held before and after. Of a swing of frequency f
    there is left

    .. math:: \exp(-(2 \pi f \sigma)^2/2), \quad \sigma = \sqrt{\ln 2}/(2 \pi f_c)

    Parameters
    ----------
    time : (n,) [s]
        From 0, rising; straight lines between.
    values : (n, k) [any]
        Channels side by side.
    cutoff : float [Hz]
        f_c, at which 0.707 of a swing is left.

    Returns
    -------
    time : (m,) [s]
        From 0 to the same end, evenly.
    values : (m, k) [any]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_smooth.py.
    """
    t, v = np.asarray(time, dtype=float), np.asarray(values, dtype=float)
    sigma = math.sqrt(math.log(2.0)) / (2.0 * math.pi * positive(cutoff, "cut-off", "Hz"))
    apart = sigma / _FINENESS
    # As finely as the log itself, so that what is to be filtered off is not folded down instead.
    thin = max(1, math.floor(apart / float(np.median(np.diff(t)))))
    nodes = max(1, math.ceil(t[-1] / apart))
    fine = np.linspace(0.0, t[-1], nodes * thin + 1)
    reach = math.ceil(_REACH * sigma / fine[1])
    weight = np.exp(-0.5 * (np.arange(-reach, reach + 1) * fine[1] / sigma) ** 2)
    weight /= weight.sum()
    held = [np.pad(np.interp(fine, t, channel), reach, mode="edge") for channel in v.T]
    smooth = [np.convolve(channel, weight, mode="valid")[::thin] for channel in held]
    return fine[::thin], np.stack(smooth, axis=1)


def held_back(values: ArrayLike, most: float) -> Floats:
    """Values that change by no more than so much from row to row, and else are as they were.

    The mean of following the values forward in time and backward, each as fast as allowed: so a
    step becomes a ramp about its middle, not after it.

    Parameters
    ----------
    values : (n, k) [any]
        The change is that of the whole row, by its length.
    most : float [any]
        Largest change from row to row.

    Returns
    -------
    values : (n, k) [any]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_smooth.py.
    """
    v = np.asarray(values, dtype=float)
    if (np.linalg.norm(np.diff(v, axis=0), axis=1) <= most).all():
        return v.copy()
    return 0.5 * (_followed(v, most) + _followed(v[::-1], most)[::-1])


def _followed(values: Floats, most: float) -> Floats:
    behind = values.copy()
    for i in range(1, len(behind)):
        step = behind[i] - behind[i - 1]
        long = math.sqrt(step @ step)
        if long > most:
            behind[i] = behind[i - 1] + step * (most / long)
    return behind
