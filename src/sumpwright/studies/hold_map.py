# SPDX-License-Identifier: Apache-2.0
"""For how long does the pickup stay covered, which way and at what g? Four maps to compare.

Doors working, stuck open, stuck shut, and the pan without its baffles.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.errors import Finding, InputError, Problem
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.geometry.kernel import run_in_threads
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.oil.network import LEVEL
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.entering import Entry, entry_at
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.hold_words import hold_map_assumptions
from sumpwright.studies.motion_result import (
    DOORS,
    Asymmetry,
    Doors,
    ErrorReport,
    HoldMapResult,
    HoldTimes,
)
from sumpwright.studies.network import Ready, ready
from sumpwright.studies.oil_state import hold_speed
from sumpwright.studies.target import hold_time

Floats = NDArray[np.float64]
Progress = Callable[[str, float], None]

DEGREES = np.arange(0.0, 360.0, 15.0)
MAGNITUDES = np.round(np.arange(0.3, 1.45, 0.1), 10)
SHARES = (0.4, 0.6, 0.8, 1.0)
"""Of the speed at which the pan must hold: the four engine speeds."""
BEYOND = 2.0
"""Times the hold time asked for, that each point is followed."""
_LEFT, _RIGHT = 90.0, 270.0
_RPM = 30.0 / np.pi


@dataclass(frozen=True, eq=False)
class _Field:
    """All entries, and the times that are filled in: [doors][rpm][direction][g]."""

    entries: tuple[tuple[Entry, ...], ...]
    times: Floats
    horizon: float

    def fill(self, items: NDArray[np.int64], told: Callable[[], None]) -> None:
        for item in items.tolist():
            state, speed, way, size = np.unravel_index(item, self.times.shape)
            entry = self.entries[state][speed]
            g = float(MAGNITUDES[size]) * STANDARD_GRAVITY
            angle = float(np.radians(DEGREES[way]))
            self.times[state, speed, way, size] = entry.time_to_air(angle, g, self.horizon)
            told()


def hold_map(folder: Path, progress: Progress | None = None) -> HoldMapResult:
    """The dynamic hold maps of the new pan of the job in `folder`; writes nothing but the cache."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    speeds = _speeds(loaded)
    say("reading geometry", 0.0)
    bodies = read_bodies(loaded, progress)
    say("tabulating levels", 0.1)
    pans, findings = _pans(loaded, bodies)
    entries = tuple(
        tuple(entry_at(loaded, bodies, pan, s, loaded.job.oil.hot) for s in speeds) for pan in pans
    )
    shape = (len(DOORS), len(speeds), len(DEGREES), len(MAGNITUDES))
    field = _Field(entries, np.full(shape, np.inf), BEYOND * hold_time(loaded))
    _fill(field, say)
    return HoldMapResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        temperature_k=loaded.job.oil.hot,
        directions_deg=tuple(DEGREES.tolist()),
        magnitudes_g=tuple(MAGNITUDES.tolist()),
        rpm=tuple(float(s * _RPM) for s in speeds),
        horizon_s=field.horizon,
        hold_time_s=hold_time(loaded),
        maps=tuple(_map(doors, field.times[k]) for k, doors in enumerate(DOORS)),
        asymmetries=tuple(_asymmetries(field.times, speeds, hold_time(loaded))),
        error=_error(pans),
        assumptions=hold_map_assumptions(loaded.job),
        findings=(*bodies.findings, *findings),
    )


def _speeds(loaded: LoadedJob) -> list[float]:
    """Four engine speeds [rad/s] up to the one at which the pan must hold."""
    top = hold_speed(loaded.job)
    missing = [
        _lack(loaded, "engine", "engine speeds", "`engine.rpm`, or curves of `flow` or `retained`")
        for _ in range(top is None)
    ]
    if loaded.job.new.pickup is None:
        missing.append(_lack(loaded, "new", "no pickup", "`new.pickup`"))
    if missing:
        raise InputError(missing)
    assert top is not None
    return [top * share for share in SHARES]


def _lack(loaded: LoadedJob, key: str, found: str, needed: str) -> Problem:
    do = "add it: a hold map is about how long that pickup stays covered"
    return Problem("JOB-162", loaded.where(key), f"none for {found}", needed, do)


def _pans(loaded: LoadedJob, bodies: Bodies) -> tuple[list[Ready], tuple[Finding, ...]]:
    """The pan in each state of its doors."""
    baffled = parted(loaded.job, bodies, folder=loaded.folder)
    bare = parted(loaded.job, bodies, baffles=False, folder=loaded.folder)
    pans = [
        ready(loaded, bodies, bare if doors == "no baffles" else baffled, loaded.job.oil.hot, doors)
        for doors in DOORS
    ]
    return pans, baffled.findings


def _fill(field: _Field, say: Progress) -> None:
    """Every point of every map, with a word now and then."""
    done, lock = [0], Lock()
    count = field.times.size

    def told() -> None:
        with lock:
            done[0] += 1
            if done[0] % 64 == 0:
                say("filling the hold maps", 0.2 + 0.8 * done[0] / count)

    # neighbours take alike long: dealt out like cards, the threads end together
    order = np.random.default_rng(0).permutation(count)
    run_in_threads(lambda items: field.fill(order[items], told), count)
    say("filling the hold maps", 1.0)


def _map(doors: Doors, times: Floats) -> HoldTimes:
    plain = [
        [[float(t) if np.isfinite(t) else None for t in sizes] for sizes in ways] for ways in times
    ]
    return HoldTimes(doors, tuple(tuple(tuple(s) for s in ways) for ways in plain))


def _asymmetries(times: Floats, speeds: list[float], needed: float) -> Iterator[Asymmetry]:
    """Left against right: the largest g that holds long enough, with all smaller ones."""
    left, right = (int(np.argmin(np.abs(DEGREES - way))) for way in (_LEFT, _RIGHT))
    for state, doors in enumerate(DOORS):
        for k, speed in enumerate(speeds):
            held = [_held(times[state, k, way] >= needed) for way in (left, right)]
            yield Asymmetry(float(speed * _RPM), doors, *held)


def _held(holds: NDArray[np.bool_]) -> float:
    count = len(holds) if holds.all() else int(np.argmin(holds))
    return float(MAGNITUDES[count - 1]) if count else 0.0


def _error(pans: list[Ready]) -> ErrorReport:
    """What the maps rest on; single runs are not added up."""
    worst = max(pan.level_error for pan in pans)
    return ErrorReport(0.0, LEVEL, worst, LEVEL, 0, 0)
