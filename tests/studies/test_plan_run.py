# SPDX-License-Identifier: Apache-2.0
"""Runs of a programme: speeds and laps as the published circle has them; slow before fast."""

import math
from itertools import pairwise
from pathlib import Path
from typing import Any, cast

import pytest

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.studies import plan_forecast
from sumpwright.studies.plan_forecast import A_LITTLE_MORE, Model, pushed
from sumpwright.studies.plan_run import SHORTEST, circle_run, ladder, turning
from sumpwright.studies.plan_stage import quickest_slalom, slalom_speed, stages
from sumpwright.vehicle.manoeuvre import brake, slalom
from tests.studies.drive_job import DRIVELINE, ENGINE, drive_job

PRINTED_G = 9.81 / STANDARD_GRAVITY
"""The g of the printed examples, in ours."""
TARGETS: dict[str, float | None] = {"left": 1.2, "right": 1.0, "brake": 1.1, "accelerate": 0.6}


def unread(folder: Path, manoeuvres: str = "", more: str = "") -> Model:
    """A programme whose pan is not read: nothing is foretold."""
    return Model(drive_job(folder, manoeuvres, more), cast(Any, None), None)


class Clock:
    """In an entry's place: air after 11 s over 1 g, never under it."""

    def time_to_air(self, direction: float, size: float, horizon: float) -> float:
        return 11.0 if size > STANDARD_GRAVITY else math.inf


def test_a_circle_has_the_published_speed(tmp_path: Path) -> None:
    # [ISO-4138] v^2/R: 60 km/h on R 30 m is 0.9439 g, printed with g = 9.81 m/s^2
    run = circle_run(unread(tmp_path), "left", 0.9439 * PRINTED_G)
    assert run.speed_m_s == pytest.approx(60.0 / 3.6, rel=3e-5)  # half of the last digit printed


def test_a_circle_has_the_published_lap(tmp_path: Path) -> None:
    # [ISO-4138] T = 2 pi sqrt(R / a): 1 g on R 30.48 m takes 11.075 s a lap, with g = 9.81 m/s^2
    circle = "{name: ring, kind: circle, radius: 30.48 m, accel: 1 g, turn: left, duration: 9 s}"
    run = circle_run(unread(tmp_path, circle), "right", PRINTED_G)
    assert run.lap_time_s == pytest.approx(11.075, abs=5e-4)  # half of the last digit printed


@pytest.mark.parametrize("target", [0.2, 0.31, 0.9, 1.2, 1.37])
def test_circles_rise_in_small_steps_to_the_target(target: float) -> None:
    rungs = ladder(target)
    assert rungs[0] == pytest.approx(min(0.3, target))
    assert rungs[-1] == pytest.approx(target)
    steps = [b - a for a, b in pairwise(rungs)]
    assert all(0.0 < step <= 0.15 + 1e-12 for step in steps)


