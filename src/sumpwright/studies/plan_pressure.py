# SPDX-License-Identifier: Apache-2.0
"""Expected oil pressure and the abort line, from the job's one reading or from the rule of thumb.

Air lowers pressure first, so the abort line lies where the engine's own band ends; without a
reading it is the rule of thumb, which is for hot oil. The engine's maker goes before both.
"""

import math

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.job.model import Job
from sumpwright.oil.pump import delivery, pressure_wanted
from sumpwright.oil.viscosity import kinematic_viscosity
from sumpwright.studies.oil_state import hold_speed
from sumpwright.studies.plan_result import PressurePlan, PressurePoint
from sumpwright.studies.running import highest_speed, lowest_speed
from sumpwright.studies.suction_line import draws, gallery, oil_line, pump_flow

BAND = 0.15
"""Either side of a pressure computed from one reading: gauge, wear and the oil's own spread; common
practice, no source."""
WARMER = (-30.0, -15.0, 0.0, 15.0)
"""K from the job's hot oil, at which the lines are given."""
STEP, FIRST = 500.0, 1000.0
"""rpm"""
USUAL_TOP = 6000.0
"""rpm of an engine of which nothing is known; common practice, no source."""
_RPM = 30.0 / math.pi


def has_reading(job: Job) -> bool:
    """Whether the engine's own pressure can be computed."""
    pump = job.engine.pump
    known = pump is not None and pump.reading is not None and draws(job)
    return known and oil_line(job) is not None


def pressure_at(job: Job, speed: float, temperature: float) -> PressurePoint:
    """Band and abort line at an engine speed [rad/s] and an oil temperature [K]."""
    own = _own(job, speed, temperature) if has_reading(job) else None
    pump = job.engine.pump
    relief = None if pump is None else pump.relief
    if own is not None:
        low = (1.0 - BAND) * own
        return PressurePoint(speed * _RPM, temperature, low, (1.0 + BAND) * own, low)
    rule = float(pressure_wanted(speed))
    wanted = rule if relief is None else min(rule, (1.0 - BAND) * relief)
    high = None if relief is None else (1.0 + BAND) * relief
    return PressurePoint(speed * _RPM, temperature, wanted, high, wanted)


def _own(job: Job, speed: float, temperature: float) -> float | None:
    """Gauge pressure [Pa] as the reading foretells; None where a curve does not reach."""
    line = oil_line(job)
    assert line is not None
    if not lowest_speed(job) <= speed <= highest_speed(job) * (1.0 + 1e-9):
        return None
    try:
        nu = kinematic_viscosity(line, temperature)
        flow = pump_flow(job, speed, temperature)
        return float(delivery(gallery(job, line), flow, nu).pressure)
    except RangeError:
        return None


def pressure_plan(job: Job) -> PressurePlan:
    """The lines over engine speed and temperature."""
    own, hot = has_reading(job), job.oil.hot
    warm = WARMER if own else (0.0,)
    points = [pressure_at(job, r / _RPM, hot + d) for d in warm for r in speeds(job)]
    pump = job.engine.pump
    return PressurePlan(
        points=tuple(points),
        band_source=_band_source(own),
        abort_source=_abort_source(own, pump is not None and pump.relief is not None),
        relief_pa=None if pump is None else pump.relief,
        hot_k=hot,
    )


def speeds(job: Job) -> tuple[float, ...]:
    """Engine speeds [rpm] to give the lines at."""
    top = hold_speed(job)
    line = job.driveline
    most = max(
        [
            USUAL_TOP if top is None else top * _RPM,
            *([] if line is None else [line.shift_up * _RPM]),
        ]
    )
    if has_reading(job):
        most = min(most, highest_speed(job) * _RPM)
    first = max(FIRST, STEP * math.ceil(lowest_speed(job) * _RPM / STEP))
    found = [float(r) for r in np.arange(first, most - 1.0, STEP)]
    idle = () if line is None else (round(line.idle * _RPM, 6),)
    least = lowest_speed(job) * _RPM if has_reading(job) else 0.0
    slow = tuple(r for r in idle if least <= r < first - 1.0)
    return (*slow, *found, round(most, 6))


def reading_is_low(job: Job) -> bool:
    """Whether the job's own reading is under the rule of thumb."""
    pump = job.engine.pump
    if pump is None or pump.reading is None:
        return False
    return pump.reading.pressure < float(pressure_wanted(pump.reading.rpm))


def _band_source(own: bool) -> str:
    if own:
        return (
            f"from `engine.pump.reading`: pressure goes with flow and viscosity up to the relief "
            f"valve, {BAND:.0%} either side for gauge, wear and oil (common practice, no source)"
        )
    return "rule of thumb: at least 10 psi for each 1000 rpm, hot (common practice, no source)"


def _abort_source(own: bool, relief: bool) -> str:
    first = "the engine maker's own limit comes first where it is higher"
    if own:
        return (
            "the lower edge of this engine's own band: less means air or wear; the rule of 10 psi "
            f"for each 1000 rpm where its curves do not reach; {first}"
        )
    held = f", no more than {1.0 - BAND:.0%} of the relief pressure" if relief else ""
    return f"10 psi for each 1000 rpm, hot (common practice, no source){held}; {first}"
