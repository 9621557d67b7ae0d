# SPDX-License-Identifier: Apache-2.0
"""Sides moved by their own distances: Steiner's formula, and outlines that cross."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.geometry.outline_side import crossing, distance_to, moved_sides
from sumpwright.geometry.profile import Profile, circle_profile, polygon_profile, rounded_profile

SQUARE = polygon_profile([[0.0, 0.0], [0.1, 0.0], [0.1, 0.06], [0.0, 0.06]])


def test_each_side_goes_by_its_own_distance() -> None:
    made = moved_sides(SQUARE, [0.01, 0.02, 0.0, -0.01])
    expected = [[0.01, -0.01], [0.12, -0.01], [0.12, 0.06], [0.01, 0.06]]
    np.testing.assert_allclose(made.points, expected, atol=1e-15)


def test_a_circle_grows_about_its_centre() -> None:
    made = moved_sides(circle_profile([0.2, 0.1], 0.05), 0.01)
    assert made.area == pytest.approx(math.pi * 0.06**2, rel=1e-9)


@given(st.floats(-0.008, 0.03))
def test_a_rounded_outline_grows_as_steiner_says(out: float) -> None:
    plan = rounded_profile(SQUARE.points, [0.01] * 4)
    made = moved_sides(plan, out)
    # area + length d + pi d^2: Steiner's formula for a convex body, from memory
    assert made.area == pytest.approx(plan.area + plan.length * out + math.pi * out**2, rel=1e-9)


def test_a_hollow_arc_shrinks_as_its_side_moves_out() -> None:
    notch = Profile(SQUARE.points, np.array([0.0, 0.0, -0.5, 0.0]))
    made = moved_sides(notch, 0.003)
    # its circle: radius 62.5 mm about (50, 97.5) mm; a sharp corner runs on along both its sides
    down = math.sqrt(0.0595**2 - 0.053**2)
    np.testing.assert_allclose(made.points[2], [0.103, 0.0975 - down], atol=1e-15)
    np.testing.assert_allclose(made.points[3], [-0.003, 0.0975 - down], atol=1e-15)
    assert made.bulges[2] == pytest.approx(-math.tan(0.5 * math.asin(0.053 / 0.0595)), rel=1e-9)


def test_refuses_a_side_that_is_used_up() -> None:
    with pytest.raises(RangeError, match="the side from corner 2 is used up"):
        moved_sides(SQUARE, [-0.031, 0.0, -0.031, 0.0])


def test_refuses_a_straight_run_that_leans_apart() -> None:
    run = polygon_profile([[0, 0], [0.05, 0], [0.1, 0], [0.1, 0.06], [0, 0.06]])
    assert len(moved_sides(run, 0.01).points) == 5
    with pytest.raises(RangeError, match="corner 2 run on straight and lean apart"):
        moved_sides(run, [0.01, 0.02, 0.0, 0.0, 0.0])


def test_says_where_an_outline_crosses_itself() -> None:
    bow = polygon_profile([[0, 0], [0.1, 0.1], [0.1, 0], [0, 0.1]])
    np.testing.assert_allclose(crossing(bow), [0.05, 0.05], atol=1e-12)


def test_an_outline_that_touches_itself_crosses() -> None:
    pinched = polygon_profile([[0, 0], [0.1, 0], [0.05, 0.05], [0.1, 0.1], [0, 0.1], [0.05, 0.05]])
    np.testing.assert_allclose(crossing(pinched), [0.05, 0.05], atol=1e-12)


def test_a_simple_outline_does_not_cross() -> None:
    assert crossing(SQUARE) is None
    assert crossing(circle_profile([0, 0], 0.1)) is None


def test_distance_is_negative_outside() -> None:
    assert distance_to(SQUARE, [0.02, 0.03]) == pytest.approx(0.02, rel=1e-12)
    assert distance_to(SQUARE, [-0.03, -0.04]) == pytest.approx(-0.05, rel=1e-12)
