# SPDX-License-Identifier: Apache-2.0
"""Steady circles against published radii, the stopwatch formula and each other.

Sources: [ISO-4138] radii (from memory); a = 4 pi^2 R/T^2, in the trade's form a_g = 2.0121 D/T^2.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.vehicle.circle import (
    PREFERRED_RADIUS,
    SMALLEST_RADIUS,
    accel_of_lap,
    chosen_speed,
    circle_speed,
    lap_time,
    lateral_accel,
)

G = 9.81  # m/s^2, as the checks were worked
KMH = 1.0 / 3.6
DIGIT = 5e-5  # half of the last printed digit of a value in g

radii = st.floats(5.0, 500.0)
accels = st.floats(0.1, 20.0)


@pytest.mark.parametrize(
    ("kmh", "radius", "in_g"), [(60.0, SMALLEST_RADIUS, 0.9439), (100.0, PREFERRED_RADIUS, 0.7865)]
)
def test_acceleration_on_the_standard_s_circles(kmh: float, radius: float, in_g: float) -> None:
    assert lateral_accel(kmh * KMH, radius) / G == pytest.approx(in_g, abs=DIGIT)


def test_lap_of_a_hundred_foot_skidpad_at_one_g() -> None:
    assert lap_time(G, 30.48) == pytest.approx(11.075, abs=5e-4)  # printed digits


def test_acceleration_read_with_a_stopwatch_on_a_student_skidpad() -> None:
    assert accel_of_lap(9.125, 5.0) / G == pytest.approx(1.4689, abs=DIGIT)


def test_the_trade_s_constant_for_diameter_and_lap_time() -> None:
    # 2.01215 in full: the printed constant has its digits cut off, not rounded
    assert accel_of_lap(0.5, 1.0) / G == pytest.approx(2.0121, abs=1e-4)  # one printed digit


def test_figure_eight_s_circles_of_fifteen_metres_at_one_g() -> None:
    assert circle_speed(G, 15.0) == pytest.approx(12.131, abs=5e-4)  # printed digits
    assert lap_time(G, 15.0) == pytest.approx(7.7695, abs=DIGIT)


@given(accels, radii)
def test_speed_lap_time_and_acceleration_say_the_same(accel: float, radius: float) -> None:
    speed = float(circle_speed(accel, radius))
    time = float(lap_time(accel, radius))
    assert speed * time == pytest.approx(2.0 * math.pi * radius, rel=1e-12)  # rounding
    assert lateral_accel(speed, radius) == pytest.approx(accel, rel=1e-12)  # rounding
    assert accel_of_lap(radius, time) == pytest.approx(accel, rel=1e-12)  # rounding


def test_answers_for_many_circles_at_once() -> None:
    np.testing.assert_allclose(lateral_accel([10.0, 20.0], 40.0), [2.5, 10.0], rtol=1e-15)


def test_takes_speed_or_acceleration_but_not_both_or_neither() -> None:
    assert chosen_speed(40.0, speed=20.0) == 20.0
    assert chosen_speed(40.0, accel=10.0) == pytest.approx(20.0, rel=1e-15)  # rounding
    for given_values in ({}, {"speed": 20.0, "accel": 10.0}):
        with pytest.raises(RangeError, match="one of the two"):
            chosen_speed(40.0, **given_values)


def test_refuses_what_no_circle_has() -> None:
    with pytest.raises(RangeError, match="radius must be above 0 m and finite, got 0"):
        lateral_accel(10.0, [30.0, 0.0])
    with pytest.raises(RangeError, match="speed must be 0 m/s or more and finite, got -1"):
        lateral_accel(-1.0, 30.0)
    with pytest.raises(RangeError, match="lap time must be above 0 s and finite, got nan"):
        accel_of_lap(30.0, math.nan)
