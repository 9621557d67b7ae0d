# SPDX-License-Identifier: Apache-2.0
"""One level in all compartments: exact for boxes, and the whole body's own level for any cut."""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.level import level_body, levels_of
from sumpwright.oil.settle import settled_volumes
from tests.geometry.bodies import box

UP = np.array([0.0, 0.0, 1.0])
TILTED = np.array([0.3, -0.4, 0.8660254037844386])


def two() -> list:
    return [
        level_body(box((0, 0, 0), (0.1, 0.2, 0.1))),
        level_body(box((0.1, 0, 0.02), (0.4, 0.2, 0.1))),
    ]


def test_two_boxes_share_by_their_floors() -> None:
    # floors 0.02 m2 at 0 and 0.06 m2 at 20 mm; level 50 mm holds 1.0 L and 1.8 L
    np.testing.assert_allclose(settled_volumes(two(), UP, 2.8e-3), [1.0e-3, 1.8e-3], rtol=1e-12)


def test_the_lower_one_fills_first() -> None:
    np.testing.assert_allclose(settled_volumes(two(), UP, 0.3e-3), [0.3e-3, 0.0], atol=1e-18)


@pytest.mark.parametrize("up", [UP, TILTED / np.linalg.norm(TILTED)])
def test_halves_of_a_box_stand_as_the_whole_box_does(up: np.ndarray) -> None:
    whole = level_body(box((0, 0, 0), (0.4, 0.2, 0.1)))
    halves = [
        level_body(box((0, 0, 0), (0.1, 0.2, 0.1))),
        level_body(box((0.1, 0, 0), (0.4, 0.2, 0.1))),
    ]
    volumes = settled_volumes(halves, up, 3e-3)
    heights = [levels_of(b, up, v).height[0] for b, v in zip(halves, volumes, strict=True)]
    np.testing.assert_allclose(heights, levels_of(whole, up, 3e-3).height[0], atol=1e-12)


def test_adds_up_even_on_a_flat_floor_and_when_full() -> None:
    for volume in (0.0, 1e-9, 6.8e-3):
        assert settled_volumes(two(), UP, volume).sum() == pytest.approx(volume, rel=1e-15)


def test_leaves_compartments_dry_that_no_oil_gets_to() -> None:
    np.testing.assert_allclose(settled_volumes(two(), UP, 1e-3, [True, False]), [1e-3, 0.0])


def test_refuses_oil_that_does_not_fit() -> None:
    with pytest.raises(RangeError, match=r"9 L of oil do not fit into compartments of 6.8 L"):
        settled_volumes(two(), UP, 9e-3)
