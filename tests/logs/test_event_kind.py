# SPDX-License-Identifier: Apache-2.0
"""What a loss of pressure is called that is no dip, and corners as evidence.

Common practice, no source, for what is what; logs are invented.
"""

import numpy as np
import pytest

from sumpwright.logs.first_order import first_order
from sumpwright.logs.judge import Judgement, judged
from sumpwright.logs.log import Channel, Log
from sumpwright.logs.pressure_model import PressureRule, learnt_model

STEP = 0.04
TIME = np.arange(0.0, 120.0, STEP)
SPEED = 420.0 + 120.0 * np.sin(TIME / 4.0)
NOISE = np.random.default_rng(3).normal(0.0, 2e3, len(TIME))
STRAIGHT = np.zeros(len(TIME))


def _judged(
    pressure: np.ndarray, speed: np.ndarray = SPEED, ay: np.ndarray = STRAIGHT
) -> Judgement:
    values = {"pressure": pressure, "rpm": speed, "ay": ay}
    channels = {k: Channel(k, k, "", "given", TIME, v) for k, v in values.items()}  # type: ignore[arg-type]
    return judged(Log("invented", channels))


def _kinds(found: Judgement, start: float, end: float) -> set[str]:
    return {e.kind for e in found.events if e.start < end and e.end > start}


def _normal(speed: np.ndarray = SPEED) -> np.ndarray:
    return 700.0 * speed + 20e3 + NOISE


def test_an_engine_that_stops_is_off() -> None:
    speed = np.where((TIME > 60.0) & (TIME < 66.0), 0.0, SPEED)
    pressure = np.where((TIME > 59.8) & (TIME < 66.0), 0.0, _normal())
    assert _kinds(_judged(pressure, speed), 58.0, 68.0) == {"engine off"}


def test_little_pressure_at_idle_is_idle() -> None:
    speed = np.where((TIME > 60.0) & (TIME < 66.0), 90.0, SPEED)
    pressure = np.where((TIME > 62.0) & (TIME < 64.0), 20e3, _normal(speed))
    assert _kinds(_judged(pressure, speed), 61.5, 64.5) == {"idle"}


@pytest.mark.parametrize("rows", [2, 4])
def test_pressure_that_follows_a_leap_of_speed_late_is_a_shift(rows: int) -> None:
    leap = np.interp(
        TIME, [0.0, 59.0, 60.0, 60.02, 60.5, 62.0], [300.0, 300.0, 420.0, 700.0, 420.0, 300.0]
    )
    speed = np.where((TIME < 50.0) | (TIME > 70.0), SPEED, leap)
    normal = _normal(speed)
    found = _judged(np.r_[normal[:rows], normal[:-rows]], speed)
    assert _kinds(found, 59.5, 60.3) == {"shift"}


def test_a_plug_that_shakes_is_the_sensor() -> None:
    rows = np.flatnonzero((TIME > 60.0) & (TIME < 63.0))
    pressure = _normal()
    pressure[rows[np.random.default_rng(5).random(len(rows)) < 0.5]] = 0.0
    found = _judged(pressure)
    assert _kinds(found, 59.5, 63.5) == {"sensor"}


@pytest.mark.parametrize("seed", range(8))
def test_a_burst_of_noise_is_no_dip(seed: int) -> None:
    burst = (TIME > 60.0) & (TIME < 60.5)
    noise = np.repeat(np.random.default_rng(seed).normal(0.0, 60e3, len(TIME) // 2), 2)
    found = _judged(_normal() + noise * burst)
    assert _kinds(found, 59.5, 61.0) <= {"sensor", "shift"}
    assert not found.dips


def test_dips_of_one_corner_are_one_piece_of_evidence() -> None:
    ay = np.where((TIME > 20.0) & (TIME < 50.0), -8.0, np.where(TIME > 70.0, 8.0, 0.0))
    dips = sum(((t < TIME) & (t + 0.8 > TIME) for t in (24.0, 30.0, 36.0, 42.0)), STRAIGHT)
    found = _judged(_normal() * (1.0 - 0.5 * dips), ay=ay)
    left, right, _ = found.sides
    assert (right.dips, right.corners, left.corners) == (4, 1, 0)
    # one corner of two sides driven 50 and 30 s: either way as likely as its time, both counted
    assert found.chance == pytest.approx(30.0 / 80.0, abs=0.01)


@pytest.mark.parametrize("lag", [0.04, 0.08, 0.15])
def test_learns_the_lag_of_the_reading(lag: float) -> None:
    quick = 420.0 + 120.0 * np.sin(TIME) + 60.0 * np.sin(3.7 * TIME)
    late = first_order(_normal(quick) - NOISE, float(np.exp(-STEP / lag)), 3e5) + NOISE
    everywhere = np.ones(len(TIME), dtype=bool)
    warm = np.full(len(TIME), np.nan)
    model = learnt_model(TIME, late, quick, warm, everywhere, rule=PressureRule())
    assert model.lag == pytest.approx(lag, abs=0.011)  # half the distance of the lags tried


def test_a_pressure_that_falls_with_warmth_nobody_logged_is_learnt_over_time() -> None:
    fading = _normal() * (1.0 - 0.4 * TIME / TIME[-1])
    found = _judged(fading)
    assert not found.dips
    left = found.motion.pressure / found.motion.expected - 1.0
    assert np.percentile(np.abs(left[TIME > 5.0]), 95) < 0.05


def test_a_weak_engine_that_corners_all_the_time_is_learnt_all_the_same() -> None:
    ay = 8.0 * np.sign(np.sin(TIME / 6.0))
    found = _judged(0.4 * _normal(), ay=ay)
    assert not found.dips
