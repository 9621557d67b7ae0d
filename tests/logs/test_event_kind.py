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


@pytest.mark.parametrize(("left", "kind"), [(0.82, "idle"), (0.4, "dip")])
def test_a_loss_at_idle_is_a_dip_where_the_log_shows_far_more_there(left: float, kind: str) -> None:
    speed = np.where((TIME > 60.0) & (TIME < 70.0), 90.0, SPEED)
    share = np.where((TIME > 64.0) & (TIME < 66.0), left, 1.0)
    assert _kinds(_judged(share * _normal(speed), speed), 63.5, 66.5) == {kind}


def test_pressure_that_builds_up_after_a_start_is_no_dip() -> None:
    speed = np.where((TIME > 60.0) & (TIME < 66.0), 0.0, SPEED)
    builds = np.clip((TIME - 66.3) / 0.8, 0.0, 1.0) * (TIME > 66.0)
    share = np.where((TIME > 59.8) & (TIME < 68.0), builds, 1.0)
    assert _kinds(_judged(share * _normal(), speed), 58.0, 68.0) == {"engine off"}


def test_a_loss_at_the_relief_valve_is_the_valve() -> None:
    flat = np.minimum(_normal(), 300e3 + NOISE)
    share = np.where((TIME > 81.0) & (TIME < 82.5), 0.867, 1.0)
    kinds = _kinds(_judged(share * flat), 80.9, 82.6)
    assert kinds == {"relief"}


def test_a_start_is_found_where_what_is_expected_is_off_for_long() -> None:
    off = np.where((TIME > 56.0) & (TIME < 70.0), 0.92, 1.0)
    dip = np.where((TIME > 64.0) & (TIME < 65.0), 0.5, 1.0)
    found = _judged(off * dip * _normal())
    assert [d.start for d in found.dips] == pytest.approx([64.0], abs=0.1)  # two rows and noise


def test_temperature_that_ends_before_the_log_is_carried_on() -> None:
    warm = np.arange(0.0, 116.0, 1.0)
    fading = _normal() * (1.0 - 0.5 * TIME / TIME[-1])
    channels = {
        "pressure": Channel("pressure", "p", "", "given", TIME, fading),
        "rpm": Channel("rpm", "n", "", "given", TIME, SPEED),
        "temperature": Channel("temperature", "t", "", "given", warm, 320.0 + 0.5 * warm),
    }
    assert not judged(Log("invented", channels)).dips  # type: ignore[arg-type]


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


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("shaken", [False, True])
def test_flutter_is_air_and_a_steady_loss_is_none(seed: int, shaken: bool) -> None:
    here = (TIME > 60.0) & (TIME < 61.5)
    size = 0.12 if shaken else 0.004
    shake = 0.4 + size * np.random.default_rng(seed).standard_normal(len(TIME))
    dips = _judged(np.where(here, 1.0 - shake, 1.0) * _normal()).dips
    assert [d.cause for d in dips] == ["aeration" if shaken else "starvation"]
