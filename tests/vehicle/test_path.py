# SPDX-License-Identifier: Apache-2.0
"""Paths against Fresnel integrals, tabulated and of a reference library, and closed forms.

Sources: [DLMF-7] Fresnel integrals, C(1) = 0.7798934, S(1) = 0.4382591 (also printed by public
tables); scipy.special.fresnel; the road engineer's series x = L (1 - t^2/10 + t^4/216),
y = L (t/3 - t^3/42 + t^5/1320) (from memory).
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import fresnel

from sumpwright.errors import RangeError
from sumpwright.vehicle.path import (
    BEND,
    Path,
    arc,
    chained,
    clothoid,
    path_of,
    straight,
    transition_length,
)

parameters = st.floats(5.0, 200.0)
lengths = st.floats(0.1, 200.0)


def test_clothoid_of_a_worked_example() -> None:
    path = clothoid(20.0, 15.0)  # tolerances below: half of the last digit as worked
    assert 1.0 / path.curvature[-1] == pytest.approx(26.667, abs=5e-4)
    assert math.degrees(path.heading[-1]) == pytest.approx(16.114, abs=5e-4)
    assert path.x[-1] == pytest.approx(14.882, abs=5e-4)
    assert path.y[-1] == pytest.approx(1.3983, abs=5e-5)


def test_clothoid_is_the_tabulated_fresnel_integrals() -> None:
    # Curvature pi s makes x = C(s), y = S(s): A^2 = 1/pi
    path = clothoid(1.0 / math.sqrt(math.pi), 1.0)
    assert path.x[-1] == pytest.approx(0.7798934, abs=5e-8)  # printed digits
    assert path.y[-1] == pytest.approx(0.4382591, abs=5e-8)  # printed digits


@given(parameters, lengths)
def test_clothoid_agrees_with_a_reference_library(parameter: float, length: float) -> None:
    path = clothoid(parameter, length)
    scale = parameter * math.sqrt(math.pi)
    across, along = fresnel(path.arc_length / scale)
    np.testing.assert_allclose(path.x, scale * along, atol=1e-11 * scale)  # rounding, summed
    np.testing.assert_allclose(path.y, scale * across, atol=1e-11 * scale)  # rounding, summed


@given(st.floats(0.01, 0.3))
def test_clothoid_agrees_with_the_road_engineer_s_series(tau: float) -> None:
    path = clothoid(10.0 / math.sqrt(2.0 * tau), 10.0)  # tau = L^2/(2 A^2)
    length = path.length
    turn = path.heading[-1]
    x = length * (1.0 - turn**2 / 10.0 + turn**4 / 216.0)
    y = length * (turn / 3.0 - turn**3 / 42.0 + turn**5 / 1320.0)
    # Next terms of the series are 1/9360 and 1/75600 of a power; below them is rounding
    assert path.x[-1] == pytest.approx(x, abs=length * (turn**6 / 9000.0 + 1e-14))
    assert path.y[-1] == pytest.approx(y, abs=length * (turn**7 / 75000.0 + 1e-14))


def test_a_quarter_circle_to_the_left_ends_where_geometry_says() -> None:
    path = arc(30.0, 0.5 * math.pi)
    assert (path.x[-1], path.y[-1]) == pytest.approx((30.0, 30.0), rel=1e-14)  # rounding
    assert path.heading[-1] == pytest.approx(0.5 * math.pi, rel=1e-14)  # rounding


def test_left_is_positive_curvature_and_positive_y() -> None:
    for path, sign in ((arc(30.0, 1.0), 1.0), (arc(30.0, 1.0).mirrored(), -1.0)):
        assert np.all(np.sign(path.curvature) == sign)
        assert np.sign(path.y[-1]) == sign
        assert np.sign(path.heading[-1]) == sign


@given(parameters, lengths)
def test_driven_back_a_path_ends_as_far_from_its_start(parameter: float, length: float) -> None:
    path = clothoid(parameter, length)
    back = path.reversed()
    reach = math.hypot(path.x[-1], path.y[-1])
    assert math.hypot(back.x[-1], back.y[-1]) == pytest.approx(reach, rel=1e-9)  # rounding
    np.testing.assert_array_equal(back.curvature, -path.curvature[::-1])
    assert back.heading[-1] == pytest.approx(-path.heading[-1], rel=1e-12)  # rounding


def test_chained_pieces_are_the_same_as_one() -> None:
    two = chained(arc(20.0, 0.7), arc(20.0, 0.9))
    one = arc(20.0, 1.6)
    for name in ("arc_length", "x", "y", "heading"):
        assert getattr(two, name)[-1] == pytest.approx(
            getattr(one, name)[-1], rel=1e-13
        )  # rounding


def test_refuses_a_step_in_curvature() -> None:
    with pytest.raises(RangeError, match=r"curvature must not jump .* 0 1/m, then 0.05 1/m"):
        chained(straight(10.0), arc(20.0, 1.0))


def test_refuses_nodes_that_are_no_path() -> None:
    for s, k in (([0.0], [0.0]), ([0.0, 1.0], [0.0]), ([[0.0, 1.0]], [[0.0, 1.0]])):
        with pytest.raises(RangeError, match="at least two nodes"):
            path_of(s, k)
    for s in ([0.0, 2.0, 1.0], [1.0, 2.0, 3.0], [0.0, 1.0, math.inf], [0.0, math.nan, 1.0]):
        with pytest.raises(RangeError, match="must start at 0 and rise"):
            path_of(s, [0.0, 0.0, 0.0])
    with pytest.raises(RangeError, match="curvature must be 0 1/m or more and finite, got nan"):
        path_of([0.0, 1.0], [0.0, math.nan])


def test_nodes_are_close_where_the_path_bends_and_old_ones_stay() -> None:
    given_nodes = [0.0, 3.0, 10.0]
    path = path_of(given_nodes, [0.0, 0.2, -0.1])
    assert np.abs(np.diff(path.heading)).max() <= BEND * (1.0 + 1e-9)  # rounding
    assert np.isin(given_nodes, path.arc_length).all()


@given(st.lists(st.floats(-0.2, 0.2), min_size=2, max_size=8), st.floats(-3.0, 3.0))
def test_turning_the_start_turns_the_whole_path(bends: list[float], heading: float) -> None:
    s = np.arange(len(bends)) * 5.0
    plain, turned = path_of(s, bends), path_of(s, bends, x=3.0, y=-2.0, heading=heading)
    c, d = math.cos(heading), math.sin(heading)
    # rounding over the length of the path
    np.testing.assert_allclose(turned.x, 3.0 + c * plain.x - d * plain.y, atol=1e-11)
    np.testing.assert_allclose(turned.y, -2.0 + d * plain.x + c * plain.y, atol=1e-11)


def test_transition_is_as_long_as_jerk_speed_and_radius_ask() -> None:
    # The worked clothoid driven at 15 m/s: jerk v^3/A^2 = 8.4375 m/s^3, exact
    assert transition_length(15.0, 400.0 / 15.0, 8.4375) == pytest.approx(15.0, rel=1e-14)
    assert clothoid(20.0, 15.0).sharpness * 15.0**3 == pytest.approx(8.4375, rel=1e-12)


def test_a_path_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        arc(20.0, 1.0).x[0] = 1.0


def test_a_path_keeps_its_own_copy() -> None:
    nodes = np.array([0.0, 1.0])
    path = Path(nodes, np.zeros(2), nodes, np.zeros(2), np.zeros(2))
    nodes[1] = 5.0
    assert path.length == 1.0
