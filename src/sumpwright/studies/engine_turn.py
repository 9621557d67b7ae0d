# SPDX-License-Identifier: Apache-2.0
"""How fast the engine turns in a manoeuvre, from the first thing that says so.

A log's own engine speed, the manoeuvre's `rpm`, its `gear`, a driver who shifts, `engine.rpm`.
"""

import math
from dataclasses import replace

import numpy as np

from sumpwright.job.manoeuvre import Manoeuvre
from sumpwright.job.model import Job
from sumpwright.job.running import Driveline as Section
from sumpwright.studies.oil_state import hold_speed
from sumpwright.units import shown
from sumpwright.vehicle.engine_speed import Driveline, with_engine_speed
from sumpwright.vehicle.motion import Motion


def engine_turned(motion: Motion, section: Manoeuvre, job: Job) -> tuple[Motion, tuple[str, ...]]:
    """The motion with its engine speed, and where that comes from; without one if nothing says.

    RangeError where the gears cannot make it.
    """
    if motion.engine_speed is not None:
        return motion, ("Engine speed is the log's.",)
    if section.rpm is not None:
        return _held(motion, section.rpm, "")
    if job.driveline is not None and (section.gear is not None or motion.speed is not None):
        how = f"gear {section.gear}" if section.gear is not None else "gears that the driver shifts"
        turned = with_engine_speed(motion, _driveline(job.driveline), section.gear)
        return turned, (f"Engine speed follows the road speed in {how}; no wheel slips.",)
    speed = hold_speed(job)
    if speed is not None:
        return _held(motion, speed, ", the speed at which the pan must hold")
    return motion, ("Nothing says how fast the engine turns: it draws no oil.",)


def _held(motion: Motion, speed: float, what: str) -> tuple[Motion, tuple[str, ...]]:
    turned = replace(motion, engine_speed=np.full(len(motion.time), speed))
    return turned, (f"Engine speed is held at {shown(speed, 'speed_rpm')}{what}.",)


def _driveline(section: Section) -> Driveline:
    return Driveline(
        ratios=section.gears,
        final_drive=section.final_drive,
        tyre_radius=section.tyre_radius,
        idle=section.idle,
        shift_up=section.shift_up,
        shift_down=section.shift_down,
        shift_time=section.shift_time,
        limit=math.inf if section.limit is None else section.limit,
    )
