# SPDX-License-Identifier: Apache-2.0
"""Rims of pickups: closed forms of circles and polygons."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.errors import InputError
from sumpwright.geometry.rim import Rim
from tests.geometry.bodies import random_rotation, random_up

DOWN = (0.0, 0.0, -1.0)
SQUARE = np.array([[0.0, 0.0, 0.0], [0.04, 0.0, 0.0], [0.04, 0.03, 0.0], [0.0, 0.03, 0.0]])


def test_a_level_circle_is_as_high_as_its_centre() -> None:
    rim = Rim.circle((0.1, 0.0, -0.09), DOWN, radius=0.02)
    np.testing.assert_allclose(rim.highest_height([[0, 0, 1.0]]), [-0.09], rtol=1e-15)


def test_a_tilted_circle_rises_by_radius_times_sine() -> None:
    # 45 degrees of tilt is 1 g: the rim's high side stands r sin 45 over the centre
    rim = Rim.circle((0.0, 0.0, 0.0), DOWN, radius=0.02)
    up = [0.0, np.sin(np.pi / 4), np.cos(np.pi / 4)]
    expected = 0.02 * np.sqrt(0.5)
    np.testing.assert_allclose(rim.highest_height([up]), [expected], rtol=1e-14)  # rounding


def test_keeps_its_digits_at_a_micro_radian_of_tilt() -> None:
    # sqrt(1 - (n.a)^2) would give 2e-8 x (1 +- 1e-4) here
    up = [0.0, np.sin(1e-6), np.cos(1e-6)]
    height = Rim.circle((0, 0, 0), DOWN, radius=0.02).highest_height([up])
    np.testing.assert_allclose(height, [0.02 * np.sin(1e-6)], rtol=1e-9)  # of a 1e-6 difference


def test_a_circle_is_never_below_its_own_points() -> None:
    rng = np.random.default_rng(3)
    rim = Rim.circle(rng.normal(size=3), random_up(rng), radius=0.03)
    ups = np.stack([random_up(rng) for _ in range(50)])
    sampled = (ups @ rim.points(3600).T).max(axis=1)
    exact = rim.highest_height(ups)
    assert (exact >= sampled - 1e-15).all()
    chord = 0.03 * (1 - np.cos(np.pi / 3600))  # the true top lies at most half a step away
    np.testing.assert_allclose(exact, sampled, rtol=0, atol=chord + 1e-15)


def test_area_and_diameter_of_circle_and_rectangle() -> None:
    rim = Rim.circle((1.0, 2.0, 3.0), (0, 0, -5.0), radius=0.02)
    assert rim.area == pytest.approx(np.pi * 4e-4, rel=1e-15)
    assert rim.equivalent_diameter == pytest.approx(0.04, rel=1e-15)
    mouth = Rim.polygon(SQUARE)
    assert mouth.area == pytest.approx(12e-4, rel=1e-14)
    assert mouth.equivalent_diameter == pytest.approx(np.sqrt(4 * 12e-4 / np.pi), rel=1e-14)
    np.testing.assert_allclose(mouth.centre, [0.02, 0.015, 0.0], atol=1e-16)
    np.testing.assert_allclose(mouth.axis, [0.0, 0.0, 1.0], atol=1e-16)


def test_highest_of_a_polygon_is_its_highest_corner() -> None:
    ups = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
    np.testing.assert_array_equal(Rim.polygon(SQUARE).highest_height(ups), [0.04, 0.03, 0.0])


def test_points_lie_evenly_on_a_polygon() -> None:
    points = Rim.polygon(SQUARE).points(14)  # 140 mm round: a point every 10 mm
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    np.testing.assert_allclose(steps, 0.01, rtol=1e-12)
    assert points[4].tolist() == pytest.approx([0.04, 0.0, 0.0])


@given(st.integers(0, 10_000))
@settings(max_examples=50, deadline=None)
def test_turning_rim_and_up_together_changes_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    turn, up = random_rotation(rng), random_up(rng)
    centre, axis = rng.normal(size=3), random_up(rng)
    here = Rim.circle(centre, axis, radius=0.02).highest_height(up)
    there = Rim.circle(turn @ centre, turn @ axis, radius=0.02).highest_height(turn @ up)
    np.testing.assert_allclose(there, here, rtol=0, atol=1e-14)  # rounding of metres


@pytest.mark.parametrize(
    "points",
    [[[0, 0, 0], [1, 0, 0], [2, 0, 0]], [[0, 0, 0], [1, 0, 0]], [[0, 0, 0], [np.nan, 0, 0]] * 2],
)
def test_refuses_points_that_enclose_nothing(points: list[list[float]]) -> None:
    with pytest.raises(InputError, match="GEO-250"):
        Rim.polygon(points)


def test_refuses_a_circle_without_radius_or_axis() -> None:
    with pytest.raises(InputError, match="GEO-250"):
        Rim.circle((0, 0, 0), DOWN, radius=0.0)
    with pytest.raises(InputError, match="GEO-250"):
        Rim.circle((0, 0, 0), (0, 0, 0), radius=0.02)
