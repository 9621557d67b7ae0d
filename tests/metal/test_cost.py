# SPDX-License-Identifier: Apache-2.0
"""Sums of prices that tell what they lack."""

import pytest

from sumpwright.errors import RangeError
from sumpwright.metal.cost import run_cost, total_cost


def test_counts_what_has_a_price_and_what_has_none() -> None:
    total = total_cost([(2, 10.0), (1, None), (3, 1.5)])
    assert (total.cost, total.priced, total.unpriced) == (24.5, 2, 1)


def test_a_length_costs_its_time() -> None:
    # 900 mm at 15 mm in a minute is an hour
    assert run_cost(0.9, 0.015 / 60.0, 48.0) == pytest.approx(48.0, rel=1e-12)
    assert run_cost(0.0, 0.015 / 60.0, 48.0) == 0.0


def test_refuses_work_that_gets_nowhere() -> None:
    with pytest.raises(RangeError, match="over zero, got 0 m/s"):
        run_cost(0.9, 0.0, 48.0)
