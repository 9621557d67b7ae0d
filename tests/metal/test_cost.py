# SPDX-License-Identifier: Apache-2.0
"""Sums of prices that tell what they lack."""

from sumpwright.metal.cost import total_cost


def test_counts_what_has_a_price_and_what_has_none() -> None:
    total = total_cost([(2, 10.0), (1, None), (3, 1.5)])
    assert (total.cost, total.priced, total.unpriced) == (24.5, 2, 1)
