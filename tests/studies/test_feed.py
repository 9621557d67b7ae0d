# SPDX-License-Identifier: Apache-2.0
"""Does the pump get oil? Whole jobs against worked pipe cases, hydrostatics and the atmosphere.

Sources: the worked pipe cases of [White-2011], laminar, f = 64/Re (30 L/min, 19 mm, 0.35 m,
60 mm2/s, 850 kg/m3: 2790.3 Pa; 15 L/min, 16 mm, 0.40 m, 1000 mm2/s, 880 kg/m3: 54710 Pa, computed
from the formula); [ISO-2533] 84.556 kPa at 1500 m; hydrostatics.
"""

import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.oil.pipe import entry_coefficient
from sumpwright.studies.check import check
from sumpwright.studies.feed import feed_of
from sumpwright.studies.feed_result import LOSSES, FeedPoint
from tests.studies.box_job import JOB, box_job
from tests.studies.feed_job import REAL, FeedJob, feed_folder, feed_in, result_of

G = 9.80665
FINE = FeedJob(tubes="[{bore: 10 mm, length: 5 m}]", inlet="[200 mm, 0 mm, -50 mm]")
RELIEF = (
    "rpm: 6000 rpm, pump: {displacement: 10 cm^3, efficiency: 100 %, relief: 400 kPa, "
    "relief_to: inlet, reading: {pressure: 300 kPa, rpm: 3000 rpm, at: 15 degC}}"
)


def problem_of(folder: Path) -> Problem:
    with pytest.raises(InputError) as caught:
        feed_of(folder)
    (problem,) = caught.value.problems
    return problem


def entry_loss(point: FeedPoint, ratio: float) -> float:
    """What the forming of the profile behind the mouth adds to the developed friction."""
    head = 0.5 * point.density_kg_m3 * point.speed_m_s**2
    return float(entry_coefficient(point.reynolds, ratio)) * head


# -- worked cases through a whole job ------------------------------------------------------------


def test_the_warm_worked_pipe_through_a_whole_job(tmp_path: Path) -> None:
    hot = feed_in(tmp_path, FeedJob()).hot
    assert hot.flow_m3_s == pytest.approx(30e-3 / 60, rel=1e-12)  # 10 cm3 at 3000 rpm
    assert hot.reynolds == pytest.approx(558.4, abs=0.05)  # printed digits
    developed = hot.friction_pa - entry_loss(hot, 350 / 19)
    assert developed == pytest.approx(2790.3, abs=0.05)  # printed digits
    assert hot.regime == "laminar"


def test_the_cold_worked_pipe_through_a_whole_job_is_the_one_that_cavitates(tmp_path: Path) -> None:
    job = FeedJob(
        tubes="[{bore: 16 mm, length: 400 mm}]",
        oil="cold: 15 degC, hot: 100 degC, density_15: 880 kg/m^3",
        viscosity="{at: 15 degC, value: 1000 mm^2/s}, {at: 100 degC, value: 15 mm^2/s}",
    )
    result = result_of(tmp_path, job)
    cold = result.feed.cold
    assert cold is not None
    assert cold.rpm == pytest.approx(1500.0)
    assert cold.flow_m3_s == pytest.approx(15e-3 / 60, rel=1e-12)
    assert cold.reynolds == pytest.approx(19.894, abs=5e-4)  # printed digits
    # digits; the standard's own inverse of the viscosity line returns to 0.03 %
    assert cold.friction_pa - entry_loss(cold, 25.0) == pytest.approx(54710.0, rel=4e-4)
    states = {r.id: r.state for r in result.requirements}
    assert states == {"inlet_hot": "met", "inlet_cold": "not met"}
    assert result.verdict == "not met"


def test_a_pump_at_rest_would_see_the_column_alone(tmp_path: Path) -> None:
    hot = feed_in(tmp_path, FeedJob()).hot
    assert hot.surface_m == pytest.approx(-0.05, abs=1e-9)  # 3 L of 60 L a metre over -100 mm
    assert hot.head_pa == pytest.approx(-850.0 * G * 0.12, rel=1e-9)
    assert hot.ambient_pa == 101325.0


