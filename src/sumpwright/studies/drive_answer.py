# SPDX-License-Identifier: Apache-2.0
"""What a drive found, as the result that every face shows."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob
from sumpwright.job.revision import input_hash
from sumpwright.oil.network import LEVEL
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.drive_feed import gallery_pressure, inlet_pressure
from sumpwright.studies.drive_words import drive_assumptions
from sumpwright.studies.motion_result import (
    CompartmentCourse,
    DoorCourse,
    DriveResult,
    DriveSummary,
    ErrorReport,
    Gaps,
    PickupCourse,
    PumpCourse,
    Series,
)
from sumpwright.studies.rule_drive import drive_lines
from sumpwright.vehicle.motion import Motion

if TYPE_CHECKING:
    from sumpwright.studies.drive import Run

Floats = NDArray[np.float64]

_RPM = 30.0 / math.pi


def drive_result(loaded: LoadedJob, bodies: Bodies, done: "Run") -> DriveResult:
    """The whole answer on one drive."""
    course, motion = done.course, done.driven.motion
    inlet = inlet_pressure(loaded, bodies, done)
    pressure = gallery_pressure(loaded, done)
    summary = _summary(done, inlet, pressure)
    found = done.ready.parted
    return DriveResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        manoeuvre=done.driven.name,
        kind=done.driven.kind,
        temperature_k=done.driven.temperature,
        doors_are=done.doors,
        time_s=_series(course.time),
        accel_g=tuple(_triple(a) for a in motion.at(course.time) / STANDARD_GRAVITY),
        rpm=_gaps(_rpm(motion, course.time), course.time),
        speed_m_s=_gaps(_speed(motion, course.time), course.time),
        compartments=tuple(_compartments(done)),
        doors=tuple(_doors(done)),
        pickup=_pickup(done),
        pump=PumpCourse(
            _series(course.flow), _gaps(inlet, course.time), _gaps(pressure, course.time)
        ),
        retained_m3=_series(course.retained),
        summary=summary,
        error=_error(done),
        requirements=drive_lines(loaded.job, done.driven, summary),
        assumptions=(*done.driven.assumptions, *drive_assumptions(loaded.job, bodies, done)),
        findings=(*done.driven.findings, *found.findings, *bodies.findings),
        spans=tuple((s.name, s.start, s.end) for s in motion.spans),
    )


def _rpm(motion: Motion, time: Floats) -> Floats | None:
    return None if motion.engine_speed is None else motion.engine_speed_at(time) * _RPM


def _speed(motion: Motion, time: Floats) -> Floats | None:
    return None if motion.speed is None else np.interp(time, motion.time, motion.speed)


def _pickup(done: "Run") -> PickupCourse:
    found, course = done.ready.parted, done.course
    name = None if found.pickup is None else found.parts.names[found.pickup]
    cover, air = (course.cover, course.air) if _draws(done) else (None, None)
    return PickupCourse(name, _gaps(cover, course.time), _gaps(air, course.time))


def drive_summary(loaded: LoadedJob, bodies: Bodies, done: "Run") -> DriveSummary:
    """A drive in numbers."""
    return _summary(done, inlet_pressure(loaded, bodies, done), gallery_pressure(loaded, done))


def _draws(done: "Run") -> bool:
    return done.ready.net.mouth.pool >= 0


def _compartments(done: "Run") -> Iterator[CompartmentCourse]:
    parts, course = done.ready.parted.parts, done.course
    for k, name in enumerate(parts.names):
        yield CompartmentCourse(
            name=name,
            where=parts.hints[k],
            capacity_m3=float(done.ready.net.pools.capacity[k]),
            volume_m3=_series(course.volume[:, k]),
            surface_height_m=_series(course.height[:, k]),
            tilt=tuple(_triple(n) for n in course.normal[:, k]),
        )


def _doors(done: "Run") -> Iterator[DoorCourse]:
    if done.doors == "working":
        for k, (door, name) in enumerate(
            zip(done.ready.parted.doors, done.ready.parted.door_names, strict=True)
        ):
            angle = np.degrees(done.course.angle[:, k])
            yield DoorCourse(name, math.degrees(door.stop), _series(angle))


def _summary(done: "Run", inlet: Floats | None, pressure: Floats | None) -> DriveSummary:
    course, motion = done.course, done.driven.motion
    said = course.marched
    covered = math.isfinite(said.least_cover)
    low = None if inlet is None or not len(inlet) else int(np.argmin(inlet))
    size = np.linalg.norm(motion.accel, axis=1).max() / STANDARD_GRAVITY
    return DriveSummary(
        duration_s=motion.duration,
        first_air_s=said.first_air if math.isfinite(said.first_air) else None,
        aerated_s=said.aerated,
        longest_dry_s=said.longest_dry,
        air_drawn_m3=float(course.air_drawn[-1]),
        least_cover_m=said.least_cover if covered else None,
        least_cover_s=said.least_cover_at if covered else None,
        least_inlet_pa=None if low is None or inlet is None else float(inlet[low]),
        least_inlet_s=None if low is None else float(course.time[low]),
        least_pressure_pa=None if pressure is None else float(pressure.min()),
        most_retained_m3=float(course.retained.max()),
        largest_g=float(size),
        mass_error=_mass_error(done),
    )


def _mass_error(done: "Run") -> float:
    whole = done.course.volume.sum(axis=1) + done.course.retained
    return float(np.abs(whole - whole[0]).max() / done.start.oil) if done.start.oil else 0.0


def _error(done: "Run") -> ErrorReport:
    said = done.course.marched
    return ErrorReport(
        mass=_mass_error(done),
        tolerance_m=LEVEL,
        level_table_m=done.ready.level_error,
        worst_step_m=said.worst_level,
        steps=said.steps,
        rejected=said.rejected,
    )


def _series(values: Floats) -> Series:
    return tuple(values.tolist())


def _gaps(values: Floats | None, time: Floats) -> Gaps:
    return (None,) * len(time) if values is None else tuple(values.tolist())


def _triple(values: Floats) -> tuple[float, float, float]:
    x, y, z = values.tolist()
    return x, y, z
