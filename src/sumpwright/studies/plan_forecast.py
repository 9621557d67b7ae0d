# SPDX-License-Identifier: Apache-2.0
"""What the network of compartments says of the runs of a programme, oil hot."""

import math
from dataclasses import dataclass, field

import numpy as np

from sumpwright.errors import InputError, RangeError, SolveError
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob
from sumpwright.studies.asked import Asked, driven
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.drive import driven_run
from sumpwright.studies.drive_answer import drive_summary
from sumpwright.studies.entering import Entry, entry_at
from sumpwright.studies.network import Ready
from sumpwright.studies.plan_result import Forecast, Outcome
from sumpwright.studies.running import highest_speed
from sumpwright.vehicle.motion import Motion

A_LITTLE_MORE = 1.05
"""What a driver can be over the g asked for, and what a circle must be long enough for."""
WAYS = {"left": 90.0, "right": 270.0, "brake": 180.0}
PUSHED = 0.01
"""Share of the largest push from which on a motion has begun."""
NO_PICKUP = "needs `new.pickup`"
NO_SPEED = "needs `engine.rpm`, or `driveline`"


@dataclass(frozen=True)
class Course:
    """What a manoeuvre that is driven through as a whole comes to."""

    forecast: Forecast
    """Its times count from where the car leaves its straight and steady run-in"""
    lasts: float | None = None
    """[s] until the car is straight and steady again"""
    top_rpm: float | None = None
    slowest_rpm: float | None = None


@dataclass(frozen=True, eq=False)
class Model:
    """The pan ready to be asked; `made` is None where the job lacks the pickup."""

    loaded: LoadedJob
    bodies: Bodies
    made: Ready | None
    entries: dict[float, Entry] = field(default_factory=dict)

    def steady(self, way: str, accel_g: float, rpm: float | None, horizon: float) -> Forecast:
        """From rest into a steady acceleration, and into a little more of it."""
        why = NO_PICKUP if self.made is None else NO_SPEED if rpm is None else ""
        if self.made is None or rpm is None:
            return Forecast("not computed", None, 0.0, why=why)
        more, entry = A_LITTLE_MORE * accel_g, self._entry(rpm)
        direction = math.radians(WAYS[way])
        first, later = (
            _finite(entry.time_to_air(direction, g * STANDARD_GRAVITY, horizon))
            for g in (accel_g, more)
        )
        outcome: Outcome = "covered" if first is None else "air"
        return Forecast(outcome, first, horizon, more, later, _beyond(self.loaded, rpm))

    def _entry(self, rpm: float) -> Entry:
        assert self.made is not None
        job = self.loaded.job
        speed = min(rpm * math.pi / 30.0, highest_speed(job))
        if speed not in self.entries:
            hot = job.oil.hot
            self.entries[speed] = entry_at(self.loaded, self.bodies, self.made, speed, hot)
        return self.entries[speed]

    def driven(self, kind: str, options: dict[str, str]) -> Course:
        """A whole manoeuvre, and the engine speeds in it."""
        if self.made is None:
            return Course(Forecast("not computed", None, 0.0, why=NO_PICKUP))
        try:
            todo = driven(self.loaded, Asked(kind, options))
            done = driven_run(self.loaded, self.bodies, self.made, todo)
        except InputError as err:
            found = "; ".join(p.found for p in err.problems)
            return Course(Forecast("not computed", None, 0.0, why=found))
        except (RangeError, SolveError) as err:
            return Course(Forecast("not computed", None, 0.0, why=str(err)))
        said = drive_summary(self.loaded, self.bodies, done)
        start, end = pushed(todo.motion)
        speed = todo.motion.engine_speed
        rpm = (None, None) if speed is None else (float(speed.max()), float(speed.min()))
        top, slowest = (None if w is None else w * 30.0 / math.pi for w in rpm)
        air = None if said.first_air_s is None else max(said.first_air_s - start, 0.0)
        outcome: Outcome = "covered" if air is None else "air"
        followed = said.duration_s - start
        return Course(Forecast(outcome, air, followed), end - start, top, slowest)


def pushed(motion: Motion) -> tuple[float, float]:
    """From when to when [s] a motion pushes the oil at all: without its run-in and its end."""
    size = np.hypot(motion.accel[:, 0], motion.accel[:, 1])
    hard = np.flatnonzero(size > PUSHED * size.max(initial=0.0))
    if not len(hard):
        return float(motion.time[0]), float(motion.time[-1])
    first, last = max(hard[0] - 1, 0), min(hard[-1] + 1, len(size) - 1)
    return float(motion.time[first]), float(motion.time[last])


def _finite(time: float) -> float | None:
    return time if math.isfinite(time) else None


def _beyond(loaded: LoadedJob, rpm: float) -> str:
    most = highest_speed(loaded.job) * 30.0 / math.pi
    return f"at {most:.0f} rpm, where the engine's curves end" if rpm > most * 1.001 else ""
