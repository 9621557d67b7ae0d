# SPDX-License-Identifier: Apache-2.0
"""A logged trace becomes a motion without steps, or says everything that is wrong with it."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sumpwright.errors import RangeError
from sumpwright.vehicle.manoeuvre import figure_eight
from sumpwright.vehicle.trace import TRACE_JERK, logged_trace
from sumpwright.vehicle.trace_fault import Fault, trace_faults
from tests.vehicle.motions import G

RATE = 50.0


def rows(duration: float = 4.0) -> np.ndarray:
    return np.arange(0.0, duration, 1.0 / RATE)


def channel(faults: tuple[Fault, ...], name: str) -> Fault:
    (fault,) = [f for f in faults if f.channel == name]
    return fault


def test_log_of_a_manoeuvre_gives_the_manoeuvre_back() -> None:
    driven = figure_eight(15.0, accel=G)
    time = np.arange(0.0, driven.duration, 1.0 / RATE)
    logged = driven.at(time) / G
    motion, smoothing = logged_trace(time + 812.4, logged[:, 0], logged[:, 1], cutoff=20.0)
    # The filter rounds corners of a ramp off by sigma times slope over root 2 pi, sigma 6.6 ms;
    # rows to both sides of a corner cut it by a quarter of slope times their distance.
    near = 30.0 * (0.0066 / math.sqrt(2.0 * math.pi) + 0.25 / RATE)
    inside = motion.time[motion.time < time[-1]]
    np.testing.assert_allclose(motion.at(inside), driven.at(inside), atol=near)
    assert smoothing.held_share == 0.0
    assert smoothing.jerk_before == pytest.approx(30.0, rel=1e-3)  # rows beside the corners


def test_units_and_signs_of_each_channel() -> None:
    time = rows()
    one = np.ones_like(time)
    motion, _ = logged_trace(time, 0.5 * one, -1.0 * one, 0.25 * one, 6000.0 * one)
    expected = np.broadcast_to([0.5 * G, -G, 0.25 * G], motion.accel.shape)
    np.testing.assert_allclose(motion.accel, expected, atol=1e-12)  # rounding
    assert motion.engine_speed_at(1.0) == pytest.approx(628.3185, abs=5e-5)  # 200 pi rad/s
    assert motion.speed is None


@given(arrays(float, (40, 3), elements=st.floats(-2.0, 2.0)), st.floats(20.0, 200.0))
def test_jerk_is_within_its_limit_whatever_was_logged(values: np.ndarray, jerk: float) -> None:
    values -= np.median(values, axis=0) * [0.0, 0.0, 1.0]  # no gravity in the vertical channel
    time = np.arange(40) / RATE
    motion, smoothing = logged_trace(time, *values.T, cutoff=15.0, jerk=jerk)
    assert motion.peak_jerk <= jerk * (1.0 + 1e-9)  # rounding
    assert (smoothing.held_share > 0.0) == (smoothing.largest_hold > 0.0)


def test_a_step_in_a_log_is_none_any_more_and_said() -> None:
    time = rows()
    step = np.where(time > 2.0, 3.0, -3.0)
    motion, smoothing = logged_trace(time, 0.0 * step, step)
    assert motion.peak_jerk <= TRACE_JERK * (1.0 + 1e-9)  # rounding
    assert 0.0 < smoothing.held_share < 1.0
    assert 0.0 < smoothing.largest_hold < 6.0 * G
    assert smoothing.jerk_before == pytest.approx(6.0 * G * RATE, rel=1e-9)  # one row's rise


@given(arrays(float, 100, elements=st.floats(-1.5, 1.5)))
def test_a_log_turned_round_is_the_motion_turned_round(side: np.ndarray) -> None:
    time = np.arange(100) / RATE
    left, _ = logged_trace(time, 0.0 * side, side)
    right, _ = logged_trace(time, 0.0 * side, -side)
    np.testing.assert_allclose(right.accel, left.mirrored().accel, atol=1e-12)  # rounding


def test_log_with_uneven_rows_is_taken_by_its_clock() -> None:
    time = np.sort(np.concatenate([rows(), rows() + 0.003]))
    motion, _ = logged_trace(time, 0.0 * time, 0.2 * time)
    middle = motion.time[(motion.time > 0.5) & (motion.time < 3.5)]
    np.testing.assert_allclose(motion.at(middle)[:, 1], 0.2 * G * middle, atol=1e-6)  # resampling


def test_a_good_trace_has_no_faults() -> None:
    assert trace_faults(rows(), 0.0 * rows(), np.sin(rows()), None, 900.0 + rows()) == ()


def test_columns_of_other_lengths_are_said_by_name() -> None:
    faults = trace_faults(rows(), rows()[1:], rows())
    assert channel(faults, "ax_g").found == "199 values"
    assert channel(faults, "ax_g").needed == "200, one a row"


def test_one_row_is_no_trace() -> None:
    assert channel(trace_faults([0.0], [0.0], [0.0]), "time").needed == "at least 2"


def test_says_every_fault_at_once_with_its_first_row() -> None:
    time, ahead, side = rows(), np.zeros(200), np.zeros(200)
    time[60:] += 0.8
    ahead[[20, 21]] = np.nan
    side[50:] = 9.7
    turning = np.full(200, 3000.0)
    turning[7] = -1.0
    up = np.full(200, 1.01)
    faults = trace_faults(time, ahead, side, up, turning)
    assert {f.channel: f.row for f in faults} == {
        "time": 60,
        "ax_g": 20,
        "ay_g": 50,
        "az_g": None,
        "rpm": 7,
    }
    assert [f.sort for f in faults] == ["number", "gap", "size", "gravity", "size"]
    assert channel(faults, "time").found == "0.82 s without a row"
    assert channel(faults, "ax_g").found == "no number (2 rows in all)"
    assert "divide by 9.80665" in channel(faults, "ay_g").do
    assert channel(faults, "az_g").do == "take 1 g off the channel"
    assert channel(faults, "rpm").found == "-1 rpm"
    with pytest.raises(RangeError, match="the trace cannot be used:\n") as caught:
        logged_trace(time, ahead, side, up, turning)
    assert str(caught.value).count("\n") == 5


def test_single_rows_of_noise_are_taken_and_a_broken_one_is_said() -> None:
    side = np.zeros(200)
    side[30] = -6.0
    assert trace_faults(rows(), 0.0 * side, side) == ()
    side[40] = 250.0
    fault = channel(trace_faults(rows(), 0.0 * side, side), "ay_g")
    assert (fault.row, fault.found, fault.needed) == (40, "250 g", "20 g or less")


def test_gravity_the_wrong_way_up_is_told_apart() -> None:
    faults = trace_faults(rows(), 0.0 * rows(), 0.0 * rows(), -1.0 + 0.0 * rows())
    assert channel(faults, "az_g").do == "turn its sign and take 1 g off"


def test_time_that_stands_or_falls_is_said() -> None:
    time = rows()
    time[5] = time[4]
    fault = channel(trace_faults(time, 0.0 * time, 0.0 * time), "time")
    assert (fault.row, fault.found) == (5, "0.08 s after 0.08 s")
    assert str(fault).startswith("time, row 5: found 0.08 s after 0.08 s, needed time that rises")
