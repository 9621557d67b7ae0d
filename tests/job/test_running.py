# SPDX-License-Identifier: Apache-2.0
"""Pump, returns, driveline and air of the job file."""

import math

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.vehicle.engine_speed import Driveline

RPM = math.pi / 30.0


def test_reads_what_turns_in_si(make_job, moving) -> None:
    job = load_job(make_job(moving)).job
    pump = job.engine.pump
    assert pump.displacement == pytest.approx(12e-6, rel=1e-15)  # rounding of the conversion
    assert (pump.efficiency, pump.drive_ratio, pump.relief_to) == (0.95, 1.0, "inlet")
    assert (pump.relief, pump.reading.pressure) == (420e3, 380e3)
    assert pump.reading.rpm == pytest.approx(3000 * RPM, rel=1e-15)
    assert [r.share for r in job.engine.returns] == pytest.approx([0.4, 0.6], rel=1e-15)
    assert (job.engine.return_lag, job.engine.returns[0].spread) == (1.5, 0.02)
    assert job.engine.cold_rpm == pytest.approx(1500 * RPM, rel=1e-15)
    assert job.air.altitude == 300.0


def test_a_driveline_has_every_number_that_a_motion_needs(make_job, moving) -> None:
    line = load_job(make_job(moving)).job.driveline
    values = {**dict(line), "limit": math.inf, "ratios": line.gears}
    values.pop("gears")
    built = Driveline(**values)  # refuses what contradicts
    assert (built.ratios, built.final_drive, built.tyre_radius) == ((3.2, 1.9, 1.3, 1.0), 4.1, 0.3)
    assert built.idle == pytest.approx(900 * RPM, rel=1e-15)


@pytest.mark.parametrize("air", ["{}", "{altitude: 300 m, pressure: 98 kPa}"])
def test_asks_for_one_pressure_of_the_air(make_job, small, air: str) -> None:
    with pytest.raises(InputError) as caught:
        load_job(make_job(f"{small}air: {air}\n"))
    (problem,) = caught.value.problems
    assert (problem.code, problem.needed) == ("JOB-108", "`altitude` or `pressure`")
    assert problem.do == "give one of the two"


def test_a_requirement_in_motion_may_be_turned_off(make_job, moving) -> None:
    limits = load_job(make_job(moving)).job.requirements
    assert (limits.hold_time, limits.dry_spell) == (8.0, "off")
    assert (limits.inlet_hot, limits.inlet_cold) == (80e3, 70e3)