def test_a_pump_under_the_oil_is_given_pressure(tmp_path: Path) -> None:
    hot = feed_in(tmp_path, FeedJob(inlet="[0 mm, 0 mm, -80 mm]")).hot
    assert hot.head_pa == pytest.approx(850.0 * G * 0.03, rel=1e-9)


def test_height_over_the_sea_costs_what_the_atmosphere_says(tmp_path: Path) -> None:
    sea = feed_in(tmp_path / "sea", FeedJob())
    hill = feed_in(tmp_path / "hill", FeedJob(more="air: {altitude: 1500 m}\n"))
    assert hill.hot.ambient_pa == pytest.approx(84556.0, abs=0.5)  # printed digits
    assert sea.hot.inlet_pa - hill.hot.inlet_pa == pytest.approx(101325.0 - 84556.0, abs=0.5)
    # the table of other heights says the same without being asked twice
    (there,) = [p for p in sea.altitudes if p.altitude_m == 1500.0]
    assert there.hot_pa == pytest.approx(hill.hot.inlet_pa, rel=1e-12)
    assert there.cold_pa is not None
    assert hill.cold is not None
    assert there.cold_pa == pytest.approx(hill.cold.inlet_pa, rel=1e-12)


def test_a_crankcase_pressure_is_taken_as_it_is_and_has_no_table_of_heights(tmp_path: Path) -> None:
    feed = feed_in(tmp_path, FeedJob(more="air: {pressure: 95 kPa}\n"))
    assert feed.hot.ambient_pa == pytest.approx(95e3, rel=1e-12)
    assert feed.altitudes == ()


# -- by hand -------------------------------------------------------------------------------------


def test_oil_up_in_the_engine_lowers_the_surface(tmp_path: Path) -> None:
    curve = "retained: [{rpm: 0 rpm, oil: 0 L}, {rpm: 3000 rpm, oil: 0.6 L}]"
    job = FeedJob(engine=f"rpm: 3000 rpm, pump: {{displacement: 10 cm^3}}, {curve}")
    hot = feed_in(tmp_path, job).hot
    assert hot.oil_m3 == pytest.approx(2.4e-3, rel=1e-12)
    assert hot.head_pa == pytest.approx(-850.0 * G * 0.13, rel=1e-9)  # 0.6 L is 10 mm


def test_items_of_every_table_and_point_add_up(tmp_path: Path) -> None:
    feed = feed_in(tmp_path, REAL)
    lost = sum(np.array(getattr(feed, f"{name}_pa")) for name in LOSSES)
    left = feed.ambient_pa + np.array(feed.head_pa) - lost
    np.testing.assert_allclose(left, feed.inlet_pa, rtol=1e-12, atol=1e-6)  # rounding of the sums
    for point in (feed.hot, feed.cold, feed.worst):
        assert point is not None
        taken = sum(getattr(point, f"{name}_pa") for name in LOSSES)
        assert point.inlet_pa == pytest.approx(point.ambient_pa + point.head_pa - taken, rel=1e-12)


def test_the_points_are_entries_of_the_table(tmp_path: Path) -> None:
    feed = feed_in(tmp_path, REAL)
    assert feed.hot.inlet_pa == pytest.approx(feed.inlet_pa[-1][-1], rel=1e-12)
    assert feed.cold is not None
    row, column = feed.temperature_k.index(293.15), np.argmin(np.abs(np.array(feed.rpm) - 1500.0))
    assert feed.cold.inlet_pa == pytest.approx(feed.inlet_pa[row][column], rel=1e-9)


def test_the_speed_allowed_is_poiseuilles(tmp_path: Path) -> None:
    # no height, a long thin tube, thick oil: Q = pi d^4 dp / (128 mu L), 0.1 cm3 a turn
    job = replace(
        FINE,
        viscosity="{at: 15 degC, value: 500 mm^2/s}, {at: 100 degC, value: 20 mm^2/s}",
        engine="rpm: 3000 rpm, pump: {displacement: 0.1 cm^3, efficiency: 100 %}",
    )
    feed = feed_in(tmp_path, job)
    flow = math.pi * 0.01**4 * (101325.0 - 80e3) / (128.0 * 850.0 * 500e-6 * 5.0)
    rpm = feed.continuous.rpm[-1]
    assert feed.continuous.held_to_end[-1] is False
    # viscosity's inverse 0.03 %; the oil's own speed takes Re/64, 1 %, of 500 heads
    assert rpm == pytest.approx(flow / 1e-7 * 60.0, rel=5e-4)


