# SPDX-License-Identifier: Apache-2.0
"""A zone's numbers: the wall round it, and what is wrong with them, in words."""

import math

import numpy as np
import pytest

from sumpwright.geometry.zone import Slope
from tests.geometry.zones import zone


def test_the_wall_is_square_to_a_leaning_side_and_a_sloping_floor() -> None:
    well = zone(lean=math.radians(30.0), floor=Slope(-0.05, 0.75, 0.0), radius=0.01)
    grown = well.grown(0.003, 0.004)
    out = grown.outline.points[:, 0].min() - well.outline.points[:, 0].min()
    assert out * math.cos(math.radians(30.0)) == pytest.approx(-0.003, rel=1e-9)
    assert (well.floor.height - grown.floor.height) / 1.25 == pytest.approx(0.004, rel=1e-9)
    np.testing.assert_allclose(grown.radii, 0.013, rtol=1e-12)


def test_a_wall_takes_from_a_corner_that_points_inward() -> None:
    corners = [[0, 0], [0.3, 0], [0.3, 0.1], [0.1, 0.1], [0.1, 0.2], [0, 0.2]]
    grown = zone(corners, radius=0.01).grown(0.003, 0.003)
    np.testing.assert_allclose(grown.radii, [0.013, 0.013, 0.013, 0.007, 0.013, 0.013], rtol=1e-12)


@pytest.mark.parametrize(
    ("flawed", "kind", "found"),
    [
        (
            zone([[0, 0], [0.3, 0.2], [0.3, 0], [0, 0.2]]),
            "crossing",
            "an outline that crosses itself at x 150.0 mm, y 100.0 mm",
        ),
        (
            zone(floor=Slope(-0.1, 0.5)),
            "floor",
            "a floor 50.0 mm over the rail at x 300.0 mm, y 0.0 mm",
        ),
        (
            zone(roof=Slope(-0.11)),
            "floor",
            "a floor 10.0 mm over the roof at x 0.0 mm, y 0.0 mm",
        ),
        (
            zone(floor=Slope(-0.01), floor_radius=0.012),
            "radius",
            "a floor radius of 12 mm, and a height of 10.0 mm at x 0.0 mm, y 0.0 mm",
        ),
        (
            zone(radius=0.11),
            "radius",
            "the roundings at corners 2 and 3 need 220 mm of a side of 200 mm, "
            "-0.0 mm below the rail",
        ),
        (
            zone(lean=math.radians(50.0)),
            "lean",
            "sides that lean in until the side from corner 2 is used up, 100.0 mm below the rail",
        ),
    ],
)
def test_says_what_is_wrong(flawed: object, kind: str, found: str) -> None:
    flaw = flawed.flaw()
    assert (flaw.kind, flaw.found) == (kind, found.replace("-0.0 mm", "0.0 mm"))


def test_sound_numbers_have_no_flaw() -> None:
    assert zone(radius=0.01, floor_radius=0.01, lean=0.1, floor=Slope(-0.1, 0.1)).flaw() is None
