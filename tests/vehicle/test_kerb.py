# SPDX-License-Identifier: Apache-2.0
"""A kerb's half sine against the shock-test standard's velocity changes.

Source: [IEC-60068-2-27] half-sine pulses (from memory): 15 g over 11 ms changes speed by 1.0 m/s,
50 g over 11 ms by 3.4 m/s, 30 g over 18 ms by 3.4 m/s.
"""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.vehicle.kerb import kerb_strike
from tests.vehicle.motions import G


def speed_change(up: np.ndarray, time: np.ndarray) -> float:
    return float(np.sum(0.5 * (up[1:] + up[:-1]) * np.diff(time)))


@pytest.mark.parametrize(
    ("in_g", "pulse", "change"), [(15.0, 0.011, 1.0), (50.0, 0.011, 3.4), (30.0, 0.018, 3.4)]
)
def test_pulse_changes_speed_as_the_standard_prints(
    in_g: float, pulse: float, change: float
) -> None:
    motion = kerb_strike(in_g * G, pulse, run_up=0.0, rest=0.0, jerk=1e6)
    assert speed_change(motion.accel[:, 2], motion.time) == pytest.approx(
        change, abs=0.05
    )  # digits


def test_pulse_s_area_is_that_of_a_half_sine() -> None:
    motion = kerb_strike(5.0, 0.1)
    area = speed_change(motion.accel[:, 2], motion.time)
    assert area == pytest.approx(2.0 * 5.0 * 0.1 / np.pi, rel=1e-3)  # (pi/32)^2/12 of chords
    assert motion.accel[:, 2].max() == pytest.approx(5.0, rel=1e-15)  # the peak is a node
    assert not motion.accel[:, :2].any()


def test_rebound_takes_the_vertical_speed_off_again() -> None:
    motion = kerb_strike(5.0, 0.1, rebound=0.25)
    pulse = speed_change(*kerb_strike(5.0, 0.1).accel.T[2:], kerb_strike(5.0, 0.1).time)
    assert abs(speed_change(motion.accel[:, 2], motion.time)) < 1e-3 * pulse  # chords, as above
    assert motion.accel[:, 2].min() == pytest.approx(-2.0, rel=1e-15)  # 5 times 0.1/0.25


def test_refuses_a_pulse_sharper_than_the_limit() -> None:
    kerb_strike(5.0, np.pi * 5.0 / 200.0, jerk=200.0)
    with pytest.raises(RangeError, match="begins with a jerk of 201"):
        kerb_strike(5.0, np.pi * 5.0 / 201.0, jerk=200.0)
    with pytest.raises(RangeError, match="pulse must be above 0 s"):
        kerb_strike(5.0, 0.0)
