# SPDX-License-Identifier: Apache-2.0
"""Where is the oil over time, does the pickup stay covered, what does the pump get?

One manoeuvre, from a settled start, through the network of compartments.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.model import Job
from sumpwright.oil.network import Course, run
from sumpwright.oil.network_array import Forcing
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.studies.asked import Asked, Driven, driven
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.chance import chances
from sumpwright.studies.compartment import Parted, parted
from sumpwright.studies.drive_answer import drive_result
from sumpwright.studies.drive_start import Start, started
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.motion_result import Doors, DriveResult
from sumpwright.studies.network import Ready, ready
from sumpwright.studies.running import Running, running
from sumpwright.vehicle.motion import Motion

Floats = NDArray[np.float64]
Progress = Callable[[str, float], None]

SAMPLE = 0.05
"""s; between the times that are kept."""
MOST_SAMPLES = 6000
LEVEL_GRAVITY = np.array([0.0, 0.0, STANDARD_GRAVITY])


@dataclass(frozen=True, eq=False)
class Run:
    """A drive with all it was made from."""

    driven: Driven
    doors: Doors
    ready: Ready
    running: Running
    forcing: Forcing
    start: Start
    course: Course

    def force_at(self, time: Floats) -> Floats:
        """(k, 3) specific force [m/s^2] at times (k,), engine frame."""
        nodes = self.forcing.force.T
        return np.stack([np.interp(time, self.forcing.time, axis) for axis in nodes], axis=-1)

    def is_hot(self, job: Job) -> bool:
        """Whether the oil is nearer to the job's hot than to its cold."""
        return self.driven.temperature > 0.5 * (job.oil.cold + job.oil.hot)


@dataclass(frozen=True, eq=False)
class Drove:
    """A drive's result with the bodies it was made from, for pictures."""

    result: DriveResult
    loaded: LoadedJob
    bodies: Bodies
    parted: Parted


def drive(folder: Path, asked: Asked, progress: Progress | None = None) -> DriveResult:
    """The oil over a manoeuvre of the job in `folder`; writes nothing but the cache."""
    return drive_with_scene(folder, asked, progress).result


def drive_with_scene(folder: Path, asked: Asked, progress: Progress | None = None) -> Drove:
    """As `drive`, keeping the bodies."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    todo = driven(loaded, asked)
    say("reading geometry", 0.0)
    bodies = read_bodies(loaded, progress)
    say("parting the pan by its baffles", 0.2)
    found = parted(loaded.job, bodies, baffles=asked.doors != "no baffles", folder=loaded.folder)
    say("tabulating levels", 0.3)
    made = ready(loaded, bodies, found, todo.temperature, asked.doors)
    done = driven_run(loaded, bodies, made, todo, asked.doors, asked.start)
    say("driving", 0.7)
    result = drive_result(loaded, bodies, done)
    if asked.chance:
        found_chances = chances(loaded, bodies, done, asked.chance, asked.seed, progress)
        result = replace(result, chances=found_chances)
    say("driving", 1.0)
    return Drove(result, loaded, bodies, found)


def driven_run(
    loaded: LoadedJob,
    bodies: Bodies,
    made: Ready,
    todo: Driven,
    doors: Doors = "working",
    start: tuple[tuple[str, float], ...] | None = None,
) -> Run:
    """A manoeuvre through the network of a pan."""
    engine = running(loaded, todo.motion, todo.temperature)
    forcing = forcing_on(bodies, todo.motion, engine)
    begun = started(loaded, bodies, made, forcing, float(engine.held[0]), todo.temperature, start)
    course, _ = run(made.net, forcing, begun.state, sample_times(todo.motion))
    return Run(todo, doors, made, engine, forcing, begun, course)


def forcing_on(bodies: Bodies, motion: Motion, engine: Running) -> Forcing:
    """What drives the network: the car's acceleration in the engine's frame, and the engine."""
    felt = motion.at(engine.time) + LEVEL_GRAVITY
    force = bodies.pose.direction_to_engine(felt)
    return forcing_of(engine.time, force, engine.flow, engine.rate)


def sample_times(motion: Motion) -> Floats:
    """Even times over a motion, its end among them."""
    count = min(max(int(np.ceil(motion.duration / SAMPLE)), 20), MOST_SAMPLES)
    return np.linspace(0.0, motion.duration, count + 1)
