# SPDX-License-Identifier: Apache-2.0
"""A logged trace as a motion: judged, smoothed, and without a step.

A log holds the car, its springs, the engine's shaking and noise; oil follows the slow part. A
Gauss filter, which delays nothing, takes off what is faster than a cut-off. What then still rises
faster than the jerk limit is held back from both sides alike, there alone. Both are said: a
prediction from a log that was bent far is worth less.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sumpwright.errors import RangeError
from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.vehicle.guard import positive
from sumpwright.vehicle.motion import Motion, within_jerk
from sumpwright.vehicle.smooth import gauss_filtered, held_back
from sumpwright.vehicle.trace_fault import LONGEST_GAP, channels, trace_faults

CUTOFF = 5.0
"""Hz; [common-practice]: several times the rate at which oil in a pan swings, about 1 Hz."""
TRACE_JERK = 100.0
"""m/s^3; [common-practice]: three times a quick driver's; what is faster is a blow or noise."""
_RAD_S = math.pi / 30.0  # one rpm in rad/s


@dataclass(frozen=True)
class Smoothing:
    """What was done to a trace on the way."""

    cutoff: float
    """[Hz] of the filter"""
    jerk_before: float
    """[m/s^3] largest in the log as it came"""
    held_share: float
    """[-] share of the time in which the jerk limit held it back"""
    largest_hold: float
    """[m/s^2] by which the jerk limit changed it at most"""


def logged_trace(
    time: ArrayLike,
    ax_g: ArrayLike,
    ay_g: ArrayLike,
    az_g: ArrayLike | None = None,
    rpm: ArrayLike | None = None,
    *,
    cutoff: float = CUTOFF,
    jerk: float = TRACE_JERK,
    longest_gap: float = LONGEST_GAP,
) -> tuple[Motion, Smoothing]:
    """A log's acceleration and engine speed as a motion, and what smoothing did to it.

    Parameters
    ----------
    time : (n,) [s]
        Of each row, rising, from any start; the motion's time starts at 0.
    ax_g : (n,) [g]
        Forward.
    ay_g : (n,) [g]
        Left.
    az_g : (n,) or None [g]
        Up, without gravity: 0 at rest.
    rpm : (n,) or None [1/min]
        Engine speed.
    cutoff : float [Hz]
        Of the filter, at which 0.707 of a swing is left.
    jerk : float [m/s^3]
        Limit of the motion; holds it back only where it is reached.
    longest_gap : float [s]
        Between two rows.

    Returns
    -------
    motion : Motion [m/s^2]
        Speed and path are not known.
    smoothing : Smoothing [-]

    Raises
    ------
    RangeError
        Every fault of `trace_faults`, all at once.

    Source
    ------
    [closed-form] for the filter. Checked by tests/vehicle/test_trace.py.
    """
    if faults := trace_faults(time, ax_g, ay_g, az_g, rpm, longest_gap=longest_gap):
        raise RangeError("the trace cannot be used:\n" + "\n".join(map(str, faults)))
    named = channels(time, ax_g, ay_g, az_g, rpm)
    clock = named["time"] - named["time"][0]
    level = np.zeros_like(clock)
    raw = STANDARD_GRAVITY * np.stack(
        [named["ax_g"], named["ay_g"], named.get("az_g", level)], axis=1
    )
    turning = named.get("rpm", level) * _RAD_S
    nodes, smooth = gauss_filtered(clock, np.column_stack([raw, turning]), cutoff)
    accel = smooth[:, :3]
    held = held_back(accel, positive(jerk, "jerk limit", "m/s^3") * float(np.diff(nodes).min()))
    motion = Motion(nodes, held, engine_speed=smooth[:, 3] if "rpm" in named else None)
    moved = np.linalg.norm(held - accel, axis=1)
    return within_jerk(motion, jerk), Smoothing(
        cutoff=cutoff,
        jerk_before=Motion(clock, raw).peak_jerk,
        held_share=float(np.mean(moved > 0.0)),
        largest_hold=float(moved.max()),
    )
