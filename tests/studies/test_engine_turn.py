# SPDX-License-Identifier: Apache-2.0
"""The engine's speed in a manoeuvre, from the first thing that says one."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.studies.chosen import chosen
from sumpwright.studies.engine_turn import engine_turned
from sumpwright.studies.manoeuvre import motion_of
from sumpwright.vehicle.motion import Motion
from tests.studies.drive_job import DRIVELINE, ENGINE, drive_job

RPM = math.pi / 30.0
CIRCLE = "{name: it, kind: circle, radius: 30 m, speed: 15 m/s, laps: 1}"
KERB = "{name: it, kind: kerb, accel: 1 g, pulse: 0.2 s}"


def turned(folder: Path, more: str, keys: str = "", line: str = CIRCLE) -> tuple[Motion, str]:
    loaded = drive_job(folder, line.replace("}", f"{keys}}}"), more)
    choice = chosen(loaded, "it", {})
    motion, (said,) = engine_turned(motion_of(choice.section).motion, choice.section, loaded.job)
    return motion, said


def test_gear_turns_the_engine_by_road_speed_over_rolling_radius(tmp_path: Path) -> None:
    motion, said = turned(tmp_path, ENGINE + DRIVELINE, ", gear: 2")
    # w = v i_g i_f/r = 15 * 1.9 * 4.1/0.3 = 389.5 rad/s
    np.testing.assert_allclose(motion.engine_speed, 389.5, rtol=1e-12)  # rounding
    assert said == "Engine speed follows the road speed in gear 2; no wheel slips."


def test_driver_shifts_where_nothing_else_is_said(tmp_path: Path) -> None:
    motion, said = turned(tmp_path, ENGINE + DRIVELINE)
    # first gear would turn at 656 rad/s = 6264 rpm, under the shift up at 6500 rpm
    np.testing.assert_allclose(motion.engine_speed, 656.0, rtol=1e-12)  # rounding
    assert said.startswith("Engine speed follows the road speed in gears that the driver shifts;")


def test_given_engine_speed_goes_before_the_driveline(tmp_path: Path) -> None:
    motion, said = turned(tmp_path, ENGINE + DRIVELINE, ", rpm: 4500 rpm")
    np.testing.assert_allclose(motion.engine_speed, 4500.0 * RPM, rtol=1e-5)  # pi has many digits
    assert said == "Engine speed is held at 4500 rpm."


def test_speed_at_which_the_pan_must_hold_is_the_last_resort(tmp_path: Path) -> None:
    for motion, said in (
        turned(tmp_path, ENGINE),
        turned(tmp_path, ENGINE + DRIVELINE, line=KERB),  # its road speed is not known
    ):
        np.testing.assert_allclose(motion.engine_speed, 200.0 * math.pi, rtol=1e-5)
        assert said == "Engine speed is held at 6000 rpm, the speed at which the pan must hold."


def test_engine_nobody_knows_of_does_not_turn(tmp_path: Path) -> None:
    motion, said = turned(tmp_path, "")
    assert motion.engine_speed is None
    assert said == "Nothing says how fast the engine turns: it draws no oil."


def test_log_s_own_engine_speed_goes_before_all(tmp_path: Path) -> None:
    loaded = drive_job(tmp_path, CIRCLE.replace("}", ", rpm: 4500 rpm}"), ENGINE + DRIVELINE)
    choice = chosen(loaded, "it", {})
    motion = motion_of(choice.section).motion
    logged = replace(motion, engine_speed=np.linspace(100.0, 200.0, len(motion.time)))
    assert engine_turned(logged, choice.section, loaded.job) == (
        logged,
        ("Engine speed is the log's.",),
    )


def test_engine_turned_too_fast_is_refused(tmp_path: Path) -> None:
    with pytest.raises(
        RangeError, match="turned at 6264 rpm, and its limit is 6000: take a higher"
    ):
        turned(
            tmp_path,
            ENGINE + DRIVELINE.replace("6500", "5900") + "  limit: 6000 rpm\n",
            ", gear: 1",
        )
