# SPDX-License-Identifier: Apache-2.0
"""What the job says of line, pump, oil and air, as the formulas take it."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.job.load import load_job
from sumpwright.job.model import Job
from sumpwright.oil.screen import PerforatedScreen, WovenScreen
from sumpwright.oil.viscosity import kinematic_viscosity
from sumpwright.studies.suction_line import (
    crankcase_pressure,
    oil_line,
    pickup_flow,
    pump_flow,
    retained_at,
    spares_pickup,
    suction_line,
)
from tests.studies.feed_job import REAL, FeedJob, feed_folder

RPM = math.pi / 30.0
TWO = (
    "rpm: 4000 rpm, retained: [{rpm: 0 rpm, oil: 0.2 L}, {rpm: 4000 rpm, oil: 0.6 L}], "
    "retained_cold: [{rpm: 0 rpm, oil: 0.4 L}, {rpm: 4000 rpm, oil: 1.6 L}], "
    "pump: {displacement: 10 cm^3}"
)


def job_of(folder: Path, feed_job: FeedJob) -> Job:
    return load_job(feed_folder(folder, feed_job)).job


def test_every_size_of_the_line_arrives(tmp_path: Path) -> None:
    suction = job_of(tmp_path, REAL).new.suction
    assert suction is not None
    line = suction_line(suction)
    first, second = line.tubes
    (bend,) = first.bends
    sizes = (first.bore, first.length, first.roughness, bend.radius, second.bore, second.length)
    assert sizes == pytest.approx((18e-3, 0.2, 2e-6, 28e-3, 16e-3, 60e-3), rel=1e-12)
    assert bend.angle == pytest.approx(math.pi / 2.0, rel=1e-12)
    assert second.bends == ()
    assert line.screen == WovenScreen(pytest.approx(1.6e-3), pytest.approx(0.4e-3), 16e-4)
    assert line.edge_ratio == pytest.approx(2.0 / 18.0)


def test_a_perforated_screen_arrives(tmp_path: Path) -> None:
    screen = "{hole: 2 mm, open_area: 40 %, thickness: 0.8 mm, area: 20 cm^2}"
    suction = job_of(tmp_path, FeedJob(screen=screen)).new.suction
    assert suction is not None
    found = suction_line(suction).screen
    assert found == PerforatedScreen(
        pytest.approx(2e-3), pytest.approx(0.4), pytest.approx(0.8e-3), pytest.approx(20e-4)
    )


def test_viscosity_comes_from_the_sheet_else_from_the_grade_else_from_nowhere(
    tmp_path: Path,
) -> None:
    sheet = oil_line(job_of(tmp_path / "a", REAL))
    assert sheet is not None
    assert float(kinematic_viscosity(sheet, 373.15)) == pytest.approx(14.4e-6, rel=3e-4)  # inverse
    text = REAL.text.replace(f", viscosity: [{REAL.viscosity}]", "")
    folder = feed_folder(tmp_path / "b", REAL)
    (folder / "job.yaml").write_text(text)
    grade = oil_line(load_job(folder).job)
    assert grade is not None
    # [SAE-J300]: a 40 has 12.5 to 16.3 mm2/s at 100 degC; the middle is taken
    assert float(kinematic_viscosity(grade, 373.15)) == pytest.approx(14.4e-6, rel=3e-4)
    (folder / "job.yaml").write_text(text.replace("grade: 10W-40", "grade: 10W"))
    assert oil_line(load_job(folder).job) is None
    (folder / "job.yaml").write_text(text.replace(", grade: 10W-40", ""))
    assert oil_line(load_job(folder).job) is None


def test_air_is_the_seas_the_altitudes_or_as_given(tmp_path: Path) -> None:
    said = ("", "air: {altitude: 1500 m}\n", "air: {pressure: 95 kPa}\n")
    found = [
        crankcase_pressure(job_of(tmp_path / str(k), FeedJob(more=more)))
        for k, more in enumerate(said)
    ]
    # [ISO-2533]: 101.325 and 84.556 kPa, printed digits
    assert found == [101325.0, pytest.approx(84556.0, abs=0.5), pytest.approx(95e3)]


def test_oil_up_in_the_engine_lies_between_the_cold_and_the_hot_curve(tmp_path: Path) -> None:
    job = job_of(tmp_path, FeedJob(engine=TWO, oil="cold: 20 degC, hot: 100 degC"))
    t = np.array([253.15, 293.15, 333.15, 373.15, 393.15])
    found = retained_at(job, 2000 * RPM, t)
    # at 2000 rpm 1.0 L cold and 0.4 L hot; half way between them at 60 degC
    np.testing.assert_allclose(found, [1.0e-3, 1.0e-3, 0.7e-3, 0.4e-3, 0.4e-3], rtol=1e-12)
    assert retained_at(job, np.array([0.0, 4000 * RPM]), t[:, None]).shape == (5, 2)


def test_a_pump_without_a_reading_draws_the_same_at_every_temperature(tmp_path: Path) -> None:
    job = job_of(tmp_path, FeedJob(engine=TWO))
    assert not spares_pickup(job)
    flow = pickup_flow(job, oil_line(job), 3000 * RPM, [270.0, 370.0])
    np.testing.assert_allclose(flow, 10e-6 * 50 * 0.95, rtol=1e-12)  # 0.95 is the default


def test_an_open_relief_valve_spares_the_pickup_the_more_the_thicker_the_oil(
    tmp_path: Path,
) -> None:
    job = job_of(tmp_path, REAL)
    line = oil_line(job)
    assert line is not None
    t = np.array([293.15, 333.15, 373.15])
    flow = pickup_flow(job, line, 6000 * RPM, t)
    whole = pump_flow(job, 6000 * RPM, t)
    # bearings leak by pressure over viscosity: 420 kPa pass 420/240 of the reading's flow, hot
    reading = 7e-6 * 50 * 0.95
    thin = 14.4e-6 / kinematic_viscosity(line, t)
    np.testing.assert_allclose(flow, np.minimum(whole, reading * 420 / 240 * thin), rtol=4e-4)
