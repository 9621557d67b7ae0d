# SPDX-License-Identifier: Apache-2.0
"""Requirements on a manoeuvre: the limit, the margin and the reason for each."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.job.model import Job
from sumpwright.studies.asked import Driven
from sumpwright.studies.motion_result import DriveSummary
from sumpwright.studies.result import Requirement
from sumpwright.studies.rule_drive import drive_lines
from sumpwright.vehicle.motion import Motion
from tests.studies.motion_job import ENGINE, MotionJob, motion_parts

LINE = "  suction: {tubes: [{bore: 19 mm, length: 350 mm}], pump_inlet: [200 mm, 0 mm, 70 mm]}\n"
OIL = "cold: 20 degC, hot: 100 degC"


def job_of(folder: Path, **parts: str) -> Job:
    return motion_parts(folder, MotionJob(**{"oil": OIL, "more": ENGINE, **parts}))[0].job


def summary(**more: float | None) -> DriveSummary:
    values: dict[str, object] = {
        "duration_s": 10.0, "first_air_s": None, "aerated_s": 0.0, "longest_dry_s": 0.0,
        "air_drawn_m3": 0.0, "least_cover_m": 0.012, "least_cover_s": 2.5, "least_inlet_pa": 8.4e4,
        "least_inlet_s": 3.2, "least_pressure_pa": None, "most_retained_m3": 0.0, "largest_g": 1.0,
        "mass_error": 0.0, **more,
    }  # fmt: skip
    return DriveSummary(**values)  # type: ignore[arg-type]


def lines(job: Job, found: DriveSummary, temperature: float = 373.15) -> dict[str, Requirement]:
    motion = Motion(np.array([0.0, 1.0]), np.zeros((2, 3)))
    driven = Driven("left circle", "circle", motion, temperature, "hot")
    return {line.id: line for line in drive_lines(job, driven, found)}


def test_a_pickup_that_never_takes_air_meets_it(tmp_path: Path) -> None:
    line = lines(job_of(tmp_path), summary())["dry_spell.left circle"]
    assert (line.state, line.value, line.limit, line.margin) == ("met", 0.0, 0.0, 0.0)
    assert line.statement == "The pickup takes no air in 'left circle'"
    assert line.reason == "least cover 12.0 mm at 2.5 s"
    assert line.source == "[Lubin-Springer-1967] draw-down; limit: common practice, no source"


def test_a_dry_spell_is_short_by_its_time_over_the_limit(tmp_path: Path) -> None:
    job = job_of(tmp_path, more=ENGINE + "requirements: {dry_spell: 0.5 s}\n")
    dry = summary(longest_dry_s=0.8, first_air_s=1.2, least_cover_m=-0.003, least_cover_s=1.5)
    line = lines(job, dry)["dry_spell.left circle"]
    assert (line.state, line.value, line.limit) == ("not met", 0.8, 0.5)
    assert line.margin == pytest.approx(-0.3)
    assert line.reason == "first air at 1.2 s; least cover −3.0 mm at 1.5 s"
    assert line.source.endswith("limit: the job file")
    assert lines(job, summary(longest_dry_s=0.5))["dry_spell.left circle"].state == "met"


@pytest.mark.parametrize(
    ("pickup", "reason"), [("", "needs `new.pickup`"), (None, "needs what the pump draws")]
)
def test_says_what_is_missing_where_nothing_is_drawn(
    tmp_path: Path, pickup: str | None, reason: str
) -> None:
    parts = {} if pickup is None else {"pickup": pickup}
    line = lines(job_of(tmp_path, **parts), summary(least_cover_m=None, least_cover_s=None))
    assert line["dry_spell.left circle"].state == "not judged"
    assert line["dry_spell.left circle"].reason == reason


def test_the_inlet_s_limit_is_that_of_hot_or_of_cold_oil(tmp_path: Path) -> None:
    job = job_of(tmp_path, pan=LINE)
    hot = lines(job, summary())["inlet.left circle"]
    assert (hot.state, hot.value, hot.limit) == ("met", 8.4e4, 8e4)
    assert hot.reason == "at 3.2 s"
    cold = lines(job, summary(least_inlet_pa=6.9e4), 293.15)["inlet.left circle"]
    assert (cold.state, cold.limit, cold.margin) == ("not met", 7e4, pytest.approx(-1e3))
    # 60 degC is half-way: not hot yet
    assert lines(job, summary(), 333.15)["inlet.left circle"].limit == 7e4
    assert lines(job, summary(), 333.2)["inlet.left circle"].limit == 8e4


def test_without_a_suction_line_or_where_it_is_off_nothing_is_asked(tmp_path: Path) -> None:
    assert list(lines(job_of(tmp_path), summary())) == ["dry_spell.left circle"]
    off = "requirements: {dry_spell: off, inlet_hot: off}\n"
    assert lines(job_of(tmp_path, pan=LINE, more=ENGINE + off), summary()) == {}
