# SPDX-License-Identifier: Apache-2.0
"""The clearance study on boxes placed where the gaps can be read off."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.studies.check import check
from sumpwright.studies.result import CheckResult
from tests.studies.box_job import JOB, box_job, box_mesh

CAR = """\
pose: {height: 250 mm, x: 1000 mm}
ride: {bump_travel: 60 mm}
obstacles:
  - {name: Front crossmember, file: geometry/beam.stl, unit: mm, guard: true}
"""
# pan outside x 1000 to 1300, z 150 to 250 mm in the car; the beam starts 25 mm behind it
OUTSIDE = "  outside: {file: geometry/cavity.stl, unit: mm}\noil:\n"
BEAM = box_mesh((0.875, -0.4, 0.14), (0.975, 0.4, 0.24))


def checked(folder: Path, more: str = "") -> CheckResult:
    return check(box_job(folder, JOB.replace("oil:\n", OUTSIDE) + CAR + more, beam=BEAM))


def test_gap_guard_and_ground_of_boxes(tmp_path: Path) -> None:
    found = checked(tmp_path).clearance
    assert found is not None
    # 1e-9 m: coordinates a metre from the origin, and the distance library's own tolerance
    assert found.obstacles[0].worst.gap_m == pytest.approx(0.025, abs=1e-9)
    assert found.obstacles[0].worst.case == "at rest"
    assert found.guard is not None
    assert found.guard.margin_m == pytest.approx(0.010, abs=1e-12)
    assert found.ground_m == pytest.approx(0.150, abs=1e-12)
    assert found.ground_at_bump_m == pytest.approx(0.090, abs=1e-12)


def test_movement_cases_are_each_answered(tmp_path: Path) -> None:
    cases = """\
movement:
  - {name: back, shift: [-20 mm, 0 mm, 0 mm]}
  - {name: sag, shift: [0 mm, 0 mm, -5 mm]}
  - {name: roll, roll: 5 deg}
"""
    found = checked(tmp_path, cases).clearance
    assert found is not None
    gaps = {c.case: c.gap_m for c in found.obstacles[0].cases}
    assert gaps["back"] == pytest.approx(0.005, abs=1e-9)
    assert gaps["sag"] == pytest.approx(0.025, abs=1e-9)
    assert gaps["roll"] == pytest.approx(0.025, abs=1e-9)  # about x: the front face stays put
    assert found.obstacles[0].worst.case == "back"
    assert found.guard is not None
    # rolled 5 deg about the origin (no crank line given): the right bottom corner goes lowest
    rolled = 0.1 * np.cos(np.radians(5)) + 0.1 * np.sin(np.radians(5))
    assert found.guard.case == "roll"
    assert found.guard.margin_m == pytest.approx(0.25 - rolled - 0.14, abs=1e-12)


def test_roll_turns_about_the_crank_centreline(tmp_path: Path) -> None:
    crank = "engine:\n  crank_sweep: {height: 60 mm, radius: 50 mm, front: 300 mm, rear: 0 mm}\n"
    found = checked(tmp_path, crank + "movement: [{name: roll, roll: 5 deg}]\n").clearance
    assert found is not None
    assert found.guard is not None
    low = 0.16 * np.cos(np.radians(5)) + 0.1 * np.sin(np.radians(5)) - 0.06
    assert found.guard.pan_lowest_m == pytest.approx(0.25 - low, abs=1e-12)


def test_overlap_is_negative_and_not_met(tmp_path: Path) -> None:
    result = checked(tmp_path, "movement: [{name: back, shift: [-40 mm, 0 mm, 0 mm]}]\n")
    line = {r.id: r for r in result.requirements}["clearance.front-crossmember"]
    assert line.state == "not met"
    assert line.value is not None
    assert line.value < 0.0
    assert line.reason == "worst case: back"


def test_a_minimal_job_says_what_clearance_needs(tmp_path: Path) -> None:
    result = check(box_job(tmp_path))
    lines = {r.id: r for r in result.requirements}
    assert result.clearance is None
    assert lines["clearance"].state == "not judged"
    assert lines["clearance"].reason == "needs `new.outside` and `obstacles`"
    assert lines["guard"].state == "not judged"
    assert result.verdict == "met"


def test_turned_off_requirements_leave_the_ledger(tmp_path: Path) -> None:
    result = checked(tmp_path, "requirements: {guard: off, clearance: off, ground: 200 mm}\n")
    lines = {r.id: r for r in result.requirements}
    assert "guard" not in lines
    assert not any(name.startswith("clearance") for name in lines)
    assert lines["ground"].state == "not met"
    assert lines["ground"].margin == pytest.approx(-0.05, abs=1e-12)
