# SPDX-License-Identifier: Apache-2.0
"""Manoeuvres against closed forms, and what their options do.

Sources: v^2/(2a) for a stop, 39.327 m from 100 km/h at 1 g; figure-eight of 15 m at 1 g.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.vehicle.course import figure_eight as eight_path
from sumpwright.vehicle.manoeuvre import brake, figure_eight, launch, slalom, steady_circle
from sumpwright.vehicle.motion import Motion
from sumpwright.vehicle.path import transition_length
from tests.vehicle.motions import G

G_AS_WORKED = 9.81  # m/s^2


def way(motion: Motion) -> float:
    assert motion.distance is not None
    return float(motion.distance[-1])


def test_stop_from_a_hundred_at_one_g_takes_the_textbook_s_way_and_the_pedal_s() -> None:
    speed, jerk = 100.0 / 3.6, 30.0
    stop = brake(speed, G_AS_WORKED, run_up=0.0, jerk=jerk)
    pedal = 0.5 * speed * G_AS_WORKED / jerk  # mean speed times the time the jerk adds, exact
    assert way(stop) - pedal == pytest.approx(39.327, abs=5e-4)  # printed digits
    assert way(brake(speed, G_AS_WORKED, run_up=0.0, jerk=1e6)) == pytest.approx(
        39.327, abs=7e-4
    )  # printed digits, and 0.1 mm for the jerk that is left


@given(st.floats(8.0, 60.0), st.floats(1.0, 14.0), st.floats(20.0, 100.0))
def test_full_circle_lasts_and_turns_as_asked(radius: float, accel: float, jerk: float) -> None:
    motion = steady_circle(radius, accel=accel, laps=1.5, jerk=jerk)
    (steady,) = motion.spans
    speed = math.sqrt(accel * radius)
    assert steady.end - steady.start == pytest.approx(3.0 * math.pi * radius / speed, rel=1e-12)
    inside = (motion.time >= steady.start - 1e-9) & (motion.time <= steady.end + 1e-9)
    np.testing.assert_allclose(motion.accel[inside, 1], accel, rtol=1e-6)  # span ends are nodes
    outside = motion.accel[~inside, 1]
    assert outside.max() < accel
    entry = transition_length(speed, radius, jerk)
    assert way(motion) == pytest.approx(
        3.0 * math.pi * radius + 2.0 * entry + 2.0 * speed, rel=1e-9
    )  # rounding; the run-up is 1 s each


def test_left_is_positive_and_right_is_its_mirror_image() -> None:
    left = steady_circle(30.0, speed=15.0, duration=2.0)
    right = steady_circle(30.0, speed=15.0, duration=2.0, left=False)
    assert left.accel[:, 1].min() >= 0.0
    assert left.accel[:, 1].max() == pytest.approx(7.5, rel=1e-12)  # 15^2/30
    np.testing.assert_array_equal(right.accel[:, 1], -left.accel[:, 1])


def test_circle_takes_laps_or_duration() -> None:
    for options in ({}, {"laps": 1.0, "duration": 5.0}):
        with pytest.raises(RangeError, match="laps or the duration, one of the two"):
            steady_circle(30.0, speed=15.0, **options)
    by_time = steady_circle(30.0, speed=15.0, duration=5.0).spans[0]
    assert by_time.end - by_time.start == pytest.approx(5.0, rel=1e-12)  # rounding


def test_figure_eight_goes_from_full_left_to_full_right_within_the_jerk() -> None:
    jerk = 30.0
    motion = figure_eight(15.0, accel=G, jerk=jerk)
    side = motion.accel[:, 1]
    assert (side.max(), side.min()) == pytest.approx((G, -G), rel=1e-12)  # rounding
    last_left = motion.time[side > G * (1.0 - 1e-9)].max()
    first_right = motion.time[side < -G * (1.0 - 1e-9)].min()
    assert first_right - last_left == pytest.approx(2.0 * G / jerk, rel=1e-9)  # 2 g of reversal
    speed = math.sqrt(15.0 * G)
    assert way(motion) == pytest.approx(
        eight_path(15.0, transition_length(speed, 15.0, jerk)).length + 2.0 * speed, rel=1e-12
    )  # rounding


@given(st.floats(0.5, 20.0))
def test_slalom_s_acceleration_grows_with_the_square_of_speed(speed: float) -> None:
    peak = np.abs(slalom(18.0, 1.0, speed=speed, jerk=1e3).accel[:, 1]).max()
    slow = np.abs(slalom(18.0, 1.0, speed=1.0, jerk=1e3).accel[:, 1]).max()
    assert peak == pytest.approx(slow * speed**2, rel=1e-9)  # rounding


def test_slalom_of_small_swing_is_nearly_a_sine_in_time() -> None:
    # Offset c, half a wave per spacing d: peak c (pi v/d)^2, which small swings approach
    peak = np.abs(slalom(20.0, 0.1, speed=15.0).accel[:, 1]).max()
    assert peak == pytest.approx(0.1 * (math.pi * 15.0 / 20.0) ** 2, rel=3e-4)  # swing^2


def test_refuses_a_slalom_too_quick_for_the_hands() -> None:
    with pytest.raises(RangeError, match=r"needs a jerk of .* and the limit is 30: drive it more"):
        slalom(12.0, 1.2, speed=18.0)


def test_launch_reaches_its_speed_from_a_stand() -> None:
    motion = launch(25.0, 0.6 * G)
    assert motion.speed is not None
    assert motion.speed[0] == 0.0
    assert motion.speed[-1] == pytest.approx(25.0, rel=1e-12)  # rounding
    assert motion.accel[:, 0].max() == pytest.approx(0.6 * G, rel=1e-12)  # rounding
    assert motion.accel.min() >= 0.0


def test_refuses_speeds_the_wrong_way_round() -> None:
    with pytest.raises(RangeError, match="braking ends slower than 20 m/s, got 25 m/s"):
        brake(20.0, 5.0, end_speed=25.0)
    with pytest.raises(RangeError, match="a launch ends faster than 20 m/s, got 10 m/s"):
        launch(10.0, 5.0, start_speed=20.0)
    with pytest.raises(RangeError, match="run-up must be 0 s or more"):
        launch(10.0, 5.0, run_up=-1.0)
