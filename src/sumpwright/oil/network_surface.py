# SPDX-License-Identifier: Apache-2.0
"""Compiled surfaces of a network's pools: where each stands, how it swings, what drives it.

The theory is in network.py.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean
from sumpwright.geometry.level_table_kernel import END, level_of
from sumpwright.oil.network_array import Forcing, Net
from sumpwright.oil.swing_kernel import swing_of

Floats = NDArray[np.float64]

NEAR = 8e-4
"""m of the least surface, a few times what a step's error may be: how near to empty and to full a
pool is taken for one that may get there."""
STEEPEST = 2.0 * (1.0 - math.sqrt(0.5))
"""Square of the chord of 45 degrees: no wave stands steeper ([Taylor-1953], from memory)."""
LEAST_COSINE = 0.3
"""Between a surface's normal and up, where its height at a spot is asked: 73 degrees."""


class Bench(NamedTuple):
    """Room to work in, one a thread; what a rate was made of can be read here afterwards."""

    normal: Floats
    """(n, 3) of each surface"""
    height: Floats
    """(n,) [m] along it"""
    steep: Floats
    """(n,) [1/m^2] height by volume"""
    stiff: Floats
    """(n,) [1/m^2] the most of that within a few errors of a step, for the Jacobian: a pool that is
    all but full has a corner there, over which the slope at hand alone would step to and fro"""
    stretch: Floats
    """(n,) rise along up for a rise along the normal"""
    swing: Floats
    """(n, 3, 2) [1/s^2, 1/s] of each axis of the frame below"""
    frame: Floats
    """(3, 3) two axes in the surface at rest, and up"""
    landing: Floats
    """(n,) share of the returns"""
    force: Floats
    """(3,)"""
    down: Floats
    """(3,) effective gravity"""
    said: Floats
    """(4,) cover [m], air fraction, flow, rate of return"""


@compiled_lean
def drive_at(forcing: Forcing, at: int, time: float, bench: Bench) -> int:
    """Puts force, flow and rate at a time on the bench; answers where in the nodes it was.

    Parameters
    ----------
    forcing : Forcing [SI]
    at : int [-]
        A node at or before the time, or near.
    time : float [s]
    bench : Bench [SI]

    Returns
    -------
    at : int [-]
    """
    last = forcing.time.shape[0] - 2
    while at < last and time >= forcing.time[at + 1]:
        at += 1
    while at > 0 and time < forcing.time[at]:
        at -= 1
    x = (time - forcing.time[at]) / (forcing.time[at + 1] - forcing.time[at])
    x = min(max(x, 0.0), 1.0)
    for k in range(3):
        bench.force[k] = (1.0 - x) * forcing.force[at, k] + x * forcing.force[at + 1, k]
        bench.down[k] = -bench.force[k]
    bench.said[2] = (1.0 - x) * forcing.flow[at] + x * forcing.flow[at + 1]
    bench.said[3] = (1.0 - x) * forcing.rate[at] + x * forcing.rate[at + 1]
    return at


@compiled_lean
def lay_frame(f: Floats, g: float, bench: Bench) -> None:
    """Puts up on the bench, and the two axes in the level plane: x laid into it, and square to it.

    Parameters
    ----------
    f : (3,) [m/s^2]
        Specific force.
    g : float [m/s^2]
        Its size.
    bench : Bench [SI]
    """
    e = bench.frame
    for k in range(3):
        e[2, k] = f[k] / g
    ux, uy, uz = e[2, 0], e[2, 1], e[2, 2]
    size = math.sqrt(max(1.0 - ux * ux, 1e-12))
    e[0, 0], e[0, 1], e[0, 2] = (1.0 - ux * ux) / size, -ux * uy / size, -ux * uz / size
    e[1, 0] = uy * e[0, 2] - uz * e[0, 1]
    e[1, 1] = uz * e[0, 0] - ux * e[0, 2]
    e[1, 2] = ux * e[0, 1] - uy * e[0, 0]


