# SPDX-License-Identifier: Apache-2.0
"""Compiled statics and motion of a trap door; the theory is in door.py and
door_motion.py.

A door is one row of numbers: hinge (0:3), axis (3:6), reach (6:9), swing (9:12), width 12,
length 13, thickness 14, mass 15, spring preload 16 and rate 17, stop 18, damping 19, drag 20.
"""

import math

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean
from sumpwright.geometry.level_kernel import triangle_below

Floats = NDArray[np.float64]


@compiled_lean
def door_moments(
    door: Floats, angle: float, head_1: float, head_2: float, gravity: Floats, density: float
) -> tuple[float, float]:
    """Opening moment on a door at rest, and the share of it that is wet. Nothing is checked.

    Parameters
    ----------
    door : (21,) [SI]
        Its row.
    angle : float [rad]
        Of opening.
    head_1 : float [m]
        Height of the surface behind the door, along `up`; minus infinity where it is dry.
    head_2 : float [m]
        In front, where it swings to.
    gravity : (3,) [m/s^2]
        Effective, pointing down.
    density : float [kg/m^3]
        Of the oil.

    Returns
    -------
    moment, wet : float [N m], float [-]

    Source
    ------
    As `sumpwright.oil.door.door_torque`. Checked by tests/oil/test_door.py.
    """
    g = math.sqrt(gravity[0] ** 2 + gravity[1] ** 2 + gravity[2] ** 2)
    moment = -door[16] - door[17] * max(angle, 0.0)
    if g == 0.0:
        return moment, 0.0
    c, s = math.cos(angle), math.sin(angle)
    hinge, aside, out, through = 0.0, 0.0, 0.0, 0.0
    for k in range(3):
        up = -gravity[k] / g
        hinge += up * door[k]
        aside += up * door[3 + k] * door[12] / 2.0
        out += up * (c * door[6 + k] + s * door[9 + k]) * door[13]
        through += up * (c * door[9 + k] - s * door[6 + k])
    half = through * door[14] / 2.0
    behind, wet_behind = _face(head_1 - hinge + half, aside, out, door[12] * door[13])
    before, wet_before = _face(head_2 - hinge - half, aside, out, door[12] * door[13])
    head = density * g * door[13] * (behind - before)
    weight = -door[15] * g * through * door[13] / 2.0
    return moment + head + weight, (wet_behind + wet_before) / 2.0


@compiled_lean
def _face(depth: float, aside: float, out: float, area: float) -> tuple[float, float]:
    """Integral of depth times share of the length, over a face, and the wet share of it.

    `depth` is the hinge's middle under the surface, `aside` and `out` the rise to its end and
    from it to the free edge.
    """
    if not math.isfinite(depth):
        return 0.0, 0.0
    h0, h1 = depth + aside, depth - aside
    first = _lever(h0, h1, h0 - out, 0.0, 0.0, 1.0)
    second = _lever(h1, h1 - out, h0 - out, 0.0, 1.0, 1.0)
    wet_1 = triangle_below(-h0, -h1, out - h0, 0.0)[1]
    wet_2 = triangle_below(-h1, out - h1, out - h0, 0.0)[1]
    return (first + second) * area / 2.0, (wet_1 + wet_2) / 2.0


@compiled_lean
def _lever(h0: float, h1: float, h2: float, s0: float, s1: float, s2: float) -> float:
    """Mean of s max(h, 0) over a triangle, s and h linear between its corners."""
    whole = ((h0 + h1 + h2) * (s0 + s1 + s2) + h0 * s0 + h1 * s1 + h2 * s2) / 12.0
    wet = (1 if h0 > 0.0 else 0) + (1 if h1 > 0.0 else 0) + (1 if h2 > 0.0 else 0)
    if wet == 3:
        return whole
    if wet == 0:
        return 0.0
    # one corner stands alone on its side of the surface; it goes first
    alone = wet == 1
    if (h1 > 0.0) == alone and (h0 > 0.0) != alone and (h2 > 0.0) != alone:
        h0, h1, s0, s1 = h1, h0, s1, s0
    elif (h2 > 0.0) == alone and (h0 > 0.0) != alone and (h1 > 0.0) != alone:
        h0, h2, s0, s2 = h2, h0, s2, s0
    f, g = h0 / (h0 - h1), h0 / (h0 - h2)
    corner = f * g * h0 * (4.0 * s0 + f * (s1 - s0) + g * (s2 - s0)) / 12.0
    return corner if alone else whole - corner


