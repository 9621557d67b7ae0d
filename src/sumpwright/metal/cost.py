# SPDX-License-Identifier: Apache-2.0
"""What parts cost together, and how many of them have no price."""

from collections.abc import Iterable
from dataclasses import dataclass

from sumpwright.errors import RangeError


@dataclass(frozen=True)
class Total:
    """A sum of prices, in the currency that they came in."""

    cost: float
    priced: int
    """Lines that it holds"""
    unpriced: int
    """Lines without a price: the sum lacks them"""


def run_cost(length: float, rate: float, hour: float) -> float:
    r"""What a length that is worked at a steady rate costs: a weld, a cut.

    .. math:: C = L / v \cdot c / 3600\,s

    Parameters
    ----------
    length : float [m]
        L, worked.
    rate : float [m/s]
        v, done in a second, with all that belongs to it.
    hour : float [-]
        c, price of an hour, in the job's currency.

    Returns
    -------
    cost : float [-]
        In that currency.

    Raises
    ------
    RangeError
        Where the rate is not over zero.

    Source
    ------
    [closed-form]
    """
    if not rate > 0.0:
        raise RangeError(f"a rate of work is over zero, got {rate:.3g} m/s")
    return length / rate / 3600.0 * hour


def total_cost(lines: Iterable[tuple[int, float | None]]) -> Total:
    """Sum over lines of count times cost of one, and what it lacks.

    Parameters
    ----------
    lines : (n,) of (int, float or None) [-]
        Count, and cost of one in the job's currency; None where there is no price.

    Returns
    -------
    total : Total [-]

    Source
    ------
    [closed-form]
    """
    cost, priced, unpriced = 0.0, 0, 0
    for count, one in lines:
        if one is None:
            unpriced += 1
        else:
            cost, priced = cost + count * one, priced + 1
    return Total(cost, priced, unpriced)