def test_at_the_allowed_speed_the_inlet_has_just_what_it_needs(tmp_path: Path) -> None:
    feed = feed_in(tmp_path, REAL)
    worst = feed.worst
    assert feed.short.coldest_k == worst.temperature_k
    assert worst.rpm == feed.rpm[0]
    # first_loss stops within a 2^-14th of a grid step, from the side that has the pressure
    assert worst.inlet_pa == pytest.approx(70e3, abs=20.0)
    assert worst.inlet_pa >= 70e3
    for k, rpm in enumerate(feed.continuous.rpm):
        if rpm is None:
            assert feed.inlet_pa[k][0] < 80e3
        elif feed.continuous.held_to_end[k]:
            assert min(feed.inlet_pa[k]) >= 80e3
        else:
            at = float(np.interp(rpm, feed.rpm, feed.inlet_pa[k]))
            # between speeds 250 rpm apart the true curve bends by less than this from its chord
            assert at == pytest.approx(80e3, abs=100.0)


def test_thicker_oil_and_more_speed_never_leave_more(tmp_path: Path) -> None:
    table = np.array(feed_in(tmp_path, replace(REAL, more="")).inlet_pa)
    assert (np.diff(table, axis=0)[:-2] > 0.0).all()  # near hot, density and level even it out
    assert (np.diff(table, axis=1) <= 1e-6).all()


def test_a_relief_valve_that_spills_to_the_inlet_spares_the_pickup(tmp_path: Path) -> None:
    # 30 L/min make 300 kPa: at 400 kPa the engine takes 40 L/min of the 60 that are moved
    spared = feed_in(tmp_path / "inlet", FeedJob(engine=RELIEF))
    assert spared.hot.flow_m3_s == pytest.approx(40e-3 / 60, rel=1e-9)
    whole = feed_in(tmp_path / "pan", FeedJob(engine=RELIEF.replace("to: inlet", "to: pan")))
    assert whole.hot.flow_m3_s == pytest.approx(60e-3 / 60, rel=1e-12)


def test_cold_the_pickup_is_taken_to_carry_what_it_does_hot_and_the_other_end_is_said(
    tmp_path: Path,
) -> None:
    feed = feed_in(tmp_path, REAL)
    np.testing.assert_allclose(feed.flow_m3_s, [feed.flow_m3_s[0]] * len(feed.flow_m3_s))
    assert feed.cold is not None
    assert feed.cold.flow_m3_s == pytest.approx(7e-6 * 1500 / 60 * 0.95, rel=1e-12)
    (said,) = [s for s in feed.cautions if "once the galleries are full" in s]
    # 240 kPa at 3000 rpm and 14.4 mm2/s; 420 kPa, and as many times less as the oil is thicker
    thick = feed.cold.viscosity_m2_s / 14.4e-6
    rest = 7e-6 * 3000 / 60 * 0.95 * 420 / 240 / thick * 6e4
    assert f"may leave the pickup {rest:.1f} L/min" in said


def test_a_flow_curve_will_do_for_a_pump(tmp_path: Path) -> None:
    curve = "flow: [{rpm: 600 rpm, flow: 6 L/min}, {rpm: 3000 rpm, flow: 30 L/min}]"
    feed = feed_in(tmp_path, FeedJob(engine=f"rpm: 3000 rpm, {curve}"))
    assert feed.hot.flow_m3_s == pytest.approx(30e-3 / 60, rel=1e-12)
    assert feed.cold is not None
    assert feed.cold.flow_m3_s == pytest.approx(15e-3 / 60, rel=1e-12)
    assert any("`engine.flow` at every temperature" in said for said in feed.assumptions)