@compiled_lean
def door_inertia_of(door: Floats, density: float, wet: float) -> float:
    """Moment of inertia of a door about its hinge, with the oil that it takes along.

    Parameters
    ----------
    door : (21,) [SI]
        Its row.
    density : float [kg/m^3]
        Of the oil.
    wet : float [-]
        Share of the door in oil.

    Returns
    -------
    inertia : float [kg m^2]

    Source
    ------
    As `sumpwright.oil.door_motion.door_inertia`. Checked by tests/oil/test_door_motion.py.
    """
    b, r, t = door[12], door[13], door[14]
    square = b * b + r * r
    oil = math.pi / 4.0 * (b * r) ** 2 / math.sqrt(square) * (1.0 - 0.425 * b * r / square)
    own = door[15] * (r * r / 3.0 + t * t / 12.0)
    return float(own + wet * density * oil * 9.0 / 32.0 * r * r)


@compiled_lean
def door_brake_of(
    door: Floats, speed: float, density: float, viscosity: float, wet: float
) -> float:
    """Moment that resists a door's turning: bearing, thick oil, and oil thrown aside.

    Parameters
    ----------
    door : (21,) [SI]
        Its row.
    speed : float [rad/s]
        Of turning, positive opens.
    density : float [kg/m^3]
        Of the oil.
    viscosity : float [m^2/s]
        nu, kinematic.
    wet : float [-]
        Share of the door in oil.

    Returns
    -------
    moment : float [N m]
        Of the speed's sign.

    Source
    ------
    As `sumpwright.oil.door_motion.door_brake`. Checked by tests/oil/test_door_motion.py.
    """
    b, r = door[12], door[13]
    radius = math.sqrt(b * r / math.pi)
    thick = 16.0 * density * viscosity * b * r**3 / (3.0 * math.pi * radius)
    thrown = door[20] * density * b * r**4 / 8.0 * abs(speed)
    return float((door[19] + wet * (thick + thrown)) * speed)


@compiled_lean
def door_acceleration_of(
    door: Floats,
    angle: float,
    speed: float,
    head_1: float,
    head_2: float,
    gravity: Floats,
    density: float,
    viscosity: float,
) -> float:
    """Angular acceleration of a door; zero where seat or stop holds it. Nothing is checked.

    Parameters
    ----------
    door : (21,) [SI]
        Its row.
    angle : float [rad]
        Of opening.
    speed : float [rad/s]
        Of turning, positive opens.
    head_1 : float [m]
        Height of the surface behind the door.
    head_2 : float [m]
        In front.
    gravity : (3,) [m/s^2]
        Effective, pointing down.
    density : float [kg/m^3]
        Of the oil.
    viscosity : float [m^2/s]
        nu, kinematic.

    Returns
    -------
    acceleration : float [rad/s^2]

    Source
    ------
    As `sumpwright.oil.door_motion.door_acceleration`. Checked by tests/oil/test_door_motion.py.
    """
    moment, wet = door_moments(door, angle, head_1, head_2, gravity, density)
    moment -= door_brake_of(door, speed, density, viscosity, wet)
    if (angle <= 0.0 and speed <= 0.0 and moment < 0.0) or (
        angle >= door[18] and speed >= 0.0 and moment > 0.0
    ):
        return 0.0
    return moment / door_inertia_of(door, density, wet)


@compiled_lean
def on_stops_of(door: Floats, angle: float, speed: float) -> tuple[float, float]:
    """Angle and speed once seat and stop have caught the door, without a bounce.

    Parameters
    ----------
    door : (21,) [SI]
        Its row.
    angle : float [rad]
        As a step left it.
    speed : float [rad/s]
        As a step left it.

    Returns
    -------
    angle, speed : float [rad], float [rad/s]

    Source
    ------
    [common-practice] Steel in oil hardly bounces. Checked by tests/oil/test_door_motion.py.
    """
    if angle <= 0.0:
        return 0.0, max(speed, 0.0)
    if angle >= door[18]:
        return door[18], min(speed, 0.0)
    return angle, speed


@compiled_lean
def open_area_of(door: Floats, angle: float) -> tuple[float, float]:
    """Area that a door leaves open, as one opening's, and its growth with the angle.

    Parameters
    ----------
    door : (21,) [SI]
        Its row.
    angle : float [rad]
        Of opening.

    Returns
    -------
    area, by_angle : float [m^2], float [m^2/rad]

    Source
    ------
    As `sumpwright.oil.door.open_area`. Checked by tests/oil/test_door.py.
    """
    if angle < 0.0:
        return 0.0, 0.0
    b, r = door[12], door[13]
    whole, side = b * r, min(angle, math.pi / 2.0)
    curtain = 2.0 * r * b * math.sin(angle / 2.0) + r * r * math.sin(side)
    growth = r * b * math.cos(angle / 2.0) + r * r * math.cos(side)
    share = 1.0 / math.sqrt(1.0 + (curtain / whole) ** 2)
    return curtain * share, growth * share**3
