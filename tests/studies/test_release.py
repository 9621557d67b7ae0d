# SPDX-License-Identifier: Apache-2.0
"""A revision goes out with its evidence, or is told by name what it lacks."""

from datetime import datetime
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.job.record_load import load_records
from sumpwright.job.requirement import PROOF, Requirements
from sumpwright.studies.history import kept_revisions
from sumpwright.studies.record import write_record
from sumpwright.studies.release import release, untested
from tests.studies.proof_job import DOORED, FORMS, doored_job, form

KEPT = {"capacity", *PROOF}
ASKED = f"""{DOORED}requirements:
  capacity: 3 L
  target_left: off
  target_right: off
  target_brake: off
  proof_left: 1.2 g
  proof_right: 1.2 g
  proof_brake: 1.2 g
""" + "".join(
    f"  {name}: off\n"
    for name in Requirements.model_fields
    if (name not in KEPT and not name.startswith("target_")) or name == "target_accelerate"
)


def proved(folder: Path, text: str = ASKED) -> Path:
    folder = doored_job(folder, text)
    for kind in FORMS:
        write_record(folder, form(kind))
    return folder


def test_names_every_requirement_without_evidence(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        release(doored_job(tmp_path, ASKED))
    assert [p.code for p in caught.value.problems] == ["REL-401"] * len(PROOF)
    assert {p.where for p in caught.value.problems} == {f"requirements.{name}" for name in PROOF}


def test_says_what_to_do_about_each(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        release(doored_job(tmp_path / "bare", ASKED))
    do = {p.where.removeprefix("requirements."): p.do for p in caught.value.problems}
    assert "`sumpwright read`" in do["proof_left"]
    assert "`sumpwright record`" in do["proof_leak"]
    folder = proved(tmp_path / "slow")
    for path in (folder / "records").glob("log-*"):
        path.write_text(path.read_text().replace("1.25 g", "0.5 g"))
    with pytest.raises(InputError) as caught:
        release(folder)
    assert {p.where for p in caught.value.problems} == {
        f"requirements.proof_{way}" for way in ("left", "right", "brake")
    }
    assert all(p.do.startswith("drive it up to what is asked") for p in caught.value.problems)


def test_goes_out_with_all_of_it(tmp_path: Path) -> None:
    result = release(proved(tmp_path), torque="10 Nm")
    assert {r.state for r in result.requirements} == {"met"}
    assert {p.kind for p in result.records} == set(FORMS)
    assert result.torque == "10 Nm"
    assert "Turned off in the job: Pan over the ground at ride height." in result.untested
    assert any("neither flow nor" in line for line in result.untested)


def test_is_refused_again_once_the_part_changes(tmp_path: Path) -> None:
    folder = proved(tmp_path)
    (folder / "job.yaml").write_text(ASKED.replace("fill: 3 L", "fill: 2.9 L"), "utf-8")
    with pytest.raises(InputError) as caught:
        release(folder)
    assert {p.where for p in caught.value.problems} == {f"requirements.{name}" for name in PROOF}
    assert all("stale" in p.found for p in caught.value.problems)


def test_is_refused_by_a_computed_requirement_that_is_not_met(tmp_path: Path) -> None:
    text = ASKED.replace("capacity: 3 L", "capacity: 7 L")
    with pytest.raises(InputError) as caught:
        release(proved(tmp_path, text))
    assert [p.where for p in caught.value.problems] == ["requirements.capacity"]


def test_is_refused_by_a_broken_record(tmp_path: Path) -> None:
    folder = proved(tmp_path)
    (folder / "records" / "log-A-20260101-000000.yaml").write_text("kind: log\n", "utf-8")
    with pytest.raises(InputError) as caught:
        release(folder)
    assert {p.code for p in caught.value.problems} == {"REC-303"}


def test_says_when_a_photo_is_not_the_one_that_was_filed(tmp_path: Path) -> None:
    folder = doored_job(tmp_path, ASKED)
    (folder / "screen.jpg").write_bytes(b"a picture")
    for kind in FORMS:
        extra = {"photos": ["screen.jpg"]} if kind == "teardown" else {}
        write_record(folder, form(kind, **extra))
    assert [p.unchanged for p in release(folder).photos] == [True]
    (folder / "screen.jpg").write_bytes(b"another")
    assert [p.unchanged for p in release(folder).photos] == [False]


def test_says_which_targets_were_computed_but_not_driven() -> None:
    demo = load_job(Path(__file__).parents[2] / "examples" / "demo-b")
    driven_less = [line for line in untested(demo) if "is computed, not driven" in line]
    assert [line.partition(":")[0] for line in driven_less] == [
        "Oil pressure over 0.90 g turning left",
        "Oil pressure over 0.90 g turning right",
        "Oil pressure over 0.90 g braking",
    ]


def test_the_torque_is_the_one_given_now_or_else_the_jobs(tmp_path: Path) -> None:
    text = f"{ASKED}fitting:\n  torque: 9 N m, crosswise\n"
    folder = proved(tmp_path, text)
    assert release(folder).torque == "9 N m, crosswise"
    assert release(folder, torque="10 N m").torque == "10 N m"


def test_the_demos_records_come_in_the_order_of_the_work() -> None:
    demo = load_job(Path(__file__).parents[2] / "examples" / "demo-b")
    begun = datetime.fromisoformat(kept_revisions(demo)[-1].when)
    filed = sorted(load_records(demo.folder).filed, key=lambda f: f.record.made)
    assert begun < filed[0].record.made
    assert [f.record.kind for f in filed] == [
        *("fill-test", "tilt-test", "door-test", "leak-test"),
        *("session", "session", "log", "teardown"),
    ]
    doors, leak = (f.record for f in filed[2:4])
    assert (leak.made - doors.made).total_seconds() >= leak.stood
