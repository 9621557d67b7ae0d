# SPDX-License-Identifier: Apache-2.0
"""read_logs on the demo's invented test days, and on logs with less in them.

The demo's pressure comes out of the network that predicts it: finding its dips tests the code and
validates nothing.
"""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.job.record_load import load_records
from sumpwright.studies.read import ReadAsked, file_record, keep_names, read_logs

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def _asked(folder: Path) -> ReadAsked:
    return ReadAsked(folder, (folder / "tests" / "skidpad.csv",))


@pytest.mark.slow
def test_the_first_revision_fails_to_the_right_as_foretold(warm: Callable[[str], Path]) -> None:
    result = read_logs(_asked(warm("demo-a"))).result
    dips = [e for e in result.events if e.kind == "dip"]
    assert {e.turn for e in dips} == {"right"}
    assert len(dips) == 7  # four circles and three loops of the eights
    assert result.summary.verdict.startswith("passes left; fails right: 7 dips")
    assert result.prediction is not None
    assert (result.prediction.original.hits, result.prediction.original.misses) == (7, 0)
    json.dumps(result.as_json(), allow_nan=False)


@pytest.mark.slow
def test_the_second_revision_passes_both_ways(warm: Callable[[str], Path]) -> None:
    result = read_logs(_asked(warm("demo-b"))).result
    assert result.summary.dips == 0
    assert result.summary.verdict.startswith("passes left; passes right")
    assert result.prediction is not None
    assert result.prediction.fitted is None


def test_reads_without_a_job_and_several_logs_on_one_clock() -> None:
    log = EXAMPLES / "demo-a" / "tests" / "skidpad.csv"
    once = read_logs(ReadAsked(None, (log,))).result
    twice = read_logs(ReadAsked(None, (log, log))).result
    assert once.job == ""
    assert once.prediction is None
    assert len([e for e in once.events if e.kind == "dip"]) == 7
    assert len([e for e in twice.events if e.kind == "dip"]) == 14
    assert twice.summary.duration_s > 2 * once.summary.duration_s


def test_a_circle_without_a_side_gives_no_verdict_on_sides(tmp_path) -> None:
    time = np.arange(0.0, 60.0, 0.05)
    speed = 40.0 + 20.0 * np.clip((time - 20.0) / 5.0, 0.0, 1.0)
    rows = [
        f"{t:.2f},{v * 60:.0f},{v * 0.075:.3f},{v:.2f}" for t, v in zip(time, speed, strict=True)
    ]
    path = tmp_path / "circle.csv"
    path.write_text("time [s],rpm,oil pressure [bar],speed [km/h]\n" + "\n".join(rows) + "\n")
    result = read_logs(ReadAsked(None, (path,), radius=30.0)).result
    assert "nothing tells left from right" in result.summary.verdict
    # v^2 / r: 60 km/h at 30 m is 0.9439 g with 9.81 m/s^2 ([ISO-4138] as usually worked)
    over = max(s.over_g or 0.0 for s in result.summary.sides)
    assert over * 9.80665 / 9.81 == pytest.approx(0.9439, abs=5e-4)


@pytest.mark.slow
def test_files_a_record_once_and_keeps_the_names_that_were_given(tmp_path) -> None:
    folder = tmp_path / "job"
    shutil.copytree(EXAMPLES / "demo-b", folder, ignore=shutil.ignore_patterns("out", "records"))
    log = folder / "tests" / "skidpad.csv"
    asked = ReadAsked(folder, (log,), {"pressure": "P_oil"}, {}, prediction=False)
    found = read_logs(asked)
    keep_names(found)
    assert len(file_record(found)) == 1
    assert file_record(found) == ()
    (filed,) = load_records(folder).of("log")
    sides = {s.turn: s for s in filed.record.sides}
    assert sides["left"].dips == sides["right"].dips == 0
    assert sides["left"].held is not None
    # held for a second: the steadiest second of a circle of 0.95 g with 0.02 g of noise
    assert sides["left"].held / 9.80665 == pytest.approx(0.92, abs=0.03)
    again = read_logs(ReadAsked(folder, (log,), prediction=False)).result
    assert next(c.how for c in again.channels if c.role == "pressure") == "kept in the job"


def test_refuses_a_log_without_pressure(tmp_path) -> None:
    path = tmp_path / "speed.csv"
    path.write_text("time [s],speed [km/h]\n" + "".join(f"{t},50\n" for t in range(20)))
    with pytest.raises(InputError, match="LOG-230"):
        read_logs(ReadAsked(None, (path,)))


def test_a_dead_sensor_passes_nothing(tmp_path) -> None:
    path = tmp_path / "dead.csv"
    rows = "".join(f"{t:.2f},0,3000,{0.8 if t > 5 else 0.0}\n" for t in np.arange(0.0, 20.0, 0.04))
    path.write_text("time [s],oil pressure [bar],rpm,lateral acceleration [g]\n" + rows)
    result = read_logs(ReadAsked(None, (path,))).result
    assert result.summary.judged_s == 0.0
    assert result.summary.verdict.startswith("too little to judge: 0.0 s")
