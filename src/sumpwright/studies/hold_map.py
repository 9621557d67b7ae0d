# SPDX-License-Identifier: Apache-2.0
"""For how long does the pickup stay covered, which way and at what g? Four maps to compare.

Doors working, stuck open, stuck shut, and the pan without its baffles.
"""

import math
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.errors import Finding, InputError, Problem
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.oil.network import LEVEL
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.entering import entry_at
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.hold_field import DEGREES, MAGNITUDES, POINTS, Field, hold_field
from sumpwright.studies.hold_words import hold_map_assumptions
from sumpwright.studies.motion_result import (
    DOORS,
    Asymmetry,
    Doors,
    ErrorReport,
    HoldLimit,
    HoldMapResult,
    HoldTimes,
)
from sumpwright.studies.network import Ready, ready
from sumpwright.studies.oil_state import hold_speed
from sumpwright.studies.target import WAYS, hold_time

Floats = NDArray[np.float64]
Progress = Callable[[str, float], None]

SHARES = (0.4, 0.6, 0.8, 1.0)
"""Of the speed at which the pan must hold: the four engine speeds."""
BEYOND = 2.0
"""Times the hold time asked for, that each point is followed."""
_RPM = 30.0 / math.pi


def hold_map(folder: Path, progress: Progress | None = None) -> HoldMapResult:
    """The dynamic hold maps of the new pan of the job in `folder`; writes nothing but the cache."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    speeds = _speeds(loaded)
    say("reading geometry", 0.0)
    bodies = read_bodies(loaded, progress)
    say("tabulating levels", 0.05)
    pans, findings = _pans(loaded, bodies)
    fields = _fields(loaded, bodies, pans, speeds, say)
    limits = tuple(_limits(fields, speeds, hold_time(loaded.job)))
    return HoldMapResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        temperature_k=loaded.job.oil.hot,
        directions_deg=tuple(DEGREES.tolist()),
        magnitudes_g=tuple(MAGNITUDES.tolist()),
        rpm=tuple(speed * _RPM for speed in speeds),
        horizon_s=BEYOND * hold_time(loaded.job),
        hold_time_s=hold_time(loaded.job),
        maps=tuple(_map(doors, row) for doors, row in zip(DOORS, fields, strict=True)),
        asymmetries=tuple(Asymmetry(k.rpm, k.doors, k.left_g, k.right_g) for k in limits),
        error=_error(pans, [field for row in fields for field in row]),
        assumptions=hold_map_assumptions(loaded.job),
        findings=(*bodies.findings, *findings),
        limits=limits,
    )


def _speeds(loaded: LoadedJob) -> list[float]:
    """Four engine speeds [rad/s] up to the one at which the pan must hold."""
    top = hold_speed(loaded.job)
    missing = []
    if loaded.job.new.pickup is None:
        missing.append(_lack(loaded, "new", "no pickup", "`new.pickup`"))
    if top is None:
        needed = "`engine.rpm`, or a curve of `flow` or `retained`"
        missing.append(_lack(loaded, "engine", "no engine speed", needed))
    if missing or top is None:
        raise InputError(missing)
    return [top * share for share in SHARES]


def _lack(loaded: LoadedJob, key: str, found: str, needed: str) -> Problem:
    do = "add it: a hold map is about how long the pickup stays covered while the engine runs"
    return Problem("JOB-162", loaded.where(key), found, needed, do)


def _pans(loaded: LoadedJob, bodies: Bodies) -> tuple[list[Ready], tuple[Finding, ...]]:
    """The pan in each state of its doors."""
    baffled = parted(loaded.job, bodies, folder=loaded.folder)
    bare = parted(loaded.job, bodies, baffles=False, folder=loaded.folder)
    pans = [
        ready(loaded, bodies, bare if doors == "no baffles" else baffled, loaded.job.oil.hot, doors)
        for doors in DOORS
    ]
    return pans, baffled.findings


def _fields(
    loaded: LoadedJob, bodies: Bodies, pans: list[Ready], speeds: list[float], say: Progress
) -> list[list[Field]]:
    """A field for every state of the doors and engine speed, with a word now and then."""
    horizon, hot = BEYOND * hold_time(loaded.job), loaded.job.oil.hot
    done, whole = 0, POINTS * len(pans) * len(speeds)

    def told(points: int) -> None:
        if points % 16 == 0:
            say("filling the hold maps", 0.1 + 0.9 * (done + points) / whole)

    fields: list[list[Field]] = []
    for pan in pans:
        fields.append([])
        for speed in speeds:
            entry = entry_at(loaded, bodies, pan, speed, hot)
            fields[-1].append(hold_field(loaded.folder, entry, horizon, told))
            done += POINTS
    return fields


def _map(doors: Doors, fields: list[Field]) -> HoldTimes:
    return HoldTimes(doors, tuple(tuple(_row(ways) for ways in field.time) for field in fields))


def _row(times: Floats) -> tuple[float | None, ...]:
    return tuple(t if math.isfinite(t) else None for t in times.tolist())


def _limits(fields: list[list[Field]], speeds: list[float], needed: float) -> Iterator[HoldLimit]:
    for doors, row in zip(DOORS, fields, strict=True):
        for speed, field in zip(speeds, row, strict=True):
            held = {f"{way}_g": _held(field, at, needed) for way, at in WAYS.items()}
            yield HoldLimit(rpm=speed * _RPM, doors=doors, **held)


def _held(field: Field, degrees: float, needed: float) -> float:
    """Largest g that holds for long enough with all smaller ones; 0 where none does."""
    holds = field.time[int(np.argmin(np.abs(DEGREES - degrees)))] >= needed
    count = len(holds) if holds.all() else int(np.argmin(holds))
    return float(MAGNITUDES[count - 1]) if count else 0.0


def _error(pans: list[Ready], fields: list[Field]) -> ErrorReport:
    """The worst of all points; steps are added up."""
    return ErrorReport(
        mass=max(field.mass for field in fields),
        tolerance_m=LEVEL,
        level_table_m=max(pan.level_error for pan in pans),
        worst_step_m=max(field.worst_level for field in fields),
        steps=sum(field.steps for field in fields),
        rejected=sum(field.rejected for field in fields),
    )
