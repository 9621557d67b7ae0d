# SPDX-License-Identifier: Apache-2.0
"""A hinge by numbers, folded and turned. Closed forms."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely import box

from sumpwright.errors import RangeError
from sumpwright.metal.bend_order import bend_order
from sumpwright.metal.fold import folded
from sumpwright.metal.fold_clash import part_solids, shared_by
from sumpwright.metal.hinge import HingeSpec, knuckled, stop_for

MM = 1e-3
SPEC = HingeSpec(0.06, 5, 2 * MM, 0.1 * MM, 1 * MM, 0.36, "table")
FLAP = box(-0.033, -0.033, 0.033, -SPEC.clear)
LEAF = box(-0.03, SPEC.clear, 0.03, 0.02)


def turned_about_the_pin(solid, angle: float):
    """The flap's piece turned open; the pin is over v = 0, its axis r + t/2 over the mid-plane."""
    high = 1e3 * (SPEC.inside + 0.5 * SPEC.thickness)
    down = solid.translate([0.0, 0.0, -high])
    return down.rotate([-math.degrees(angle), 0.0, 0.0]).translate([0.0, 0.0, high])


def test_a_knuckle_s_length_by_hand() -> None:
    # inside radius 1.1, outside 2.1: acos(1.1 / 2.1) = 58.41 deg; slit 0.2 / 2.1 = 5.46 deg
    assert math.degrees(SPEC.roll) == pytest.approx(360.0 - 58.41 - 5.46, abs=0.01)
    assert SPEC.development == pytest.approx(math.radians(296.13) * (1.1 + 0.36) * MM, rel=1e-4)


def test_knuckles_take_turns_and_leave_play() -> None:
    flap, leaf = SPEC.spans(leaf=False), SPEC.spans(leaf=True)
    assert (len(flap), len(leaf)) == (3, 2)
    assert leaf[0][0] - flap[0][1] == pytest.approx(2 * SPEC.play)
    assert flap[0][0] == pytest.approx(-0.03 + SPEC.play)


@pytest.mark.parametrize("leaf", [False, True])
def test_a_knuckle_rolls_round_the_pin_and_not_into_its_sheet(leaf: bool) -> None:
    pattern = knuckled(SPEC, LEAF if leaf else FLAP, leaf=leaf)
    assert bend_order(pattern).order == tuple(range(len(pattern.bends)))
    assert bend_order(pattern).hindrances == ()
    roll = folded(pattern).curves[0]
    s = np.linspace(0.0, 1.0, 50)[:, None]
    start = roll.bend.line.mean(axis=0)
    flat = start + s * roll.bend.allowance * roll.bend.out
    inner = roll.placed(np.column_stack([flat, np.full(50, 0.5 * MM)]))
    axis = np.array([0.0, 0.5 * MM + SPEC.inside])
    np.testing.assert_allclose(np.hypot(*(inner[:, 1:] - axis).T), SPEC.inside, atol=1e-12)


def test_flap_and_leaf_turn_free_of_each_other() -> None:
    flap = part_solids(folded(knuckled(SPEC, FLAP, leaf=False)))
    leaf = part_solids(folded(knuckled(SPEC, LEAF, leaf=True)))
    for degrees in (0.0, 20.0, 45.0, 70.0, 90.0):
        turned = [turned_about_the_pin(s, math.radians(degrees)) for s in flap]
        assert shared_by(turned, leaf) is None, degrees


@pytest.mark.parametrize("degrees", [50.0, 70.0, 90.0, 110.0])
def test_the_stop_stops_where_it_was_asked_to(degrees: float) -> None:
    angle = math.radians(degrees)
    stop = stop_for(SPEC, angle, 1 * MM)
    pattern = knuckled(SPEC, LEAF, leaf=True, stop=stop)
    assert bend_order(pattern).order == tuple(range(len(pattern.bends)))
    assert bend_order(pattern).hindrances == ()
    leaf = part_solids(folded(pattern))
    flap = part_solids(folded(knuckled(SPEC, FLAP, leaf=False)))
    # pieces are shaved by 0.02 mm each: at 10 mm from the pin that is a quarter of a degree
    for short in (20.0, 5.0, 0.0):
        before = [turned_about_the_pin(s, angle - math.radians(short)) for s in flap]
        assert shared_by(before, leaf) is None, short
    past = [turned_about_the_pin(s, angle + math.radians(1.0)) for s in flap]
    assert shared_by(past, leaf) is not None
    assert 0.0 < stop.touches < 0.033


@pytest.mark.parametrize("knuckles", [3, 5])
def test_slits_beside_a_stop_run_on_in_the_knuckles_edges(knuckles: int) -> None:
    # neither steps of the play's width nor slivers: no side of the outline is under half a sheet
    spec = replace(SPEC, knuckles=knuckles)
    leaf = box(-0.03, spec.clear, 0.03, 0.02)
    pattern = knuckled(spec, leaf, leaf=True, stop=stop_for(spec, math.radians(70.0), MM))
    points = pattern.outline.points
    assert np.hypot(*(points - np.roll(points, 1, axis=0)).T).min() > 0.5 * MM


def test_says_what_cannot_be() -> None:
    with pytest.raises(RangeError, match="at 45 deg or more, not at 30 deg"):
        stop_for(SPEC, math.radians(30.0), MM)
    with pytest.raises(RangeError, match=r"99 knuckles on 60 mm leave 0\.606 mm to each"):
        HingeSpec(0.06, 99, 2 * MM, 0.1 * MM, MM, 0.36, "table").spans(leaf=True)
