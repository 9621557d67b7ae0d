# SPDX-License-Identifier: Apache-2.0
"""Rounded corners of lines and arcs against closed forms, and against a disc rolled round."""

import math

import numpy as np
import pytest
from manifold3d import CrossSection, JoinType

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile, rounded_profile
from sumpwright.geometry.profile_round import rounded_corners

BOX = [[0.0, 0.0], [0.1, 0.0], [0.1, 0.04], [0.0, 0.04]]
FINE = 1e-7  # m, of chords


def bowed(bulge: float) -> Profile:
    """The box with its right side an arc."""
    return Profile(np.array(BOX), np.array([0.0, bulge, 0.0, 0.0]))


def test_straight_sides_are_rounded_as_ever() -> None:
    found = rounded_corners(bowed(0.0), 0.01)
    exact = rounded_profile(BOX, [0.01] * 4)
    np.testing.assert_array_equal(found.points, exact.points)
    np.testing.assert_array_equal(found.bulges, exact.bulges)


def test_a_quarter_disc_s_corners_by_closed_form() -> None:
    """[closed-form] A circle of r that touches an axis and, from within, one of R about the origin:
    its middle lies R - r from it and r off the axis."""
    big, small = 0.05, 0.01
    quarter = Profile([[0, 0], [big, 0], [0, big]], [0.0, math.tan(math.pi / 8), 0.0])
    found = rounded_corners(quarter, [0.0, small, 0.0])
    touch = math.sqrt((big - small) ** 2 - small**2)
    tip = math.atan2(small, touch)  # direction of its middle, and of where it leaves into the arc
    expected = [[0, 0], [touch, 0], [big * math.cos(tip), big * math.sin(tip)], [0, big]]
    np.testing.assert_allclose(found.points, expected, atol=1e-15)
    # it turns from straight down to the arc's own direction out, a right angle and the tip's
    turns = 4.0 * np.arctan(found.bulges)
    np.testing.assert_allclose(turns, [0, 0.5 * math.pi + tip, 0.5 * math.pi - tip, 0], atol=1e-12)


def test_arcs_that_run_on_in_their_neighbours_stay() -> None:
    slot = bowed(1.0)  # half a circle
    assert rounded_corners(slot, [0.0, 0.01, 0.01, 0.0]).area == pytest.approx(slot.area, rel=1e-12)


def rolled(profile: Profile, radius: float) -> float:
    """Area after the outline went in by a radius and out again, or the other way [m^2]: what a
    disc rolled along it leaves. [manifold3d] flat offsets, in mm, circles of 1000 sides."""
    flat = CrossSection([1e3 * profile.polygon(FINE)])
    for by in (-1e3 * radius, 1e3 * radius):
        flat = flat.offset(by, JoinType.Round, 2.0, 1000)
    return 1e-6 * float(flat.area())


@pytest.mark.parametrize("bulge", [0.4, -0.2])
def test_convex_corners_are_what_a_disc_rolled_inside_leaves(bulge: float) -> None:
    found = rounded_corners(bowed(bulge), 0.006)
    # two offsets of chords 1e-7 m off and of 1000 sides: 6 mm (pi/1000)^2 / 2 = 3e-8 m each
    assert found.area == pytest.approx(rolled(bowed(bulge), 0.006), abs=2.6e-7 * found.length)


def test_re_entrant_corners_are_what_a_disc_rolled_outside_fills() -> None:
    tongue = Profile([*BOX[:3], [0.06, 0.04], [0.04, 0.04], BOX[3]], [0, 0, 0, 0.8, 0, 0])
    found = rounded_corners(tongue, [0, 0, 0, 0.003, 0.003, 0])
    assert found.area > tongue.area
    assert found.area == pytest.approx(rolled(tongue, -0.003), abs=2.6e-7 * found.length)


def test_run_the_other_way_it_is_the_same() -> None:
    found = rounded_corners(bowed(0.4).reversed(), 0.006)
    assert -found.area == pytest.approx(rounded_corners(bowed(0.4), 0.006).area, rel=1e-12)


@pytest.mark.parametrize(
    ("radii", "words"),
    [
        ([0, 0, 0, 0.05], "corners 3 and 4 need|corners 4 and 1 need"),
        ([0, 0.03, 0, 0], "no rounding of 30 mm meets both sides of corner 2"),
        ([0, 0.022, 0.022, 0], "roundings at corners 2 and 3 need .* mm of a side of"),
    ],
)
def test_refuses_what_a_side_has_no_room_for(radii: list[float], words: str) -> None:
    with pytest.raises(RangeError, match=words):
        rounded_corners(bowed(0.4), radii)
