# SPDX-License-Identifier: Apache-2.0
"""A surface over speed and warmth from straight pieces between knots, smooth where little is known.

Straight between knots, it follows the corner at a relief valve or a pump's second stage, and
beyond the last knot it goes on straight with a doubt that grows.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Surface:
    """Knots of both axes; none in the second where it is one value."""

    speed: Floats
    """(k,) [rad/s] rising"""
    warmth: Floats
    """(l,) [any] rising; one knot: the same everywhere"""

    def rows(self, speed: Floats, warmth: Floats) -> Floats:
        """What each knot has in a value there.

        Parameters
        ----------
        speed : (n,) [rad/s]
        warmth : (n,) [any]
            The middle knot's where it is not a number.

        Returns
        -------
        rows : (n, k l) [-]
            Sums of 1.
        """
        across = _hats(speed, self.speed)
        if len(self.warmth) == 1:
            return across
        middle = 0.5 * (self.warmth[0] + self.warmth[-1])
        along = _hats(np.where(np.isfinite(warmth), warmth, middle), self.warmth)
        return np.asarray((along[:, :, None] * across[:, None, :]).reshape(len(speed), -1))

    def bending(self) -> Floats:
        """Sum of squared second differences along both axes, as a matrix.

        Returns
        -------
        bending : (k l, k l) [-]

        Source
        ------
        [Eilers-1996], differences of the second order. Checked by tests/logs/test_surface.py.
        """
        k, m = len(self.speed), len(self.warmth)
        one = np.kron(np.eye(m), _second(k))
        other = np.kron(_second(m), np.eye(k))
        return np.asarray(one.T @ one + other.T @ other)


def surface_of(speed: Floats, warmth: Floats, *, apart: float, warm_apart: float) -> Surface:
    """Knots over what was driven.

    Parameters
    ----------
    speed : (n,) [rad/s]
    warmth : (n,) [any]
        nan where not known; none known: one value everywhere.
    apart : float [rad/s]
        Largest distance of knots.
    warm_apart : float [any]
        The same of the second axis.

    Returns
    -------
    surface : Surface [-]
    """
    return Surface(_knots(speed, apart), _knots(warmth[np.isfinite(warmth)], warm_apart))


def _knots(value: Floats, apart: float) -> Floats:
    if not len(value) or np.ptp(value) < 0.1 * apart:
        return np.zeros(1) if not len(value) else np.array([float(np.median(value))])
    low, high = np.percentile(value, [0.5, 99.5])
    return np.linspace(low, high, max(2, 1 + int(np.ceil((high - low) / apart))))


def _hats(value: Floats, knots: Floats) -> Floats:
    if len(knots) == 1:
        return np.ones((len(value), 1))
    at = np.clip(np.searchsorted(knots, value) - 1, 0, len(knots) - 2)
    share = (value - knots[at]) / (knots[at + 1] - knots[at])
    rows = np.zeros((len(value), len(knots)))
    place = np.arange(len(value))
    rows[place, at], rows[place, at + 1] = 1.0 - share, share
    return rows


def _second(count: int) -> Floats:
    return np.diff(np.eye(count), 2, axis=0) if count > 2 else np.zeros((0, count))
