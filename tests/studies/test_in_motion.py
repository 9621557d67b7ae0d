# SPDX-License-Identifier: Apache-2.0
"""What a check learns of oil in motion: the targets, and every manoeuvre that is named."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.studies.asked import Asked
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.check import check
from sumpwright.studies.drive import drive
from sumpwright.studies.in_motion import InMotion, in_motion
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.motion_job import ENGINE, MotionJob, motion_folder

WALLED = f"  baffles:\n{WALL}{DOOR}"
NAMED = """\
manoeuvres:
  - {name: left, kind: circle, radius: 30 m, accel: 0.5 g, duration: 2 s, rpm: 3000 rpm}
  - {name: paddock, kind: hill, uphill: tail, slope: 2 deg, duration: 2 s, oil: 60 degC}
"""
OIL = "cold: 20 degC, hot: 100 degC, viscosity: [{at: 40 degC, value: 96 mm^2/s}, {at: 100 degC, value: 14 mm^2/s}]"  # noqa: E501


def learnt(folder: Path, job: MotionJob) -> InMotion:
    loaded = load_job(motion_folder(folder, job))
    return in_motion(loaded, read_bodies(loaded))


def test_every_manoeuvre_of_the_job_has_its_line_as_driven_alone(tmp_path: Path) -> None:
    job = MotionJob(fill="4 L", pan=WALLED, oil=OIL, more=ENGINE + NAMED)
    found = learnt(tmp_path, job)
    assert [line.id for line in found.lines] == ["dry_spell.left", "dry_spell.paddock"]
    for line in found.lines:
        alone = drive(tmp_path, Asked(line.id.split(".")[1])).requirements
        assert alone == (line,)
    assert found.hold is not None
    assert found.hold.compartments == 2
    assert len(found.said) == len(set(found.said))
    # the two run at different speeds, whose lag is 1 s at both
    assert any("(1.0 s)" in text for text in found.said)


def test_without_a_pickup_nothing_moves(tmp_path: Path) -> None:
    found = learnt(tmp_path, MotionJob(pickup="", oil=OIL, more=ENGINE + NAMED))
    assert found == InMotion(None, (), (), ())


def test_findings_of_the_baffles_are_handed_on(tmp_path: Path) -> None:
    wrong = WALLED.replace("ahead", "behind")
    pickup = "  pickup: {centre: [200 mm, 0 mm, -80 mm], diameter: 40 mm}\n"
    found = learnt(tmp_path, MotionJob(pickup=pickup, pan=wrong, oil=OIL, more=ENGINE))
    assert "GEO-419" in {finding.code for finding in found.findings}


def test_the_check_judges_them_in_its_ledger(tmp_path: Path) -> None:
    job = MotionJob(fill="4 L", pan=WALLED, oil=OIL, more=ENGINE + NAMED)
    result = check(motion_folder(tmp_path, job))
    states = {line.id: line.state for line in result.requirements}
    assert states["dry_spell.paddock"] == "met"
    for way in ("left", "right", "brake", "accelerate"):
        assert states[f"target_{way}"] in ("met", "not met")
    assert result.motion is not None
    reasons = {line.id: line.reason for line in result.requirements}
    assert reasons["target_left"].startswith("held for 8 s at 6000 rpm")
    assert reasons["target_brake"].startswith("held for 4 s at 6000 rpm")


def test_a_manoeuvre_beyond_the_curves_stops_the_check_with_its_mend(tmp_path: Path) -> None:
    fast = NAMED.replace("rpm: 3000 rpm", "rpm: 7000 rpm")
    with pytest.raises(InputError, match="JOB-160"):
        learnt(tmp_path, MotionJob(oil=OIL, more=ENGINE + fast))
