# SPDX-License-Identifier: Apache-2.0
"""How much g does the pan hold in motion, each way, for as long as the job asks?"""

import math
from collections.abc import Callable

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.geometry.kernel import run_each_in_threads
from sumpwright.job.load import LoadedJob
from sumpwright.job.model import Job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.entering import Entry, entry_at
from sumpwright.studies.motion_hold_result import MotionHold
from sumpwright.studies.network import Ready
from sumpwright.studies.oil_state import hold_speed

WAYS = {"accelerate": 0.0, "left": 90.0, "brake": 180.0, "right": 270.0}
STEP, MOST = 0.1, 1.6
"""g; sizes that are looked at, up to the largest."""
FINE = 0.01
"""g; to which a limit between two of them is found."""
USUAL_TIME, USUAL_TIME_STRAIGHT = 8.0, 4.0
"""s to hold, in turns and straight on, where the job asks for none."""
STRAIGHT = ("accelerate", "brake")


def motion_hold(loaded: LoadedJob, bodies: Bodies, made: Ready) -> MotionHold | None:
    """Hold limits in motion, hot, at the hold speed; None without pickup or engine speed.

    `made` is the pan with hot oil in it.
    """
    speed, hot = hold_speed(loaded.job), loaded.job.oil.hot
    if made.parted.pickup is None or speed is None:
        return None
    entry = entry_at(loaded, bodies, made, speed, hot)
    held: dict[str, float] = {}
    run_each_in_threads(lambda k: _find(held, loaded.job, entry, list(WAYS)[k]), len(WAYS))
    return MotionHold(
        rpm=speed * 30.0 / math.pi,
        temperature_k=hot,
        hold_time_s=hold_time(loaded.job),
        hold_time_straight_s=hold_time_straight(loaded.job),
        left_g=held["left"],
        right_g=held["right"],
        brake_g=held["brake"],
        accelerate_g=held["accelerate"],
        looked_to_g=MOST,
        compartments=len(made.parted.parts.names),
        level_table_m=made.level_error,
    )


def hold_time(job: Job) -> float:
    """How long a target in a turn must hold [s]."""
    asked = job.requirements.hold_time
    return asked if isinstance(asked, float) else USUAL_TIME


def hold_time_straight(job: Job) -> float:
    """How long a target in braking or accelerating must hold [s]."""
    asked = job.requirements.hold_time_straight
    return asked if isinstance(asked, float) else USUAL_TIME_STRAIGHT


def _find(held: dict[str, float], job: Job, entry: Entry, way: str) -> None:
    wanted = hold_time_straight(job) if way in STRAIGHT else hold_time(job)
    held[way] = _limit(entry, way, wanted)


def _limit(entry: Entry, way: str, wanted: float) -> float:
    """Largest g that is held for long enough, with all smaller ones looked at; 0 for none."""

    def holds(size: float) -> bool:
        direction = math.radians(WAYS[way])
        return entry.time_to_air(direction, size * STANDARD_GRAVITY, wanted) >= wanted

    low = 0.0
    if not holds(FINE):
        return low
    for n in range(1, round(MOST / STEP) + 1):
        if not holds(n * STEP):
            return _between(low, n * STEP, holds)
        low = n * STEP
    return low


def _between(low: float, high: float, holds: Callable[[float], bool]) -> float:
    while high - low > FINE:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
