# SPDX-License-Identifier: Apache-2.0
"""The commands as a person runs them, from nothing to the next revision."""

import json
from pathlib import Path

import pytest

from sumpwright.job.load import load_job


@pytest.mark.slow
@pytest.mark.parametrize("template", ["minimal", "full"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_new_job_can_be_checked_at_once(run, tmp_path: Path, template: str, units: str) -> None:
    folder = tmp_path / "Neue Wanne é"
    done = run("new", folder, "--template", template, "--units", units, "--yes")
    assert (done.returncode, done.stderr) == (0, "")
    done = run("check", folder, "--json", "--no-report")
    assert done.returncode in (0, 1), done.stdout
    said = json.loads(done.stdout)
    assert said["job"] == "Neue Wanne é"
    assert done.returncode == (1 if said["verdict"] == "not met" else 0)
    states = {r["id"]: r["state"] for r in said["requirements"]}
    judged = {i for i, state in states.items() if state != "not judged"}
    if template == "full":
        assert {"capacity", "crank_gap", "guard", "ground", "hold_left", "slope_up"} <= judged
        assert said["hold"]["stock"] is not None
    assert said["fill"]["full_m3"] == pytest.approx(
        4.5e-3 if units == "metric" else 4.5425e-3, rel=1e-4
    )


@pytest.mark.slow
def test_the_summary_is_plain_text_where_no_terminal_is(run, job: Path) -> None:
    done = run("check", job, "--no-report")
    assert done.stdout.split("\n")[0] in (
        "MET  Bench engine, revision A",
        "NOT MET  Bench engine, revision A",
    )
    assert "\x1b" not in done.stdout + done.stderr


def test_new_refuses_a_folder_in_use_and_wrong_answers_at_once(run, tmp_path: Path) -> None:
    (tmp_path / "kept").write_text("mine")
    assert "[SAVE-305]" in run("new", tmp_path, "--yes").stderr
    done = run("new", tmp_path / "x", "--units", "imperial", "--template", "big", "--fill", "4")
    assert done.returncode == 2
    assert done.stderr.count("[CLI-401]") == 3
    assert not (tmp_path / "x").exists()


def test_set_changes_one_value_and_says_so(run, job: Path) -> None:
    before = (job / "job.yaml").read_text("utf-8")
    done = run("set", job, "oil.fill", "4.2", "L")
    line = load_job(job).line_of("oil", "fill")
    assert done.stdout == f"job.yaml:{line}  oil.fill: 4.5 L -> 4.2 L\n"
    assert (job / "job.yaml").read_text("utf-8") == before.replace("fill: 4.5 L", "fill: 4.2 L")


def test_set_takes_a_negative_value(run, job: Path) -> None:
    assert run("set", job, "pose.roll", "-3", "deg").returncode == 0
    assert load_job(job).typed("pose", "roll") == "-3 deg"


def test_set_refuses_a_slip_and_writes_nothing(run, job: Path) -> None:
    before = (job / "job.yaml").read_bytes()
    done = run("set", job, "oil.fil", "4 L")
    assert done.returncode == 2
    assert "did you mean `fill`?" in done.stderr
    assert (job / "job.yaml").read_bytes() == before


def test_revise_keeps_the_old_and_starts_the_next(run, job: Path) -> None:
    done = run("revise", job, "--note", "wider")
    record = job / "records" / "revision-A.yaml"
    assert done.stdout == f"revision B; the one before is kept in {record}\n"
    assert "# Note: wider\n" in record.read_text("utf-8")


# -- measure ---------------------------------------------------------------------------------------


def test_measure_finds_the_level_of_a_volume_by_hand_arithmetic(run, job: Path) -> None:
    body = job / "geometry" / "new-cavity.stl"
    done = run("measure", body, "--unit", "mm", "--volume", "4.5 L", "--json")
    assert done.returncode == 0, done.stderr
    said = json.loads(done.stdout)
    # a 200 x 240 x 60 well holds 2.88 L; the other 1.62 L stand on 460 x 240: 14.674 mm over -55
    assert said["volume_m3"] == pytest.approx(8.952e-3, rel=1e-6)  # STL keeps 7 digits
    assert said["level"]["height_m"] == pytest.approx(-0.055 + 1.62e-3 / (0.46 * 0.24), abs=1e-8)
    assert said["watertight"] is True


def test_measure_shows_metric_and_us(run, job: Path) -> None:
    body = job / "geometry" / "new-cavity.stl"
    metric = run("measure", body, "--unit", "mm", "--height", "-55 mm").stdout
    assert "  volume    8.95 L\n" in metric
    assert "  volume    2.880 L\n" in metric
    us = run("measure", body, "--unit", "mm", "--height", "-55 mm", "--us").stdout
    assert "  volume    9.46 qt\n" in us  # NIST SP 811 B.8: 0.946353 L


@pytest.mark.parametrize(
    ("options", "codes"),
    [
        (["--unit", "mm", "--volume", "4 L", "--height", "3 mm"], ["CLI-402"]),
        (["--unit", "furlong", "--volume", "4", "--accel", "0 1"], ["CLI-401"] * 3),
        (["--unit", "mm", "--accel", "0 nan 0"], ["CLI-401"]),
        (["--unit", "mm", "--accel", "0 98 0"], ["CLI-401"]),
    ],
)
def test_measure_says_every_option_it_cannot_use(run, job: Path, options, codes) -> None:
    done = run("measure", job / "geometry" / "new-cavity.stl", *options, "--json")
    assert done.returncode == 2
    assert [p["code"] for p in json.loads(done.stdout)["problems"]] == codes


def test_measure_says_a_file_that_is_not_there(run, tmp_path: Path) -> None:
    assert "[CLI-403]" in run("measure", tmp_path / "gone.stl").stderr
    assert "[CLI-403]" in run("measure", tmp_path).stderr


def test_measure_refuses_more_than_the_body_holds_in_both_units(run, job: Path) -> None:
    body = job / "geometry" / "new-cavity.stl"
    done = run("measure", body, "--unit", "mm", "--volume", "40 L")
    assert done.returncode == 2
    assert done.stderr.startswith("new-cavity.stl  [JOB-150]\n")
    # 8.952 L by the sizes in the template; NIST SP 811 B.8: 1 qt = 0.946353 L
    assert "no more than the body holds: 8.95 L (9.46 qt)" in done.stderr


def test_measure_says_an_acceleration_that_changes_nothing(run, job: Path) -> None:
    body = job / "geometry" / "new-cavity.stl"
    done = run("measure", body, "--unit", "mm", "--accel", "0 0.9 0")
    assert done.returncode == 0
    assert "--accel changes nothing" in done.stderr
    assert done.stdout.startswith("new-cavity.stl  (mm, declared)\n")
    assert "-0.00" not in done.stdout
