# SPDX-License-Identifier: Apache-2.0
"""What a log proves of each way round: only what was held on end, seen, and driven with this part.

The sessions are invented: 0.9 g on circles of 15 s, dips where they were put.
"""

import time
from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.job.record_load import load_records
from sumpwright.studies.read import ReadAsked, file_record, read_logs
from sumpwright.studies.read_side import sides_of
from sumpwright.studies.record import write_record
from tests.studies.logged import Session
from tests.studies.proof_job import doored_job, form


def _sides(path: Path, hold: float, *, blind: bool = False) -> dict[str, dict[str, object]]:
    found = read_logs(ReadAsked(None, (path,)))
    return {row["turn"]: row for row in sides_of(found.judgement, hold=hold, blind=blind)}


def _g(row: dict[str, object]) -> float:
    return float(str(row.get("held", "0 g")).split()[0])


def test_a_turn_must_be_held_for_as_long_as_the_job_asks(tmp_path: Path) -> None:
    path = Session().write(tmp_path, lateral=1.0)
    eight, long = _sides(path, 8.0), _sides(path, 20.0)
    assert _g(eight["left"]) == pytest.approx(0.9, abs=0.01)  # 0.01 g of noise over 0.5 s
    assert eight["left"]["held_for"] == "8 s"
    assert _g(long["left"]) < 0.05  # 15 s were driven


def test_a_dip_ends_what_was_held_even_where_the_car_pushed_harder_in_it(tmp_path: Path) -> None:
    # dips 7 s into the left circle: 7 s before it and 7 s after are no 8 s
    path = Session(dips=((47.0, 48.0),)).write(tmp_path, lateral=1.0)
    sides = _sides(path, 8.0)
    assert _g(sides["left"]) < 0.05
    assert sides["left"]["dips"] == 1
    assert _g(sides["right"]) == pytest.approx(0.9, abs=0.01)


def test_a_log_that_cannot_show_dips_holds_nothing(tmp_path: Path) -> None:
    folder = doored_job(tmp_path / "job")
    path = Session(rate=5.0).write(tmp_path, lateral=1.0)
    found = read_logs(ReadAsked(folder, (path,), prediction=False))
    assert "no proof that pressure did not dip" in found.result.filing
    file_record(found)
    (filed,) = load_records(folder).of("log")
    assert "proves no absence of dips" in filed.record.note
    assert [s.held for s in filed.record.sides] == [None, None, None]


def test_a_log_driven_with_another_part_is_not_filed_for_this_one(tmp_path: Path) -> None:
    folder = doored_job(tmp_path / "job")
    path = Session().write(tmp_path, lateral=1.0)
    (first,) = file_record(read_logs(ReadAsked(folder, (path,), prediction=False)))
    job = folder / "job.yaml"
    job.write_text(job.read_text().replace("width: 40 mm", "width: 30 mm"))
    again = read_logs(ReadAsked(folder, (path,), prediction=False))
    assert file_record(again) == ()
    assert again.result.filing.startswith(f"not filed: {first.name}")
    # where only the job was wrong about the part, a decision says so
    write_record(folder, form("decision", set_aside=[first.name]))
    time.sleep(1.0)  # a record is named by its second
    assert len(file_record(read_logs(ReadAsked(folder, (path,), prediction=False)))) == 1
    assert load_job(folder).job.revision == "A"


def test_a_log_without_acceleration_says_nothing_of_turns(tmp_path: Path) -> None:
    path = Session(dips=((61.0, 62.0),)).write(tmp_path)
    found = read_logs(ReadAsked(None, (path,))).result
    assert "nothing tells turns from straights" in found.summary.verdict
    assert "straight on" not in found.summary.verdict
    assert {e.turn for e in found.events if e.kind == "dip"} == {"not known"}
    assert [s.turn for s in found.summary.sides] == ["not known"]
    assert found.summary.left_right_p is None


def test_a_side_that_nothing_tells_is_not_called_left(tmp_path: Path) -> None:
    path = Session(dips=((61.0, 62.0),)).write(tmp_path)
    found = read_logs(ReadAsked(None, (path,), radius=30.0)).result
    assert {e.turn for e in found.events if e.kind == "dip"} == {"turning"}
    assert [s.turn for s in found.summary.sides] == ["turning", "straight"]


def _typed(folder: Path, low: range) -> Path:
    rows = "".join(f"0:{5 * k:02d},3000,{90 if k in low else 230}\n" for k in range(12))
    path = folder / "hand.csv"
    path.write_text("time,rpm,oil pressure [kPa]\n" + rows)
    return path


def test_gauges_read_by_hand_have_low_readings_and_no_dips(tmp_path: Path) -> None:
    # 10 psi per 1000 rpm: 207 kPa at 3000 rpm; common practice, no source
    found = read_logs(ReadAsked(None, (_typed(tmp_path, range(3, 8)),))).result
    assert found.summary.verdict.startswith("fails: 5 of 12 readings low")
    assert {e.cause for e in found.events if e.kind == "dip"} == {"low reading"}
    fine = read_logs(ReadAsked(None, (_typed(tmp_path, range(0)),))).result
    assert fine.summary.verdict.startswith("no reading low of 12")
    assert "passes" not in fine.summary.verdict
