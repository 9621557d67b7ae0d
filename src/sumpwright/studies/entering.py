# SPDX-License-Identifier: Apache-2.0
"""From rest into a steady acceleration: how long until the pickup takes air?

What hold maps and the targets in motion are made of.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob
from sumpwright.oil.network import run
from sumpwright.oil.network_array import Forcing
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.drive_start import Start, fill_at, settled
from sumpwright.studies.network import Ready
from sumpwright.studies.running import at_speed
from sumpwright.vehicle.manoeuvre import JERK

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Entered:
    """How one entry went."""

    first_air: float
    """[s] from where the acceleration begins to rise; infinite where there is none"""
    mass: float
    """Oil lost or won, of the fill"""
    worst_level: float
    """[m] largest error of an accepted step, as the integrator estimates it"""
    steps: int
    rejected: int


@dataclass(frozen=True, eq=False)
class Entry:
    """A pan at rest at one engine speed, ready to be driven into anything."""

    bodies: Bodies
    ready: Ready
    start: Start
    flow: float
    rate: float

    def time_to_air(self, direction: float, size: float, horizon: float) -> float:
        """Seconds from rest until the pickup takes air; infinite where it does not by `horizon`."""
        return self.into(direction, size, horizon).first_air

    def into(self, direction: float, size: float, horizon: float) -> Entered:
        """The acceleration of `size` [m/s^2] toward `direction` [rad], followed to `horizon` [s].

        It comes on as a quick driver brings it on, and stays. What cannot change any more is not
        followed to the end.
        """
        forcing = self.forcing(direction, size, horizon)
        course, end = run(
            self.ready.net, forcing, self.start.state, [], until_air=True, until_still=True
        )
        n, said = len(self.ready.bodies), course.marched
        lost = abs(float(end[: n + 1].sum() - self.start.state[: n + 1].sum()))
        mass = lost / self.start.oil if self.start.oil else 0.0
        return Entered(said.first_air, mass, said.worst_level, said.steps, said.rejected)

    def forcing(self, direction: float, size: float, horizon: float) -> Forcing:
        """What drives the oil on that way."""
        along = size * np.array([math.cos(direction), math.sin(direction), 0.0])
        level = np.array([0.0, 0.0, STANDARD_GRAVITY])
        rise = max(size / JERK, 1e-3)
        accel = np.stack([np.zeros(3), along, along])
        force = self.bodies.pose.direction_to_engine(accel + level)
        return forcing_of([0.0, rise, max(horizon, 2.0 * rise)], force, self.flow, self.rate)


def entry_at(
    loaded: LoadedJob, bodies: Bodies, ready: Ready, speed: float, temperature: float
) -> Entry:
    """The pan settled at an engine speed [rad/s]."""
    flow, held, rate = at_speed(loaded.job, speed, temperature)
    level = bodies.pose.direction_to_engine([[0.0, 0.0, STANDARD_GRAVITY]] * 2)
    still = forcing_of([0.0, 1.0], level, flow, rate)
    whole = fill_at(loaded, bodies, temperature)
    start = settled(ready, still, whole, min(held, whole))
    return Entry(bodies, ready, start, flow, rate)
