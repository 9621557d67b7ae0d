# SPDX-License-Identifier: Apache-2.0
"""How much oil there is: cold at the marks, hot, and really in the pan while the engine runs."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.frame import up_of
from sumpwright.geometry.level import volume_below
from sumpwright.job.model import Dipstick, Job, Pan
from sumpwright.oil.density import expansion
from sumpwright.oil.drawdown import CORNER, FLOOR, FREE
from sumpwright.oil.grade import typical_density
from sumpwright.oil.retained import retained_oil
from sumpwright.studies.bodies import Bodies, PanBodies
from sumpwright.studies.suction_line import draws, oil_line, pickup_flow
from sumpwright.units import shown

Floats = NDArray[np.float64]

DENSITY_15 = 870.0
"""kg/m^3 of an engine oil nothing is known of; common practice, no source (840 to 885)."""
SOLID_ANGLE = {"floor": FLOOR, "free": FREE, "corner": CORNER}


@dataclass(frozen=True)
class OilState:
    """Oil of one pan, m^3; `full` and `low` are cold and drained back."""

    full: float
    low: float | None
    expansion: float
    retained: float
    flow: float
    """Drawn through the pickup [m^3/s]."""
    speed: float | None
    """Engine speed of `retained` and `flow` [rad/s]."""

    def hot(self, cold: float) -> float:
        """A cold volume, hot."""
        return cold * self.expansion

    def running(self, cold: float) -> float:
        """What is left in the pan, hot, of a cold fill while the engine runs."""
        return max(0.0, self.hot(cold) - self.retained)


def installed_up(bodies: Bodies) -> Floats:
    """(3,) up on level ground, in the engine frame."""
    return np.asarray(up_of(bodies.pose.direction_to_engine([0.0, 0.0, -1.0])))


def oil_state(job: Job, bodies: Bodies, pan: Pan, body: PanBodies) -> OilState | None:
    """Oil of `pan`, or None where its fill is not known."""
    full = _marked(job, bodies, body, pan.dipstick, "full")
    full = full if full is not None else (pan.fill or job.oil.fill)
    if full is None:
        return None
    low = _low(job, bodies, pan, body, full)
    speed = hold_speed(job)
    return OilState(
        full=full,
        low=low,
        expansion=float(expansion(density_15(job), t_from=job.oil.cold, t_to=job.oil.hot)),
        retained=retained_oil_at(job, speed),
        flow=_flow(job, speed),
        speed=speed,
    )


def density_15(job: Job) -> float:
    """Density at 15 degC [kg/m^3]: as given, else typical of the grade, else `DENSITY_15`."""
    if job.oil.density_15 is not None:
        return job.oil.density_15
    return typical_density(job.oil.grade).rho_15 if job.oil.grade is not None else DENSITY_15


def hold_speed(job: Job) -> float | None:
    """Engine speed at which the pan must hold [rad/s]: as given, else the curves' highest."""
    if job.engine.rpm is not None:
        return job.engine.rpm
    ends = [c[-1].rpm for c in (job.engine.retained, job.engine.flow) if c]
    return min(ends) if ends else None


def dipstick_line(dipstick: Dipstick) -> tuple[Floats, Floats]:
    """Start (3,) and unit direction (3,) of the stick, engine frame."""
    direction = np.array(dipstick.direction)
    return np.array(dipstick.start), direction / np.linalg.norm(direction)


def _low(job: Job, bodies: Bodies, pan: Pan, body: PanBodies, full: float) -> float | None:
    """Oil at the low mark; `oil.low` says nothing of a stock pan with a fill of its own."""
    marked = _marked(job, bodies, body, pan.dipstick, "low")
    own = body.key == "new" or full == job.oil.fill
    low = marked if marked is not None else (job.oil.low if own else None)
    if low is None or low < full:
        return low
    keys = ("oil", "low") if marked is None else (body.key, "dipstick", "low")
    found, most = (shown(v, "volume", job.units) for v in (low, full))
    needed = f"less than the full mark's {most}"
    do = "check the marks and the fill"
    raise InputError([Problem("JOB-131", bodies.where(*keys), found, needed, do)])


def _marked(
    job: Job, bodies: Bodies, body: PanBodies, stick: Dipstick | None, mark: str
) -> float | None:
    """Volume below a mark on the stick, level ground."""
    along = getattr(stick, mark) if stick is not None else None
    if stick is None or along is None:
        return None
    start, direction = dipstick_line(stick)
    up = installed_up(bodies)
    height = float((start + along * direction) @ up)
    volume = float(volume_below(body.level, up, height)[0])
    beyond = "below the pan's floor" if volume <= 0.0 else ""
    if height > (body.rail @ up).max():
        beyond = "above the pan rail"
    if beyond:
        spot = shown(along, "length", job.units)
        found = f"the {mark} mark, {spot} along the stick, is {beyond}"
        where = bodies.where(body.key, "dipstick", mark)
        needed = "a mark that oil in the pan can reach"
        do = "check the dipstick's start, direction and marks"
        raise InputError([Problem("JOB-151", where, found, needed, do)])
    return volume


def retained_oil_at(job: Job, speed: float | None) -> float:
    """Oil up in the engine, hot, at a speed [rad/s]; 0 where either is not known [m^3]."""
    points = job.engine.retained
    if points is None or speed is None:
        return 0.0
    at, oil = [p.rpm for p in points], [p.oil for p in points]
    return float(retained_oil(speed, curve_speed=at, curve_volume=oil))


def _flow(job: Job, speed: float | None) -> float:
    if speed is None or not draws(job):
        return 0.0
    return float(pickup_flow(job, oil_line(job), speed, job.oil.hot))
