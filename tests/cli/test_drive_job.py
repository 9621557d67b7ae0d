# SPDX-License-Identifier: Apache-2.0
"""`sumpwright drive` on whole jobs: a textbook case as a small job, and what cannot be driven."""

import json
from pathlib import Path

import numpy as np
import pytest

from sumpwright.studies.asked import Asked
from sumpwright.studies.drive import drive
from tests.studies.motion_job import ENGINE, MotionJob, motion_folder
from tests.studies.test_drive import levelled, two_tanks

HILL = ("hill", "--duration", "12 s", "--uphill", "nose", "--slope", "0 deg")
START = ("--start", "A=16 L, B=4 L")


def test_two_tanks_are_a_small_job(run, tmp_path: Path) -> None:
    """t = 2 A1 A2/(A1 + A2) (sqrt H1 - sqrt H2)/(Cd a sqrt(2 g)), as in tests/studies."""
    folder = two_tanks(tmp_path)
    done = run("drive", folder, *HILL, *START, "--json", "--no-report")
    assert done.returncode == 0, done.stderr
    said = json.loads(done.stdout)
    heights = [np.array(part["surface_height_m"]) for part in said["compartments"]]
    found, time = heights[0] - heights[1], np.array(said["time_s"])
    wanted = levelled(time, found[0])
    np.testing.assert_allclose(found, wanted, atol=4e-4)  # friction of oil, as there
    assert found[-1] < 0.05 * found[0]
    options = dict(zip((o[2:] for o in HILL[1::2]), HILL[2::2], strict=True))
    asked = Asked("hill", options, start=(("A", 16e-3), ("B", 4e-3)))
    assert said == json.loads(json.dumps(drive(folder, asked).as_json()))
    assert not list((folder / "out").glob("drive*"))


@pytest.mark.slow
def test_the_same_job_as_a_person_reads_it(run, tmp_path: Path) -> None:
    done = run("drive", two_tanks(tmp_path), *HILL, *START, "--no-report")
    assert done.returncode == 0
    assert done.stdout.startswith("NOTHING JUDGED YET  two tanks, revision A\n")
    (rear,) = (line for line in done.stdout.splitlines() if line.startswith("  A  rear"))
    assert "16.00 L at 0.00 s" in rear
    text = " ".join(done.stdout.split())
    assert "It begins with 20.00 L in the pan as typed, not settled; the job's own fill" in text
    assert "settled start" not in text


def test_a_compartment_that_is_not_there_is_an_input_problem(run, tmp_path: Path) -> None:
    done = run("drive", two_tanks(tmp_path), *HILL, "--start", "A=30 L, C=1 L", "--json")
    assert done.returncode == 2
    assert [p["code"] for p in json.loads(done.stdout)["problems"]] == ["DRIVE-503", "DRIVE-504"]


@pytest.mark.slow
@pytest.mark.parametrize(("spills", "said"), [("inlet", True), ("pan", False)])
def test_a_relief_valve_that_spares_the_pickup_is_said(
    run, tmp_path: Path, spills: str, said: bool
) -> None:
    reading = "{pressure: 300 kPa, rpm: 3000 rpm, at: 90 degC}"
    pump = f"  pump: {{relief: 420 kPa, relief_to: {spills}, reading: {reading}}}\n"
    job = motion_folder(tmp_path, MotionJob(more=f"{ENGINE}{pump}"))
    text = (job / "job.yaml").read_text(encoding="utf-8")
    (job / "job.yaml").write_text(text.replace("oil: {", "oil: {grade: 10W-40, "), "utf-8")
    done = run("drive", job, *HILL, "--rpm", "3000 rpm", "--oil", "0 degC", "--no-report")
    assert done.returncode in (0, 1), done.stderr
    assert ("The open relief valve spares the pickup" in done.stdout) is said


def test_a_speed_beyond_the_curves_is_an_input_problem(run, tmp_path: Path) -> None:
    done = run("drive", motion_folder(tmp_path, MotionJob(more=ENGINE)), *HILL, "--rpm", "7000 rpm")
    assert done.returncode == 2
    assert "[JOB-160]" in done.stderr
    assert "the engine turns 7000 rpm in this manoeuvre" in done.stderr


@pytest.mark.slow
def test_a_chance_is_the_same_for_a_seed_whatever_the_threads(
    run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = motion_folder(tmp_path, MotionJob(fill="3.55 L", more=ENGINE))
    turn = ("circle", "--radius", "30 m", "--accel", "0.2 g", "--duration", "2 s")
    said = []
    for threads in ("1", "3"):
        monkeypatch.setenv("SUMPWRIGHT_THREADS", threads)
        draw = ("--chance", "60", "--seed", "4", "--json", "--no-report")
        said.append(json.loads(run("drive", folder, *turn, *draw).stdout))
    assert said[0] == said[1]
    (chance,) = said[0]["chances"]
    assert (chance["samples"], chance["seed"]) == (60, 4)
    assert 0.0 < chance["low"] < chance["fails"] < chance["high"] < 1.0
