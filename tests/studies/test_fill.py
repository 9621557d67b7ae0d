# SPDX-License-Identifier: Apache-2.0
"""The fill study on boxes: every answer has a closed form."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.studies.check import check
from sumpwright.studies.result import PanFill
from tests.studies.box_job import JOB, box_job, box_mesh

AREA = 0.06  # m^2 of the box's floor
EXACT = {"rel": 1e-12}  # a box, level: a handful of roundings


def fill_of(folder: Path, text: str) -> PanFill:
    return check(box_job(folder, text)).fill


def test_a_minimal_job_answers_capacity_and_level(tmp_path: Path) -> None:
    fill = fill_of(tmp_path, JOB)
    assert fill.cavity_m3 == pytest.approx(6e-3, **EXACT)
    assert fill.full_depth_m == pytest.approx(0.05, **EXACT)
    assert fill.full_height_m == pytest.approx(-0.05, **EXACT)
    assert fill.brim_m3 == pytest.approx(6e-3, **EXACT)
    assert fill.usable_by == "the rail"
    assert fill.dipstick is None


def test_the_curve_is_a_straight_line_for_a_box(tmp_path: Path) -> None:
    curve = fill_of(tmp_path, JOB).curve
    np.testing.assert_allclose(np.array(curve.depth_m) * AREA, curve.volume_m3, atol=1e-16)
    np.testing.assert_allclose(curve.surface_area_m2[1:-1], AREA, rtol=1e-12)


def test_hot_oil_stands_higher_by_its_expansion(tmp_path: Path) -> None:
    # [API-MPMS-11.1]: 870 kg/m3, alpha 7.216e-4 /K at 60 F; 5.0 L at 20 C is about 5.28 L at 100 C
    text = JOB.replace("hot: 20 degC", "hot: 100 degC\n  density_15: 870 kg/m^3")
    fill = fill_of(tmp_path, text)
    assert fill.expansion == pytest.approx(5.28 / 5.0, rel=0.0075)  # the sheet's own uncertainty
    assert fill.hot_depth_m == pytest.approx(0.05 * fill.expansion, **EXACT)


def test_the_crank_sweep_limits_what_the_pan_holds(tmp_path: Path) -> None:
    # sweep bottom at z = -10 mm, 20 mm of gap: 70 mm of depth, 4.2 L
    crank = "\nengine:\n  crank_sweep: {height: 40 mm, radius: 50 mm, front: 300 mm, rear: 0 mm}\n"
    fill = fill_of(tmp_path, JOB + crank)
    assert fill.usable_m3 == pytest.approx(0.07 * AREA, **EXACT)
    assert fill.usable_by == "the crank gap"
    assert fill.crank_gap_m == pytest.approx(0.04, **EXACT)


def leaning(start: str, direction: str, more: str = "") -> str:
    stick = f"  dipstick: {{start: {start}, direction: {direction}{more}}}\n"
    return JOB.replace("oil:\n", stick + "oil:\n")


def test_a_leaning_dipstick_is_marked_along_the_stick(tmp_path: Path) -> None:
    # from z = 200 mm down at 3-4-5: full surface at z = -50 mm is 250/0.8 mm along
    fill = fill_of(tmp_path, leaning("[10 mm, 0 mm, 200 mm]", "[0.6, 0, -0.8]"))
    assert fill.dipstick is not None
    assert fill.dipstick.full_along_m == pytest.approx(0.25 / 0.8, **EXACT)
    # it leaves the cavity through the floor, 300/0.8 mm along
    assert fill.dipstick.low_end_along_m == pytest.approx(0.3 / 0.8, **EXACT)
    for line in fill.dipstick.graduations:
        height = line.volume_m3 / AREA - 0.1
        assert line.along_m == pytest.approx((0.2 - height) / 0.8, **EXACT)
    assert [round(g.volume_m3 * 1e3, 6) for g in fill.dipstick.graduations][:2] == [0.25, 0.5]


def test_a_full_mark_gives_the_litres(tmp_path: Path) -> None:
    text = leaning("[100 mm, 0 mm, 200 mm]", "[0, 0, -1]", ", full: 240 mm, low: 260 mm")
    fill = fill_of(tmp_path, text.replace("  fill: 3 L\n", ""))
    assert fill.full_m3 == pytest.approx(0.06 * AREA, **EXACT)
    assert fill.low_m3 == pytest.approx(0.04 * AREA, **EXACT)


def test_parked_nose_uphill_the_stick_reads_by_where_it_stands(tmp_path: Path) -> None:
    # 60 mm ahead of the box's middle and nose up by 5 deg: the surface there is 60 tan 5 deg lower
    fill = fill_of(tmp_path, leaning("[210 mm, 0 mm, 200 mm]", "[0, 0, -1]"))
    parked = {p.side: p for p in fill.parked}
    drop = 0.06 * np.tan(np.radians(5.0))
    nose = parked["nose"]
    assert nose.dipstick_along_m == pytest.approx(0.25 + drop, **EXACT)
    assert nose.dipstick_reads_m3 == pytest.approx((0.05 - drop) * AREA, **EXACT)
    assert parked["tail"].dipstick_along_m == pytest.approx(0.25 - drop, **EXACT)
    assert parked["left side"].dipstick_along_m == pytest.approx(0.25, **EXACT)


def test_pitch_of_the_engine_tilts_the_oil_in_the_pan(tmp_path: Path) -> None:
    # nose up by 3 deg (pitch -3): the surface pivots about the box's middle, x = 150 mm
    text = leaning("[0 mm, 0 mm, 200 mm]", "[0, 0, -1]").replace("[0 mm, 0", "[10 mm, 0")
    fill = fill_of(tmp_path, text + "\npose:\n  pitch: -3 deg\n")
    assert fill.dipstick is not None
    # the surface in the engine frame falls toward the raised front, so 140 mm behind the middle
    # it is higher by 140 tan 3 deg
    raised = 0.14 * np.tan(np.radians(3.0))
    assert fill.dipstick.full_along_m == pytest.approx(0.25 - raised, **EXACT)


def test_stock_stands_beside_new(tmp_path: Path) -> None:
    text = JOB.replace("oil:\n", "stock:\n  cavity: {file: geometry/stock.stl, unit: mm}\noil:\n")
    deep = box_mesh((0.0, -0.05, -0.2), (0.2, 0.05, 0.0))
    result = check(box_job(tmp_path, text, stock=deep))
    assert result.fill.stock is not None
    assert result.fill.stock.full_depth_m == pytest.approx(0.15, **EXACT)
    capacity = {r.id: r for r in result.requirements}["capacity"]
    assert (capacity.state, capacity.limit) == ("met", pytest.approx(3e-3, **EXACT))
    assert capacity.value == pytest.approx(6e-3, **EXACT)


def test_a_pan_filled_beyond_the_stock_fill_has_to_hold_its_own(tmp_path: Path) -> None:
    # 5.9 L, and 70 mm of depth under the crank gap: 4.2 L
    crank = "\nengine:\n  crank_sweep: {height: 40 mm, radius: 50 mm, front: 300 mm, rear: 0 mm}\n"
    stock = "stock:\n  cavity: {file: geometry/cavity.stl, unit: mm}\n  fill: 4 L\noil:"
    text = JOB.replace("3 L", "5.9 L").replace("oil:", stock) + crank
    line = {r.id: r for r in check(box_job(tmp_path, text)).requirements}["capacity"]
    assert line.state == "not met"
    assert line.limit == pytest.approx(5.9e-3)
    assert line.reason.startswith("against its own full mark")


def test_us_jobs_get_quart_lines(tmp_path: Path) -> None:
    text = leaning("[100 mm, 0 mm, 8 in]", "[0, 0, -1]").replace("3 L", "3 qt") + "units: us\n"
    fill = fill_of(tmp_path, text)
    assert fill.full_m3 == pytest.approx(3 * 9.46352946e-4, rel=1e-9)  # NIST SP 811: 9.463529 E-04
    assert fill.dipstick is not None
    assert fill.dipstick.graduations[0].volume_m3 == pytest.approx(0.25 * 9.46352946e-4)


def problem_of(folder: Path, text: str, **bodies: object) -> str:
    with pytest.raises(InputError) as caught:
        check(box_job(folder, text, **bodies))  # type: ignore[arg-type]
    assert len(caught.value.problems) == 1
    return str(caught.value.problems[0])


def test_refuses_more_oil_than_the_pan_holds(tmp_path: Path) -> None:
    said = problem_of(tmp_path, JOB.replace("3 L", "7 L"))
    assert said.startswith("job.yaml:5  oil.fill  [JOB-150]")
    assert "7.00 L at the full mark" in said
    assert "6.00 L" in said


def test_oil_that_goes_over_the_rail_once_it_is_hot_is_too_much(tmp_path: Path) -> None:
    # by hand, [API-MPMS-11.1] lubricants: a = 0.34878 / 870 per degF; from 60 degF to 68 and 248
    # exp(-a t (1 + 0.8 a t)): 0.99679 and 0.92320, so 5.9 L at 20 degC are 6.370 L at 120 degC
    text = JOB.replace("3 L", "5.9 L").replace("hot: 20", "hot: 120")
    result = check(box_job(tmp_path, text))
    # 1e-4: the hand counts from 60 degF, the job's density is at 15 degC
    assert result.fill.hot_m3 == pytest.approx(6.3703e-3, rel=1e-4)
    line = {r.id: r for r in result.requirements}["capacity"]
    assert line.state == "not met"
    assert line.limit == pytest.approx(5.9e-3)  # no stock pan, so the job's own fill
    assert line.value == pytest.approx(6e-3 * 5.9 / 6.370, rel=1e-4)  # the hand's four digits
    assert line.source == "limit: the larger of the job's own fill and the stock pan's"


def test_names_the_key_that_the_fill_came_from(tmp_path: Path) -> None:
    small = box_mesh((0, -0.05, -0.1), (0.1, 0.05, 0))  # 1 L
    stock = "stock:\n  cavity: {file: geometry/stock.stl, unit: mm}\noil:"
    said = problem_of(tmp_path, JOB.replace("oil:", stock), stock=small)
    assert said.startswith("job.yaml:7  oil.fill  [JOB-150]")
    assert "the stock pan" in said
    own = stock.replace("oil:", "  fill: 2 qt\noil:")
    said = problem_of(tmp_path, JOB.replace("oil:", own), stock=small)
    assert said.startswith("job.yaml:6  stock.fill  [JOB-150]")


def test_refuses_a_dipstick_that_misses_the_oil(tmp_path: Path) -> None:
    said = problem_of(tmp_path, leaning("[400 mm, 0 mm, 200 mm]", "[0, 0, -1]"))
    assert said.startswith("job.yaml:4  new.dipstick  [JOB-152]")
    assert "x 400.0 mm, y 0.0 mm, z −50.0 mm, outside the cavity" in said
    said = problem_of(tmp_path, leaning("[10 mm, 0 mm, 200 mm]", "[0, 0, -1]", ", length: 240 mm"))
    assert "tip ends 10.0 mm above the full level" in said
    said = problem_of(tmp_path, leaning("[10 mm, 0 mm, 200 mm]", "[1, 0, 0]"))
    assert "leans 90 deg" in said
    said = problem_of(tmp_path, leaning("[10 mm, 0 mm, -80 mm]", "[0, 0, -1]"))
    assert "starts under the full level" in said


def test_refuses_a_mark_under_the_floor(tmp_path: Path) -> None:
    text = leaning("[100 mm, 0 mm, 200 mm]", "[0, 0, -1]", ", full: 310 mm")
    assert "below the pan's floor" in problem_of(tmp_path, text.replace("  fill: 3 L\n", ""))
    us = "units: us\n" + text.replace("  fill: 3 L\n", "")
    assert "12.205 in along the stick" in problem_of(tmp_path, us)  # 310 / 25.4
