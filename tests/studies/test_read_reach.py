# SPDX-License-Identifier: Apache-2.0
"""A log without a dip proves no more than was driven in it.

The sessions are invented: 0.9 g on circles of 15 s each way, no stop, dips where they were put.
"""

from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.job.record_load import Records, load_records
from sumpwright.studies.proof import proof
from sumpwright.studies.read import ReadAsked, file_record, read_logs
from sumpwright.studies.read_result import ReadResult
from tests.studies.logged import Session
from tests.studies.proof_job import DOORED, doored_job


def read(folder: Path, asks: str, **session: object) -> ReadResult:
    job = doored_job(folder / "job", f"{DOORED}requirements:\n{asks}")
    path = Session(**session).write(folder, lateral=1.0)
    return read_logs(ReadAsked(job, (path,), prediction=False)).result


ALL = "  proof_left: {0}\n  proof_right: {0}\n  proof_brake: off\n"


def test_less_than_is_asked_is_not_proven_and_the_headline_says_how_far(tmp_path: Path) -> None:
    result = read(tmp_path, ALL.format("1.2 g"))
    assert result.summary.dips == 0
    assert result.summary.standing == "not proven"
    ways = {r.turn: r for r in result.reach if r.turn != "brake"}
    assert [(w.asked_g, w.proven) for w in ways.values()] == [(pytest.approx(1.2), False)] * 2
    # 0.9 g driven; the sensor's noise of 0.01 g over half a second
    assert ways["left"].held_g == pytest.approx(0.9, abs=0.01)
    assert result.summary.headline.startswith("no dip up to 0.8")
    assert " g left (1.20 g asked), 0.8" in result.summary.headline
    assert result.summary.verdict.startswith("passes left")  # what was seen stays as it was


def test_as_much_as_is_asked_is_met(tmp_path: Path) -> None:
    result = read(tmp_path, ALL.format("0.8 g"))
    assert result.summary.standing == "met"
    assert all(r.proven for r in result.reach)
    assert "g left (0.80 g asked)" in result.summary.headline


def test_a_way_that_was_not_driven_is_named(tmp_path: Path) -> None:
    result = read(tmp_path, "  proof_left: 0.8 g\n  proof_right: 0.8 g\n  proof_brake: 0.7 g\n")
    assert result.summary.standing == "not proven"
    assert result.summary.headline.endswith("; not shown: braking (0.70 g asked)")


def test_dips_keep_the_verdict_as_headline(tmp_path: Path) -> None:
    result = read(tmp_path, ALL.format("0.8 g"), dips=((47.0, 48.0),))
    assert result.summary.standing == "not met"
    assert result.summary.headline == result.summary.verdict
    assert not next(r for r in result.reach if r.turn == "left").proven


def test_without_a_job_nothing_is_asked(tmp_path: Path) -> None:
    result = read_logs(ReadAsked(None, (Session().write(tmp_path, lateral=1.0),))).result
    assert (result.summary.standing, result.reach) == ("met", ())
    assert result.summary.headline == result.summary.verdict


def test_a_slow_sensor_shows_nothing(tmp_path: Path) -> None:
    result = read(tmp_path, ALL.format("0.8 g"), rate=5.0)
    assert result.summary.standing == "not proven"
    assert result.summary.headline == (
        "no dip, but none that proves anything; not shown: left (0.80 g asked), "
        "right (0.80 g asked)"
    )


def test_turns_without_a_side_prove_neither_and_their_dips_count_for_both(tmp_path: Path) -> None:
    job = doored_job(tmp_path / "job")
    path = Session(dips=((61.0, 62.0),)).write(tmp_path)
    read_ = read_logs(ReadAsked(job, (path,), radius=30.0, prediction=False))
    file_record(read_)
    (filed,) = load_records(job).of("log")
    sides = {s.turn: s for s in filed.record.sides}
    assert [(sides[w].dips, sides[w].held) for w in ("left", "right")] == [(1, None)] * 2
    clean = Session().write(tmp_path, lateral=None)
    quiet = read_logs(ReadAsked(job, (clean,), radius=30.0, prediction=False)).result
    assert {r.held_g for r in quiet.reach if r.turn != "brake"} == {None}
    loaded = load_job(job)
    lines = {r.id: r.state for r in proof(loaded, None, Records((filed,)))}
    assert lines["proof_left"] == lines["proof_right"] == "not met"