def test_cover_draw_down_and_film_by_hand(tmp_path: Path) -> None:
    hot = feed_in(tmp_path, FeedJob()).hot
    assert hot.cover_m == pytest.approx(0.04, abs=1e-9)  # surface at -50 mm, rim at -90 mm
    # [Lubin-Springer-1967] as derived, a floor: 0.6884 (Q^2/g)^(1/5)
    assert hot.drawdown_m == pytest.approx(0.6884 * (5e-4**2 / G) ** 0.2, rel=1e-4)  # digits
    assert hot.drawdown_m is not None
    depth, far = 0.01 + hot.drawdown_m, math.sqrt(0.06 / math.pi)  # gap to the floor; 600 cm2
    up = (depth**4 + 6.0 * 60e-6 * 5e-4 / (math.pi * G) * math.log(far / 0.015)) ** 0.25
    assert hot.film_m == pytest.approx(up - depth, rel=1e-3)  # viscosity's inverse 0.03 %


def test_oil_that_does_not_run_to_the_mouth_is_said(tmp_path: Path) -> None:
    low = FeedJob(pickup=PICKUP_HIGH, oil=REAL.oil, viscosity=REAL.viscosity)
    feed = feed_in(tmp_path, low)
    assert feed.hot.cover_m == pytest.approx(0.0094, abs=2e-3)
    (said,) = [s for s in feed.cautions if s.startswith("At 100 °C and 3000 rpm the oil stands")]
    assert said.endswith("the pickup draws air.")


PICKUP_HIGH = "  pickup: {centre: [150 mm, 0 mm, -56 mm], diameter: 30 mm}\n"


# -- left and right of nothing -------------------------------------------------------------------


def test_left_and_right_are_the_same(tmp_path: Path) -> None:
    left, right = (
        feed_in(tmp_path / side, replace(REAL, inlet=f"[200 mm, {y}, 70 mm]"))
        for side, y in (("left", "60 mm"), ("right", "-60 mm"))
    )
    np.testing.assert_allclose(left.inlet_pa, right.inlet_pa, rtol=1e-12)
    assert left.short.rpm == pytest.approx(right.short.rpm)


def test_a_stock_pan_with_the_same_line_has_the_same_feed(tmp_path: Path) -> None:
    feed = feed_in(tmp_path, replace(REAL, stock=True))
    assert feed.stock is not None
    assert feed.stock.inlet_pa == feed.inlet_pa
    assert feed.stock.stock is None


def test_a_job_without_a_suction_line_has_no_feed_and_says_so(tmp_path: Path) -> None:
    result = check(box_job(tmp_path, JOB))
    assert result.feed is None
    lines = {r.id: r for r in result.requirements if r.id.startswith("inlet")}
    assert {line.state for line in lines.values()} == {"not judged"}
    assert lines["inlet_hot"].reason == "needs `new.suction`"
    assert (lines["inlet_hot"].limit, lines["inlet_cold"].limit) == (80e3, 70e3)


# -- what keeps it from being judged -------------------------------------------------------------


def test_feed_of_a_job_without_a_suction_line_says_what_to_add(tmp_path: Path) -> None:
    assert str(problem_of(box_job(tmp_path, JOB))) == (
        "job.yaml:2  new.suction  [JOB-156]\n"
        "  found   a job that does not say how the pump gets its oil\n"
        "  needed  `new.suction`\n"
        "  do      add it; docs/job-file.md has an example of each key"
    )


@pytest.mark.parametrize(
    ("engine", "needed"),
    [
        ("rpm: 3000 rpm", "`engine.pump.displacement`, or `engine.flow`"),
        ("pump: {displacement: 10 cm^3}", "`engine.rpm`"),
    ],
)
def test_feed_names_what_is_missing_of_the_engine(tmp_path: Path, engine: str, needed: str) -> None:
    problem = problem_of(feed_folder(tmp_path, FeedJob(engine=engine)))
    assert (problem.code, problem.needed) == ("JOB-156", needed)
    assert "engine" in problem.where


def test_feed_names_a_viscosity_that_is_missing(tmp_path: Path) -> None:
    text = FeedJob().text.replace(f", viscosity: [{FeedJob().viscosity}]", "")
    problem = problem_of(box_job(tmp_path, text))
    assert problem.needed == "`oil.viscosity`, or `oil.grade` with its hot number"
    assert "oil" in problem.where


def test_a_screen_that_no_formula_covers_is_an_input_problem(tmp_path: Path) -> None:
    job = FeedJob(screen="{pitch: 0.5 mm, wire: 0.45 mm, area: 16 cm^2}")
    problem = problem_of(feed_folder(tmp_path, job))
    assert problem.code == "JOB-155"
    assert problem.found.startswith("void fraction of the screen 0.04")
    assert problem.where.endswith("new.suction")


