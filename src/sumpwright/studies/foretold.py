# SPDX-License-Identifier: Apache-2.0
"""Did the model say so? The network over a logged session, held against the dips in its pressure.

The network runs twice: as the job has it, and with what is uncertain fitted to the log. Both are
kept: a fitted prediction that agrees shows that the model can, not that it did.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import run_each_in_threads
from sumpwright.job.load import LoadedJob
from sumpwright.oil.network import Course, run
from sumpwright.studies.asked import Driven
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.drive import Run, driven_run
from sumpwright.studies.drive_feed import inlet_pressure
from sumpwright.studies.drive_start import started_again
from sumpwright.studies.fit import Fit, Known, fit
from sumpwright.studies.network import Spread, ready, spread_out
from sumpwright.studies.read_result import Fitted, Foretold, Prediction
from sumpwright.studies.running import highest_speed
from sumpwright.vehicle.trace import logged_trace

Floats = NDArray[np.float64]
Spans = tuple[tuple[float, float], ...]
Progress = Callable[[str, float], None]

STEP = 0.1
"""s between the moments that are held against the log."""
NEAR = 1.0
"""s by which a dip and the air that was foretold may lie apart: galleries empty late."""
JOINED = 0.5
"""s; air that stops for less is one spell."""
SHORTEST = 0.1
"""s of air at the pickup that counts as foretold."""
MOST_FITTED = 1200.0
"""s of log; the fit drives it some dozens of times."""
KNOWN = (
    Known("retained oil", 0.2),
    Known("returns lag", 0.3),
    Known("discharge", 0.1),
    Known("door gap", 0.35),
)
"""Factors, with how well each is known before: standard deviations on a logarithmic scale, as the
chances of a drive draw them; [common-practice]."""
LINK = Known("pressure lost for air", 0.3)
"""How much pressure goes missing for a share of air, as a factor; fitted beside the others, for a
relief valve hides some and bearings take more: without it the others would make up for it."""


@dataclass(frozen=True, eq=False)
class Session:
    """A log as the network needs it: even in time, SI but for g."""

    time: Floats
    """(k,) [s]"""
    ax_g: Floats
    ay_g: Floats
    rpm: Floats
    """(k,) [1/min]"""
    temperature: float
    """[K] of the oil while it was driven"""
    dips: Spans
    """[s]"""
    missing: Floats
    """(k,) share of the expected pressure that was missing, 0 to 1; nan where it is not judged"""


def foretell(
    loaded: LoadedJob, bodies: Bodies, seen: Session, progress: Progress | None = None
) -> tuple[Prediction, tuple[str, ...]]:
    """The network over a session, original and fitted, and what was taken for granted."""
    say = progress or (lambda _text, _share: None)
    say("driving the log", 0.0)
    todo, said = _todo(loaded, seen)
    made = ready(loaded, bodies, parted(loaded.job, bodies, folder=loaded.folder), seen.temperature)
    done = driven_run(loaded, bodies, made, todo)
    times = np.arange(0.0, todo.motion.duration, STEP)
    original = _foretold(loaded, bodies, done, _varied(done, np.ones(4), times), seen)
    if not seen.dips or todo.motion.duration > MOST_FITTED:
        why = "a log without a dip says nothing of what to fit" if not seen.dips else "a long log"
        return Prediction(original, None, (), f"{_agreement(original)} Not fitted: {why}."), said
    found = _fitted(done, seen, times, say)
    after = _foretold(loaded, bodies, done, _varied(done, found.factor[:-1], times), seen)
    said_after = _agreement(after)
    same = said_after == _agreement(original)
    text = f"{_agreement(original)} Fitted: {'the same.' if same else said_after}"
    return Prediction(original, after, _parameters(found), text), said


def spells(time: Floats, air: Floats) -> Spans:
    """Spells of air at the pickup, those a moment apart as one."""
    wet = np.concatenate([[False], air > 0.0, [False]])
    edges = np.flatnonzero(np.diff(wet.astype(np.int8)))
    found: list[tuple[float, float]] = []
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        start, end = float(time[a]), float(time[min(b, len(time) - 1)])
        if found and start - found[-1][1] < JOINED:
            start = found.pop()[0]
        found.append((start, end))
    return tuple(s for s in found if s[1] - s[0] >= SHORTEST)


def hits_of(dips: Spans, foretold: Spans) -> tuple[int, int, int]:
    """Dips that were foretold, dips that were not, and spells foretold without a dip."""

    def near(span: tuple[float, float], others: Spans) -> bool:
        return any(a - NEAR <= span[1] and span[0] <= b + NEAR for a, b in others)

    hits = sum(near(dip, foretold) for dip in dips)
    return hits, len(dips) - hits, sum(not near(spell, dips) for spell in foretold)


def _todo(loaded: LoadedJob, seen: Session) -> tuple[Driven, tuple[str, ...]]:
    most = highest_speed(loaded.job) * 30.0 / math.pi
    said: tuple[str, ...] = ()
    if float(seen.rpm.max()) > most:
        said = (f"Engine speeds over {most:.0f} rpm, where the job's curves end, count as that.",)
    rpm = np.minimum(seen.rpm, most * (1.0 - 1e-9))
    motion, _ = logged_trace(seen.time, seen.ax_g, seen.ay_g, None, rpm)
    return Driven("the log", "trace", motion, seen.temperature, "as logged"), said


def _varied(done: Run, factor: Floats, times: Floats) -> tuple[Run, Course]:
    """The same drive with retained oil, returns lag, discharge and gaps times `factor`."""
    retained, lag, discharge, gap = map(float, factor)
    spread = Spread(retained=retained, discharge=discharge, gap=gap)
    made = replace(done.ready, net=spread_out(done.ready.net, spread))
    forcing = done.forcing._replace(rate=done.forcing.rate / (retained * lag))
    held = retained * lag * float(done.running.held[0])
    begun = started_again(made, forcing, done.start, 1.0, held)
    course, _ = run(made.net, forcing, begun.state, times)
    return replace(done, ready=made, start=begun, course=course), course


def _fitted(done: Run, seen: Session, times: Floats, say: Progress) -> Fit:
    start = seen.time[0]
    asked = np.interp(times + start, seen.time, np.nan_to_num(seen.missing))
    judged = np.interp(times + start, seen.time, np.isfinite(seen.missing).astype(float)) > 0.5
    count = 0

    def short(factors: Floats) -> Floats:
        nonlocal count
        rows = np.zeros((len(factors), len(times)))

        def work(k: int) -> None:
            air = _varied(done, factors[k, :-1], times)[1].air
            rows[k] = np.minimum(factors[k, -1] * air, 1.0)

        run_each_in_threads(work, len(factors))
        count += len(factors)
        say("fitting to the log", min(0.95, count / 60.0))
        return np.where(judged, rows, 0.0)

    # what pressure should be is off by about the same all through a dip: it counts once
    together = float(np.mean([b - a for a, b in seen.dips])) / STEP
    return fit(short, np.where(judged, asked, 0.0), (*KNOWN, LINK), together=together)


def _parameters(found: Fit) -> tuple[Fitted, ...]:
    return tuple(
        Fitted(k.name, 1.0, float(f), float(low), float(high), learnt)
        for k, f, low, high, learnt in zip(
            KNOWN, found.factor, found.low, found.high, found.learnt, strict=False
        )
    )


def _foretold(
    loaded: LoadedJob, bodies: Bodies, done: Run, varied: tuple[Run, Course], seen: Session
) -> Foretold:
    again, course = varied
    time = course.time + seen.time[0]
    inlet = inlet_pressure(loaded, bodies, again)
    foretold = spells(time, course.air)
    hits, misses, false_alarms = hits_of(seen.dips, foretold)
    busy = sum(b - a for a, b in seen.dips) + sum(b - a for a, b in foretold)
    none = (None,) * len(time)
    return Foretold(
        time_s=tuple(map(float, time)),
        cover_m=none if np.isnan(course.cover).all() else tuple(map(float, course.cover)),
        air_fraction=tuple(map(float, course.air)),
        inlet_pa=none if inlet is None else tuple(map(float, inlet)),
        hits=hits,
        misses=misses,
        false_alarms=false_alarms,
        quiet_s=max(float(time[-1] - time[0]) - busy, 0.0),
    )


def _agreement(f: Foretold) -> str:
    return (
        f"The network foretold {f.hits} of {f.hits + f.misses} dips, and {f.false_alarms} "
        f"spell{'' if f.false_alarms == 1 else 's'} of air that did not show as a dip."
    )
