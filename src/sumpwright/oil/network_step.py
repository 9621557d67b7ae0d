# SPDX-License-Identifier: Apache-2.0
"""Compiled: one step of a network in time, and how far off it may be. Theory in rosenbrock.py."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled, compiled_lean
from sumpwright.oil.network_array import Forcing, Net
from sumpwright.oil.network_rate import rates
from sumpwright.oil.network_solve import factor, solve, solve_swing
from sumpwright.oil.network_surface import Bench, drive_at
from sumpwright.oil.rosenbrock import GAMMA, NODES, A, C, E, M

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ANGLE, TURNING, SHARE = 0.02, 0.25, 0.1
"""rad, rad/s, and the share of a turning speed: allowed error of a door in one step."""
RINGING = 8.0
"""Times that an error of tilt counts: hot oil rings on, so errors of that many steps add up, and
those of long steps all damp it."""


class Stages(NamedTuple):
    """Room for a step, one a thread."""

    start: Floats
    """(s,) rate of change at the start of the step"""
    jac: Floats
    """(m, m) at the start"""
    swing: Floats
    """(n, 3, 2) at the start"""
    frame: Floats
    """(3, 3) at the start"""
    steep: Floats
    """(n,) at the start"""
    matrix: Floats
    order: Ints
    u: Floats
    """(4, s)"""
    trial: Floats
    """(s,)"""
    rate: Floats
    """(s,)"""
    off: Floats
    """(s,) estimated error"""


@compiled
def stages_of(pools: int, doors: int) -> Stages:
    """Room for the steps of a network.

    Parameters
    ----------
    pools : int [-]
        How many.
    doors : int [-]
        How many.

    Returns
    -------
    stages : Stages [SI]
    """
    m = pools + 1 + 2 * doors
    s = m + 1 + 6 * pools
    return Stages(
        np.zeros(s),
        np.zeros((m, m)),
        np.zeros((pools, 3, 2)),
        np.zeros((3, 3)),
        np.zeros(pools),
        np.zeros((m, m)),
        np.zeros(m, dtype=np.int64),
        np.zeros((4, s)),
        np.zeros(s),
        np.zeros(s),
        np.zeros(s),
    )


@compiled_lean
def open_step(net: Net, y: Floats, stages: Stages, bench: Bench) -> None:
    """Rate of change and Jacobian where a step starts; the bench holds what drives it.

    Parameters
    ----------
    net : Net [SI]
    y : (s,) [SI]
    stages : Stages [SI]
        Is filled.
    bench : Bench [SI]
    """
    rates(net, y, stages.start, stages.jac, bench, True)
    for i in range(bench.steep.shape[0]):
        stages.steep[i] = bench.steep[i]
        for axis in range(3):
            stages.swing[i, axis, 0] = bench.swing[i, axis, 0]
            stages.swing[i, axis, 1] = bench.swing[i, axis, 1]
    for axis in range(3):
        for k in range(3):
            stages.frame[axis, k] = bench.frame[axis, k]


@compiled_lean
def try_step(
    net: Net,
    forcing: Forcing,
    at: int,
    time: float,
    step: float,
    y: Floats,
    stages: Stages,
    bench: Bench,
) -> bool:
    """The state after a step into `stages.trial`, and its error into `stages.off`.

    Parameters
    ----------
    net : Net [SI]
    forcing : Forcing [SI]
    at : int [-]
        Node of the forcing at the start.
    time : float [s]
        At the start.
    step : float [s]
    y : (s,) [SI]
        At the start; is left alone.
    stages : Stages [SI]
        As `open_step` left them.
    bench : Bench [SI]

    Returns
    -------
    found : bool [-]
        False where the step has no solution or ran out of the numbers.
    """
    m, size = stages.jac.shape[0], y.shape[0]
    sigma = 1.0 / (GAMMA * step)
    for i in range(m):
        for j in range(m):
            stages.matrix[i, j] = -stages.jac[i, j]
        stages.matrix[i, i] += sigma
    if not factor(stages.matrix, stages.order):
        return False
    for k in range(4):
        u = stages.u[k]
        if k == 0:
            for i in range(size):
                u[i] = stages.start[i]
        else:
            _between(y, stages.u, A[k], k, stages.trial)
            drive_at(forcing, at, time + NODES[k] * step, bench)
            rates(net, stages.trial, u, stages.jac, bench, False)
        for j in range(k):
            part = C[k, j] / step
            for i in range(size):
                u[i] += part * stages.u[j, i]
        solve(stages.matrix, stages.order, u)
        u[m] /= sigma
        solve_swing(stages.swing, stages.frame, sigma, m + 1, u)
    _between(y, stages.u, M, 4, stages.trial)
    for i in range(size):
        stages.off[i] = 0.0
        for k in range(4):
            stages.off[i] += E[k] * stages.u[k, i]
    total = 0.0
    for i in range(size):
        total += stages.trial[i]
    return bool(math.isfinite(total))


@compiled_lean
def _between(y: Floats, u: Floats, weights: Floats, count: int, out: Floats) -> None:
    for i in range(y.shape[0]):  # loops, not slices: nothing is allocated on the way
        out[i] = y[i]
    for j in range(count):
        for i in range(y.shape[0]):
            out[i] += weights[j] * u[j, i]


@compiled_lean
def error_of(net: Net, y: Floats, stages: Stages, level: float) -> tuple[float, float]:
    """Estimated error of a step over what is allowed, and its largest error of a level.

    Parameters
    ----------
    net : Net [SI]
    y : (s,) [SI]
        At the start of the step.
    stages : Stages [SI]
        As `try_step` left them.
    level : float [m]
        Allowed error of a surface's height.

    Returns
    -------
    share, height : float [-], float [m]
        The step stands where the share is up to 1.
    """
    n, d = net.pools.capacity.shape[0], net.hatches.rows.shape[0]
    height = 0.0
    for i in range(n):
        area = max(1.0 / max(stages.steep[i], 1e-9), net.pools.least_area[i])
        height = max(height, abs(stages.off[i]) / area)
    worst = height / level
    for k in range(d):
        i, j = n + 1 + k, n + 1 + d + k
        worst = max(worst, abs(stages.off[i]) / ANGLE)
        worst = max(worst, abs(stages.off[j]) / (TURNING + SHARE * abs(y[j])))
    start = n + 2 + 2 * d
    for i in range(3 * n):
        off = abs(stages.off[start + i]) * net.pools.lever[i // 3]
        worst = max(worst, RINGING * off / level)
    return worst, height
