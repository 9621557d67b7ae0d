# SPDX-License-Identifier: Apache-2.0
"""The flange's edge from its holes: closed forms of area and length, and no hole too near.

Steiner's formulas, exact: a convex shape of area A and girth L grown by m all round has area
A + L m + pi m^2 and girth L + 2 pi m.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.geometry.rail_edge import FLAT, flange_outline

spot = st.tuples(st.floats(-0.3, 0.3), st.floats(-0.1, 0.1))


def test_a_rectangle_of_holes_grows_as_steiner_says() -> None:
    corners = [[0, 0], [0.4, 0], [0.4, 0.15], [0, 0.15], [0.2, 0], [0.2, 0.1]]
    edge = flange_outline(corners, 0.01)
    assert edge.area == pytest.approx(0.4 * 0.15 + 1.1 * 0.01 + math.pi * 1e-4, rel=1e-12)
    assert edge.length == pytest.approx(1.1 + 2 * math.pi * 0.01, rel=1e-12)
    assert len(edge.points) == 8  # four sides, four arcs: holes in line make no corner


def test_one_hole_makes_a_disc_and_two_a_slot() -> None:
    assert flange_outline([[0.1, 0.2]], 0.01).area == pytest.approx(math.pi * 1e-4, rel=1e-12)
    slot = flange_outline([[0, 0], [0.1, 0.0], [0.05, 0.0]], 0.01)
    assert slot.area == pytest.approx(0.1 * 0.02 + math.pi * 1e-4, rel=1e-12)


def test_a_hole_off_the_line_by_less_than_a_speck_makes_no_corner() -> None:
    holes = [[0, 0], [0.2, -0.9 * FLAT], [0.4, 0], [0.4, 0.15], [0, 0.15]]
    assert len(flange_outline(holes, 0.01).points) == 8
    holes[1][1] = -1.1 * FLAT
    assert len(flange_outline(holes, 0.01).points) == 10


@given(st.lists(spot, min_size=1, max_size=16), st.floats(0.005, 0.02))
def test_no_hole_lies_nearer_the_edge_than_the_margin(holes, margin) -> None:
    edge = flange_outline(holes, margin)
    ring = shapely.LinearRing(edge.polygon(1e-6))
    gap = shapely.distance(ring, shapely.points(np.array(holes))).min()
    assert gap >= margin - FLAT - 2e-6  # a speck left out, and the polygon's chords
    assert shapely.contains(shapely.Polygon(ring), shapely.points(np.array(holes))).all()


@given(st.lists(spot, min_size=1, max_size=9), st.randoms())
def test_the_order_of_the_holes_does_not_matter(holes, random) -> None:
    mixed = list(holes)
    random.shuffle(mixed)
    a, b = flange_outline(holes, 0.01), flange_outline(mixed, 0.01)
    assert np.array_equal(a.points, b.points)


def test_refuses_no_hole_and_no_margin() -> None:
    with pytest.raises(RangeError, match="at least 1 hole, got 0"):
        flange_outline(np.zeros((0, 2)), 0.01)
    with pytest.raises(RangeError, match="margin over 0 m, got 0"):
        flange_outline([[0, 0]], 0.0)
