# SPDX-License-Identifier: Apache-2.0
"""Laps from heading and lap number; a lap's acceleration.

Source: [ISO-4138] steady circle, a = v^2 / r = (2 pi / T)^2 r. The values are the usual worked
ones, and those were worked with 9.81 m/s^2: with 9.80665 the lap is 11.077 s and 60 km/h 0.9442 g.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.logs.lap import lap_acceleration, laps_by_heading, laps_by_number

G = 9.81


def test_one_g_on_a_circle_of_200_feet_is_a_lap_of_11_075_s() -> None:
    # rounded to 1 ms, half of which is 9e-5 of the acceleration
    assert lap_acceleration(11.075, radius=30.48) / G == pytest.approx(1.0, rel=1e-4)


def test_agrees_with_speed_squared_over_radius() -> None:
    speed = 60 / 3.6
    lap = 2 * math.pi * 30.0 / speed
    assert lap_acceleration(lap, radius=30.0) / G == pytest.approx(0.9439, abs=5e-5)  # as printed


@given(st.floats(0.3, 1.5), st.sampled_from([-1, 1]), st.floats(1.1, 6.0))
def test_every_lap_of_an_even_circle_takes_a_turn_over_the_yaw_rate(
    rate: float, way: int, turns: float
) -> None:
    time = np.linspace(0.0, turns * 2 * math.pi / rate, 700)
    laps = laps_by_heading(time, np.full(700, way * rate))
    assert len(laps) in (int(turns), int(turns + 1e-6))
    assert {lap.turn for lap in laps} == {"left" if way > 0 else "right"}
    np.testing.assert_allclose([lap.duration for lap in laps], 2 * math.pi / rate, rtol=1e-9)


def test_an_eight_is_a_lap_left_and_a_lap_right_though_the_gauge_shakes() -> None:
    time = np.arange(0.0, 20.0, 0.02)
    rate = np.where(time < 10.0, 1.0, -1.0) * 2 * math.pi / 9.0
    shaken = rate + 0.2 * np.sin(2 * math.pi * 7.0 * time)
    laps = laps_by_heading(time, shaken)
    assert [lap.turn for lap in laps] == ["left", "right"]
    # the shake moves the heading by 0.2 / (2 pi 7) rad, a hundredth of a second, at either end
    np.testing.assert_allclose([lap.duration for lap in laps], 9.0, atol=0.02)


def test_a_straight_ahead_of_a_circle_is_not_in_its_lap() -> None:
    time = np.arange(0.0, 40.0, 0.02)
    rate = np.where(time < 10.0, 0.0, 2 * math.pi / 12.0)
    laps = laps_by_heading(time, rate)
    # begun 0.1 rad into the circle
    assert laps[0].start == pytest.approx(10.0 + 0.1 / (2 * math.pi / 12.0), abs=0.02)
    np.testing.assert_allclose([lap.duration for lap in laps], 12.0, atol=0.02)  # one row


def test_half_laps_with_a_straight_between_are_no_lap() -> None:
    time = np.arange(0.0, 40.0, 0.02)
    half = np.where(np.mod(time, 20.0) < 6.0, 2 * math.pi / 10.0, 0.0)
    assert laps_by_heading(time, half) == ()


def test_a_slalom_has_no_lap() -> None:
    time = np.arange(0.0, 30.0, 0.02)
    assert laps_by_heading(time, np.sin(2 * math.pi * time / 3.0)) == ()


def test_a_standing_car_and_an_empty_log_have_no_lap() -> None:
    assert laps_by_heading(np.arange(5.0), np.zeros(5)) == ()
    assert laps_by_heading([], []) == ()


def test_a_lap_channel_gives_only_whole_laps() -> None:
    time = np.arange(0.0, 40.0, 0.5)
    number = np.searchsorted([7.0, 18.0, 30.5], time, side="right")
    assert [lap.duration for lap in laps_by_number(time, number)] == [11.0, 12.5]


@pytest.mark.parametrize(("lap", "radius"), [(0.0, 30.0), (11.0, 0.0), (float("nan"), 30.0)])
def test_refuses_a_lap_without_time_or_radius(lap: float, radius: float) -> None:
    with pytest.raises(RangeError):
        lap_acceleration(lap, radius=radius)
