# SPDX-License-Identifier: Apache-2.0
"""Bench checks of a box: heights and liquid lines by hand, doors by name."""

import json
from pathlib import Path

import pytest

from sumpwright.studies.plan import plan
from sumpwright.studies.plan_bench import tilt_angle
from tests.studies.baffled_job import DOOR, WALL, baffled
from tests.studies.box_job import JOB, box_job

TILTED = JOB + "requirements: {target_left: 0.3 g, target_right: 0.4 g, target_brake: 0.2 g}\n"


def test_tilts_are_the_arc_tangents_of_g() -> None:
    """By geometry: 45.0 deg for 1 g, 50.2 for 1.2 g, 52.4 for 1.3 g, to the digits printed."""
    found = [round(tilt_angle(g), 1) for g in (1.0, 1.2, 1.3)]
    assert found == [45.0, 50.2, 52.4]


def test_a_box_fills_by_its_floor(tmp_path: Path) -> None:
    """300 x 200 mm: 60 L a metre, so 3 L stand 50 mm up, 50 mm below the rail."""
    test = plan(box_job(tmp_path)).bench.fill
    assert test.holds_m3 == pytest.approx(6e-3)
    for step in test.steps:
        assert step.depth_m == pytest.approx(step.volume_m3 / 0.06, abs=1e-9)
        assert step.below_rail_m == pytest.approx(0.1 - step.volume_m3 / 0.06, abs=1e-9)
        assert step.along_dipstick_m is None
    assert [s.volume_m3 for s in test.steps if s.mark == "full"] == [pytest.approx(3e-3)]


def test_the_liquid_line_in_a_half_full_box_goes_through_its_middle(tmp_path: Path) -> None:
    """z = -50 mm - 0.3 y in a left turn: 20 mm below the rail on the right wall, 80 on the left."""
    test = plan(box_job(tmp_path, TILTED)).bench.tilt
    assert test.volume_m3 == pytest.approx(3e-3)
    left, right, brake, _ = (
        next(s for s in test.steps if s.way == w) for w in ("left", "right", "brake", "accelerate")
    )
    assert left.down_side == "right side"
    assert left.highest[1:] == pytest.approx((-0.1, -0.02), abs=1e-9)
    assert left.lowest[1:] == pytest.approx((0.1, -0.08), abs=1e-9)
    assert right.highest[1:] == pytest.approx((0.1, -0.01), abs=1e-9)
    assert brake.down_side == "front"
    assert brake.highest[0] == pytest.approx(0.3)
    assert brake.highest[2] == pytest.approx(-0.05 + 0.2 * 0.15, abs=1e-9)
    assert not any(s.over_rail for s in test.steps)
    assert len(test.cannot_show) >= 2


def test_every_door_is_named_with_the_way_it_opens(tmp_path: Path) -> None:
    doors = plan(baffled(tmp_path, WALL + DOOR)).bench.doors
    assert [(d.baffle, d.name, d.swings, d.hinge) for d in doors] == [
        ("wall", "flap", "the front", "top")
    ]
    assert doors[0].stop_deg > 0.0


def test_a_job_that_says_little_still_gets_a_programme(tmp_path: Path) -> None:
    result = plan(box_job(tmp_path))
    said = " ".join(result.missing)
    for word in ("new.pickup", "driveline", "engine.rpm", "reading", "dipstick", "circle"):
        assert word in said
    runs = [r for s in result.stages for r in s.runs]
    assert runs
    assert all(r.forecast.outcome == "not computed" and r.forecast.why for r in runs)
    assert result.pressure.points
    assert "no source" in result.pressure.abort_source
    json.dumps(result.as_json(), allow_nan=False)
