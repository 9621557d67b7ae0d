# SPDX-License-Identifier: Apache-2.0
"""How much g does the pan hold in motion, each way, for as long as the job asks?"""

import math
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.geometry.kernel import thread_count
from sumpwright.job.load import LoadedJob
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.compartment import Parted
from sumpwright.studies.entering import Entry, entry_at
from sumpwright.studies.motion_hold_result import MotionHold
from sumpwright.studies.network import ready
from sumpwright.studies.oil_state import hold_speed

WAYS = {"accelerate": 0.0, "left": 90.0, "brake": 180.0, "right": 270.0}
STEP, MOST = 0.1, 1.6
"""g; sizes that are looked at, up to the largest."""
FINE = 0.01
"""g; to which a limit between two of them is found."""
USUAL_TIME = 8.0
"""s to hold where the job asks for none."""


def motion_hold(loaded: LoadedJob, bodies: Bodies, found: Parted) -> MotionHold | None:
    """Hold limits in motion, hot, at the hold speed; None without pickup or engine speed."""
    speed, hot = hold_speed(loaded.job), loaded.job.oil.hot
    if found.pickup is None or speed is None:
        return None
    made = ready(loaded, bodies, found, hot)
    entry = entry_at(loaded, bodies, made, speed, hot)
    wanted = hold_time(loaded)
    with ThreadPoolExecutor(thread_count()) as pool:
        held = dict(zip(WAYS, pool.map(lambda w: _limit(entry, w, wanted), WAYS), strict=True))
    return MotionHold(
        rpm=speed * 30.0 / math.pi,
        temperature_k=hot,
        hold_time_s=wanted,
        left_g=held["left"],
        right_g=held["right"],
        brake_g=held["brake"],
        accelerate_g=held["accelerate"],
        looked_to_g=MOST,
        compartments=len(found.parts.names),
        level_table_m=made.level_error,
    )


def hold_time(loaded: LoadedJob) -> float:
    """How long a target must hold [s]."""
    asked = loaded.job.requirements.hold_time
    return asked if isinstance(asked, float) else USUAL_TIME


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
