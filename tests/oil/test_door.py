# SPDX-License-Identifier: Apache-2.0
"""A trap door at rest: hinged-plate statics, flat-plate pressure, one way only.

Sources beside each check.
"""

import math
from dataclasses import replace

import fluids
import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad

from sumpwright.errors import RangeError
from sumpwright.oil.door import Door, door_torque, open_area, static_angle
from tests.oil.door_case import DOWN, DRY, LENGTH, OIL, THICK, WIDTH, G, hung


def torque(door: Door, angle: float, one: float, two: float, pull: np.ndarray = DOWN) -> float:
    return door_torque(door, angle, head_1=one, head_2=two, gravity=pull, density=OIL)


def rest(door: Door, one: float, two: float, pull: np.ndarray = DOWN) -> float:
    return static_angle(door, head_1=one, head_2=two, gravity=pull, density=OIL)


def test_ten_millimetres_of_head_open_the_door_as_worked_apart() -> None:
    # rho g dh (W L)(L/2) = 0.003908 N m; (rho_s - rho) g (W L t)(L/2) = 0.004958 N m; 52 deg
    assert torque(hung(), 0.0, 0.11, 0.10) == pytest.approx(0.003908, abs=5e-7)  # digits as given
    shut = torque(hung(), math.pi / 2.0, 0.10, 0.10)
    assert shut == pytest.approx(-0.004958, abs=5e-7)  # digits as given
    angle = rest(hung(), 0.11, 0.10)
    assert math.degrees(angle) == pytest.approx(52.0, abs=0.05)  # digits as given
    assert math.sin(angle) == pytest.approx(0.003908304 / 0.0049583664, rel=1e-6)  # their digits


def test_the_head_that_holds_the_door_level_is_the_value_worked_apart() -> None:
    # (rho_s - rho) t / rho = 12.687 mm
    assert torque(hung(), math.pi / 2.0, 0.1 + 12.687e-3, 0.1) == pytest.approx(0.0, abs=2e-7)
    assert rest(hung(), 0.1126, 0.1) < math.pi / 2.0
    assert rest(hung(), 0.1128, 0.1) == hung().stop


def test_a_plate_under_one_pool_is_the_textbooks_hinged_gate() -> None:
    # gate with the surface at its top edge: force gamma L/2 x W L at 2/3 of the length
    door = hung(mass=1e-9)
    expected = OIL * G * WIDTH * LENGTH**3 / 3.0
    assert torque(door, 0.0, 0.05, DRY) == pytest.approx(expected, rel=1e-6)  # its own weight


def test_a_half_wetted_gate_is_pressed_at_a_third_of_its_depth_from_below() -> None:
    depth = 0.025  # force gamma d^2/2 W, its centre d/3 over the free edge
    expected = OIL * G * WIDTH * depth**2 / 2.0 * (LENGTH - depth / 3.0)
    assert torque(hung(), 0.0, 0.01 + depth, DRY) == pytest.approx(expected, rel=1e-12)


def test_weight_alone_is_a_hanging_plates() -> None:
    angle = math.radians(35.0)
    expected = -hung().mass * G * LENGTH / 2.0 * math.sin(angle)
    assert torque(hung(), angle, DRY, DRY) == pytest.approx(expected, rel=1e-12)


def test_pressure_is_the_integral_over_both_faces_at_any_tilt() -> None:
    door, angle = hung(), 0.6
    pull = np.array([2.0, 5.0, -8.0])
    g = float(np.linalg.norm(pull))
    up = -pull / g
    out = np.array([math.sin(angle), 0.0, -math.cos(angle)])
    normal = np.array([math.cos(angle), 0.0, math.sin(angle)])
    along = np.array([0.0, 1.0, 0.0])
    one, two = (float(up @ (door.hinge + 0.6 * LENGTH * out)) + by for by in (0.004, -0.006))

    def pressed(head: float, side: float) -> float:
        def lever(s: float, y: float) -> float:
            point = door.hinge + s * out + y * along + side * THICK / 2.0 * normal
            return s * max(head - float(up @ point), 0.0)

        found, _ = dblquad(lever, -WIDTH / 2, WIDTH / 2, 0.0, LENGTH, epsabs=1e-14, epsrel=1e-7)
        return OIL * g * float(found)

    weight = door.mass * LENGTH / 2.0 * float(pull @ normal)
    expected = pressed(one, -1.0) - pressed(two, 1.0) + weight
    # nested quadrature over a corner in the integrand: about 1e-6
    assert torque(door, angle, one, two, pull) == pytest.approx(expected, rel=1e-5)


def test_buoyancy_of_a_drowned_door_needs_no_term_of_its_own() -> None:
    # a plate as dense as the oil hangs still at any angle and depth, Archimedes
    door = hung(mass=OIL * WIDTH * LENGTH * THICK)
    for angle in (0.0, 0.7, 1.5):
        assert torque(door, angle, 0.2, 0.2) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("turn", [90.0, 270.0])
def test_g_alone_throws_a_dry_door_open_or_holds_it_shut(turn: float) -> None:
    # accelerating to -x throws the door to +x: rests where tan = a / g on the outer side
    pull = np.array([G if turn == 90.0 else -G, 0.0, -G])
    expected = math.radians(45.0) if turn == 90.0 else 0.0
    assert rest(hung(), DRY, DRY, pull) == pytest.approx(expected, abs=1e-9)


