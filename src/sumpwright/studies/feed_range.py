# SPDX-License-Identifier: Apache-2.0
"""From which temperature and which engine speed to which a feed is looked at."""

import math

import numpy as np
from numpy.typing import NDArray

from sumpwright.job.model import Job
from sumpwright.oil.viscosity import MM2_S, ViscosityLine
from sumpwright.studies.oil_state import hold_speed

Floats = NDArray[np.float64]

COLDEST = 253.15
"""K, -20 degC; a cold start in most places. `oil.cold` may be colder still."""
TOO_THICK = 20000.0 * MM2_S
"""m^2/s; thicker oil does not run to a pickup: the look ends there."""
IDLE = 800.0 * math.pi / 30.0
"""rad/s where the job gives none; common practice, no source."""
STEP = 250.0 * math.pi / 30.0
"""rad/s between the speeds looked at; what lies between is solved for."""
NEAR = 3.0
"""K; a round temperature this near to one that the job names is left out."""
_ROUND = {
    "metric": [273.15 + c for c in (-20, -10, 0, 10, 20, 30, 40, 60, 80, 100, 120, 140)],
    "us": [255.372222 + f / 1.8 for f in (0, 20, 40, 60, 80, 100, 140, 180, 220, 260)],
}


def thick_at(line: ViscosityLine) -> float:
    """Temperature [K] at which the oil is as thick as `TOO_THICK`."""
    z = TOO_THICK / MM2_S + 0.7  # so thick that the standard's extra term is nothing
    return float(10.0 ** ((line.a - math.log10(math.log10(z))) / line.b))


def temperatures(job: Job, line: ViscosityLine) -> Floats:
    """(n,) [K] from the coldest that can be said to hot, with `oil.cold` where it is among them."""
    cold, hot = job.oil.cold, job.oil.hot
    lowest = max(min(COLDEST, cold), thick_at(line))
    named = sorted({max(lowest, t) for t in (min(lowest, hot), cold, hot)})
    between = [
        t
        for t in _ROUND[job.units]
        if named[0] < t < named[-1] and all(abs(t - n) >= NEAR for n in named)
    ]
    return np.array(sorted({*named, *between}))


def lowest_speed(job: Job) -> float:
    """Idle, or where the job's curves over engine speed begin [rad/s]."""
    idle = IDLE if job.driveline is None else job.driveline.idle
    return max([idle, *_ends(job, 0)])


def speeds(job: Job) -> Floats:
    """(n,) [rad/s] from idle to the speed at which the pan must hold, rising."""
    high = hold_speed(job)
    assert high is not None, "feed_lacks says where no speed is given"
    low = lowest_speed(job)
    if low >= high:
        low = max([0.5 * high, *_ends(job, 0)])
    round_ones = STEP * np.arange(math.ceil(low / STEP), math.floor(high / STEP) + 1)
    # a round speed next to an end would only be a second one of it
    inside = round_ones[(round_ones > low + 0.2 * STEP) & (round_ones < high - 0.2 * STEP)]
    return np.unique(np.array([min(low, high), *inside, high]))


def cold_speed(job: Job) -> float | None:
    """Engine speed at which the cold inlet is judged [rad/s]; None where a curve lacks it."""
    asked = job.engine.cold_rpm
    low, high = max([0.0, *_ends(job, 0)]), min([math.inf, *_ends(job, -1)])
    slack = 1e-9 * asked  # the rounding of a unit conversion
    return asked if low - slack <= asked <= high + slack else None


def _ends(job: Job, end: int) -> list[float]:
    """First (0) or last (-1) speed of each curve that a feed reads."""
    engine = job.engine
    curves = (engine.retained, engine.retained_cold, None if _pumped(job) else engine.flow)
    return [curve[end].rpm for curve in curves if curve]


def _pumped(job: Job) -> bool:
    return job.engine.pump is not None and job.engine.pump.displacement is not None
