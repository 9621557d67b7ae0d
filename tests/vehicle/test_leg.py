# SPDX-License-Identifier: Apache-2.0
"""Changes of speed with a limited jerk against their closed forms."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.vehicle.leg import Leg, driven, fine_times, legs_motion, speed_change
from sumpwright.vehicle.path import clothoid

speeds = st.floats(0.0, 80.0)


@given(speeds, speeds, st.floats(0.5, 15.0), st.floats(5.0, 200.0))
def test_a_change_of_speed_takes_the_time_and_way_of_the_closed_form(
    start: float, end: float, accel: float, jerk: float
) -> None:
    change = abs(end - start)
    if change < 1e-3:
        return
    legs = speed_change(start=start, end=end, accel=accel, jerk=jerk)
    motion = legs_motion(legs, start)
    full = change >= accel**2 / jerk
    time = change / accel + accel / jerk if full else 2.0 * math.sqrt(change / jerk)
    assert motion.duration == pytest.approx(time, rel=1e-9)  # rounding
    assert motion.speed is not None
    assert motion.distance is not None
    assert motion.speed[-1] == pytest.approx(end, abs=1e-9)  # rounding
    assert motion.distance[-1] == pytest.approx(0.5 * (start + end) * time, rel=1e-8)  # rounding
    assert motion.peak_jerk == pytest.approx(jerk, rel=1e-6)  # rounding over short nodes


def test_no_change_of_speed_takes_no_time() -> None:
    legs = speed_change(start=20.0, end=20.0, accel=5.0, jerk=30.0)
    assert sum(leg.duration for leg in legs) == 0.0


def test_a_driven_clothoid_has_the_jerk_of_the_formula() -> None:
    # v^3/A^2 of the worked clothoid at 15 m/s, exact in its digits
    motion = driven(clothoid(20.0, 15.0), 15.0)
    np.testing.assert_allclose(motion.jerk, 8.4375, rtol=1e-10)  # rounding over short nodes


def test_fine_times_keep_the_corners() -> None:
    corners = np.array([0.0, 0.1, 2.0])
    fine = fine_times(corners, np.array([[0.0], [5.0], [5.0]]))
    assert np.isin(corners, fine).all()
    assert np.diff(fine[fine <= 0.1]).max() == pytest.approx(0.1 / 26.0, rel=1e-9)  # 5/0.196 up
    assert np.diff(fine).max() <= 0.05 * (1.0 + 1e-9)  # rounding


def test_a_leg_of_no_time_is_left_out() -> None:
    motion = legs_motion([Leg(0.0), Leg(1.0), Leg(0.0)], 10.0)
    assert motion.duration == 1.0


def test_refuses_what_cannot_be_driven() -> None:
    with pytest.raises(RangeError, match="jerk limit must be above 0"):
        speed_change(start=0.0, end=10.0, accel=5.0, jerk=0.0)
    with pytest.raises(RangeError, match="speed must be 0 m/s or more"):
        legs_motion([Leg(1.0)], -1.0)
