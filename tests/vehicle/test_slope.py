# SPDX-License-Identifier: Apache-2.0
"""Hills and banks: gravity keeps its length, and a neutral bank feels level.

Source: [AASHTO-GREEN-BOOK] e + f = V^2/(127 R), V in km/h, R in m (from memory).
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.geometry.frame import effective_gravity, slope_gravity
from sumpwright.vehicle.manoeuvre import brake, steady_circle
from sumpwright.vehicle.slope import banked_circle, hill, tilt_accel, tilted
from tests.vehicle.motions import G

directions = st.floats(-math.pi, math.pi)
slopes = st.floats(0.0, 1.2)


@given(directions, slopes)
def test_on_a_slope_gravity_leans_and_keeps_its_length(direction: float, slope: float) -> None:
    motion = hill(direction, slope, duration=3.0)
    gravity = effective_gravity(motion.accel_g)
    np.testing.assert_allclose(np.linalg.norm(gravity, axis=1), 1.0, rtol=1e-12)  # rounding
    np.testing.assert_allclose(gravity[-1], slope_gravity(direction, slope), atol=1e-12)
    np.testing.assert_allclose(gravity[0], [0.0, 0.0, -1.0], atol=1e-12)  # rounding
    between = effective_gravity(motion.at(np.linspace(0.0, motion.duration, 977)) / G)
    # chords of an arc in steps of 0.02 g: 0.02^2/8
    np.testing.assert_allclose(np.linalg.norm(between, axis=1), 1.0, rtol=5.1e-5)


@pytest.mark.parametrize(
    ("direction", "axis", "sign"), [(0.0, 0, -1.0), (math.pi, 0, 1.0), (0.5 * math.pi, 1, -1.0)]
)
def test_oil_goes_downhill(direction: float, axis: int, sign: float) -> None:
    gravity = effective_gravity(hill(direction, 0.3, duration=1.0).accel_g[-1])
    assert gravity[axis] == pytest.approx(sign * math.sin(0.3), rel=1e-12)  # rounding


def test_45_degrees_uphill_is_tilted_by_as_much_as_one_g() -> None:
    gravity = effective_gravity(tilt_accel(0.0, math.radians(45.0)) / G)
    assert gravity[0] / gravity[2] == pytest.approx(1.0, rel=1e-12)  # atan(1 g) is 45 degrees


def test_braking_downhill_adds_the_hill_to_the_brakes() -> None:
    stop = brake(20.0, 0.8 * G)
    downhill = tilted(stop, math.pi, 0.2)
    gravity = effective_gravity(downhill.accel_g)
    worst = gravity[:, 0].max()
    assert worst == pytest.approx(0.8 + math.sin(0.2), rel=1e-12)  # exact
    assert downhill.peak_jerk == pytest.approx(stop.peak_jerk, rel=1e-9)  # rounding
    assert downhill.speed is not None
    assert downhill.speed[-1] == 0.0


def test_refuses_to_lean_a_car_that_goes_round() -> None:
    with pytest.raises(RangeError, match="straight ahead keeps one side"):
        tilted(steady_circle(30.0, speed=15.0, laps=1), 0.0, 0.1)
    for slope in (-0.1, 0.5 * math.pi, math.nan):
        with pytest.raises(RangeError, match="a slope is 0 to under 90 degrees"):
            hill(0.0, slope, duration=1.0)


def test_neutral_bank_of_the_road_builder_s_formula_feels_level() -> None:
    # e = 0.10, R = 200 m, no friction: V = sqrt(127 e R) = 50.40 km/h
    speed = math.sqrt(127.0 * 0.10 * 200.0) / 3.6
    motion = banked_circle(200.0, math.atan(0.10), speed=speed, duration=5.0)
    (steady,) = motion.spans
    held = motion.at(0.5 * (steady.start + steady.end))
    assert held[1] == pytest.approx(0.0, abs=1e-3 * G)  # 127 is 3.6^2 g = 127.09 rounded
    heavier = effective_gravity(held / G)
    assert np.linalg.norm(heavier) == pytest.approx(1.0 / math.cos(math.atan(0.10)), rel=1e-4)


@given(st.floats(-0.3, 0.5), st.floats(0.5, 12.0))
def test_banked_gravity_is_level_gravity_and_turn_put_together(bank: float, accel: float) -> None:
    motion = banked_circle(80.0, bank, accel=accel, duration=2.0)
    held = effective_gravity(motion.at(motion.spans[0].start + 1.0) / G)
    assert np.linalg.norm(held) == pytest.approx(math.hypot(1.0, accel / G), rel=1e-12)  # exact
    lean = math.atan2(-held[1], -held[2])  # of the surface, seen from the car
    assert lean == pytest.approx(math.atan(accel / G) - bank, abs=1e-12)  # exact


def test_no_bank_is_the_level_circle_and_right_is_its_mirror_image() -> None:
    flat = banked_circle(40.0, 0.0, speed=16.0, duration=3.0)
    level = steady_circle(40.0, speed=16.0, duration=3.0)
    times = np.linspace(0.0, 0.999, 500) * flat.duration
    assert flat.spans[0].end - flat.spans[0].start == pytest.approx(3.0, rel=1e-12)  # rounding
    rate = G / 6.4  # a bank's onset may be slower than the turn's alone, never quicker
    assert flat.duration >= level.duration - rate
    np.testing.assert_allclose(flat.at(times)[:, 2], 0.0, atol=1e-12)  # rounding
    right = banked_circle(40.0, 0.2, speed=16.0, left=False)
    assert right.accel[:, 1].min() == pytest.approx(
        -banked_circle(40.0, 0.2, speed=16.0).accel[:, 1].max(), rel=1e-12
    )  # rounding


@given(st.floats(-0.3, 0.5), st.floats(0.5, 12.0), st.floats(5.0, 60.0))
def test_bank_and_turn_together_stay_within_the_jerk(
    bank: float, accel: float, jerk: float
) -> None:
    motion = banked_circle(80.0, bank, accel=accel, duration=2.0, jerk=jerk)
    assert motion.peak_jerk <= jerk * (1.0 + 1e-9)  # rounding
