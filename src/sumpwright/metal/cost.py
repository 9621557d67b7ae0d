# SPDX-License-Identifier: Apache-2.0
"""What parts cost together, and how many of them have no price."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Total:
    """A sum of prices, in the currency that they came in."""

    cost: float
    priced: int
    """Lines that it holds"""
    unpriced: int
    """Lines without a price: the sum lacks them"""


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