def test_a_run_outlasts_the_time_to_air_at_a_little_more(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def clock(*_: Any) -> Clock:
        return Clock()

    monkeypatch.setattr(plan_forecast, "entry_at", clock)
    loaded = drive_job(tmp_path, more=ENGINE)
    model = Model(loaded, cast(Any, None), cast(Any, "made"))
    run = circle_run(model, "left", 0.99)  # 5 % more is over 1 g
    assert run.forecast.outcome == "covered"
    assert run.forecast.a_little_more_g == pytest.approx(0.99 * A_LITTLE_MORE)
    assert run.forecast.first_air_a_little_more_s == 11.0
    assert run.duration_s is not None
    assert run.duration_s >= 11.0
    slow = circle_run(model, "left", 0.5)
    assert slow.forecast.first_air_a_little_more_s is None
    assert slow.duration_s is not None
    assert slow.duration_s >= SHORTEST


def test_the_gear_is_the_lowest_under_the_shift_or_the_one_asked_for(tmp_path: Path) -> None:
    job = drive_job(tmp_path, more=DRIVELINE).job
    # 20 m/s / 0.3 m * 4.1 * 1.9 = 519.3 rad/s = 4959 rpm; in first 8353, over the shift at 6500
    found = turning(job, 20.0, None)
    assert found.gear == 2
    assert found.rpm == pytest.approx(20.0 / 0.3 * 4.1 * 1.9 * 30.0 / math.pi)
    assert turning(job, 20.0, 3).gear == 3
    assert turning(job, 20.0, 1).gear == 2


def test_both_ways_are_driven_at_each_g_before_any_more(tmp_path: Path) -> None:
    found = stages(unread(tmp_path, more=ENGINE + DRIVELINE), TARGETS)
    assert [s.number for s in found] == list(range(1, len(found) + 1))
    kinds = list(dict.fromkeys(s.kind for s in found))
    assert kinds == [
        *("before", "warm-up", "circle", "figure-eight", "slalom", "launch", "brake", "sustained")
    ]
    circles = [s for s in found if s.kind == "circle"]
    for stage in circles:
        sizes = {r.turn: r.accel_g for r in stage.runs}
        assert sizes.get("right", 1.0) <= 1.0 + 1e-12
        if sizes["left"] <= 1.0:
            assert sizes["right"] == sizes["left"]
    tops = [max(r.accel_g for r in s.runs) for s in circles]
    assert tops == sorted(tops)
    assert tops[-1] == pytest.approx(1.2)
    assert max(r.accel_g for s in circles for r in s.runs if r.turn == "right") == 1.0
    for stage in found[1:]:
        assert [r.accel_g for r in stage.runs] == sorted(r.accel_g for r in stage.runs) or (
            stage.kind == "circle"
        )
        assert stage.gate
        assert stage.after


def test_straight_runs_rise_to_their_targets_and_take_v_over_a(tmp_path: Path) -> None:
    # by hand, from rest to 28 m/s (or back): 28 / (0.6 * 9.80665) = 4.759 s, 28^2 / (2 * 5.884)
    # = 66.6 m; at 1.1 g 2.596 s and 36.3 m
    found = {s.kind: s for s in stages(unread(tmp_path, more=ENGINE), TARGETS)}
    launch, stop = found["launch"].runs, found["brake"].runs
    assert [round(r.accel_g, 2) for r in launch] == [0.3, 0.6]
    for run, lasts, far in ((launch[-1], 4.759, 66.6), (stop[-1], 2.596, 36.3)):
        assert run.duration_s == pytest.approx(lasts, abs=1e-3)
        assert run.distance_m == pytest.approx(far, abs=0.05)
    off = {s.kind for s in stages(unread(tmp_path, more=ENGINE), {**TARGETS, "accelerate": None})}
    assert "launch" not in off
    assert "brake" in off


def test_an_eight_takes_its_two_circles(tmp_path: Path) -> None:
    # by hand: R 15 m (half the usual 30 m) at 0.5 g, 8.576 m/s: 4 pi 15 / 8.576 = 21.98 s an eight
    eight = next(s for s in stages(unread(tmp_path), TARGETS) if s.kind == "figure-eight")
    assert eight.runs[0].lap_time_s == pytest.approx(21.98, abs=5e-3)
    assert eight.runs[0].duration_s == pytest.approx(2.0 * 21.98, abs=1e-2)


def test_a_run_counts_from_its_first_push() -> None:
    motion = brake(speed=20.0, decel=5.0, run_up=3.0, rest=4.0)
    start, end = pushed(motion)
    assert start == pytest.approx(3.0, abs=0.05)
    assert end == pytest.approx(motion.time[-1] - 4.0, abs=0.05)


def test_one_side_without_a_target_takes_the_other_ones(tmp_path: Path) -> None:
    found = stages(unread(tmp_path, more=ENGINE), {**TARGETS, "left": None})
    for stage in (s for s in found if s.kind == "circle"):
        assert [r.turn for r in stage.runs] == ["left", "right"]
    none = stages(unread(tmp_path, more=ENGINE), dict.fromkeys(TARGETS))
    assert [s.kind for s in none] == ["before", "warm-up"]


def test_the_slalom_makes_the_g_asked_for() -> None:
    """Against the path that the vehicle really drives, and its limit of jerk."""
    speed = slalom_speed(6.0, spacing=18.0, offset=1.0)
    motion = slalom(18.0, 1.0, speed=speed, cones=8)
    most = float(abs(motion.accel[:, 1]).max())
    # a path of finite slope bends a little less than the sine's second derivative, or the weave is
    # drawn between cones: by (pi offset / spacing)^2 = 3 %
    assert most == pytest.approx(6.0, rel=0.04)
    quick = slalom_speed(quickest_slalom(1.0), spacing=18.0, offset=1.0)
    slalom(18.0, 1.0, speed=quick, cones=8)  # not refused
