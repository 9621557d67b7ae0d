# SPDX-License-Identifier: Apache-2.0
"""The verdict as other programs read it: keys, units, states."""

import json
from pathlib import Path

import pytest

from sumpwright.studies.check import check
from tests.studies.box_job import JOB, box_job, box_mesh

FULL = (
    JOB.replace(
        "oil:\n",
        """\
  outside: {file: geometry/cavity.stl, unit: mm}
  pickup: {centre: [150 mm, 0 mm, -90 mm], diameter: 30 mm}
  dipstick: {start: [100 mm, 20 mm, 200 mm]}
stock:
  cavity: {file: geometry/stock.stl, unit: mm}
  outside: {file: geometry/stock.stl, unit: mm}
  pickup: {centre: [100 mm, 0 mm, -140 mm], diameter: 30 mm}
oil:
  low: 2.5 L
""",
    )
    + """\
engine:
  rpm: 6000 rpm
  retained: [{rpm: 0 rpm, oil: 0 L}, {rpm: 6500 rpm, oil: 0.6 L}]
  flow: [{rpm: 0 rpm, flow: 0 L/min}, {rpm: 6500 rpm, flow: 30 L/min}]
  crank_sweep: {height: 60 mm, radius: 50 mm, front: 300 mm, rear: 0 mm}
  crankcase_height: 100 mm
pose: {height: 250 mm}
ride: {bump_travel: 50 mm}
obstacles: [{name: beam, file: geometry/beam.stl, unit: mm, guard: true}]
"""
)
STOCK = box_mesh((0.0, -0.08, -0.15), (0.2, 0.08, 0.0))
BEAM = box_mesh((-0.1, -0.4, 0.12), (-0.05, 0.4, 0.2))


@pytest.fixture(scope="module")
def answer(tmp_path_factory: pytest.TempPathFactory) -> dict:
    folder = box_job(tmp_path_factory.mktemp("job"), FULL, stock=STOCK, beam=BEAM)
    return json.loads(json.dumps(check(folder).as_json()))


def test_top_level_keys_are_those_that_other_work_builds_on(answer: dict) -> None:
    wanted = "job revision input_hash verdict requirements fill clearance hold"
    assert set(wanted.split()) <= set(answer)
    assert answer["verdict"] in ("met", "not met")


def test_every_requirement_has_its_keys_and_a_margin_that_adds_up(answer: dict) -> None:
    for line in answer["requirements"]:
        wanted = "id statement limit value margin unit source state"
        assert set(wanted.split()) <= set(line)
        assert line["state"] in ("met", "not met", "not judged")
        assert line["source"]
        if line["state"] == "not judged":
            assert line["reason"]
            assert line["value"] is None
        else:
            assert line["margin"] == line["value"] - line["limit"]
            assert (line["state"] == "met") == (line["margin"] >= 0)


def test_hold_has_a_limit_for_each_direction_and_the_stock_pan_inside(answer: dict) -> None:
    hold = answer["hold"]
    assert hold["directions_deg"] == [5.0 * k for k in range(72)]
    for pan in (hold, hold["stock"]):
        assert len(pan["limit_g"]) == 72
        at = dict(zip(pan["directions_deg"], pan["limit_g"], strict=True))
        assert at[0.0] == pan["accelerate_g"]
        assert at[90.0] == pan["left_g"]
        assert at[180.0] == pan["brake_g"]
        assert at[270.0] == pan["right_g"]
    assert hold["stock"]["stock"] is None


def test_hold_is_at_the_oil_really_in_the_pan(answer: dict) -> None:
    retained = 0.6e-3 * 6000 / 6500
    assert answer["hold"]["oil_m3"] == pytest.approx(3e-3 - retained, rel=1e-12)
    assert answer["hold"]["rpm"] == pytest.approx(6000.0)


def test_lengths_are_metres_and_places_are_in_the_car(answer: dict) -> None:
    gap = answer["clearance"]["obstacles"][0]["worst"]
    assert gap["gap_m"] == pytest.approx(0.05, abs=1e-9)
    assert gap["on_pan_m"][0] == pytest.approx(0.0, abs=1e-9)
    assert gap["on_obstacle_m"][0] == pytest.approx(-0.05, abs=1e-9)
    assert answer["clearance"]["lowest_point_m"][2] == pytest.approx(0.15, abs=1e-12)


def test_a_result_says_what_it_came_from_and_what_it_takes_for_granted(answer: dict) -> None:
    assert len(answer["input_hash"]) == 64
    assert answer["code_version"]
    assert any("without baffles" in s for s in answer["assumptions"])


def test_a_minimal_job_says_what_each_requirement_needs(tmp_path: Path) -> None:
    result = check(box_job(tmp_path))
    assert result.verdict == "met"
    assert result.hold is None
    assert result.clearance is None
    reasons = {r.id: r.reason for r in result.requirements}
    assert reasons["capacity"] == "against its own full mark; the surface is held by the rail"
    assert reasons["crank_gap"] == "needs a fill and `engine.crank_sweep`"
    assert reasons["hold_left"] == "needs `new.pickup`"
    assert {r.id for r in result.requirements if r.state != "not judged"} == {"capacity"}


def test_a_limit_of_ones_own_replaces_the_stock_pans(tmp_path: Path) -> None:
    own = JOB + "requirements: {capacity: 6.5 L, crank_gap: off}\n"
    lines = {r.id: r for r in check(box_job(tmp_path, own)).requirements}
    assert "crank_gap" not in lines
    assert lines["capacity"].state == "not met"
    assert lines["capacity"].margin == pytest.approx(-0.5e-3, rel=1e-9)


def test_a_source_says_where_the_limit_comes_from(answer: dict) -> None:
    lines = {line["id"]: line["source"] for line in answer["requirements"]}
    assert lines["capacity"] == "limit: the larger of the job's own fill and the stock pan's"
    assert lines["hold_left"] == "[Lubin-Springer-1967] draw-down; limit: the stock pan's own"
    assert lines["crank_gap"] == "limit: common practice, no source (15 to 25 mm)"
    assert lines["clearance.beam"] == "limit: common practice, no source"


def test_a_limit_that_somebody_typed_is_the_job_files(tmp_path: Path) -> None:
    typed = FULL.replace("guard: true", "guard: true, clearance: 30 mm")
    limits = "requirements: {ground: 120 mm, hold_left: 0.4 g}\n"
    result = check(box_job(tmp_path, typed + limits, stock=STOCK, beam=BEAM))
    lines = {line.id: line.source for line in result.requirements}
    assert lines["ground"] == "limit: the job file"
    assert lines["hold_left"] == "[Lubin-Springer-1967] draw-down; limit: the job file"
    assert lines["clearance.beam"] == "limit: the job file"
    assert lines["ground_at_bump"] == "limit: common practice, no source"
