# SPDX-License-Identifier: Apache-2.0
"""The runs of a programme: how much g, in which gear, how many laps, and what the model says."""

import math
from dataclasses import dataclass

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.job.model import Job
from sumpwright.studies.oil_state import hold_speed
from sumpwright.studies.plan_forecast import Model
from sumpwright.studies.plan_pressure import pressure_at
from sumpwright.studies.plan_result import Drive, PressurePoint, Turn
from sumpwright.studies.target import hold_time
from sumpwright.vehicle.circle import circle_speed, lap_time
from sumpwright.vehicle.engine_speed import engine_speed

SLOWEST, LARGEST_STEP = 0.3, 0.15
"""g; where circles begin, and the most between two of them."""
USUAL_RADIUS = 30.0
"""m; the smallest circle of [ISO-4138], from memory."""
SHORTEST = 8.0
"""s; of a run on a circle."""
FOLLOWED = 30.0
"""s; how long the model is followed on a circle."""
SETTLE = 2.0
"""s; driven on after the model's own time to air, so that the gauge can show it."""
SUSTAINED = 60.0
"""s; common practice, no source."""
STEADY = 0.95
"""Of the highest engine speed: a run that falls under it has more than one abort line."""
_RPM = 30.0 / math.pi


@dataclass(frozen=True)
class Turning:
    """Gear and engine speed at a road speed."""

    gear: int | None
    rpm: float | None


def ladder(target: float, *, first: float = SLOWEST, step: float = LARGEST_STEP) -> list[float]:
    """Even steps [g] from `first` up to the target, none larger than `step`."""
    if target <= first:
        return [target]
    count = math.ceil((target - first) / step - 1e-9)
    return [first + (target - first) * n / count for n in range(count + 1)]


def section_of(job: Job, kind: str) -> Manoeuvre | None:
    """The job's first manoeuvre of a kind."""
    return next((m for m in job.manoeuvres if m.kind == kind), None)


def radius_of(job: Job) -> float:
    """Of the job's own circle, else the usual."""
    circle = section_of(job, "circle")
    return USUAL_RADIUS if circle is None or circle.radius is None else circle.radius


def turning(job: Job, speed: float, gear: int | None) -> Turning:
    """In the gear asked for where it is high enough, else the lowest under the shift-up speed."""
    line = job.driveline
    if line is None:
        held = hold_speed(job)
        return Turning(None, None if held is None else held * _RPM)
    at = engine_speed(
        speed, ratio=line.gears, final_drive=line.final_drive, tyre_radius=line.tyre_radius
    )
    fit = [n for n, w in enumerate(at) if w <= line.shift_up]
    chosen = fit[0] if fit else len(at) - 1
    if gear is not None and gear - 1 in fit:
        chosen = gear - 1
    return Turning(chosen + 1, max(float(at[chosen]), line.idle) * _RPM)


def pressure_of(job: Job, rpm: float | None) -> PressurePoint | None:
    """Band and abort line, oil hot; None without an engine speed."""
    return None if rpm is None else pressure_at(job, rpm / _RPM, job.oil.hot)


def circle_run(model: Model, turn: Turn, accel_g: float, *, least: float = SHORTEST) -> Drive:
    """On a circle for at least as long as the model takes to uncover at a little over that g."""
    job, radius = model.loaded.job, radius_of(model.loaded.job)
    accel = accel_g * STANDARD_GRAVITY
    speed = float(circle_speed(accel, radius))
    own = section_of(job, "circle")
    engine = turning(job, speed, None if own is None else own.gear)
    wanted = max(least, hold_time(job))
    said = model.steady(turn, accel_g, engine.rpm, max(FOLLOWED, wanted))
    for time in (said.first_air_s, said.first_air_a_little_more_s):
        wanted = wanted if time is None else max(wanted, time + SETTLE)
    lap = float(lap_time(accel, radius))
    laps = math.ceil(wanted / lap - 1e-9)
    return Drive(
        turn=turn,
        accel_g=accel_g,
        speed_m_s=speed,
        gear=engine.gear,
        rpm=engine.rpm,
        laps=float(laps),
        lap_time_s=lap,
        duration_s=laps * lap,
        repeats=1,
        pressure=pressure_of(job, engine.rpm),
        forecast=said,
    )


@dataclass(frozen=True)
class Way:
    """How a manoeuvre is driven through."""

    turn: Turn
    accel_g: float
    speed: float
    """[m/s], the highest of it"""
    lasts: float
    """[s] by hand, where no pan is driven: without the ways in and out"""
    laps: float | None = None
    shifts: bool = False
    """The driver changes gear in it"""
    distance: float | None = None
    """[m]"""


def course_run(model: Model, kind: str, options: dict[str, str], way: Way) -> Drive:
    """A manoeuvre that is driven through as a whole, three times."""
    job, own = model.loaded.job, section_of(model.loaded.job, kind)
    engine = turning(job, way.speed, None if own is None else own.gear)
    free = way.shifts and (own is None or own.gear is None)
    gear = None if free else engine.gear
    given = {**options, **({} if gear is None else {"gear": str(gear)})}
    course = model.driven(kind, given)
    rpm = engine.rpm if course.top_rpm is None else course.top_rpm
    slowest = course.slowest_rpm
    if rpm is None or slowest is None or slowest > STEADY * rpm:
        slowest = None
    lasts = way.lasts if course.lasts is None else course.lasts
    return Drive(
        turn=way.turn,
        accel_g=way.accel_g,
        speed_m_s=way.speed,
        gear=gear,
        rpm=rpm,
        laps=way.laps,
        lap_time_s=None if way.laps is None else lasts / way.laps,
        duration_s=lasts,
        repeats=3,
        pressure=pressure_of(job, rpm),
        forecast=course.forecast,
        slowest_rpm=slowest,
        slowest_pressure=pressure_of(job, slowest),
        distance_m=way.distance,
    )