@compiled_lean
def lay_surfaces(net: Net, y: Floats, bench: Bench, at: int, slopes: bool) -> None:
    """Puts normal, height and slope of every pool's surface on the bench.

    Parameters
    ----------
    net : Net [SI]
    y : (s,) [SI]
        The state.
    bench : Bench [SI]
    at : int [-]
        Where the surfaces' directions start in the state.
    slopes : bool [-]
        Whether the Jacobian is wanted.
    """
    up = bench.frame[2]
    for i in range(net.pools.capacity.shape[0]):
        a, b, c = y[at + 3 * i], y[at + 3 * i + 1], y[at + 3 * i + 2]
        size = math.sqrt(a * a + b * b + c * c)
        a, b, c = a / size, b / size, c / size
        bench.normal[i, 0], bench.normal[i, 1], bench.normal[i, 2] = a, b, c
        w = 1.0 / max(1.0 + c, 1e-9)
        bench.height[i], bench.steep[i] = level_of(net.pools.levels, i, a * w, b * w, y[i])
        bench.stiff[i] = bench.steep[i]
        if slopes:
            bench.stiff[i] = max(bench.steep[i], _end_slope(net, i, a * w, b * w, y[i]))
        bench.stretch[i] = 1.0 / max(a * up[0] + b * up[1] + c * up[2], LEAST_COSINE)


@compiled_lean
def _end_slope(net: Net, i: int, p: float, q: float, volume: float) -> float:
    """Slope of height by volume as near to the pool's end as a few errors of a step; 0 far off."""
    room, near = net.pools.capacity[i], NEAR * net.pools.least_area[i]
    end = 0.5 * END * room if volume < 0.5 * room else (1.0 - 0.5 * END) * room
    if abs(volume - end) > 10.0 * near:
        return 0.0
    there = min(max(end, volume - near), volume + near)
    return level_of(net.pools.levels, i, p, q, there)[1]


@compiled_lean
def head_at(bench: Bench, pool: int, spot: Floats) -> float:
    """Height along up of a pool's surface over a spot.

    Parameters
    ----------
    bench : Bench [SI]
    pool : int [-]
    spot : (3,) [m]

    Returns
    -------
    head : float [m]
    """
    u, v = bench.frame[2], bench.normal[pool]
    over = bench.height[pool] - (v[0] * spot[0] + v[1] * spot[1] + v[2] * spot[2])
    return float(u[0] * spot[0] + u[1] * spot[1] + u[2] * spot[2] + over * bench.stretch[pool])


@compiled_lean
def swing(net: Net, y: Floats, dy: Floats, bench: Bench, n: int, at: int, g: float) -> None:
    """The first slosh mode: each surface follows effective gravity as a damped oscillator.

    Parameters
    ----------
    net : Net [SI]
    y : (s,) [SI]
        The state.
    dy : (s,) [SI]
        Its rate of change; the surfaces' part is filled.
    bench : Bench [SI]
    n : int [-]
        Number of pools.
    at : int [-]
        Where the surfaces' directions start in the state.
    g : float [m/s^2]
        Effective gravity's size.
    """
    e, up = bench.frame, bench.frame[2]
    for i in range(n):
        a, b, c = bench.normal[i, 0], bench.normal[i, 1], bench.normal[i, 2]
        w = 1.0 / max(1.0 + c, 1e-9)
        stiff_x, stiff_y, damp_x, damp_y = swing_of(
            net.pools.swings, i, a * w, b * w, y[i], net.fluid.viscosity, g
        )
        most = max(stiff_x, stiff_y)
        s, v = at + 3 * i, at + 3 * n + 3 * i
        broken = 2.0 * math.sqrt(most) * _breaking(up, y, s, v)
        bench.swing[i, 0, 0], bench.swing[i, 0, 1] = stiff_x, damp_x + broken
        bench.swing[i, 1, 0], bench.swing[i, 1, 1] = stiff_y, damp_y + broken
        bench.swing[i, 2, 0], bench.swing[i, 2, 1] = most, 2.0 * math.sqrt(most) + broken
        for k in range(3):
            dy[s + k] = y[v + k]
        for axis in range(3):
            pull = 0.0
            for k in range(3):
                pull -= bench.swing[i, axis, 0] * e[axis, k] * (y[s + k] - up[k])
                pull -= bench.swing[i, axis, 1] * e[axis, k] * y[v + k]
            for k in range(3):
                dy[v + k] += pull * e[axis, k]


@compiled_lean
def _breaking(up: Floats, y: Floats, s: int, v: int) -> float:
    """Share of critical damping of a surface that leans on from where no wave can stand.

    How much is ours: as much as bounds it, and nothing on its way back.
    """
    lean, away = 0.0, 0.0
    for k in range(3):
        off = y[s + k] - up[k]
        lean += off * off
        away += off * y[v + k]
    return max(lean / STEEPEST - 1.0, 0.0) if away > 0.0 else 0.0
