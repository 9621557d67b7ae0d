# SPDX-License-Identifier: Apache-2.0
"""A motion answers between its nodes, refuses outside, and cannot hold what is no motion."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.geometry.frame import effective_gravity
from sumpwright.vehicle.motion import Motion, level_motion, within_jerk

RAMP = level_motion([0.0, 2.0, 4.0], [0.0, 3.0, 3.0], [0.0, 0.0, 6.0], 5.0)


def test_a_left_turn_and_a_push_leave_gravity_to_the_right_and_back() -> None:
    gravity = effective_gravity(RAMP.accel_g[-1])
    assert gravity[0] < 0.0
    assert gravity[1] < 0.0
    assert gravity[2] == -1.0


def test_straight_running_acceleration_is_integrated_exactly() -> None:
    assert RAMP.speed is not None
    assert RAMP.distance is not None
    np.testing.assert_allclose(RAMP.speed, [5.0, 8.0, 14.0], rtol=1e-15)  # 5 + 1.5 t^2/2, then +3 t
    # 5 t + 1.5 t^3/6 = 12 m; then 8 t + 3 t^2/2 = 22 m more
    np.testing.assert_allclose(RAMP.distance, [0.0, 12.0, 34.0], rtol=1e-15)


@given(st.floats(0.0, 4.0))
def test_answers_between_nodes_on_a_straight_line(time: float) -> None:
    left = 3.0 * max(0.0, time - 2.0)
    ahead = min(3.0, 1.5 * time)
    np.testing.assert_allclose(RAMP.at(time), [ahead, left, 0.0], atol=1e-12)  # rounding


def test_answers_for_many_times_at_once() -> None:
    assert RAMP.at(np.zeros((2, 5))).shape == (2, 5, 3)


def test_refuses_times_outside() -> None:
    for time in (-0.1, 4.1, np.nan):
        with pytest.raises(RangeError, match="s is outside the motion, 0 to 4 s"):
            RAMP.at([1.0, time])


def test_refuses_an_engine_speed_it_does_not_know() -> None:
    with pytest.raises(RangeError, match="has no engine speed"):
        RAMP.engine_speed_at(1.0)


def test_gives_the_engine_speed_it_knows() -> None:
    motion = Motion(RAMP.time, RAMP.accel, engine_speed=np.array([100.0, 300.0, 300.0]))
    np.testing.assert_allclose(motion.engine_speed_at([1.0, 3.0]), [200.0, 300.0], rtol=1e-15)


def test_jerk_is_the_length_of_the_change_a_second() -> None:
    np.testing.assert_allclose(RAMP.jerk, [1.5, 3.0], rtol=1e-15)
    diagonal = Motion(np.array([0.0, 2.0]), np.array([[0.0, 0.0, 0.0], [6.0, 8.0, 0.0]]))
    assert diagonal.peak_jerk == pytest.approx(5.0, rel=1e-15)  # 3, 4, 5


def test_refuses_a_jerk_above_the_limit() -> None:
    assert within_jerk(RAMP, 3.0) is RAMP
    with pytest.raises(RangeError, match=r"needs a jerk of 3 m/s\^3, and the limit is 2.9"):
        within_jerk(RAMP, 2.9)


@pytest.mark.parametrize(
    "time", [[0.0], [0.0, 2.0, 2.0], [0.0, 2.0, 1.0], [1.0, 2.0, 3.0], [0.0, np.nan, 2.0]]
)
def test_refuses_time_that_does_not_rise_from_nought(time: list[float]) -> None:
    with pytest.raises(RangeError, match="of a motion must"):
        Motion(np.array(time), np.zeros((len(time), 3)))


def test_refuses_numbers_that_are_none_or_do_not_fit() -> None:
    time = np.array([0.0, 1.0])
    with pytest.raises(RangeError, match="accel of a motion must be finite"):
        Motion(time, np.full((2, 3), np.nan))
    with pytest.raises(RangeError, match=r"engine_speed of a motion must be .* shape \(2,\)"):
        Motion(time, np.zeros((2, 3)), engine_speed=np.zeros(3))


def test_refuses_a_car_that_rolls_back_or_turns_where_it_stands() -> None:
    with pytest.raises(RangeError, match="roll backward, at -5 m/s"):
        level_motion([0.0, 1.0], [-10.0, -10.0], [0.0, 0.0], 5.0)
    with pytest.raises(RangeError, match="stands cannot turn"):
        level_motion([0.0, 1.0], [0.0, 0.0], [0.0, 1.0], 0.0)


def test_a_motion_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        RAMP.accel[0, 0] = 1.0