def test_an_oil_too_thick_at_cold_ends_the_range_and_is_not_judged(tmp_path: Path) -> None:
    job = FeedJob(
        oil="cold: -10 degC, hot: 100 degC, density_15: 880 kg/m^3",
        viscosity="{at: 40 degC, value: 1000 mm^2/s}, {at: 100 degC, value: 40 mm^2/s}",
    )
    result = result_of(tmp_path, job)
    feed = result.feed
    assert feed.cold is None
    assert feed.viscosity_m2_s[0] == pytest.approx(20000e-6, rel=1e-3)  # the inverse's 0.03 %
    assert feed.temperature_k[0] > 263.15
    assert "the oil is thicker than 20000 mm²/s: it does not run to a pickup" in feed.cautions[0]
    cold = next(r for r in result.requirements if r.id == "inlet_cold")
    assert cold.state == "not judged"
    assert cold.reason == "needs an oil that is thinner than 20000 mm²/s at `oil.cold`"


def test_curves_that_do_not_reach_the_cold_speed_leave_the_cold_inlet_open(tmp_path: Path) -> None:
    curve = "flow: [{rpm: 2000 rpm, flow: 20 L/min}, {rpm: 3000 rpm, flow: 30 L/min}]"
    result = result_of(tmp_path, FeedJob(engine=f"rpm: 3000 rpm, {curve}"))
    cold = next(r for r in result.requirements if r.id == "inlet_cold")
    assert cold.reason == "needs curves over engine speed that reach `engine.cold_rpm`"
    assert result.feed.rpm[0] == pytest.approx(2000.0)


# -- as the ledger and other programs read it ----------------------------------------------------


def test_the_ledger_says_where_and_how_far(tmp_path: Path) -> None:
    result = result_of(tmp_path, FeedJob(more="requirements: {inlet_hot: 100 kPa}\n"))
    hot, cold = result.requirements
    assert (hot.id, hot.kind, hot.unit) == ("inlet_hot", "inlet_pressure", "Pa")
    assert hot.value == result.feed.hot.inlet_pa
    assert hot.reason == "at 15 °C and 3000 rpm; even 800 rpm is too fast"
    assert cold.reason == "at 15 °C and 1500 rpm"
    assert hot.source.endswith("limit: the job file")
    assert cold.source.endswith("the pump's maker goes first")
    assert result.summary == "1 requirements met, 1 not met, 0 not judged"


def test_the_ledger_says_how_fast_it_holds(tmp_path: Path) -> None:
    result = result_of(tmp_path, FeedJob(more="requirements: {inlet_hot: 98 kPa}\n"))
    rpm = result.feed.continuous.rpm[-1]
    assert rpm is not None
    assert 800.0 < rpm < 3000.0
    assert result.requirements[0].reason == f"at 15 °C and 3000 rpm; held up to {rpm:.0f} rpm"


def test_a_requirement_that_is_off_is_not_asked_and_the_usual_limit_is_drawn(
    tmp_path: Path,
) -> None:
    result = result_of(tmp_path, FeedJob(more="requirements: {inlet_cold: off}\n"))
    assert [r.id for r in result.requirements] == ["inlet_hot"]
    assert result.feed.short.needed_pa == 70e3


def test_check_holds_the_same_feed(tmp_path: Path) -> None:
    folder = feed_folder(tmp_path, REAL)
    whole, alone = check(folder), feed_of(folder)
    assert whole.feed == alone.feed
    both = {r.id: r for r in whole.requirements}
    assert [both[r.id] for r in alone.requirements] == list(alone.requirements)
    assert set(alone.feed.assumptions) <= set(whole.assumptions)


def test_the_result_is_plain_json(tmp_path: Path) -> None:
    said = json.loads(json.dumps(result_of(tmp_path, REAL).as_json(), allow_nan=False))
    assert {"job", "revision", "input_hash", "requirements", "feed"} <= set(said)
    assert len(said["feed"]["inlet_pa"]) == len(said["feed"]["temperature_k"])
    assert len(said["feed"]["inlet_pa"][0]) == len(said["feed"]["rpm"])