def test_a_spring_holds_the_door_to_its_preload_and_then_by_its_rate() -> None:
    opening = torque(hung(), 0.0, 0.11, 0.10)
    assert rest(hung(preload=opening * 1.001), 0.11, 0.10) == 0.0
    light = hung(preload=opening / 2.0, rate=0.01, mass=OIL * WIDTH * LENGTH * THICK)
    assert rest(light, 0.11, 0.10) == pytest.approx(opening / 2.0 / 0.01, abs=1e-9)


def test_the_stop_ends_the_swing() -> None:
    assert rest(hung(stop=math.radians(30.0)), 0.11, 0.10) == math.radians(30.0)


levels = st.floats(0.0, 0.1)
pulls = st.tuples(st.floats(-15, 15), st.floats(-15, 15), st.floats(-20, 5)).map(np.array)


@given(levels, levels)
def test_the_door_opens_one_way_only(one: float, two: float) -> None:
    low, high = sorted((one, two))
    assert rest(hung(), low, high) == 0.0  # higher oil in front shuts a hanging door
    assert 0.0 <= rest(hung(), high, low) <= hung().stop


@given(levels, levels, pulls, st.floats(0.0, 1.7))
def test_a_mirrored_door_in_a_mirrored_field_feels_the_same(
    one: float, two: float, pull: np.ndarray, angle: float
) -> None:
    mirror = np.array([-1.0, 1.0, 1.0])
    twin = replace(hung(), swing=hung().swing * mirror)
    # heights count along up, which mirrors too, so the levels stay
    got = torque(twin, angle, one, two, pull * mirror)
    assert got == pytest.approx(torque(hung(), angle, one, two, pull), rel=1e-9, abs=1e-12)


@given(levels, levels, pulls, st.integers(0, 2**31))
def test_turning_door_and_field_together_changes_nothing(
    one: float, two: float, pull: np.ndarray, seed: int
) -> None:
    turn, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
    door = hung()
    turned = replace(
        door, hinge=door.hinge @ turn, reach=door.reach @ turn, swing=door.swing @ turn
    )
    got = torque(turned, 0.5, one, two, pull @ turn)
    assert got == pytest.approx(torque(door, 0.5, one, two, pull), rel=1e-8, abs=1e-12)


@given(levels, levels, st.floats(0.0, 0.02), st.floats(0.0, 1.7))
def test_more_oil_behind_opens_and_more_in_front_shuts(
    one: float, two: float, more: float, angle: float
) -> None:
    here = torque(hung(), angle, one, two)
    assert torque(hung(), angle, one + more, two) >= here - 1e-15  # rounding
    assert torque(hung(), angle, one, two + more) <= here + 1e-15  # rounding


@pytest.mark.parametrize("degrees", [1.0, 20.0, 45.0, 90.0])
def test_what_is_open_is_the_curtain_behind_the_window(degrees: float) -> None:
    # rectangle and side triangles by their corners; in line: the library's orifices in series,
    # whose loss numbers on one area add up
    angle = math.radians(degrees)
    edge = np.array([LENGTH * math.sin(angle), -LENGTH * math.cos(angle)])
    side = shapely.Polygon([(0.0, 0.0), (0.0, -LENGTH), edge]).area
    curtain = 2.0 * side + WIDTH * float(np.linalg.norm(edge - [0.0, -LENGTH]))
    frame = WIDTH * LENGTH
    whole = fluids.fittings.change_K_basis(1.0, D1=math.sqrt(curtain), D2=math.sqrt(frame)) + 1.0
    expected = frame / math.sqrt(whole)
    assert float(open_area(hung(), angle)) == pytest.approx(expected, rel=1e-9)


def test_a_door_hardly_ajar_leaves_its_rim_open() -> None:
    # front strip L W and two side triangles L^2/2 per radian
    expected = 1e-6 * (LENGTH * WIDTH + LENGTH**2)
    assert float(open_area(hung(), 1e-6)) == pytest.approx(expected, rel=1e-6)  # next order


def test_open_area_grows_to_nine_tenths_of_the_window() -> None:
    areas = open_area(hung(), np.linspace(0.0, hung().stop, 101))
    assert areas[0] == 0.0
    assert (np.diff(areas) > 0.0).all()
    share = float(open_area(hung(), math.pi / 2.0)) / (WIDTH * LENGTH)
    assert share == pytest.approx(0.901, abs=5e-4)  # recorded


def test_the_compiled_slope_of_the_open_area_is_its_slope() -> None:
    from sumpwright.oil.door_kernel import open_area_of

    for angle in (0.1, 0.8, 1.4, 1.7):
        step = 1e-6
        ends = open_area(hung(), [angle - step, angle + step])
        slope = float(ends[1] - ends[0]) / (2.0 * step)
        assert open_area_of(hung().row, angle)[1] == pytest.approx(slope, rel=1e-6)


def test_refuses_doors_and_angles_that_make_no_sense() -> None:
    with pytest.raises(RangeError, match="a door's size must be above 0 m"):
        hung(width=0.0)
    with pytest.raises(RangeError, match="square to each other"):
        replace(hung(), swing=np.array([0.0, 0.6, 0.8]))
    with pytest.raises(RangeError, match="stop angle 200 deg is outside 0 to 180 deg"):
        hung(stop=math.radians(200.0))
    with pytest.raises(RangeError, match=r"angle of a door -5\.72958 deg is outside 0 to 100 deg"):
        torque(hung(), -0.1, 0.1, 0.1)
    with pytest.raises(RangeError, match="a surface's height is not a number"):
        torque(hung(), 0.1, math.nan, 0.1)
