# SPDX-License-Identifier: Apache-2.0
"""A surface of straight pieces: exact where it is straight, stiff against bends alone.

Source: [Eilers-1996], penalties on differences of the second order, zero for straight lines.
"""

import numpy as np
import pytest

from sumpwright.logs.surface import Surface, surface_of

SURFACE = Surface(np.array([0.0, 1.0, 2.0, 3.0]), np.array([10.0, 20.0, 30.0]))
KNOTS = np.array([(x, y) for y in SURFACE.warmth for x in SURFACE.speed])


def test_gives_back_a_twisted_plane_between_and_beyond_the_knots() -> None:
    # bilinear: a + b x + c y + d x y is its own interpolation, exactly
    def plane(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return 1.0 + 2.0 * x - 0.3 * y + 0.05 * x * y

    x, y = np.array([0.3, 2.9, 4.5, -1.0]), np.array([12.0, 29.0, 41.0, 3.0])
    np.testing.assert_allclose(SURFACE.rows(x, y) @ plane(*KNOTS.T), plane(x, y), rtol=1e-12)


def test_a_twisted_plane_does_not_bend_and_a_square_bends_by_two() -> None:
    x, y = KNOTS.T
    assert x * y @ SURFACE.bending() @ (x * y) == pytest.approx(0.0, abs=1e-9)
    # the second difference of k^2 is 2: two inner knots in each of three rows
    assert x**2 @ SURFACE.bending() @ x**2 == pytest.approx(3 * 2 * 2.0**2)


def test_one_value_of_warmth_is_no_axis() -> None:
    flat = surface_of(np.linspace(0.0, 100.0, 50), np.full(50, np.nan), apart=25.0, warm_apart=1.0)
    assert flat.rows(np.array([50.0]), np.array([np.nan])).shape == (1, 5)
