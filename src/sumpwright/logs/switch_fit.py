# SPDX-License-Identifier: Apache-2.0
"""Whether a log shows a pump that switches, and where: by what a smooth fit leaves unexplained."""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.switch import APART, BETWEEN, DELAYS, WIDTHS, Switch

Floats = NDArray[np.float64]

LEAST_GAIN, LEAST_JUMP = 0.01, 0.08
"""Share of what was unexplained that a jump must explain, and of the pressure that it must be
[common-practice]."""
WORTH_A_LOOK = 0.001
"""The same, without asking whether it switches down at another speed [common-practice]."""
EDGE = 0.05
"""Share of samples that must lie on both sides of a switch [common-practice]."""
MOST_ROWS = 40_000


@dataclass(frozen=True, eq=False)
class Left:
    """What a smooth fit leaves; (m,) of samples in the order of time."""

    rows: Floats
    """(m, k) basis of the smooth fit"""
    seen: Floats
    value: Floats
    """The smooth fit's"""
    worth: Floats
    stiff: Floats
    """(k, k) in units of one over the variance of a sample"""
    speed: Floats
    """(n,) [rad/s] all of it, lagged"""
    places: NDArray[np.int64]
    """(m,) of the samples, in `speed`"""
    step: float
    """[s]"""


def found_switch(left: Left) -> Switch | None:
    """The switch that explains most, if one explains enough.

    Parameters
    ----------
    left : Left [-]

    Returns
    -------
    switch : Switch or None [-]

    Source
    ------
    [closed-form]: what a column more takes off a sum of squares, by the Schur complement. Checked
    by tests/logs/test_switch.py.
    """
    judge = _Judge(left)
    speed = left.speed[left.places]
    low, high = np.quantile(speed, [EDGE, 1.0 - EDGE])
    tries = [Switch(at, at, wide) for at in np.arange(low, high, APART) for wide in WIDTHS]
    if not tries:
        return None
    best, gain = judge.best(tries, [t.stage(speed, 0.0) for t in tries])
    if gain < WORTH_A_LOOK:
        return None
    middle = best.up
    every = max(1, len(left.speed) // MOST_ROWS)
    thin, at = left.speed[::every], left.places // every
    tries = [
        Switch(middle + (s + 0.5) * gap, middle + (s - 0.5) * gap, wide, delay)
        for gap, s, wide, delay in product(BETWEEN, (-0.5, 0.0, 0.5), WIDTHS[:2], DELAYS)
        if gap or not s
    ] + [best]
    stages = [t.stage(thin, left.step * every)[at] for t in tries]
    best, gain = judge.best(tries, stages)
    return best if gain >= LEAST_GAIN else None


class _Judge:
    """Weighs switches by how much of the unexplained they explain."""

    def __init__(self, left: Left) -> None:
        self.left = left.seen - left.value
        size = float(np.median(np.abs(self.left))) / 0.6745
        corner = 4.0 * size / np.maximum(np.abs(self.left), 1e-12)
        self.weight = left.worth * np.minimum(1.0, corner)
        heavy = left.rows.T * self.weight
        self.heavy, self.rows = heavy, left.rows
        whole = heavy @ left.rows + left.stiff * size**2
        whole[np.diag_indices_from(whole)] += 1e-9 * np.trace(whole) / len(whole)
        self.inverse = np.linalg.inv(whole)
        self.left = self.left - left.rows @ (self.inverse @ (heavy @ self.left))
        self.total = float(np.sum(self.weight * self.left**2))
        self.pressure = float(np.median(left.seen))

    def best(self, tries: list[Switch], stages: list[Floats]) -> tuple[Switch, float]:
        """The best, and the share of the unexplained that it explains."""
        columns = np.stack(stages, axis=1)
        cross = self.heavy @ columns
        own = np.einsum("ij,ij,i->j", columns, columns, self.weight)
        own = own - np.einsum("ij,ij->j", cross, self.inverse @ cross)
        with_left = columns.T @ (self.weight * self.left)
        own = np.maximum(own, 1e-6 * self.weight.sum())
        jump = with_left / own
        gain = np.where(jump > LEAST_JUMP * self.pressure, with_left**2 / own, 0.0) / self.total
        k = int(np.argmax(gain))
        return tries[k], float(gain[k])
