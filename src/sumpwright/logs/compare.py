# SPDX-License-Identifier: Apache-2.0
"""Left against right: how often dips came each way, and whether the difference can be chance.

Dips of one corner are not independent of one another. So the chance is asked of corners that have
dips, and the interval of a rate counts each corner as one event of as many dips as it had.
"""

from collections.abc import Sequence

import numpy as np

from sumpwright.errors import RangeError

TIE = 1e-7
"""Relative: outcomes as likely as the one seen count as equal despite rounding."""


def rate_by_corner(dips: Sequence[int], time: float, *, level: float = 0.95) -> tuple[float, float]:
    """Lowest and highest rate of dips that come in corners, several in some of them.

    Parameters
    ----------
    dips : sequence of int [-]
        In each corner that had some; 1 or more.
    time : float [s]
    level : float [-]
        Share of such intervals that hold the true rate, about.

    Returns
    -------
    low, high : float [1/s]

    Raises
    ------
    RangeError
        If a count is below 1, the time not above 0 or the level not between 0 and 1.

    Source
    ------
    [Fay-1997]: limits of a weighted sum of Poisson counts by gamma distributions. With one dip a
    corner it is [Garwood-1936]. Checked by tests/logs/test_compare.py.
    """
    from scipy.special import gammaincinv

    if min(dips, default=1) < 1 or not time > 0.0 or not 0.0 < level < 1.0:
        raise RangeError(f"needs dips >= 1, time > 0, level in 0..1; got {dips}, {time}, {level}")
    tail, most = 0.5 * (1.0 - level), max(dips, default=1)
    mean, spread = float(sum(dips)), float(sum(k * k for k in dips))
    low = spread / mean * float(gammaincinv(mean**2 / spread, tail)) if dips else 0.0
    mean, spread = mean + most, spread + most**2
    return low / time, spread / mean * float(gammaincinv(mean**2 / spread, 1.0 - tail)) / time


def chance_of_split(left: int, right: int, *, left_time: float, right_time: float) -> float:
    """Chance of a split at least as unlikely as this one if both sides had the same rate.

    Parameters
    ----------
    left : int [-]
        Corners to the left that had dips.
    right : int [-]
        The same to the right.
    left_time : float [s]
        Judged turning left.
    right_time : float [s]
        Judged turning right.

    Returns
    -------
    chance : float [-]
        Two-sided; 1 where there were no dips.

    Raises
    ------
    RangeError
        If a count is negative or a time not above 0.

    Source
    ------
    [Przyborowski-1940]: given the sum, one of two Poisson counts is binomial with its share of the
    time. Checked by tests/logs/test_compare.py.
    """
    from scipy.special import gammaln

    if min(left, right) < 0 or not (left_time > 0.0 and right_time > 0.0):
        raise RangeError(
            f"needs counts >= 0 and times > 0 s, got {left}, {right}, {left_time}, {right_time}"
        )
    n, share = left + right, left_time / (left_time + right_time)
    k = np.arange(n + 1.0)
    ways = gammaln(n + 1.0) - gammaln(k + 1.0) - gammaln(n - k + 1.0)
    each = np.exp(ways + k * np.log(share) + (n - k) * np.log1p(-share))
    return min(1.0, float(each[each <= each[left] * (1.0 + TIE)].sum()))
