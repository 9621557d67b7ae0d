# SPDX-License-Identifier: Apache-2.0
"""What a slow sensor and a slow log show of a dip.

Source: step response of a first-order system (any textbook on control; after one time constant
63.2 %, after three 95.0 %, five 99.3 %). The limits are common practice, no source.
"""

import numpy as np
import pytest
from scipy.signal import TransferFunction, step

from sumpwright.errors import RangeError
from sumpwright.logs.sensor_lag import samples_in, seen_share, slow_rate, slow_sensor


@pytest.mark.parametrize(("taus", "percent"), [(1, 63.2), (2, 86.5), (3, 95.0), (5, 99.3)])
def test_shows_the_textbook_s_share_of_a_step(taus: float, percent: float) -> None:
    # the table prints a digit behind the point
    assert 100 * seen_share(taus * 0.1, tau=0.1) == pytest.approx(percent, abs=0.05)


def test_a_dip_of_two_time_constants_shows_as_calculated_by_hand() -> None:
    # 1 - exp(-2); five digits are written
    assert 100 * seen_share(0.2, tau=0.1) == pytest.approx(86.466, abs=5e-4)


def test_agrees_with_a_library_s_step_response() -> None:
    time, shown = step(TransferFunction([1], [0.08, 1]), T=np.linspace(0.0, 0.5, 11))
    ours = [seen_share(t, tau=0.08) for t in time]
    np.testing.assert_allclose(ours, shown, atol=1e-9)  # the library's own matrix exponential


def test_a_sensor_without_lag_shows_all() -> None:
    assert seen_share(0.25, tau=0.0) == 1.0


@pytest.mark.parametrize(("rate", "samples"), [(10, 2.5), (25, 6.25), (100, 25)])
def test_counts_the_samples_in_a_quarter_of_a_second(rate: float, samples: float) -> None:
    assert samples_in(0.25, rate=rate) == samples


def test_says_when_a_log_is_too_slow_and_only_then() -> None:
    assert "2.5 samples in a dip of 0.25 s" in (slow_rate(10.0) or "")
    assert slow_rate(25.0) is None
    assert slow_rate(100.0) is None


def test_says_when_a_sensor_is_too_slow_and_only_then() -> None:
    # 1 - exp(-0.25 / 0.25) is 63 %
    assert "shows 63 % of its depth" in (slow_sensor(0.25) or "")
    assert slow_sensor(0.05) is None


@pytest.mark.parametrize("bad", [-1.0, float("nan")])
def test_refuses_times_that_are_none(bad: float) -> None:
    with pytest.raises(RangeError):
        seen_share(bad, tau=0.1)
    with pytest.raises(RangeError):
        seen_share(0.1, tau=bad)
    with pytest.raises(RangeError):
        samples_in(0.1, rate=bad)
