# SPDX-License-Identifier: Apache-2.0
"""Engine speed from road speed and gears; without wheel slip, and with a clutch only at idle."""

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.vehicle.guard import positive
from sumpwright.vehicle.motion import Floats, Motion

_RPM = 30.0 / math.pi  # rad/s to rpm, which is how a person knows engine speeds


@dataclass(frozen=True)
class Driveline:
    """Gears, final drive and tyre, and the engine speeds at which the driver changes gear."""

    ratios: tuple[float, ...]
    """[-] of the gears, falling: first gear first"""
    final_drive: float
    """[-]"""
    tyre_radius: float
    """[m] rolling, under load: distance per turn over 2 pi"""
    idle: float
    """[rad/s]; the clutch slips below"""
    shift_up: float
    """[rad/s]"""
    shift_down: float
    """[rad/s]"""
    shift_time: float = 0.3
    """[s] from one gear's engine speed to the next one's"""
    limit: float = math.inf
    """[rad/s] above which the engine must not be turned"""

    def __post_init__(self) -> None:
        for name in ("final_drive", "tyre_radius", "idle", "shift_time"):
            positive(getattr(self, name), name.replace("_", " "), "(SI)")
        for ratio in self.ratios:
            positive(ratio, "gear ratio", "(no unit)")
        steps = [b / a for a, b in pairwise(self.ratios)]
        if not self.ratios or any(step >= 1.0 for step in steps):
            raise RangeError("a driveline needs at least one gear, with ratios that fall")
        if not self.idle <= self.shift_down < self.shift_up <= self.limit:
            raise RangeError("idle, shift-down, shift-up and limit must rise in that order")
        if any(self.shift_up * step <= self.shift_down for step in steps):
            raise RangeError(
                f"after a shift up from {self.shift_up * _RPM:.0f} rpm the engine would turn at "
                f"{self.shift_up * min(steps) * _RPM:.0f} rpm and shift down again: "
                "lower the shift down"
            )


def engine_speed(
    speed: ArrayLike, *, ratio: ArrayLike, final_drive: ArrayLike, tyre_radius: ArrayLike
) -> NDArray[np.float64]:
    r"""Engine speed at a road speed, without slip.

    .. math:: \omega = v \, i_g i_f / r

    Parameters
    ----------
    speed : (...) [m/s]
        v.
    ratio : (...) [-]
        i_g, of the gear.
    final_drive : (...) [-]
        i_f.
    tyre_radius : (...) [m]
        r, rolling, under load.

    Returns
    -------
    engine_speed : (...) [rad/s]

    Source
    ------
    [closed-form]. Checked by tests/vehicle/test_engine_speed.py.
    """
    geared = np.asarray(ratio, float) * np.asarray(final_drive, float)
    return np.asarray(np.asarray(speed, float) * geared / np.asarray(tyre_radius, float))


def gears(speed: ArrayLike, driveline: Driveline) -> NDArray[np.int64]:
    """Gear engaged over a run of speeds, one shift at a time, with hysteresis.

    Parameters
    ----------
    speed : (n,) [m/s]
        In order of time; the first is met in the lowest gear that does not call for a shift up.
    driveline : Driveline [SI]
        Where the driver shifts.

    Returns
    -------
    gear : (n,) [-]
        From 0, first gear.
    """
    per_gear = engine_speed(
        np.asarray(speed, float)[:, None],
        ratio=driveline.ratios,
        final_drive=driveline.final_drive,
        tyre_radius=driveline.tyre_radius,
    )
    top = len(driveline.ratios) - 1
    gear, engaged = 0, np.zeros(len(per_gear), dtype=np.int64)
    for i, turning in enumerate(per_gear):
        while gear < top and turning[gear] > driveline.shift_up:
            gear += 1
        while gear > 0 and turning[gear] < driveline.shift_down:
            gear -= 1
        engaged[i] = gear
    return engaged


def with_engine_speed(motion: Motion, driveline: Driveline, gear: int | None = None) -> Motion:
    """The motion with its engine speed, in one gear or shifting; never a step.

    Parameters
    ----------
    motion : Motion [m/s^2]
        With a known speed.
    driveline : Driveline [SI]
        Gears and shifts.
    gear : int or None [-]
        Held all along, first gear is 1; None shifts.

    Returns
    -------
    motion : Motion [m/s^2]
        Its engine speed goes straight from gear to gear over the shift time, and is idle at least.

    Raises
    ------
    RangeError
        If the speed is not known, there is no such gear, or the engine would be turned too fast.

    Source
    ------
    [closed-form], [common-practice] for the shifts. Checked by tests/vehicle/test_engine_speed.py.
    """
    if motion.speed is None:
        raise RangeError("engine speed from gears needs a motion whose speed is known")
    if gear is not None and not 1 <= gear <= len(driveline.ratios):
        raise RangeError(f"gear {gear} is not one of 1 to {len(driveline.ratios)}")
    fixed = np.full(len(motion.time), (gear or 1) - 1, dtype=np.int64)
    engaged = gears(motion.speed, driveline) if gear is None else fixed
    turning = engine_speed(
        motion.speed,
        ratio=np.asarray(driveline.ratios)[engaged],
        final_drive=driveline.final_drive,
        tyre_radius=driveline.tyre_radius,
    )
    turning = np.maximum(turning, driveline.idle)
    if turning.max() > driveline.limit:
        raise RangeError(
            f"the engine would be turned at {turning.max() * _RPM:.0f} rpm, and its limit is "
            f"{driveline.limit * _RPM:.0f}: take a higher gear"
        )
    return replace(motion, engine_speed=_shifted(motion.time, turning, engaged, driveline))


def _shifted(
    time: Floats, turning: Floats, engaged: NDArray[np.int64], driveline: Driveline
) -> Floats:
    """Straight lines across the shift time after every change of gear."""
    free = np.ones(len(time), dtype=bool)
    for i in np.flatnonzero(np.diff(engaged)) + 1:
        free[(time >= time[i]) & (time < time[i - 1] + driveline.shift_time)] = False
    return np.asarray(np.interp(time, time[free], turning[free]))
