# SPDX-License-Identifier: Apache-2.0
"""How much oil there is, where marks, fill, heat and retained oil contradict or overflow."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.studies.check import check
from tests.studies.box_job import JOB, box_job, box_mesh

PICKUP = "  pickup: {centre: [150 mm, 0 mm, -90 mm], diameter: 10 mm}\n"


def with_new(*lines: str, text: str = JOB) -> str:
    return text.replace("oil:\n", "".join(lines) + "oil:\n")


def stick(marks: str) -> str:
    return f"  dipstick: {{start: [100 mm, 0 mm, 200 mm], direction: [0, 0, -1], {marks}}}\n"


def problem_of(folder: Path, text: str) -> Problem:
    with pytest.raises(InputError) as caught:
        check(box_job(folder, text))
    (problem,) = caught.value.problems
    return problem


def test_refuses_low_litres_over_what_the_full_mark_holds(tmp_path: Path) -> None:
    # full mark 60 mm under the rail: 40 mm of oil, 2.4 L
    text = with_new(stick("full: 260 mm")).replace("fill: 3 L", "low: 2.5 L")
    problem = problem_of(tmp_path, text)
    assert (problem.code, problem.found) == ("JOB-131", "2.50 L")
    assert problem.needed == "less than the full mark's 2.40 L"


def test_refuses_a_low_mark_over_the_fill(tmp_path: Path) -> None:
    problem = problem_of(tmp_path, with_new(stick("low: 210 mm")))
    assert problem.code == "JOB-131"
    assert "new.dipstick.low" in problem.where


def test_refuses_a_full_mark_above_the_rail(tmp_path: Path) -> None:
    text = with_new(stick("full: 150 mm")).replace("  fill: 3 L\n", "")
    problem = problem_of(tmp_path, text)
    assert problem.code == "JOB-151"
    assert "above the pan rail" in problem.found


def test_a_stock_pan_with_its_own_fill_does_not_take_the_new_pans_low_mark(tmp_path: Path) -> None:
    stock = "stock:\n  cavity: {file: geometry/stock.stl, unit: mm}\n  fill: 2 L\n"
    text = JOB.replace("oil:\n", stock + "oil:\n  low: 2.5 L\n")
    fill = check(box_job(tmp_path, text, stock=box_mesh((0, -0.05, -0.2), (0.2, 0.05, 0)))).fill
    assert fill.low_m3 == pytest.approx(2.5e-3, rel=1e-12)
    assert fill.stock is not None
    assert fill.stock.low_m3 is None


def test_a_fill_that_overflows_hot_is_answered_and_said(tmp_path: Path) -> None:
    text = with_new(PICKUP).replace("3 L", "5.9 L").replace("hot: 20", "hot: 120")
    result = check(box_job(tmp_path, text))
    assert result.fill.hot_m3 > result.fill.brim_m3
    assert result.hold is not None
    assert result.hold.oil_m3 == pytest.approx(6e-3, rel=1e-12)
    assert result.hold.oil_left_out_m3 == pytest.approx(result.fill.hot_m3 - 6e-3, rel=1e-9)
    said = " ".join(result.assumptions)
    assert "stands above the lowest corner of the rail, up to which the pan holds 6.00 L" in said
    assert "left out of the static hold" in said


def test_an_engine_that_holds_up_all_of_the_oil_is_said(tmp_path: Path) -> None:
    curve = "engine:\n  retained: [{rpm: 0 rpm, oil: 0 L}, {rpm: 6000 rpm, oil: 4 L}]\n"
    result = check(box_job(tmp_path, with_new(PICKUP) + curve))
    assert result.hold is not None
    assert result.hold.oil_m3 == 0.0
    assert result.hold.left_g == 0.0
    assert any("all of its oil is up in the engine" in said for said in result.assumptions)


def test_a_pump_by_displacement_draws_down_as_its_flow_curve_would(tmp_path: Path) -> None:
    engine = "engine:\n  rpm: 6000 rpm\n  pump: {displacement: 10 cm^3, efficiency: 95 %}\n"
    hold = check(box_job(tmp_path, with_new(PICKUP) + engine)).hold
    assert hold is not None
    # 10 cm3 x 100 turns a second x 0.95
    assert hold.flow_m3_s == pytest.approx(9.5e-4, rel=1e-12)
    assert hold.drawdown_at_rest_m > 0.02  # [Lubin-Springer-1967], 27 mm at 57 L/min
