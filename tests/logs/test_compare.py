# SPDX-License-Identifier: Apache-2.0
"""Left against right, beside scipy's own test and chi-squared quantiles."""

import pytest
from scipy.stats import binomtest, chi2

from sumpwright.errors import RangeError
from sumpwright.logs.compare import chance_of_split, rate_interval


@pytest.mark.parametrize(("left", "right"), [(0, 6), (3, 3), (7, 2), (1, 40), (0, 0), (120, 90)])
@pytest.mark.parametrize("times", [(39.0, 41.0), (10.0, 80.0)])
def test_chance_is_that_of_scipys_exact_test(
    left: int, right: int, times: tuple[float, float]
) -> None:
    found = chance_of_split(left, right, left_time=times[0], right_time=times[1])
    theirs = binomtest(left, left + right, times[0] / sum(times)).pvalue if left + right else 1.0
    assert found == pytest.approx(theirs, rel=1e-9)  # log-gamma against theirs: rounding


def test_six_against_none_in_equal_time_is_two_in_sixty_four() -> None:
    assert chance_of_split(0, 6, left_time=40.0, right_time=40.0) == pytest.approx(2 / 64)


@pytest.mark.parametrize("count", [0, 1, 6, 50])
def test_interval_is_garwoods_by_chi_squared(count: int) -> None:
    low, high = rate_interval(count, 41.0)
    assert low * 41.0 == pytest.approx(chi2.ppf(0.025, 2 * count) / 2 if count else 0.0)
    assert high * 41.0 == pytest.approx(chi2.ppf(0.975, 2 * count + 2) / 2)


def test_no_event_bounds_the_rate_by_log_40() -> None:
    # exact: exp(-x) = 0.025 gives x = ln 40 = 3.689, as in Garwood's table
    assert rate_interval(0, 1.0)[1] == pytest.approx(3.688879454)


def test_refuses_no_time() -> None:
    with pytest.raises(RangeError, match="times > 0"):
        chance_of_split(1, 1, left_time=0.0, right_time=1.0)
    with pytest.raises(RangeError, match="time > 0"):
        rate_interval(1, 0.0)
