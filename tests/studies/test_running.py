# SPDX-License-Identifier: Apache-2.0
"""What the engine does to the oil over a motion: read off the curves, and never beyond them."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.studies.running import (
    LONGEST_STEP,
    USUAL_LAG,
    at_speed,
    highest_speed,
    lowest_speed,
    running,
)
from sumpwright.vehicle.motion import Motion
from tests.studies.motion_job import ENGINE, MotionJob, motion_folder

RPM = np.pi / 30.0
LITRE_MIN = 1e-3 / 60.0


def loaded_job(folder: Path, engine: str = ENGINE) -> LoadedJob:
    return load_job(motion_folder(folder, MotionJob(more=engine)))


def turning(*rpm: float) -> Motion:
    time = np.arange(len(rpm), dtype=float)
    return Motion(time, np.zeros((len(rpm), 3)), engine_speed=np.array(rpm) * RPM)


def test_between_points_of_the_curves_everything_runs_straight(tmp_path: Path) -> None:
    engine = running(loaded_job(tmp_path), turning(1000.0, 6000.0), 293.15)
    assert engine.time == pytest.approx(np.linspace(0.0, 1.0, 11))
    assert np.diff(engine.time).max() <= LONGEST_STEP * (1 + 1e-9)
    rpm = np.linspace(1000.0, 6000.0, 11)
    np.testing.assert_allclose(engine.flow, 6e-3 * rpm * LITRE_MIN, rtol=1e-12)
    np.testing.assert_allclose(engine.held, 0.1e-3 * rpm / 1000.0, rtol=1e-12)
    # oil up there for retained oil over flow: 0.1 L at 6 L/min and 0.6 L at 36 L/min are 1 s
    np.testing.assert_allclose(engine.rate, 1.0, rtol=1e-12)


def test_under_the_curves_it_falls_straight_to_nothing_at_standstill(tmp_path: Path) -> None:
    flow, held, rate = at_speed(loaded_job(tmp_path).job, 500.0 * RPM, 293.15)
    assert (flow, held) == pytest.approx((3.0 * LITRE_MIN, 0.05e-3), rel=1e-12)
    assert rate == pytest.approx(1.0, rel=1e-12)
    assert at_speed(loaded_job(tmp_path).job, 0.0, 293.15) == (0.0, 0.0, 1.0 / USUAL_LAG)


def test_nothing_is_made_up_beyond_the_curves(tmp_path: Path) -> None:
    loaded = loaded_job(tmp_path)
    assert lowest_speed(loaded.job) == pytest.approx(1000.0 * RPM)
    assert highest_speed(loaded.job) == pytest.approx(6000.0 * RPM)
    with pytest.raises(InputError) as caught:
        running(loaded, turning(3000.0, 6500.0), 293.15)
    (problem,) = caught.value.problems
    assert problem.code == "JOB-160"
    assert problem.where == "job.yaml:6  engine"
    assert problem.found == "the engine turns 6500 rpm in this manoeuvre"
    assert problem.needed == "curves of `retained` and `flow` up to there; they end at 6000 rpm"
    assert problem.do == "add a measured point, or drive it in a higher gear"


def test_an_engine_that_stands_draws_nothing(tmp_path: Path) -> None:
    still = Motion(np.array([0.0, 2.0]), np.zeros((2, 3)))
    engine = running(loaded_job(tmp_path), still, 293.15)
    assert engine.speed is None
    assert (engine.flow.tolist(), engine.held.tolist(), engine.rate.tolist()) == ([0.0, 0.0],) * 3


def test_a_lag_of_the_job_s_own_goes_first_and_a_usual_one_last(tmp_path: Path) -> None:
    own = loaded_job(tmp_path / "own", ENGINE + "  return_lag: 2 s\n").job
    assert at_speed(own, 3000.0 * RPM, 293.15)[2] == 0.5
    bare = loaded_job(tmp_path / "bare", "\n".join(ENGINE.splitlines()[:3]) + "\n").job
    assert at_speed(bare, 3000.0 * RPM, 293.15)[1:] == (0.0, 1.0 / USUAL_LAG)


def test_without_a_pump_what_is_up_there_stays(tmp_path: Path) -> None:
    lines = ENGINE.splitlines()
    job = loaded_job(tmp_path, "\n".join([lines[0], lines[1], lines[3]]) + "\n").job
    assert at_speed(job, 6000.0 * RPM, 293.15) == pytest.approx((0.0, 0.6e-3, 0.0))
