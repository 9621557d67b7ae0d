# SPDX-License-Identifier: Apache-2.0
"""Where a row is first lost: against closed forms and scipy's bracketing root finder."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sumpwright.studies.first_loss import NARROW, first_loss

SIZES = np.linspace(0.0, 1.6, 33)
WIDTH = NARROW * 0.05
Function = Callable[[np.ndarray], np.ndarray]


def lost_at(*rows: Function) -> tuple[np.ndarray, np.ndarray, int]:
    """Limits and flags of functions of size, and how many values were asked for."""
    asked = 0

    def spare(k: np.ndarray, size: np.ndarray) -> np.ndarray:
        nonlocal asked
        asked += len(k)
        return np.array([float(rows[i](np.array(s))) for i, s in zip(k, size, strict=True)])

    grid = np.array([[float(f(np.array(s))) for s in SIZES] for f in rows])
    limit, held = first_loss(spare, SIZES, grid)
    return limit, held, asked


@pytest.mark.parametrize(
    "function",
    [
        lambda a: 0.712 - a,
        lambda a: np.cos(a) - 0.3,
        lambda a: np.exp(-9.0 * a) - 1e-3,
        lambda a: np.where(a < 0.7113, 1e-6, -1.0),  # a step: nothing to interpolate
        lambda a: np.cbrt(0.333 - a),
    ],
)
def test_a_limit_is_the_root_from_its_held_side(function: Function) -> None:
    limit, held, asked = lost_at(function)
    root = float(brentq(lambda a: float(function(np.array(a))), 0.0, 1.6, xtol=1e-13))
    assert not held[0]
    assert root - WIDTH <= limit[0] <= root + 1e-12
    assert asked <= 2 + 16  # halving alone needs 14 from 0.05 g, plus one, plus the two ends


def test_a_smooth_loss_takes_a_handful_of_values() -> None:
    *_, asked = lost_at(lambda a: np.cos(a) - 0.3)
    assert asked <= 8


def test_held_to_the_end_and_lost_at_rest_need_no_search() -> None:
    limit, held, asked = lost_at(lambda a: 2.0 - a, lambda a: -1.0 + 0.0 * a)
    assert limit.tolist() == [1.6, 0.0]
    assert held.tolist() == [True, False]
    assert asked <= 2 * 11  # the first row's end is its lowest, and looked at once more


def test_a_dip_between_two_sizes_is_found() -> None:
    # |a - 0.774| - 0.008: 0.016 g wide, and covered at 0.75 and at 0.80
    limit, held, _ = lost_at(lambda a: abs(a - 0.774) - 0.008)
    assert not held[0]
    assert limit[0] == pytest.approx(0.766, abs=WIDTH)


def test_the_first_of_two_dips_counts() -> None:
    limit, *_ = lost_at(lambda a: np.minimum(abs(a - 0.374), abs(a - 0.974)) - 0.008)
    assert limit[0] == pytest.approx(0.366, abs=WIDTH)


def test_a_dip_before_the_grid_shows_a_loss_comes_first() -> None:
    limit, *_ = lost_at(lambda a: np.minimum(abs(a - 0.374) - 0.008, 1.2 - a))
    assert limit[0] == pytest.approx(0.366, abs=WIDTH)


def test_a_dip_within_the_last_step_is_found() -> None:
    limit, held, _ = lost_at(lambda a: abs(a - 1.58) - 0.004)
    assert not held[0]
    assert limit[0] == pytest.approx(1.576, abs=WIDTH)


def test_a_dip_that_stays_covered_is_held() -> None:
    limit, held, _ = lost_at(lambda a: abs(a - 0.774) + 1e-4)
    assert held[0]
    assert limit[0] == 1.6


@given(st.integers(0, 2**31), st.floats(0.02, 1.58), st.floats(0.2, 5.0))
def test_rows_do_not_disturb_each_other(seed: int, root: float, power: float) -> None:
    rng = np.random.default_rng(seed)
    others: list[Function] = [lambda a, r=r: r - a for r in rng.uniform(0.0, 2.0, 5)]
    mine: Function = lambda a: np.sign(root - a) * abs(root - a) ** power  # noqa: E731
    limit, *_ = lost_at(others[0], mine, *others[1:])
    assert root - WIDTH <= limit[1] <= root + 1e-12
