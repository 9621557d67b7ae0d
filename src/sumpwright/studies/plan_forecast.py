# SPDX-License-Identifier: Apache-2.0
"""What the network of compartments says of the runs of a programme, oil hot."""

import math
from dataclasses import dataclass, field

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

A_LITTLE_MORE = 1.05
"""What a driver can be over the g asked for, and what a circle must be long enough for."""
WAYS = {"left": 90.0, "right": 270.0, "brake": 180.0}
NO_PICKUP = "needs `new.pickup`"
NO_SPEED = "needs `engine.rpm`, or `driveline`"


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

    def driven(self, kind: str, options: dict[str, str]) -> tuple[Forecast, float | None]:
        """A whole manoeuvre, and the highest engine speed in it [rpm]."""
        if self.made is None:
            return Forecast("not computed", None, 0.0, why=NO_PICKUP), None
        try:
            todo = driven(self.loaded, Asked(kind, options))
            done = driven_run(self.loaded, self.bodies, self.made, todo)
        except InputError as err:
            found = "; ".join(p.found for p in err.problems)
            return Forecast("not computed", None, 0.0, why=found), None
        except (RangeError, SolveError) as err:
            return Forecast("not computed", None, 0.0, why=str(err)), None
        said = drive_summary(self.loaded, self.bodies, done)
        speed = todo.motion.engine_speed
        top = None if speed is None else float(speed.max()) * 30.0 / math.pi
        outcome: Outcome = "covered" if said.first_air_s is None else "air"
        return Forecast(outcome, said.first_air_s, said.duration_s), top


def _finite(time: float) -> float | None:
    return time if math.isfinite(time) else None


def _beyond(loaded: LoadedJob, rpm: float) -> str:
    most = highest_speed(loaded.job) * 30.0 / math.pi
    return f"at {most:.0f} rpm, where the engine's curves end" if rpm > most * 1.001 else ""
