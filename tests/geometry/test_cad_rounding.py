# SPDX-License-Identifier: Apache-2.0
"""Roundings of a box-shaped zone against closed forms, and what the kernel cannot make."""

import math

import pytest

from sumpwright.geometry.cad_measure import volume
from sumpwright.geometry.cad_rounding import CHORD, rounded
from sumpwright.geometry.cad_zone import sharp_solid
from tests.geometry.zones import zone

CORNER = 1.0 - 0.25 * math.pi  # of a square's area, outside its inscribed quarter disc


@pytest.mark.parametrize("share", [1.0, 0.5])
def test_upright_corners_lose_what_a_quarter_disc_leaves(share: float) -> None:
    form = zone(radius=0.02)
    made = rounded(sharp_solid(form), form, share)
    assert made is not None
    solid, mesh = made
    exact = (0.3 * 0.2 - 4.0 * CORNER * (0.02 * share) ** 2) * 0.1  # [closed-form]
    assert volume(solid) == pytest.approx(exact, rel=1e-9)
    assert abs(mesh.volume - exact) < CHORD * mesh.area


def test_a_zone_without_radii_stays_as_it_is() -> None:
    form = zone()
    sharp = sharp_solid(form)
    made = rounded(sharp, form, 1.0)
    assert made is not None
    assert made[0] is sharp
    assert made[1].volume == pytest.approx(0.3 * 0.2 * 0.1, rel=1e-12)


def test_corners_rounder_than_there_is_room_are_none() -> None:
    form = zone([[0, 0], [0.3, 0], [0.3, 0.06], [0, 0.06]], radius=0.04, floor_radius=0.005)
    assert rounded(sharp_solid(form), form, 1.0) is None
