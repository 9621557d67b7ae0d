# SPDX-License-Identifier: Apache-2.0
"""Outlines moved in or out, against the areas that closed forms give."""

import math

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile, polygon_profile
from sumpwright.geometry.profile_inset import inset_profile

BOX = polygon_profile([[0.0, 0.0], [0.08, 0.0], [0.08, 0.05], [0.0, 0.05]])
ELL = polygon_profile(
    [[0.0, 0.0], [0.06, 0.0], [0.06, 0.02], [0.02, 0.02], [0.02, 0.06], [0.0, 0.06]]
)


def rounded(a: float, b: float, r: float) -> float:
    """Area of a box with rounded corners: exact."""
    return a * b - (4.0 - math.pi) * r * r


def test_a_rounded_box_loses_its_wall_on_every_side_and_from_its_rounding() -> None:
    inner = inset_profile(BOX, [0.008] * 4, 0.004)
    assert inner.area == pytest.approx(rounded(0.072, 0.042, 0.004), rel=1e-12)  # closed form


def test_a_rounding_smaller_than_the_wall_becomes_a_sharp_corner() -> None:
    inner = inset_profile(BOX, [0.003] * 4, 0.004)
    assert inner.area == pytest.approx(0.072 * 0.042, rel=1e-12)


def test_moved_out_it_gains_by_steiner_s_formula() -> None:
    # [closed-form] Steiner: A + L d + pi d^2 of a convex outline whose roundings grow with it
    outline = inset_profile(BOX, [0.008] * 4, 0.0)
    outer = inset_profile(BOX, [0.008] * 4, -0.003)
    expected = outline.area + outline.length * 0.003 + math.pi * 0.003**2
    assert outer.area == pytest.approx(expected, rel=1e-12)


def test_a_re_entrant_corner_s_rounding_grows() -> None:
    inner = inset_profile(ELL, [0.0, 0.0, 0.0, 0.005, 0.0, 0.0], 0.003)
    sharp = 0.054 * 0.014 + 0.014 * (0.054 - 0.014)
    gained = (1.0 - math.pi / 4.0) * 0.008**2  # an inside corner's fillet fills
    assert inner.area == pytest.approx(sharp + gained, rel=1e-12)


def test_in_and_out_again_is_the_same_outline() -> None:
    there = inset_profile(ELL, [0.004] * 6, 0.002)
    assert inset_profile(ELL, [0.004] * 6, 0.0).area > there.area
    inner = [[0.002, 0.002], [0.058, 0.002], [0.058, 0.018],
             [0.018, 0.018], [0.018, 0.058], [0.002, 0.058]]  # fmt: skip
    radii = [0.002, 0.002, 0.002, 0.006, 0.002, 0.002]
    back = inset_profile(polygon_profile(inner), radii, -0.002)
    assert back.area == pytest.approx(inset_profile(ELL, [0.004] * 6, 0.0).area, rel=1e-12)


def test_refuses_a_wall_that_uses_a_side_up() -> None:
    with pytest.raises(RangeError, match=r"side from corner \d is used up 26 mm"):
        inset_profile(BOX, [0.0] * 4, 0.026)


SLOT = Profile([[0.0, 0.0], [0.06, 0.0], [0.06, 0.04], [0.0, 0.04]], [0.0, 1.0, 0.0, 1.0])
"""Two half circles of 20 mm, 60 mm apart."""


@pytest.mark.parametrize("wall", [0.004, -0.003])
def test_a_slot_stays_one(wall: float) -> None:
    r = 0.02 - wall
    found = inset_profile(SLOT, [0.005] * 4, wall)  # its corners are smooth: nothing to round
    assert found.area == pytest.approx(math.pi * r * r + 2.0 * r * 0.06, rel=1e-12)
    assert found.length == pytest.approx(2.0 * math.pi * r + 0.12, rel=1e-12)


def test_a_rounding_beside_an_arc_loses_the_wall_too() -> None:
    # [closed-form] Steiner again: every rounding is larger than the wall, and concave is nothing
    bowed = Profile(BOX.points, np.array([0.0, 0.3, 0.0, 0.0]))
    outline = inset_profile(bowed, [0.008] * 4, 0.0)
    inner = inset_profile(bowed, [0.008] * 4, 0.003)
    expected = outline.area - outline.length * 0.003 + math.pi * 0.003**2
    assert inner.area == pytest.approx(expected, rel=1e-12)


def test_refuses_a_wall_that_uses_an_arc_up() -> None:
    with pytest.raises(RangeError, match="arc from corner 2 is used up"):
        inset_profile(SLOT, [0.0] * 4, 0.021)
