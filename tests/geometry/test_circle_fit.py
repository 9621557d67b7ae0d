# SPDX-License-Identifier: Apache-2.0
"""The circle through points: exact where they lie on one, least squares by scipy where not."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from sumpwright.errors import RangeError
from sumpwright.geometry.circle_fit import circle_fit


def arc(x: float, y: float, r: float, turn: float, n: int = 24) -> np.ndarray:
    t = np.linspace(0.2, 0.2 + turn, n, endpoint=False)
    return np.column_stack([x + r * np.cos(t), y + r * np.sin(t)])


@given(st.floats(-9, 9), st.floats(-9, 9), st.floats(0.01, 5), st.floats(0.5, 2 * math.pi))
def test_points_on_an_arc_give_its_circle(x, y, r, turn) -> None:
    found = circle_fit(arc(x, y, r, turn))
    assert (found.x, found.y, found.radius) == pytest.approx((x, y, r), abs=1e-6 * (1 + r))


@given(st.integers(0, 10_000))
def test_is_the_least_squares_circle_that_scipy_finds(seed) -> None:
    rng = np.random.default_rng(seed)
    p = arc(3.0, -2.0, 1.5, 4.0) + rng.normal(0, 0.03, (24, 2))
    oracle = least_squares(
        lambda c: np.hypot(p[:, 0] - c[0], p[:, 1] - c[1]) - c[2],
        [3, -2, 1.5],
        xtol=1e-14,
        ftol=1e-14,
    )
    found = circle_fit(p)
    assert (found.x, found.y, found.radius) == pytest.approx(oracle.x, abs=1e-6)
    assert found.rms == pytest.approx(math.sqrt(2 * oracle.cost / 24), rel=1e-6)


def test_the_standard_error_is_how_much_the_centre_scatters() -> None:
    rng, on = np.random.default_rng(3), arc(0.0, 0.0, 1.0, 2 * math.pi)
    found = [circle_fit(on + rng.normal(0, 0.02, on.shape)) for _ in range(1500)]
    seen = np.std([(c.x, c.y) for c in found])
    # the worse axis of each is a little over the mean of both
    assert np.mean([c.spread for c in found]) == pytest.approx(seen, rel=0.08)


def test_refuses_two_points_and_a_line() -> None:
    with pytest.raises(RangeError, match="at least 3 points, got 2"):
        circle_fit([[0, 0], [1, 1]])
    with pytest.raises(RangeError, match="not in line"):
        circle_fit([[0, 0], [1, 1], [2, 2], [5, 5]])
