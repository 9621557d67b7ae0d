# SPDX-License-Identifier: Apache-2.0
"""How far a feed is looked at: every temperature and speed the job names is in it."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.job.load import load_job
from sumpwright.job.model import Job
from sumpwright.oil.viscosity import kinematic_viscosity
from sumpwright.studies.feed_range import (
    TOO_THICK,
    cold_speed,
    lowest_speed,
    speeds,
    temperatures,
    thick_at,
)
from sumpwright.studies.suction_line import oil_line
from tests.studies.feed_job import REAL, FeedJob, feed_folder

RPM = math.pi / 30.0


def job_of(folder: Path, feed_job: FeedJob = REAL) -> Job:
    return load_job(feed_folder(folder, feed_job)).job


def celsius(folder: Path, feed_job: FeedJob = REAL) -> list[float]:
    job = job_of(folder, feed_job)
    line = oil_line(job)
    assert line is not None
    return [round(float(t) - 273.15, 6) for t in temperatures(job, line)]


def test_from_a_cold_start_to_hot_in_round_steps(tmp_path: Path) -> None:
    assert celsius(tmp_path) == [-20, -10, 0, 10, 20, 30, 40, 60, 80, 100]


def test_a_named_temperature_takes_the_place_of_a_round_one_beside_it(tmp_path: Path) -> None:
    oil = "cold: 12 degC, hot: 95 degC, grade: 10W-40"
    assert celsius(tmp_path, FeedJob(oil=oil)) == [-20, -10, 0, 12, 20, 30, 40, 60, 80, 95]


def test_a_colder_named_start_is_looked_at_too(tmp_path: Path) -> None:
    oil = "cold: -30 degC, hot: 90 degC, grade: 10W-40"
    assert celsius(tmp_path, FeedJob(oil=oil))[:2] == [-30, -20]


def test_round_fahrenheit_for_who_reads_it(tmp_path: Path) -> None:
    job = FeedJob(oil="cold: 70 degF, hot: 220 degF, grade: 10W-40", units="us")
    found = [round(1.8 * t + 32.0, 3) for t in celsius(tmp_path, job)]
    assert found == [-4.0, 20.0, 40.0, 60.0, 70.0, 80.0, 100.0, 140.0, 180.0, 220.0]


def test_the_oil_is_as_thick_as_said_where_the_look_ends(tmp_path: Path) -> None:
    line = oil_line(job_of(tmp_path))
    assert line is not None
    found = float(kinematic_viscosity(line, thick_at(line)))
    assert found == pytest.approx(TOO_THICK, rel=1e-12)  # its extra term is nothing there


def test_from_idle_to_the_hold_speed_in_quarter_thousands(tmp_path: Path) -> None:
    found = speeds(job_of(tmp_path)) / RPM
    assert found[[0, -1]] == pytest.approx([800.0, 6500.0])
    np.testing.assert_allclose(found[1:-1], np.arange(1000.0, 6400.0, 250.0))


def test_never_below_where_a_curve_begins_and_at_the_drivelines_own_idle(tmp_path: Path) -> None:
    late = REAL.engine.replace("700 rpm, oil: 0.3", "1200 rpm, oil: 0.3")
    assert lowest_speed(job_of(tmp_path / "a", FeedJob(engine=late))) / RPM == pytest.approx(1200)
    gears = (
        "driveline: {gears: [3, 1], final_drive: 4, tyre_radius: 300 mm, shift_up: 6000 rpm, "
        "shift_down: 1500 rpm, idle: 950 rpm}\n"
    )
    job = job_of(tmp_path / "b", FeedJob(engine=REAL.engine, more=gears))
    assert lowest_speed(job) / RPM == pytest.approx(950.0)


def test_an_engine_that_only_idles_is_looked_at_from_half_of_that(tmp_path: Path) -> None:
    job = job_of(tmp_path, FeedJob(engine="rpm: 700 rpm, pump: {displacement: 10 cm^3}"))
    found = speeds(job) / RPM
    assert found[[0, -1]] == pytest.approx([350.0, 700.0])


def test_the_cold_speed_is_the_jobs_unless_a_curve_lacks_it(tmp_path: Path) -> None:
    own = FeedJob(engine=REAL.engine + ", cold_rpm: 2000 rpm")
    found = cold_speed(job_of(tmp_path / "a", own))
    assert found is not None
    assert found / RPM == pytest.approx(2000.0)
    late = REAL.engine.replace("700 rpm, oil: 0.3", "1600 rpm, oil: 0.3")
    assert cold_speed(job_of(tmp_path / "b", FeedJob(engine=late))) is None
