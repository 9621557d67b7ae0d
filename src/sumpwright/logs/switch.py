# SPDX-License-Identifier: Apache-2.0
"""A pump that gives more from one engine speed on: where it switches up, and where down again.

Pressure then jumps, and no smooth surface follows it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.first_order import first_order

Floats = NDArray[np.float64]

RPM = np.pi / 30.0
WIDTHS = (25.0 * RPM, 60.0 * RPM, 120.0 * RPM)
"""[rad/s] over which a pump goes over from one stage to the other [common-practice]."""
BETWEEN = (0.0, 100.0 * RPM, 200.0 * RPM, 300.0 * RPM, 400.0 * RPM)
"""[rad/s] that it may switch down below the speed it switched up at [common-practice]."""
DELAYS = (0.0, 0.08, 0.16, 0.3)
"""[s] in which a valve follows [common-practice]."""
APART = 50.0 * RPM
"""[rad/s] between the speeds that are tried."""
OFF_BY, MOMENT = 75.0 * RPM, 0.15
"""[rad/s] and [s] that the place of a switch is known to at best [common-practice]."""


@dataclass(frozen=True)
class Switch:
    """Speeds at which a pump changes its stage."""

    up: float
    """[rad/s]"""
    down: float
    """[rad/s], not above `up`"""
    width: float
    """[rad/s]"""
    delay: float = 0.0
    """[s]"""

    def stage(self, speed: Floats, step: float) -> Floats:
        """Share of the upper stage at speeds a step [s] apart in time; from 0 to 1.

        Parameters
        ----------
        speed : (n,) [rad/s]
            Finite.
        step : float [s]
            0: each speed stands for itself, and the middle of both switches counts.

        Returns
        -------
        stage : (n,) [-]
        """
        middle = 0.5 * (self.up + self.down)
        line = np.full(len(speed), middle)
        if step > 0.0 and self.up > self.down:
            line = np.where(_held(speed, self.up, self.down), self.down, self.up)
        share = 1.0 / (1.0 + np.exp(-np.clip((speed - line) / self.width, -40.0, 40.0)))
        if not (step > 0.0 and self.delay > 0.0 and len(share)):
            return np.asarray(share)
        return first_order(share, float(np.exp(-step / self.delay)), float(share[0]))

    def least(self, speed: Floats, step: float) -> Floats:
        """The least share it may have, for the place of the switch is known only so well.

        Parameters
        ----------
        speed : (n,) [rad/s]
        step : float [s]

        Returns
        -------
        stage : (n,) [-]
        """
        from scipy.ndimage import minimum_filter1d

        later = Switch(self.up + OFF_BY, self.down + OFF_BY, self.width, self.delay)
        wide = 2 * round((MOMENT + self.delay) / step) + 1 if step > 0.0 else 1
        return np.asarray(minimum_filter1d(later.stage(speed, step), wide))


def jumps(knots: Floats, stage: Floats, warmth: Floats) -> Floats:
    """Basis of the jump of a pump's stage, and of how that goes with warmth.

    Parameters
    ----------
    knots : (l,) [any]
        Rising; from the first to the last warmth that was driven.
    stage : (n,) [-]
    warmth : (n,) [any]
        The middle's where it is not a number.

    Returns
    -------
    rows : (n, 2) [-]
    """
    middle, half = 0.5 * (knots[0] + knots[-1]), 0.5 * float(np.ptp(knots))
    off = (warmth - middle) / half if half > 0.0 else np.zeros(len(stage))
    return np.column_stack([stage, stage * np.nan_to_num(off)])


def _held(speed: Floats, up: float, down: float) -> NDArray[np.bool_]:
    """Whether it is in the upper stage, which it keeps until speed is under `down`."""
    told = (speed > up) | (speed < down)
    last = np.maximum.accumulate(np.where(told, np.arange(len(speed)), 0))
    return np.asarray(speed[last] > up)
