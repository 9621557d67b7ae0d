# SPDX-License-Identifier: Apache-2.0
"""Outlines of lines and arcs: closed forms, and bulges as ezdxf reads them [DXF]."""

import math

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile, circle_profile, polygon_profile, rounded_profile

SQUARE = np.array([[0.0, 0.0], [0.1, 0.0], [0.1, 0.06], [0.0, 0.06]])


def test_a_rounded_rectangle_has_the_area_and_length_of_the_formula() -> None:
    r = 0.01
    made = rounded_profile(SQUARE, [r] * 4)
    assert made.area == pytest.approx(0.1 * 0.06 - (4.0 - math.pi) * r**2, rel=1e-12)
    assert made.length == pytest.approx(2 * 0.16 - (8.0 - 2.0 * math.pi) * r, rel=1e-12)


def test_a_circle_has_the_area_and_length_of_a_circle() -> None:
    made = circle_profile([0.3, -0.2], 0.05)
    assert made.area == pytest.approx(math.pi * 0.05**2, rel=1e-12)
    assert made.length == pytest.approx(math.pi * 0.1, rel=1e-12)


def test_run_clockwise_the_area_is_negative() -> None:
    made = rounded_profile(SQUARE, [0.01] * 4)
    assert made.reversed().area == pytest.approx(-made.area, rel=1e-12)
    assert made.mirrored().area == pytest.approx(made.area, rel=1e-12)
    assert made.moved([1.0, 2.0]).area == pytest.approx(made.area, rel=1e-9)  # 1 m off, 1e-4 m^2


def test_bulges_are_those_of_the_dxf_format() -> None:
    from ezdxf.math import bulge_center, bulge_radius

    made = Profile(np.array([[0.0, 0.0], [0.04, 0.0], [0.04, 0.03]]), np.array([0.5, -0.2, 0.0]))
    corners = made.polygon(1e-6)
    for k in (0, 1):
        a, b, bulge = made.points[k], made.ends[k], float(made.bulges[k])
        centre = np.array(bulge_center(a, b, bulge))
        radius = bulge_radius(a, b, bulge)
        start = int(np.argmin(np.linalg.norm(corners - a, axis=1)))
        end = int(np.argmin(np.linalg.norm(corners - b, axis=1)))
        arc = corners[start:end]
        assert len(arc) > 10
        np.testing.assert_allclose(np.linalg.norm(arc - centre, axis=1), radius, rtol=1e-9)


def test_a_polygon_is_no_further_from_its_arc_than_asked() -> None:
    chord = 2e-5
    made = circle_profile([0.0, 0.0], 0.05).polygon(chord)
    middles = 0.5 * (made + np.roll(made, -1, axis=0))
    assert 0.05 - np.linalg.norm(middles, axis=1).min() <= chord * (1.0 + 1e-9)
    np.testing.assert_allclose(np.linalg.norm(made, axis=1), 0.05, rtol=1e-12)


def test_straight_sides_stay_as_drawn() -> None:
    np.testing.assert_array_equal(polygon_profile(SQUARE).polygon(), SQUARE)


def test_refuses_roundings_that_need_more_of_a_side_than_there_is() -> None:
    with pytest.raises(RangeError, match=r"need 80 mm of a side of 60 mm"):
        rounded_profile(SQUARE, [0.04] * 4)


def test_refuses_a_corner_that_turns_back() -> None:
    with pytest.raises(RangeError, match="corner 2 turns back on itself"):
        rounded_profile([[0, 0], [0.1, 0], [0.05, 0], [0.05, 0.05]], [0.0] * 4)
