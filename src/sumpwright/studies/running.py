# SPDX-License-Identifier: Apache-2.0
"""What the engine does to the oil over a motion: what the pump draws, what comes home and how soon.

Under the lowest speed of a curve both fall straight to nothing at standstill; above its highest
nothing is made up. Oil stays up in the engine for the time that its measured amount takes to pass:
retained oil over flow, or the job's own `return_lag`. Where nobody says what the pump draws, what
is up in the engine at first stays there.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob
from sumpwright.job.model import Job
from sumpwright.studies.suction_line import draws, oil_line, pickup_flow, retained_at
from sumpwright.vehicle.motion import Motion

Floats = NDArray[np.float64]

LONGEST_STEP = 0.1
"""s; between nodes of what the engine does, where its speed changes."""
USUAL_LAG = 1.5
"""s; [common-practice] where the curves do not say how long oil stays up (0.7 to 2 L upstairs)."""
_RPM = 30.0 / np.pi


@dataclass(frozen=True, eq=False)
class Running:
    """What the engine does, at the nodes of a time of its own."""

    time: Floats
    """(t,) [s]"""
    speed: Floats | None
    """(t,) [rad/s]"""
    flow: Floats
    """(t,) [m^3/s] drawn through the pickup, oil and air"""
    held: Floats
    """(t,) [m^3] that the engine holds up at that speed, once it has run there for long"""
    rate: Floats
    """(t,) [1/s] at which what it holds comes home"""


def running(loaded: LoadedJob, motion: Motion, temperature: float) -> Running:
    """The engine over a motion, with the oil at a temperature [K]."""
    job = loaded.job
    time = _nodes(motion)
    if motion.engine_speed is None:
        none = np.zeros(len(time))
        return Running(time, None, none, none, none)
    speed = motion.engine_speed_at(time)
    _refuse_beyond(loaded, float(speed.max()))
    return Running(time, speed, *_engine(job, speed, temperature))


def at_speed(job: Job, speed: float, temperature: float) -> tuple[float, float, float]:
    """Flow, oil held up and rate of return of the engine at one speed [rad/s] for long."""
    turning = np.array([speed])
    flow, held, rate = _engine(job, turning, temperature)
    return float(flow[0]), float(held[0]), float(rate[0])


def _engine(job: Job, speed: Floats, temperature: float) -> tuple[Floats, Floats, Floats]:
    """Flow, oil held up and rate of return over speeds that the curves cover, or lower ones."""
    floor = lowest_speed(job)
    seen = np.maximum(speed, floor)
    share = np.minimum(speed / floor, 1.0) if floor > 0.0 else np.ones(len(speed))
    flow = 0.0 * speed
    if draws(job):
        flow = share * pickup_flow(job, oil_line(job), seen, temperature)
    held = share * retained_at(job, seen, temperature)
    return flow, held, _rate(job, flow, held, share)


def lowest_speed(job: Job) -> float:
    """Lowest engine speed that every curve of the job covers [rad/s]; 0 without curves."""
    curves = (job.engine.flow, job.engine.retained, job.engine.retained_cold)
    return max((curve[0].rpm for curve in curves if curve), default=0.0)


def highest_speed(job: Job) -> float:
    """Highest engine speed that every curve of the job covers [rad/s]."""
    curves = (job.engine.flow, job.engine.retained, job.engine.retained_cold)
    return min((curve[-1].rpm for curve in curves if curve), default=np.inf)


def _nodes(motion: Motion) -> Floats:
    """The motion's times, and more where the engine's speed changes between them."""
    time = motion.time
    if motion.engine_speed is None:
        return np.asarray(time)
    changes = np.diff(motion.engine_speed) != 0.0
    gaps = np.diff(time)
    counts = np.where(changes, np.ceil(gaps / LONGEST_STEP - 1e-9), 1).astype(int)
    pieces = [t + g * np.arange(c) / c for t, g, c in zip(time, gaps, counts, strict=False)]
    return np.concatenate([*pieces, time[-1:]])


def _rate(job: Job, flow: Floats, held: Floats, share: Floats) -> Floats:
    """1/s at which oil comes home; of a standing engine, as at its lowest speed."""
    if not draws(job):
        return np.zeros(len(flow))
    if job.engine.return_lag is not None:
        return np.full(len(flow), 1.0 / float(job.engine.return_lag))
    usual = np.full(len(flow), 1.0 / USUAL_LAG)
    turning = (share > 0.0) & (held > 0.0) & (flow > 0.0)
    return np.asarray(np.divide(flow, held, out=usual, where=turning))


def _refuse_beyond(loaded: LoadedJob, speed: float) -> None:
    most = highest_speed(loaded.job)
    if speed <= most * (1.0 + 1e-9):
        return
    problem = Problem(
        code="JOB-160",
        where=loaded.where("engine"),
        found=f"the engine turns {speed * _RPM:.0f} rpm in this manoeuvre",
        needed=f"curves of `retained` and `flow` up to there; they end at {most * _RPM:.0f} rpm",
        do="add a measured point, or drive it in a higher gear",
    )
    raise InputError([problem])
