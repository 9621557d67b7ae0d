# SPDX-License-Identifier: Apache-2.0
"""A straight-line fit that outliers hardly pull at, with the doubt it leaves."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

HUBER = 1.345
"""Residuals beyond this many standard deviations weigh less [Huber-1964]."""
TO_SIGMA = 1.0 / 0.6744897501960817
"""Median absolute deviation of a normal distribution to its standard deviation."""
LOW = 0.35
"""Corner of residuals on the low side, of samples that are doubted [common-practice]."""
FAR, FAR_SHARE, TRIMS = 4.0, 0.12, 3
"""Standard deviations and share of the fit beyond which a doubted sample is left out; how often
that is asked again."""


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
    wide: float
    """Samples that say as much as one of independent ones"""


def robust_fit(
    rows: Floats,
    seen: Floats,
    *,
    worth: Floats | None = None,
    doubted: Mask | None = None,
    stiff: Floats | None = None,
    scale: float | None = None,
) -> Fit:
    """Huber's fit of seen values by iterated weights.

    Parameters
    ----------
    rows : (n, m) [-]
        One row of basis values a sample.
    seen : (n,) [-]
        In the order of time, for the correlation.
    worth : (n,) [-]
        How much each sample counts, to begin with; None: 1.
    doubted : (n,) [-]
        Samples among which dips may be: what is low of them weighs less, and what a first fit
        would call a dip is left out of the last.
    stiff : (m, m) [1 / seen^2]
        What is known of the coefficients beforehand: the inverse of their covariance.
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
    worth = np.ones(len(seen)) if worth is None else worth
    low = np.full(len(seen), HUBER) if doubted is None else np.where(doubted, LOW, HUBER)
    stiff = np.zeros((rows.shape[1], rows.shape[1])) if stiff is None else stiff
    fit = _fitted(_Data(rows, seen, low, stiff, scale), worth, None)
    if doubted is None:
        return fit
    for _ in range(TRIMS):
        value = rows @ fit.coefficient
        far = doubted & (value - seen > np.maximum(FAR * fit.scale, FAR_SHARE * np.abs(value)))
        # where most are low it is the fit that is wrong there
        among = (far * worth) @ rows / np.maximum(worth @ rows, 1e-12)
        far &= rows @ among < 0.5
        fit = _fitted(_Data(rows, seen, low, stiff, scale), np.where(far, 0.0, worth), fit)
    return fit


@dataclass(frozen=True, eq=False)
class _Data:
    rows: Floats
    seen: Floats
    low: Floats
    stiff: Floats
    scale: float | None

    @property
    def close(self) -> float:
        """When to stop; a ten-thousandth of a surface that is known to some percent is enough."""
        return 1e-4 if self.stiff.any() else 1e-8


def _fitted(d: _Data, worth: Floats, near: Fit | None) -> Fit:
    """From a fit that is near, if there is one."""
    tiny = 1e-9 * float(np.abs(d.seen).max())
    wide, sigma = (1.0, 0.0) if near is None else (near.wide, near.scale)
    first = d.stiff * 0.0 if near is None else d.stiff * (wide * sigma**2)
    coefficient = _solved(d.rows, d.seen, worth, first) if near is None else near.coefficient
    for _ in range(60):
        left = d.seen - d.rows @ coefficient
        sigma = d.scale or max(_middle(np.abs(left), worth) * TO_SIGMA, tiny)
        weight = worth * np.minimum(
            1.0, _corner(left, d.low) * sigma / np.maximum(np.abs(left), tiny)
        )
        before = coefficient
        coefficient = _solved(d.rows, d.seen, weight, d.stiff * (wide * sigma**2))
        if np.abs(coefficient - before).max() <= d.close * np.abs(before).max():
            break
    left = d.seen - d.rows @ coefficient
    loss = float(np.sum(worth * _huber(left / sigma, _corner(left, d.low))))
    wide = _widened(left, worth, sigma)
    return Fit(coefficient, _spread(d, weight, wide * sigma**2), sigma, loss, wide)


def _corner(left: Floats, low: Floats) -> Floats:
    return np.where(left < 0.0, low, HUBER)


def _middle(value: Floats, worth: Floats) -> float:
    """Weighted median; of samples that all count alike, numpy's own."""
    kept = worth > 0.0
    if not kept.any():
        return float(np.median(value))
    if np.ptp(worth[kept]) == 0.0:
        return float(np.median(value[kept]))
    order = np.argsort(value)
    sums = np.cumsum(worth[order])
    return float(value[order[np.searchsorted(sums, 0.5 * sums[-1])]])


def _solved(rows: Floats, seen: Floats, weight: Floats, stiff: Floats) -> Floats:
    """By normal equations: a few columns of order one, and thirty times faster than the rows."""
    heavy = rows.T * weight
    whole = heavy @ rows + stiff
    whole[np.diag_indices_from(whole)] += 1e-13 * np.trace(whole) / len(whole)
    return np.asarray(np.linalg.solve(whole, heavy @ seen))


def _huber(size: Floats, corner: Floats) -> Floats:
    small = np.minimum(np.abs(size), corner)
    return np.asarray(small * (np.abs(size) - 0.5 * small))


def _widened(left: Floats, worth: Floats, sigma: float) -> float:
    """How many samples say as much as one would if neighbours were independent."""
    bound = np.clip(left, -3.0 * sigma, 3.0 * sigma)[worth > 0.0]
    near = float(np.sum(bound[1:] * bound[:-1]) / max(float(np.sum(bound * bound)), 1e-30))
    near = min(max(near, 0.0), 0.99)
    return (1.0 + near) / (1.0 - near)


def _spread(d: _Data, weight: Floats, variance: float) -> Floats:
    """Covariance; a column that nothing is known of gets a very wide one."""
    whole = (d.rows * weight[:, None]).T @ d.rows + d.stiff * variance
    ridge = 1e-9 * np.trace(whole) / len(whole) + 1e-12
    return np.asarray(variance * np.linalg.inv(whole + ridge * np.eye(len(whole))))
