# SPDX-License-Identifier: Apache-2.0
"""Compiled solution of one stage: a small dense system for the stiff part, and the oscillators."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled, compiled_lean
from sumpwright.oil.network_surface import Bench

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@compiled_lean
def factor(matrix: Floats, order: Ints) -> bool:
    """Triangular factors of a small dense matrix in its place, largest pivots first.

    Parameters
    ----------
    matrix : (m, m) [SI]
        Is overwritten.
    order : (m,) [-]
        Is filled with the rows that were changed.

    Returns
    -------
    found : bool [-]
        False where the matrix has no inverse.
    """
    m = matrix.shape[0]
    for k in range(m):
        best = k
        for i in range(k + 1, m):
            if abs(matrix[i, k]) > abs(matrix[best, k]):
                best = i
        order[k] = best
        if not abs(matrix[best, k]) > 0.0:
            return False
        if best != k:
            for j in range(m):
                matrix[k, j], matrix[best, j] = matrix[best, j], matrix[k, j]
        for i in range(k + 1, m):
            if matrix[i, k] != 0.0:
                matrix[i, k] /= matrix[k, k]
                for j in range(k + 1, m):
                    matrix[i, j] -= matrix[i, k] * matrix[k, j]
    return True


@compiled_lean
def solve(matrix: Floats, order: Ints, x: Floats) -> None:
    """The first m numbers of `x`, solved in their place with the factors of `factor`.

    Parameters
    ----------
    matrix : (m, m) [SI]
        Factors.
    order : (m,) [-]
        Rows changed.
    x : (s,) [SI]
        Right side; the numbers past m are left alone.
    """
    m = matrix.shape[0]
    for k in range(m):
        x[k], x[order[k]] = x[order[k]], x[k]
    for k in range(m):
        for i in range(k + 1, m):
            x[i] -= matrix[i, k] * x[k]
    for i in range(m - 1, -1, -1):
        for k in range(i + 1, m):
            x[i] -= matrix[i, k] * x[k]
        x[i] /= matrix[i, i]


@compiled_lean
def solve_swing(swing: Floats, frame: Floats, sigma: float, at: int, x: Floats) -> None:
    """The oscillators' part of a stage, solved in its place, axis by axis.

    Parameters
    ----------
    swing : (n, 3, 2) [1/s^2, 1/s]
        Stiffness and damping of each pool about each axis at the start of the step.
    frame : (3, 3) [-]
        The axes.
    sigma : float [1/s]
        1 / (gamma h).
    at : int [-]
        Where the oscillators start in `x`.
    x : (s,) [SI]
        Right side.
    """
    n = swing.shape[0]
    for i in range(n):
        s, v = at + 3 * i, at + 3 * n + 3 * i
        a0, a1, a2 = x[s], x[s + 1], x[s + 2]
        b0, b1, b2 = x[v], x[v + 1], x[v + 2]
        for k in range(3):
            x[s + k], x[v + k] = 0.0, 0.0
        for axis in range(3):
            e0, e1, e2 = frame[axis, 0], frame[axis, 1], frame[axis, 2]
            right_s = e0 * a0 + e1 * a1 + e2 * a2
            right_v = e0 * b0 + e1 * b1 + e2 * b2
            slow = sigma + swing[i, axis, 1]
            part = (right_s * slow + right_v) / (sigma * slow + swing[i, axis, 0])
            rate = sigma * part - right_s
            x[s] += part * e0
            x[s + 1] += part * e1
            x[s + 2] += part * e2
            x[v] += rate * e0
            x[v + 1] += rate * e1
            x[v + 2] += rate * e2


@compiled
def bench_of(pools: int) -> Bench:
    """Room for the rates of a network.

    Parameters
    ----------
    pools : int [-]
        How many.

    Returns
    -------
    bench : Bench [SI]
    """
    return Bench(
        np.zeros((pools, 3)),
        np.zeros(pools),
        np.zeros(pools),
        np.zeros(pools),
        np.zeros(pools),
        np.zeros((pools, 3, 2)),
        np.zeros((3, 3)),
        np.zeros(pools),
        np.zeros(3),
        np.zeros(3),
        np.zeros(4),
    )
