# SPDX-License-Identifier: Apache-2.0
"""Braking into a turn, and the skidpad in stages.

Source: [ISO-4138] both directions, steps of 0.5 m/s^2 or less.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.vehicle.circle import LARGEST_STEP
from sumpwright.vehicle.combined import brake_and_turn, staged_skidpad
from tests.vehicle.motions import G


@given(st.floats(0.5, 1.3), st.floats(0.5, 1.4), st.floats(0.8, 2.0))
def test_acceleration_stays_on_the_tyres_ellipse(
    decel: float, accel: float, release: float
) -> None:
    a, b = decel * G, accel * G
    motion = brake_and_turn(45.0, 12.0, decel=a, accel=b, release=release)
    share = np.hypot(motion.accel[:, 0] / a, motion.accel[:, 1] / b)
    assert share.max() <= 1.0 + 1e-9  # rounding
    over = motion.spans[1]
    inside = (motion.time >= over.start - 1e-9) & (motion.time <= over.end + 1e-9)
    np.testing.assert_allclose(share[inside], 1.0, rtol=1e-6)  # nodes lie on it; ends by rounding


@given(st.floats(0.5, 1.3), st.floats(25.0, 45.0))
def test_turn_is_held_at_its_speed_and_radius(accel: float, speed: float) -> None:
    motion = brake_and_turn(speed, 12.0, decel=0.8 * G, accel=accel * G, hold=2.5, release=1.2)
    turn = motion.spans[2]
    assert turn.end - turn.start == pytest.approx(2.5, rel=1e-12)  # rounding
    inside = (motion.time >= turn.start + 1e-6) & (motion.time <= turn.end)
    assert motion.speed is not None
    assert motion.curvature is not None
    np.testing.assert_allclose(motion.speed[inside], 12.0, rtol=1e-9)  # rounding
    np.testing.assert_allclose(motion.curvature[inside], accel * G / 144.0, rtol=1e-6)  # span's end


def test_brakes_come_off_as_the_closed_form_says() -> None:
    # Over the ellipse a quarter turn at a steady rate takes off (2/pi) a T of speed
    a, release = 0.9 * G, 1.5
    motion = brake_and_turn(40.0, 15.0, decel=a, accel=G, release=release)
    over = motion.spans[1]
    assert motion.speed is not None
    at = np.interp([over.start, over.end], motion.time, motion.speed)
    assert at[0] - at[1] == pytest.approx(2.0 / math.pi * a * release, rel=1e-3)  # chords of a sine


def test_right_hand_turn_is_the_mirror_image() -> None:
    left = brake_and_turn(40.0, 15.0, decel=G, accel=G)
    right = brake_and_turn(40.0, 15.0, decel=G, accel=G, left=False)
    np.testing.assert_array_equal(right.accel, left.accel * [1.0, -1.0, 1.0])
    assert left.accel[:, 1].max() > 0.0


def test_refuses_more_braking_than_there_is_speed() -> None:
    with pytest.raises(RangeError, match=r"brakes going on and off take .* brake less, or release"):
        brake_and_turn(16.0, 15.0, decel=G, accel=G)
    with pytest.raises(RangeError, match=r"needs a jerk of .* and the limit is 30"):
        brake_and_turn(40.0, 15.0, decel=G, accel=G, release=0.4)


def test_skidpad_by_the_standard_s_steps_goes_both_ways_round() -> None:
    accels = [4.0 + LARGEST_STEP * i for i in range(5)]
    motion = staged_skidpad(30.0, accels, hold=4.0)
    assert [s.name for s in motion.spans] == [
        f"{side} {i}" for side in ("left", "right") for i in range(1, 6)
    ]
    for span, accel, sign in zip(motion.spans, accels * 2, [1.0] * 5 + [-1.0] * 5, strict=True):
        assert span.end - span.start == pytest.approx(4.0, rel=1e-9)  # rounding
        inside = np.linspace(span.start + 1e-9, span.end - 1e-9, 50)
        np.testing.assert_allclose(motion.at(inside)[:, 1], sign * accel, rtol=1e-6)  # rounding
    assert motion.curvature is not None
    assert np.abs(motion.curvature).max() == pytest.approx(1.0 / 30.0, rel=1e-6)  # speed's rounding


def test_skidpad_stays_on_its_circle_between_stages() -> None:
    motion = staged_skidpad(25.0, [5.0, 8.0], hold=2.0, both=False)
    assert motion.curvature is not None
    first, second = motion.spans
    between = (motion.time >= first.start + 1e-6) & (motion.time <= second.end - 1e-6)
    np.testing.assert_allclose(motion.curvature[between], 1.0 / 25.0, rtol=1e-6)  # rounding
    gap = (motion.time > first.end + 1e-6) & (motion.time < second.start - 1e-6)
    assert motion.accel[gap, 0].max() == pytest.approx(1.0, rel=1e-9)  # the default ease


def test_one_stage_and_one_way_round() -> None:
    motion = staged_skidpad(30.0, [G], hold=3.0, both=False)
    assert [s.name for s in motion.spans] == ["left 1"]
    assert motion.accel[:, 1].min() >= -1e-12


def test_refuses_stages_that_do_not_rise() -> None:
    for accels in ([], [5.0, 5.0], [6.0, 5.0]):
        with pytest.raises(RangeError, match="at least one stage, and each harder"):
            staged_skidpad(30.0, accels)
