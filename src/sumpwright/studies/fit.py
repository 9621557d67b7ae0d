# SPDX-License-Identifier: Apache-2.0
"""Factors on what is uncertain, fitted to what was measured, with how sure that makes them.

Gauss-Newton on the logarithms of the factors, held to what was known before; the interval is that
of the curvature there, with noise that is alike from sample to sample counted once.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Model = Callable[[Floats], Floats]
"""Takes (m, p) factors, gives (m, k) predictions"""

ROUNDS = 5
CHANGE = 0.08
"""On a logarithmic scale, for slopes: wide, for spells of air begin and end in steps."""
SURE = 1.959963984540054
LEARNT = 0.8
"""An interval that shrank to less than this share of what was known before has learnt something."""
LEAST_NOISE = 0.02
"""Share of the pressure; no log is read more finely."""


@dataclass(frozen=True)
class Known:
    """A factor before the fit: 1, within `sd` on a logarithmic scale."""

    name: str
    sd: float


@dataclass(frozen=True, eq=False)
class Fit:
    """Factors after the fit."""

    factor: Floats
    low: Floats
    high: Floats
    """(p,) 95 % interval"""
    learnt: tuple[str, ...]
    """``yes``, or why not"""


def fit(model: Model, measured: Floats, known: tuple[Known, ...], *, together: float = 1.0) -> Fit:
    """Factors that bring `model` nearest to (k,) `measured` and to what was known before.

    How alike neighbouring errors are at the start tells how many samples are independent; as many
    as `together` share their error in any case.
    """
    sd = np.array([k.sd for k in known])
    log_factor = np.zeros(len(known))
    alike = max(_alike(measured - model(np.exp(log_factor)[None])[0]), together)
    cost, curvature = math.inf, np.diag(sd**-2.0)
    for _ in range(ROUNDS):
        error, slope = _slopes(model, measured, log_factor)
        noise = max(float(np.std(error)), LEAST_NOISE)
        weight = 1.0 / (noise**2 * alike)
        curvature = weight * slope.T @ slope + np.diag(sd**-2.0)
        step = np.linalg.solve(curvature, weight * slope.T @ error - log_factor / sd**2)
        log_factor, cost, moved = _best(model, measured, log_factor, step, sd, weight, cost)
        if not moved:
            break
    spread = np.sqrt(np.diag(np.linalg.inv(curvature)))
    low, high = (np.exp(log_factor + s * SURE * spread) for s in (-1.0, 1.0))
    return Fit(np.exp(log_factor), low, high, _learnt(spread, sd))


def _slopes(model: Model, measured: Floats, at: Floats) -> tuple[Floats, Floats]:
    """Error (k,) and slopes (k, p) of the prediction over logarithms of the factors."""
    p = len(at)
    change = CHANGE * np.eye(p)
    rows = model(np.exp(np.vstack([at, at + change, at - change])))
    return measured - rows[0], ((rows[1 : p + 1] - rows[p + 1 :]) / (2.0 * CHANGE)).T


def _best(
    model: Model,
    measured: Floats,
    at: Floats,
    step: Floats,
    sd: Floats,
    weight: float,
    before: float,
) -> tuple[Floats, float, bool]:
    """The best of some shares of a step, none of them beyond three times what was known."""
    tried = np.clip(at + np.outer([0.0, 0.25, 0.5, 1.0], step), -3.0 * sd, 3.0 * sd)
    rows = model(np.exp(tried))
    costs = weight * ((measured - rows) ** 2).sum(axis=1) + ((tried / sd) ** 2).sum(axis=1)
    k = int(np.argmin(costs))
    return tried[k], float(costs[k]), k > 0 and float(costs[k]) < before


def _alike(error: Floats) -> float:
    """How many samples say the same thing: 1 + 2 sum of the correlations while they last."""
    centred = error - error.mean()
    power = float(centred @ centred)
    total, most = 1.0, len(error) // 4
    for lag in range(1, most):
        r = float(centred[lag:] @ centred[:-lag]) / power if power > 0.0 else 0.0
        if r < 0.05:
            break
        total += 2.0 * r
    return total


def _learnt(spread: Floats, sd: Floats) -> tuple[str, ...]:
    return tuple(
        "yes" if s < LEARNT * before else "the log says little more than was known"
        for s, before in zip(spread, sd, strict=True)
    )
