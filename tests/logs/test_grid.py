# SPDX-License-Identifier: Apache-2.0
"""Resampling beside numpy, scipy's quadrature, and what a mean must take away."""

import numpy as np
import pytest
from scipy.integrate import quad

from sumpwright.errors import RangeError
from sumpwright.logs.grid import gap_of, resampled


def test_onto_a_finer_clock_is_numpys_interpolation() -> None:
    time = np.arange(0.0, 10.0, 0.1)
    value, at = np.sin(time), np.arange(0.0, 9.8, 0.013)
    found = resampled(time, value, at, gap=0.5)
    np.testing.assert_array_equal(found, np.interp(at, time, value))


def test_onto_a_coarser_clock_is_the_mean_by_scipys_quadrature() -> None:
    rng = np.random.default_rng(4)
    time = np.cumsum(rng.uniform(0.008, 0.012, 300))
    value, at = rng.normal(size=300), np.arange(0.5, 2.0, 0.1)
    found = resampled(time, value, at, gap=0.5)
    for t, v in zip(at, found, strict=True):
        inner = time[(time > t - 0.05) & (time < t + 0.05)]
        want = quad(lambda s: np.interp(s, time, value), t - 0.05, t + 0.05, points=inner)[0] / 0.1
        assert v == pytest.approx(want, abs=1e-7)  # the quadrature's own error


def test_a_hum_too_fast_for_the_new_clock_does_not_come_back_slow() -> None:
    time = np.arange(0.0, 20.0, 0.001)
    hum, at = np.sin(2 * np.pi * 49.0 * time), np.arange(1.0, 19.0, 0.1)
    bare = np.interp(at, time, hum)
    assert np.abs(bare).max() > 0.9
    assert np.abs(resampled(time, hum, at, gap=0.5)).max() < 0.07  # 1 / (pi 49 0.1), the sinc


def test_gaps_and_ends_stay_empty() -> None:
    time = np.array([0.0, 0.1, 0.2, 3.0, 3.1])
    found = resampled(time, time, np.array([-0.1, 0.15, 1.0, 3.0, 3.05, 3.2]), gap=gap_of(time))
    np.testing.assert_allclose(found, [np.nan, 0.15, np.nan, 3.0, 3.05, np.nan])


def test_refuses_a_channel_without_samples() -> None:
    with pytest.raises(RangeError, match="samples"):
        resampled(np.array([]), np.array([]), np.array([0.0]), gap=1.0)
