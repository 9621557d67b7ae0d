# SPDX-License-Identifier: Apache-2.0
"""A pump with two stages in a log; common practice, no source, for what counts as one."""

import numpy as np
import pytest

from sumpwright.logs.judge import judged
from sumpwright.logs.switch import Switch, jumps
from tools.second_log import ENGINES, second

RPM = np.pi / 30.0


def test_keeps_its_stage_until_speed_is_under_the_lower_switch() -> None:
    speed = np.array([100.0, 395.0, 405.0, 395.0, 305.0, 295.0, 395.0])
    stage = Switch(400.0, 300.0, 0.1).stage(speed, 0.1)
    assert stage.round(6).tolist() == [0.0, 0.0, 1.0, 1.0, 1.0, 0.0, 0.0]


def test_a_speed_by_itself_is_held_against_the_middle() -> None:
    stage = Switch(400.0, 300.0, 10.0).stage(np.array([350.0, 360.0]), 0.0)
    assert stage == pytest.approx([0.5, 1.0 / (1.0 + np.exp(-1.0))])  # closed form: logistic


def test_a_valve_follows_as_a_first_order_system() -> None:
    speed = np.where(np.arange(100) < 50, 100.0, 500.0)
    stage = Switch(400.0, 300.0, 1.0, delay=0.1).stage(speed, 0.01)
    assert stage[59] == pytest.approx(1.0 - np.exp(-1.0))  # closed form, ten rows of 0.01 s


def test_the_least_stage_is_never_above_the_likely_one() -> None:
    speed = 380.0 + 60.0 * np.sin(np.arange(2000) / 90.0)
    switch = Switch(400.0, 370.0, 5.0)
    assert (switch.least(speed, 0.02) <= switch.stage(speed, 0.02)).all()


def test_a_jump_goes_with_warmth_from_minus_one_to_one() -> None:
    rows = jumps(
        np.array([300.0, 340.0, 380.0]), np.ones(4), np.array([300.0, 340.0, 380.0, np.nan])
    )
    assert rows[:, 1].tolist() == [-1.0, 0.0, 1.0, 0.0]


@pytest.mark.parametrize("seed", [5, 6])
def test_finds_where_a_pump_switches(seed: int) -> None:
    switch = judged(second(seed, engine="two stages").log).model.switch
    assert switch is not None
    stages = ENGINES["two stages"].stages
    assert stages is not None
    middle = 0.5 * (switch.up + switch.down) / RPM
    assert middle == pytest.approx(0.5 * (stages[0] + stages[1]), abs=150.0)  # steps of 50, lags


@pytest.mark.parametrize("engine", ["usual", "weak", "strong"])
def test_sees_no_switch_where_there_is_none(engine: str) -> None:
    assert judged(second(7, engine=engine).log).model.switch is None
