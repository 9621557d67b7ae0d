# SPDX-License-Identifier: Apache-2.0
"""Lines and arcs found again in outlines of chords. Closed forms."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.geometry.profile import circle_profile, polygon_profile, rounded_profile
from sumpwright.metal.flat_pattern_arc import profile_of

BOX = np.array([[0.0, 0.0], [0.1, 0.0], [0.1, 0.06], [0.0, 0.06]])


def test_a_box_stays_a_box() -> None:
    found = profile_of(polygon_profile(BOX).polygon())
    assert len(found.points) == 4
    assert not found.bulges.any()


def test_finds_a_rounded_box_again() -> None:
    drawn = rounded_profile(BOX, [0.01, 0.005, 0.02, 0.0])
    found = profile_of(drawn.polygon())
    assert np.count_nonzero(found.bulges) == 3
    assert len(found.points) == len(drawn.points)
    assert found.area == pytest.approx(drawn.area, rel=1e-9)
    assert found.length == pytest.approx(drawn.length, rel=1e-9)


@given(st.floats(0.002, 0.05), st.floats(-0.1, 0.1))
def test_finds_a_circle_again(radius: float, x: float) -> None:
    found = profile_of(circle_profile((x, 0.02), radius).polygon())
    assert 2 <= len(found.points) <= 6
    assert found.area == pytest.approx(math.pi * radius**2, rel=1e-9)


def test_a_hexagon_of_real_corners_is_no_circle() -> None:
    turn = np.arange(6) * math.pi / 3.0
    ring = 0.01 * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    assert not profile_of(ring).bulges.any()


def test_runs_as_the_ring_runs() -> None:
    clockwise = circle_profile((0.0, 0.0), 0.01).reversed().polygon()
    assert profile_of(clockwise).area == pytest.approx(-math.pi * 1e-4, rel=1e-9)


def test_a_spline_is_not_forced_onto_arcs() -> None:
    t = np.linspace(0.0, math.pi, 60)
    ring = np.stack([0.05 * np.cos(t), 0.02 * np.sin(t)], axis=1)  # half an ellipse
    found = profile_of(ring).polygon(1e-7)
    from shapely import LineString, Point

    drawn = LineString(ring)
    # arcs leave the chords by the arc's own rise over them, 0.05 mm at the ends of this one
    assert max(drawn.distance(Point(p)) for p in found if p[1] > 1e-6) < 6e-5
