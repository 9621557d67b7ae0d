# SPDX-License-Identifier: Apache-2.0
"""Left against right, beside scipy's own test and chi-squared quantiles."""

import numpy as np
import pytest
from scipy.stats import binomtest, chi2

from sumpwright.errors import RangeError
from sumpwright.logs.compare import chance_of_split, rate_by_corner


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
    low, high = rate_by_corner((1,) * count, 41.0)
    assert low * 41.0 == pytest.approx(chi2.ppf(0.025, 2 * count) / 2 if count else 0.0)
    assert high * 41.0 == pytest.approx(chi2.ppf(0.975, 2 * count + 2) / 2)


def test_no_event_bounds_the_rate_by_log_40() -> None:
    # exact: exp(-x) = 0.025 gives x = ln 40 = 3.689, as in Garwood's table
    assert rate_by_corner((), 1.0)[1] == pytest.approx(3.688879454)


def test_dips_that_always_come_in_threes_are_three_times_as_wide() -> None:
    # [Fay-1997]: a weight that all share only scales the limits
    assert rate_by_corner((3, 3, 3, 3), 41.0) == pytest.approx(
        tuple(3.0 * x for x in rate_by_corner((1,) * 4, 41.0))
    )


def test_interval_of_corners_holds_the_rate_as_often_as_it_says() -> None:
    rng = np.random.default_rng(4)  # corners by chance, one to four dips in each
    held, tries, true = 0, 2000, 6.0 * 2.5
    for _ in range(tries):
        low, high = rate_by_corner(rng.integers(1, 5, rng.poisson(6.0)).tolist(), 1.0)
        held += low <= true <= high
    assert held / tries > 0.95 - 3.0 * (0.95 * 0.05 / tries) ** 0.5  # three of its own deviations


def test_refuses_no_time() -> None:
    with pytest.raises(RangeError, match="times > 0"):
        chance_of_split(1, 1, left_time=0.0, right_time=1.0)
    with pytest.raises(RangeError, match="time > 0"):
        rate_by_corner((1,), 0.0)
    with pytest.raises(RangeError, match="dips >= 1"):
        rate_by_corner((2, 0), 1.0)
