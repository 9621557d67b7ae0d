# SPDX-License-Identifier: Apache-2.0
"""The filter against its transfer function and a reference library; the limit against geometry."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.ndimage import gaussian_filter1d

from sumpwright.errors import RangeError
from sumpwright.vehicle.smooth import gauss_filtered, held_back


def swing(frequency: float, rate: float, duration: float = 20.0) -> tuple[np.ndarray, np.ndarray]:
    time = np.arange(0.0, duration + 0.5 / rate, 1.0 / rate)
    return time, np.cos(2.0 * math.pi * frequency * time)[:, None]


@pytest.mark.parametrize("frequency", [0.5, 1.0, 2.0, 5.0, 8.0])
def test_leaves_of_a_swing_what_the_transfer_function_says(frequency: float) -> None:
    time, smooth = gauss_filtered(*swing(frequency, 1000.0), 5.0)
    left = math.exp(-0.5 * math.log(2.0) * (frequency / 5.0) ** 2)
    middle = (time > 1.0) & (time < 19.0)  # away from the held ends
    expected = left * np.cos(2.0 * math.pi * frequency * time)
    # in phase all along; straight lines between rows at 1 kHz and the filter's cut tails
    np.testing.assert_allclose(smooth[middle, 0], expected[middle], atol=2e-4)


def test_half_power_is_left_at_the_cut_off() -> None:
    time, smooth = gauss_filtered(*swing(5.0, 1000.0), 5.0)
    middle = (time > 1.0) & (time < 19.0)
    power = 2.0 * float(np.mean(smooth[middle, 0] ** 2))
    assert power == pytest.approx(0.5, abs=0.005)  # mean over 18 s of unevenly caught waves


def test_agrees_with_a_reference_library() -> None:
    rate, cutoff = 200.0, 2.0
    sigma = math.sqrt(math.log(2.0)) / (2.0 * math.pi * cutoff)
    noise = np.random.default_rng(7).normal(size=2001)
    time, smooth = gauss_filtered(np.arange(2001) / rate, noise[:, None], cutoff)
    peer = gaussian_filter1d(noise, sigma * rate, mode="nearest", truncate=4.0)
    # resampled by straight lines at almost its own rows: what noise of size 1 then loses
    assert np.abs(np.interp(time, np.arange(2001) / rate, peer) - smooth[:, 0]).max() < 0.02


@given(st.floats(-5.0, 5.0), st.floats(0.2, 20.0))
def test_leaves_what_does_not_change_alone(level: float, cutoff: float) -> None:
    time, smooth = gauss_filtered([0.0, 0.3, 1.0, 4.0], np.full((4, 2), level), cutoff)
    np.testing.assert_allclose(smooth, level, atol=1e-12)  # rounding
    assert (time[0], time[-1]) == (0.0, 4.0)


def test_fast_shaking_of_a_fast_log_is_taken_off_not_folded_down() -> None:
    _, smooth = gauss_filtered(*swing(113.2, 1000.0), 5.0)  # close to the output's own rate
    assert np.abs(smooth[200:-200]).max() < 1e-3  # the filter's cut tails


@given(arrays(float, (12, 3), elements=st.floats(-10.0, 10.0)), st.floats(0.1, 30.0))
def test_no_row_changes_by_more_than_allowed(values: np.ndarray, most: float) -> None:
    held = held_back(values, most)
    assert np.linalg.norm(np.diff(held, axis=0), axis=1).max() <= most * (1.0 + 1e-12)  # rounding
    if np.linalg.norm(np.diff(values, axis=0), axis=1).max() <= most:
        np.testing.assert_array_equal(held, values)


@given(arrays(float, (12, 2), elements=st.floats(-10.0, 10.0)), st.floats(0.1, 30.0))
def test_time_backward_or_left_for_right_makes_no_difference(
    values: np.ndarray, most: float
) -> None:
    held = held_back(values, most)
    np.testing.assert_allclose(held_back(values[::-1], most)[::-1], held, atol=1e-12)  # rounding
    flipped = np.array([1.0, -1.0])
    np.testing.assert_allclose(held_back(values * flipped, most) * flipped, held, atol=1e-12)


def test_a_step_becomes_a_ramp_about_its_middle() -> None:
    step = np.repeat([[0.0], [4.0]], 10, axis=0)
    held = held_back(step, 1.0)[:, 0]
    # Forward it climbs 1 a row after row 9, backward it falls 1 a row before row 10: half of each
    np.testing.assert_allclose(held[5:15], [0, 0, 0.5, 1.0, 1.5, 2.5, 3.0, 3.5, 4, 4], atol=1e-12)


def test_refuses_a_cut_off_of_nothing() -> None:
    with pytest.raises(RangeError, match="cut-off must be above 0 Hz"):
        gauss_filtered([0.0, 1.0], [[0.0], [0.0]], 0.0)
