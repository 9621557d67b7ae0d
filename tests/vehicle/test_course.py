# SPDX-License-Identifier: Apache-2.0
"""Courses: the figure-eight closes, and the slalom is the sine-generated curve of the literature.

Sources: [LANGBEIN-LEOPOLD-1966] and [MECKLENBURG-2012] for the sine-generated curve, whose length
and width are the Bessel function J0 and Struve's H0 (here from scipy.special); closed forms.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import j0, struve

from sumpwright.errors import RangeError
from sumpwright.vehicle.course import figure_eight, slalom, turn
from sumpwright.vehicle.path import Path, clothoid

radii = st.floats(8.0, 100.0)
shares = st.floats(0.05, 1.5)  # transition over radius
SMOOTH = 0.02  # of the largest curvature: no two nodes are further apart


def largest_step(path: Path) -> float:
    return float(np.abs(np.diff(path.curvature)).max() / np.abs(path.curvature).max())


@given(radii, shares, st.integers(1, 3))
def test_figure_eight_comes_back_to_its_start(radius: float, share: float, laps: int) -> None:
    path = figure_eight(radius, share * radius, laps)
    assert math.hypot(path.x[-1], path.y[-1]) < 1e-9 * radius  # rounding, summed
    assert path.heading[-1] == pytest.approx(0.0, abs=1e-11)  # rounding, summed
    assert path.curvature[-1] == path.curvature[0] == 0.0


@given(radii, shares)
def test_figure_eight_goes_left_then_right_round_circles_of_its_radius(
    radius: float, share: float
) -> None:
    path = figure_eight(radius, share * radius)
    half = len(path.curvature) // 2
    assert path.curvature[: half + 1].min() >= 0.0
    assert path.curvature[half:].max() <= 0.0
    assert np.abs(path.curvature).max() == pytest.approx(1.0 / radius, rel=1e-12)  # rounding
    right_first = path.mirrored()
    np.testing.assert_array_equal(right_first.curvature, -path.curvature)


@given(radii, shares)
def test_centres_of_the_eight_lie_where_the_clothoid_shifts_them(
    radius: float, share: float
) -> None:
    path = figure_eight(radius, share * radius)
    full = path.curvature >= (1.0 - 1e-9) / radius
    left = np.array([path.x[full], path.y[full]])
    end = clothoid(math.sqrt(share) * radius, share * radius)
    tau = 0.5 * share
    middle = np.array([end.x[-1] - radius * math.sin(tau), end.y[-1] + radius * math.cos(tau)])
    distance = np.linalg.norm(left - middle[:, None], axis=0)
    np.testing.assert_allclose(distance, radius, rtol=1e-9)  # every point of the arc; rounding


def test_eight_of_short_transitions_reaches_as_far_as_the_road_engineer_says() -> None:
    # A clothoid moves its circle out by p = L^2/(24 R), half way along it (series, from memory)
    radius, long = 15.0, 1.5
    path = figure_eight(radius, long)
    reach = math.hypot(0.5 * long, radius + long**2 / (24.0 * radius)) + radius
    order = (long / radius) ** 4  # of the terms the series leaves out
    farthest = float(np.hypot(path.x, path.y).max())
    bend = 0.1**2 / 8.0  # the farthest point lies between nodes, half a node's turn at most
    assert farthest == pytest.approx(reach, rel=order + bend)
    # What clothoids add they take off the arcs: two circles' length, to the order of (L/R)^2/24
    assert path.length == pytest.approx(4.0 * math.pi * radius, rel=(long / radius) ** 2 / 24.0)


def test_refuses_transitions_that_leave_no_circle() -> None:
    with pytest.raises(RangeError, match="leave no circle of radius 10 m"):
        figure_eight(10.0, 60.0)


@given(radii, st.floats(0.1, 6.0), shares)
def test_a_turn_turns_by_its_arc_and_its_two_clothoids(
    radius: float, angle: float, share: float
) -> None:
    path = turn(radius, angle, share * radius)
    assert path.heading[-1] == pytest.approx(angle + share, rel=1e-12)  # rounding
    assert path.length == pytest.approx(radius * (angle + 2.0 * share), rel=1e-12)  # rounding
    assert path.curvature[0] == path.curvature[-1] == 0.0


@given(st.floats(10.0, 40.0), st.floats(0.02, 0.25), st.integers(1, 7))
def test_slalom_passes_every_cone_at_its_offset(spacing: float, share: float, cones: int) -> None:
    offset = share * spacing
    path = slalom(spacing, offset, cones)
    # The wave begins half a hump in; its apexes are where the heading comes back through nought.
    turns = np.flatnonzero(np.abs(path.heading) < 1e-9)
    apex = turns[1:-1]
    sides = offset * (-1.0) ** np.arange(cones)
    # Straight lines between nodes, 256 a wave, cut the curve by (2 pi/256)^2/8 of it
    np.testing.assert_allclose(path.y[apex], sides, atol=1e-4 * offset)
    np.testing.assert_allclose(np.diff(path.x[apex]), spacing, rtol=1e-4)  # as above


@given(st.floats(10.0, 40.0), st.floats(0.02, 0.25))
def test_slalom_is_the_sine_generated_curve(spacing: float, share: float) -> None:
    path = slalom(spacing, share * spacing, 4)
    swing = float(np.abs(path.heading).max())
    assert struve(0, swing) / j0(swing) == pytest.approx(2.0 * share, rel=1e-9)  # bisected
    wave = 2.0 * spacing / float(j0(swing))
    # Curvature of heading swing sin(2 pi s/L), raised by 5e-5 so that nodes carry the heading
    steepest = 2.0 * math.pi * swing / wave
    assert np.abs(path.curvature).max() == pytest.approx(steepest, rel=1e-4)


def test_slalom_begins_and_ends_along_the_line_on_the_same_or_the_other_side() -> None:
    for cones in (5, 6):
        path = slalom(18.0, 1.2, cones)
        assert path.heading[[0, -1]] == pytest.approx([0.0, 0.0], abs=1e-12)  # rounding
        assert path.curvature[[0, -1]] == pytest.approx([0.0, 0.0], abs=1e-12)  # rounding
        side = -1.0 if cones % 2 else 1.0
        assert path.y[0] == pytest.approx(-side * path.y[-1] if side > 0 else path.y[-1], rel=1e-4)
        assert largest_step(path) < 2.0 * SMOOTH


def test_refuses_a_slalom_that_would_double_back() -> None:
    with pytest.raises(RangeError, match="too far out: the path would turn by more than 60"):
        slalom(10.0, 6.0, 4)
    with pytest.raises(RangeError, match="cones must be a whole number, 1 or more, got 0"):
        slalom(10.0, 1.0, 0)
