# SPDX-License-Identifier: Apache-2.0
"""Compiled swing of the oil in a compartment, from a table; swing.py makes it, and says how."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean
from sumpwright.geometry.level_table_kernel import node_of

Floats = NDArray[np.float64]

SHORTEST = 5e-3
"""m; a shorter wave is taken to be this long: 12.5 Hz in standard gravity."""
THINNEST, NARROWEST = 1e-4, 1e-3
"""m; depth and breadth of oil that friction is reckoned for at the least."""


class SwingStack(NamedTuple):
    """Swing tables of n bodies, for compiled callers."""

    values: Floats
    """(n d d k, 3) [m, m, m^2] length of the box along both axes, area of the surface"""
    directions: int
    """d, nodes along each side of every grid"""
    volumes: int
    """k, in every table"""
    capacity: Floats
    """(n,) [m^3]"""
    side: float
    """Stereographic coordinate of the tilt that they reach"""


@compiled_lean
def swing_of(
    swings: SwingStack,
    row: int,
    p: float,
    q: float,
    volume: float,
    viscosity: float,
    gravity: float,
) -> tuple[float, float, float, float]:
    """Stiffness and damping of the oil's first swing along the two axes of its level surface.

    Never refuses: past the reach it answers for the rim, below empty and above full for the end.

    Parameters
    ----------
    swings : SwingStack [m, m^2, m^3]
        From `swing_stack`.
    row : int [-]
        Which body.
    p : float [-]
        ux / (1 + uz) of the direction up.
    q : float [-]
        uy / (1 + uz).
    volume : float [m^3]
        Of oil.
    viscosity : float [m^2/s]
        Kinematic.
    gravity : float [m/s^2]
        Local effective gravity.

    Returns
    -------
    stiff_x, stiff_y, damp_x, damp_y : float [1/s^2], [1/s^2], [1/s], [1/s]
        Square of the angular frequency, and twice that times the share of critical damping: along
        the frame's x laid into the surface, and square to that.
    """
    fill = min(max(volume / swings.capacity[row], 0.0), 1.0)
    half = min(fill, 1.0 - fill)
    w = (0.25 * half) ** (1.0 / 3.0)
    steps = swings.volumes - 1
    held = min(w * steps, 1.0)  # of the last step at either end, where oil only follows
    z = steps * (w if fill <= 0.5 else 1.0 - w)
    long_x, long_y, area = _box(swings, row, p, q, z)
    depth = max(fill * swings.capacity[row] / area, THINNEST)
    most = gravity * math.pi / SHORTEST
    stiff_x, damp_x = swing_of_box(long_x, area / long_x, depth, viscosity, gravity)
    stiff_y, damp_y = swing_of_box(long_y, area / long_y, depth, viscosity, gravity)
    free, quick = (1.0 - held) * most, (1.0 - held) * 2.0 * math.sqrt(most)
    return (
        held * stiff_x + free,
        held * stiff_y + free,
        held * damp_x + quick,
        held * damp_y + quick,
    )


@compiled_lean
def swing_of_box(
    length: float, breadth: float, depth: float, viscosity: float, gravity: float
) -> tuple[float, float]:
    """Stiffness and damping of a box's first swing, thin oil or thick.

    Parameters
    ----------
    length : float [m]
        Along the wave.
    breadth : float [m]
        Across it.
    depth : float [m]
        Of the oil, above 0.
    viscosity : float [m^2/s]
        Kinematic.
    gravity : float [m/s^2]
        Local effective gravity.

    Returns
    -------
    stiff, damp : float [1/s^2], float [1/s]

    Source
    ------
    [Abramson-1966], [Keulegan-1959], [Lamb-1932]; thick oil as swing.py derives it. Checked by
    tests/oil/test_swing.py.
    """
    length, breadth = max(length, SHORTEST), max(breadth, NARROWEST)
    k = math.pi / length
    x = math.exp(-2.0 * k * depth)
    stiff = gravity * k * (1.0 - x) / (1.0 + x)
    floor = k * (1.0 - 2.0 * depth / length) * 2.0 * x / (1.0 - x * x)
    wall = math.sqrt(2.0 * viscosity * math.sqrt(stiff)) * (1.0 / breadth + 1.0 / length + floor)
    creep = viscosity * (3.0 / (depth * depth) + 12.0 / (breadth * breadth))
    return stiff, max(wall, creep) + 4.0 * viscosity * k * k


@compiled_lean
def _box(swings: SwingStack, row: int, p: float, q: float, z: float) -> tuple[float, float, float]:
    """Both lengths and the area, straight between directions and volumes."""
    side, size, count = swings.side, swings.directions, swings.volumes
    far = p * p + q * q
    if far > side * side:
        back = side / math.sqrt(far)
        p, q = p * back, q * back
    x, y = node_of(p, side, size), node_of(q, side, size)
    i, j, k = min(int(x), size - 3), min(int(y), size - 3), min(int(z), count - 2)
    x, y, z = x - i, y - j, z - k
    at = ((row * size + i) * size + j) * count + k
    along = size * count
    a0, b0, c0 = _mixed(swings.values, at, z)
    a1, b1, c1 = _mixed(swings.values, at + count, z)
    a2, b2, c2 = _mixed(swings.values, at + along, z)
    a3, b3, c3 = _mixed(swings.values, at + along + count, z)
    s0, s1, s2, s3 = (1.0 - x) * (1.0 - y), (1.0 - x) * y, x * (1.0 - y), x * y
    return (
        s0 * a0 + s1 * a1 + s2 * a2 + s3 * a3,
        s0 * b0 + s1 * b1 + s2 * b2 + s3 * b3,
        s0 * c0 + s1 * c1 + s2 * c2 + s3 * c3,
    )


@compiled_lean
def _mixed(values: Floats, at: int, z: float) -> tuple[float, float, float]:
    """A row and the next."""
    u = 1.0 - z
    return (
        u * values[at, 0] + z * values[at + 1, 0],
        u * values[at, 1] + z * values[at + 1, 1],
        u * values[at, 2] + z * values[at + 1, 2],
    )
