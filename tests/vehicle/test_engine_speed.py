# SPDX-License-Identifier: Apache-2.0
"""Engine speed from gears against the trade's formula, and shifts without a step.

Source: the trade's rpm = mph x ratio x 336 / tyre diameter in inches (from memory), where 336 is
63360/(60 pi) = 336.135.
"""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.vehicle.engine_speed import Driveline, engine_speed, gears, with_engine_speed
from sumpwright.vehicle.kerb import kerb_strike
from sumpwright.vehicle.manoeuvre import brake, launch, steady_circle
from sumpwright.vehicle.sequence import in_sequence

RPM = math.pi / 30.0
MPH = 0.44704
INCH = 0.0254
BOX = Driveline(
    ratios=(3.4, 2.1, 1.45, 1.1, 0.85),
    final_drive=4.1,
    tyre_radius=0.30,
    idle=850.0 * RPM,
    shift_up=6500.0 * RPM,
    shift_down=2500.0 * RPM,
    limit=7000.0 * RPM,
)


def test_agrees_with_the_trade_s_formula() -> None:
    turning = engine_speed(60.0 * MPH, ratio=1.0, final_drive=3.55, tyre_radius=13.0 * INCH)
    assert turning / RPM == pytest.approx(60.0 * 3.55 * 336.0 / 26.0, rel=5e-4)  # 336 for 336.135
    assert turning / RPM == pytest.approx(60.0 * 3.55 * 63360.0 / (60.0 * math.pi * 26.0), rel=1e-9)


@given(st.floats(0.0, 60.0), st.integers(1, 5))
def test_held_in_a_gear_it_is_the_speed_times_the_gearing_but_idle_at_least(
    speed: float, gear: int
) -> None:
    box = dataclasses.replace(BOX, limit=math.inf)
    motion = with_engine_speed(steady_circle(200.0, speed=max(speed, 1.0), laps=0.01), box, gear)
    expected = max(box.idle, max(speed, 1.0) * box.ratios[gear - 1] * 4.1 / 0.30)
    np.testing.assert_allclose(motion.engine_speed, expected, rtol=1e-12)  # rounding


def test_shifts_up_and_down_one_by_one_within_its_limits() -> None:
    run = in_sequence([launch(55.0, 4.0), brake(55.0, 9.0)])
    assert run.speed is not None
    gear = gears(run.speed, BOX)
    assert (gear[0], gear.max(), gear[-1]) == (0, 4, 0)
    assert set(np.diff(gear)) == {-1, 0, 1}
    motion = with_engine_speed(run, BOX)
    assert motion.engine_speed is not None
    assert motion.engine_speed.max() <= BOX.shift_up
    assert motion.engine_speed.min() == BOX.idle


def test_engine_speed_goes_from_gear_to_gear_over_the_shift_time() -> None:
    motion = with_engine_speed(launch(55.0, 4.0), BOX)
    assert motion.engine_speed is not None
    rate = np.diff(motion.engine_speed) / np.diff(motion.time)
    drop = BOX.shift_up * (1.0 - BOX.ratios[1] / BOX.ratios[0])
    assert rate.min() >= -drop / BOX.shift_time  # the largest drop, first to second
    assert rate.min() < -0.7 * drop / BOX.shift_time  # and not much slower: it gains on the way


@given(st.floats(1.0, 60.0), st.floats(-0.02, 0.02))
def test_a_steady_speed_does_not_hunt(speed: float, ripple: float) -> None:
    swinging = speed * (1.0 + ripple * np.sin(np.linspace(0.0, 60.0, 500)))
    assert np.abs(np.diff(gears(swinging, BOX))).sum() <= 1


def test_refuses_to_turn_the_engine_too_fast() -> None:
    with pytest.raises(RangeError, match="turned at 8874 rpm, and its limit is 7000"):
        with_engine_speed(steady_circle(200.0, speed=20.0, laps=0.1), BOX, 1)


def test_refuses_a_gear_it_has_not_or_a_speed_nobody_knows() -> None:
    with pytest.raises(RangeError, match="gear 6 is not one of 1 to 5"):
        with_engine_speed(launch(20.0, 4.0), BOX, 6)
    with pytest.raises(RangeError, match="needs a motion whose speed is known"):
        with_engine_speed(kerb_strike(5.0, 0.1), BOX)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"ratios": ()}, "at least one gear"),
        ({"ratios": (2.0, 2.1)}, "ratios that fall"),
        ({"ratios": (2.0, -1.0)}, "gear ratio must be above 0"),
        ({"idle": 3000.0 * RPM}, "must rise in that order"),
        ({"shift_down": 4500.0 * RPM}, "would turn at 4015 rpm and shift down again"),
        ({"tyre_radius": 0.0}, "tyre radius must be above 0"),
    ],
)
def test_refuses_a_driveline_that_cannot_be(change: dict[str, object], message: str) -> None:
    with pytest.raises(RangeError, match=message):
        dataclasses.replace(BOX, **change)
