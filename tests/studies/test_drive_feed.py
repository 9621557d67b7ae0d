# SPDX-License-Identifier: Apache-2.0
"""What the pump gets over a drive: heads by hand, losses as `feed` has them at the same flow."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.oil.density import density
from sumpwright.studies.asked import Asked
from sumpwright.studies.drive import Run
from sumpwright.studies.drive_feed import gallery_pressure, inlet_pressure
from sumpwright.studies.feed import feed_of
from tests.studies.motion_job import ENGINE, THICK, MotionJob, motion_parts, motion_run

G, ATM = 9.80665, 101325.0
STAND = {"uphill": "nose", "slope": "0 deg", "duration": "1 s"}
LINE = "  suction: {tubes: [{bore: 19 mm, length: 350 mm}], pump_inlet: [200 mm, 0 mm, 70 mm]}\n"
OIL = "[{at: 20 degC, value: 60 mm^2/s}, {at: 100 degC, value: 8 mm^2/s}]"
PUMP = "engine: {rpm: 3000 rpm, pump: {displacement: 10 cm^3, efficiency: 100 %}}\n"
RHO = float(density(850.0, 293.15))


def driven(folder: Path, job: MotionJob, asked: Asked) -> tuple[Run, np.ndarray | None]:
    parts = motion_parts(folder, job)
    done = motion_run(parts, asked)
    return done, inlet_pressure(parts[0], parts[1], done)


def test_without_a_line_it_is_the_pressure_at_the_mouth(tmp_path: Path) -> None:
    """30 mm of oil over the mouth's middle at rest, and nothing drawn."""
    _, inlet = driven(tmp_path, MotionJob(), Asked("hill", STAND))
    assert inlet is not None
    # the level's table may be 0.2 mm off: 2 Pa
    np.testing.assert_allclose(inlet, ATM + RHO * G * 0.03, atol=2.0)


def test_crankcase_pressure_is_the_job_s(tmp_path: Path) -> None:
    job = MotionJob(more="air: {pressure: 95 kPa}\n")
    _, inlet = driven(tmp_path, job, Asked("hill", STAND))
    assert inlet is not None
    np.testing.assert_allclose(inlet, 95e3 + RHO * G * 0.03, atol=2.0)


def test_without_a_pickup_nothing_is_said(tmp_path: Path) -> None:
    _, inlet = driven(tmp_path, MotionJob(pickup=""), Asked("hill", STAND))
    assert inlet is None


def test_at_rest_it_is_what_feed_says_at_the_same_flow(tmp_path: Path) -> None:
    """30 L/min of 60 mm^2/s; the pan stands 1.5 s of the flow, 0.75 L, lower than with none up."""
    job = MotionJob(pan=LINE, viscosity=OIL, more=PUMP)
    done, inlet = driven(tmp_path, job, Asked("hill", STAND))
    fed = feed_of(tmp_path).feed
    assert inlet is not None
    assert fed.hot is not None
    lower = done.course.retained[-1] / 0.06  # 60 L a metre
    assert done.course.flow[-1] == pytest.approx(5e-4, rel=1e-12)
    # feed has the oil as full as at rest; the losses' table runs straight between 64 flows
    assert inlet[-1] + RHO * G * lower == pytest.approx(fed.hot.inlet_pa, abs=3.0)


def test_up_is_against_effective_gravity_in_a_turn(tmp_path: Path) -> None:
    """Thick oil in a steady turn of 0.6 g, pump 60 mm to the left of the mouth, nothing drawn.

    The surface goes through the half-full box's middle, so from there to the pump it is the head
    of (0, 60, 70 + 50) mm along up, in 1.166 g.
    """
    line = LINE.replace("[200 mm, 0 mm,", "[150 mm, 60 mm,")
    job = MotionJob(pan=line, viscosity=THICK)
    turn = {"radius": "30 m", "accel": "0.6 g", "duration": "15 s"}
    done, inlet = driven(tmp_path, job, Asked("circle", turn))
    assert inlet is not None
    at = int(np.flatnonzero(done.driven.motion.at(done.course.time)[:, 1] > 0.6 * G - 1e-6)[-1])
    head = -G * (0.060 * 0.6 + 0.120)
    # the surface by 0.2 mm of the table: 2 Pa; the last of the creep of thick oil
    assert inlet[at] == pytest.approx(ATM + RHO * head, abs=10.0)


def test_the_gallery_s_pressure_is_the_reading_where_the_reading_was_taken(tmp_path: Path) -> None:
    read = "reading: {pressure: 240 kPa, rpm: 3000 rpm, at: 20 degC}"
    job = MotionJob(
        fill="4 L", pan=LINE, viscosity=OIL, more=PUMP.replace("100 %}", f"100 %, {read}}}")
    )
    parts = motion_parts(tmp_path, job)
    done = motion_run(parts, Asked("hill", {**STAND, "rpm": "3000 rpm"}))
    found = gallery_pressure(parts[0], done)
    assert found is not None
    np.testing.assert_allclose(found, 240e3, rtol=1e-9)
    # half the speed, half the flow: bearings leak as a slit does, in proportion
    half = motion_run(parts, Asked("hill", {**STAND, "rpm": "1500 rpm"}))
    found = gallery_pressure(parts[0], half)
    assert found is not None
    np.testing.assert_allclose(found, 120e3, rtol=1e-9)


def test_air_counts_as_lost_to_the_gallery(tmp_path: Path) -> None:
    read = "reading: {pressure: 240 kPa, rpm: 3000 rpm, at: 20 degC}"
    job = MotionJob(fill="1 L", viscosity=OIL, more=PUMP.replace("100 %}", f"100 %, {read}}}"))
    parts = motion_parts(tmp_path, job)
    done = motion_run(parts, Asked("hill", STAND))
    found = gallery_pressure(parts[0], done)
    assert found is not None
    assert done.course.air[-1] > 0.1
    np.testing.assert_allclose(found, 240e3 * (1.0 - done.course.air), rtol=1e-9)


def test_without_a_reading_there_is_no_gallery(tmp_path: Path) -> None:
    parts = motion_parts(tmp_path, MotionJob(viscosity=OIL, more=ENGINE))
    assert gallery_pressure(parts[0], motion_run(parts, Asked("hill", STAND))) is None
