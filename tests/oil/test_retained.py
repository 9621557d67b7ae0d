# SPDX-License-Identifier: Apache-2.0
"""Measured curves over engine speed: exact between the points, refused outside them."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.retained import pump_flow, retained_oil, speed_curve

RPM = math.pi / 30.0
SPEED = np.array([800.0, 3000.0, 6000.0]) * RPM
VOLUME = np.array([0.3e-3, 0.7e-3, 1.5e-3])
FLOW = np.array([8.0, 32.0, 64.0]) * 1e-3 / 60.0


def held(speed: object) -> np.ndarray:
    return retained_oil(speed, curve_speed=SPEED, curve_volume=VOLUME)


def test_gives_the_points_themselves() -> None:
    np.testing.assert_array_equal(held(SPEED), VOLUME)
    np.testing.assert_array_equal(pump_flow(SPEED, curve_speed=SPEED, curve_flow=FLOW), FLOW)


def test_is_a_straight_line_between_two_points() -> None:
    assert float(held(4500.0 * RPM)) == pytest.approx(1.1e-3, rel=1e-12)  # half-way, exact
    flow = pump_flow(1900.0 * RPM, curve_speed=SPEED, curve_flow=FLOW)
    assert float(flow) == pytest.approx(20e-3 / 60.0, rel=1e-12)  # half-way, exact


def test_a_speed_a_rounding_error_past_the_end_is_the_end() -> None:
    assert float(held(SPEED[-1] * (1 + 1e-15))) == VOLUME[-1]


@pytest.mark.parametrize(("rpm", "shown"), [(7000.0, "7000 rpm"), (700.0, "700 rpm")])
def test_refuses_speeds_outside_the_curve(rpm: float, shown: str) -> None:
    with pytest.raises(
        RangeError, match=f"engine speed {shown} is outside the curve, 800 rpm to 6000 rpm"
    ):
        held([2000.0 * RPM, rpm * RPM])


def test_refuses_a_speed_that_is_no_number() -> None:
    with pytest.raises(RangeError, match="engine speed nan rpm"):
        held(np.nan)


def test_names_every_fault_of_a_curve() -> None:
    with pytest.raises(RangeError) as caught:
        speed_curve(np.array([800.0, 3000.0, 3000.0, 2000.0]) * RPM, [1e-3, -1e-3, 1e-3, 1e-3])
    text = str(caught.value)
    assert "must rise from point to point, but 3000 rpm follows 3000 rpm" in text
    assert "but 2000 rpm follows 3000 rpm" in text
    assert "the value at 3000 rpm is below zero" in text


@pytest.mark.parametrize(
    ("speed", "values", "fault"),
    [
        ([1.0, 2.0], [1.0], "2 points along, but 1 values"),
        ([1.0], [1.0], "needs at least 2 points, has 1"),
        ([], [], "needs at least 2 points, has 0"),
        ([1.0, np.nan], [1.0, 1.0], "missing or not finite"),
        ([1.0, 2.0], [1.0, np.inf], "missing or not finite"),
    ],
)
def test_refuses_a_curve_that_is_none(speed: list[float], values: list[float], fault: str) -> None:
    with pytest.raises(RangeError, match=fault):
        speed_curve(speed, values)


@given(st.floats(800.0, 6000.0), st.floats(800.0, 6000.0))
def test_follows_a_rising_curve_upward(first: float, second: float) -> None:
    low, high = held(np.sort([first, second]) * RPM)
    assert low <= high
