# SPDX-License-Identifier: Apache-2.0
"""A straight-line fit that outliers hardly pull at, with the doubt it leaves."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

HUBER = 1.345
"""Residuals beyond this many standard deviations weigh less [Huber-1964]."""
TO_SIGMA = 1.0 / 0.6744897501960817
"""Median absolute deviation of a normal distribution to its standard deviation."""
LOW = 0.35
"""Corner of residuals on the low side of an upper-biased fit [common-practice]."""

PULL = 8
"""First turns in which a sample far below a plateau still pulls the surface off it."""


@dataclass(frozen=True, eq=False)
class Fit:
    """Coefficients of a robust fit."""

    coefficient: Floats
    """(m,)"""
    covariance: Floats
    """(m, m) with the correlation of neighbouring samples counted"""
    scale: float
    """One standard deviation of a sample, by the middle of sizes"""
    loss: float
    """Sum of Huber's loss, in squares of the scale it was judged with"""
    capped: float
    """Share of samples on the plateau"""


def robust_fit(
    rows: Floats,
    seen: Floats,
    *,
    top: float = np.inf,
    upper: bool = False,
    scale: float | None = None,
) -> Fit:
    """Huber's fit of seen values by iterated weights, under a plateau.

    Parameters
    ----------
    rows : (n, m) [-]
        One row of basis values a sample.
    seen : (n,) [-]
        In the order of time, for the correlation.
    top : float [-]
        The fit is never above it.
    upper : bool [-]
        Weigh low residuals less, as where dips may be among them.
    scale : float [-]
        Standard deviation to judge residuals by; None: found with the fit.

    Returns
    -------
    fit : Fit [-]

    Source
    ------
    [Huber-1964], weights as in any text on robust regression; scale by the median absolute
    deviation. Checked by tests/logs/test_pressure_model.py.
    """
    weight, sigma = np.ones(len(seen)), 1.0
    coefficient = _solved(rows, seen, weight)
    for turn in range(60):
        value = rows @ coefficient
        left = seen - np.minimum(value, top)
        sigma = scale or max(float(np.median(np.abs(left))) * TO_SIGMA, 1e-9 * np.abs(seen).max())
        size = np.abs(left) / sigma
        corner = np.where(left < 0.0, LOW, HUBER) if upper else HUBER
        weight = np.minimum(1.0, corner / np.maximum(size, 1e-12))
        flat = value > top  # the plateau has no slope; far below it pulls, until the fit is near
        weight = np.where(flat & ((turn >= PULL) | (seen > top - 3.0 * sigma)), 0.0, weight)
        before, coefficient = coefficient, _solved(rows, seen, weight)
        if turn != PULL - 1 and np.allclose(
            coefficient, before, rtol=1e-8, atol=1e-8 * np.abs(before).max()
        ):
            break
    value = rows @ coefficient
    left = seen - np.minimum(value, top)
    loss, capped = float(np.sum(_huber(left / sigma))), float(np.mean(value > top))
    return Fit(coefficient, _spread(rows, weight, left, sigma), sigma, loss, capped)


def _solved(rows: Floats, seen: Floats, weight: Floats) -> Floats:
    """By normal equations: a few columns of order one, and thirty times faster than the rows."""
    heavy = rows.T * weight
    return np.asarray(np.linalg.lstsq(heavy @ rows, heavy @ seen, rcond=1e-13)[0])


def _huber(size: Floats) -> Floats:
    small = np.minimum(np.abs(size), HUBER)
    return np.asarray(small * (np.abs(size) - 0.5 * small))


def _spread(rows: Floats, weight: Floats, left: Floats, sigma: float) -> Floats:
    """Weighted covariance; a column the samples say nothing of gets a very wide one."""
    whole = (rows * weight[:, None]).T @ rows
    ridge = 1e-9 * np.trace(whole) / len(whole) + 1e-12
    bound = np.clip(left, -3.0 * sigma, 3.0 * sigma)
    near = float(np.sum(bound[1:] * bound[:-1]) / max(float(np.sum(bound * bound)), 1e-30))
    near = min(max(near, 0.0), 0.99)
    wide = sigma**2 * (1.0 + near) / (1.0 - near)
    return np.asarray(wide * np.linalg.inv(whole + ridge * np.eye(len(whole))))
