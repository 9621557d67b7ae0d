# SPDX-License-Identifier: Apache-2.0
"""first_order against scipy.signal.lfilter and the step response in closed form."""

import numpy as np
import pytest
from scipy.signal import lfilter

from sumpwright.logs.first_order import first_order


@pytest.mark.parametrize("size", [1, 2, 63, 1000])
@pytest.mark.parametrize("keep", [0.0, 0.3, 0.99])
def test_is_scipys_filter(size, keep) -> None:
    value = np.random.default_rng(size).normal(size=size)
    want, _ = lfilter([1.0 - keep], [1.0, -keep], value, zi=[keep * 0.7])
    # rounding of a sum of terms of order one
    np.testing.assert_allclose(first_order(value, keep, 0.7), want, atol=1e-13)


def test_a_step_comes_in_as_one_less_an_exponential() -> None:
    step, lag = 0.01, 0.08
    late = first_order(np.ones(200), float(np.exp(-step / lag)), 0.0)
    time = step * np.arange(1, 201)
    np.testing.assert_allclose(late, 1.0 - np.exp(-time / lag), rtol=1e-12)
