# SPDX-License-Identifier: Apache-2.0
"""A whole programme: a pickup on one side is foretold to uncover where statics say so."""

from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.studies.plan import plan, targets_of
from tests.studies.motion_job import THICK, MotionJob, motion_folder
from tests.studies.test_target import TRICKLE

LEFT_OF_MIDDLE = "  pickup: {centre: [150 mm, 60 mm, -80 mm], diameter: 40 mm}\n"
"""Its far rim 80 mm left of the middle: by statics a left turn uncovers it near 30/80 = 0.37 g."""
LOW = "requirements: {target_left: 0.6 g, target_right: 0.6 g, target_brake: off}\n"


def test_the_side_that_uncovers_by_statics_is_the_one_foretold(tmp_path: Path) -> None:
    job = MotionJob(pickup=LEFT_OF_MIDDLE, viscosity=THICK, more=TRICKLE + LOW)
    result = plan(motion_folder(tmp_path, job))
    circles = [s for s in result.stages if s.kind == "circle"]
    said = {(r.turn, round(r.accel_g, 2)): r.forecast.outcome for s in circles for r in s.runs}
    assert said == {
        ("left", 0.3): "covered",
        ("right", 0.3): "covered",
        ("left", 0.45): "air",
        ("right", 0.45): "covered",
        ("left", 0.6): "air",
        ("right", 0.6): "covered",
    }
    for run in (r for s in circles for r in s.runs):
        first = run.forecast.first_air_s
        assert run.duration_s is not None
        assert first is None or run.duration_s >= first  # long enough to uncover
    assert not any(s.kind == "brake" for s in result.stages)
    assert any("target_brake" in line for line in result.missing)


def test_targets_come_from_the_requirements(tmp_path: Path) -> None:
    found = targets_of(load_job(motion_folder(tmp_path, MotionJob(more=LOW))).job)
    assert found["left"] == pytest.approx(0.6)
    assert found["brake"] is None
    assert found["accelerate"] == pytest.approx(0.6)  # the default
