# SPDX-License-Identifier: Apache-2.0
"""Logs with known truth, invented from seeds: a test of the code, not a validation against oil."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.logs.judge import judged
from sumpwright.logs.log import Channel, Log
from sumpwright.logs.open_log import open_log
from tools.invented_log import DIALECTS, Invented, invented, text_of

RATES = (20.0, 25.0, 50.0, 100.0)
EARLY = 0.2
"""[s] a start may be off: what was promised."""


def _assert_all_found(made: Invented, *, sided: bool = True) -> None:
    dips = judged(made.log).dips
    assert len(dips) == len(made.dips)
    for true, found in zip(made.dips, dips, strict=True):
        assert abs(found.start - true.start) <= EARLY
        assert found.turn == (true.turn if sided else "straight")
        assert found.depth == pytest.approx(true.depth, abs=0.12)  # noise, edges and lag


@pytest.mark.parametrize("seed", range(16))
def test_finds_every_dip_and_no_other(seed: int) -> None:
    _assert_all_found(invented(seed, rate=RATES[seed % 4]))


@pytest.mark.parametrize("seed", range(100, 104))
def test_finds_them_without_acceleration(seed: int) -> None:
    made = invented(seed, rate=RATES[seed % 4])
    bare = {k: c for k, c in made.log.channels.items() if k not in ("ax", "ay")}
    _assert_all_found(replace(made, log=replace(made.log, channels=bare)), sided=False)


@pytest.mark.parametrize("seed", range(200, 206))
def test_a_sound_pan_has_no_dip(seed: int) -> None:
    assert judged(invented(seed, rate=RATES[seed % 4], dips=0).log).dips == ()


def test_an_engine_switched_off_and_a_plug_off_are_no_dips() -> None:
    made = invented(300, dips=0)
    time, pressure = made.log["pressure"].time, made.log["pressure"].value.copy()
    speed = made.log["rpm"].value.copy()
    off, plug = (time > 100.0) & (time < 104.0), (time > 150.0) & (time < 152.0)
    pressure[off | plug], speed[off] = 0.0, 0.0
    log = _with(made.log, pressure=pressure, rpm=speed)
    found = [e.kind for e in judged(log).events if e.end - e.start > 1.0]
    assert "dip" not in {e.kind for e in judged(log).events}
    assert "sensor" in found


def test_air_that_flutters_is_said_as_such() -> None:
    made = invented(301, dips=0)
    time, pressure = made.log["pressure"].time, made.log["pressure"].value.copy()
    here = (time > 100.0) & (time < 101.5)
    shake = 0.35 + 0.12 * np.random.default_rng(1).standard_normal(int(here.sum()))
    pressure[here] *= 1.0 - shake
    dips = judged(_with(made.log, pressure=pressure)).dips
    assert [d.cause for d in dips] == ["aeration"]


def test_counts_sides_over_their_time() -> None:
    judgement = judged(invented(0).log)
    left, right, straight = judgement.sides
    assert left.dips + right.dips + straight.dips == len(judgement.dips)
    assert right.low < right.rate < right.high
    assert judgement.chance is not None
    assert 0.0 < judgement.chance < 1.0
    assert all(0.0 <= d.severity <= 1.0 for d in judgement.dips)


def test_asks_for_pressure_and_speed_both_at_once() -> None:
    log = invented(0).log
    with pytest.raises(InputError) as caught:
        judged(replace(log, channels={"ay": log["ay"]}))
    assert [p.code for p in caught.value.problems] == ["LOG-230", "LOG-230"]


def _with(log: Log, **values: np.ndarray) -> Log:
    return replace(
        log,
        channels={k: replace(c, value=values.get(k, c.value)) for k, c in log.channels.items()},
    )


@pytest.mark.parametrize("dialect", DIALECTS)
def test_finds_every_dip_in_each_dialect_of_text(dialect: str, tmp_path: Path) -> None:
    made = invented(400 + DIALECTS.index(dialect))
    path = tmp_path / "invented.csv"
    path.write_text(text_of(made, dialect), encoding="utf-8")
    _assert_all_found(replace(made, log=open_log(path)))


def test_a_reading_by_hand_far_under_the_rule_is_a_dip() -> None:
    time = np.arange(0.0, 300.0, 10.0)
    values = {
        "pressure": np.r_[np.full(29, 3.5e5), 1e5],
        "rpm": np.full(30, 400.0),
        "ay": np.r_[np.zeros(20), np.full(10, -9.0)],
    }
    channels = {k: Channel(k, k, "", "given", time, v) for k, v in values.items()}  # type: ignore[arg-type]
    dips = judged(Log("readings", channels, typed=True)).dips
    # common practice, no source: 10 psi per 1000 rpm is 263 kPa here
    assert [(d.start, d.turn) for d in dips] == [(290.0, "right")]
