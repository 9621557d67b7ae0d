# SPDX-License-Identifier: Apache-2.0
"""Oil at rest: one level in every compartment that oil can get to."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.level import LevelBody, extent_along, volume_below

Floats = NDArray[np.float64]

_TRIES = 200
_HALVE = 3
"""Every so many-th try halves the bracket, however steep the volume is there."""


def settled_volumes(
    bodies: Sequence[LevelBody], up: ArrayLike, volume: float, reached: ArrayLike | None = None
) -> Floats:
    """Volume in each compartment when all of them stand at one level.

    Parameters
    ----------
    bodies : sequence of LevelBody [m]
        The n compartments.
    up : (3,) [-]
        Unit vector against effective gravity.
    volume : float [m^3]
        Of all the oil.
    reached : (n,) or None [-]
        Which ones oil gets to; None: all. The others stay dry.

    Returns
    -------
    volumes : (n,) [m^3]
        They add up to `volume` to rounding.

    Raises
    ------
    RangeError
        If the oil does not fit.

    Source
    ------
    Exact levels, bisected. Checked by tests/oil/test_settle.py.
    """
    wet = np.ones(len(bodies), dtype=bool) if reached is None else np.asarray(reached, dtype=bool)
    room = sum(body.volume for body, k in zip(bodies, wet, strict=True) if k)
    if not 0.0 <= volume <= room * (1.0 + 1e-12):
        raise RangeError(
            f"{volume * 1e3:.4g} L of oil do not fit into compartments of {room * 1e3:.4g} L"
        )
    ends = np.array([extent_along(body, up).ravel() for body in bodies])
    low, high = float(ends[wet, 0].min()), float(ends[wet, 1].max())

    def at(height: float) -> Floats:
        each = [
            float(volume_below(b, up, height)[0]) if k else 0.0
            for b, k in zip(bodies, wet, strict=True)
        ]
        return np.array(each)

    low, high = _bracket(lambda h: float(at(h).sum()) - volume, low, high)
    under, over = at(low), at(high)
    gap = float(over.sum() - under.sum())
    # a flat floor or roof between the last two heights: share out what is missing
    share = 0.0 if gap <= 0.0 else min(max((volume - float(under.sum())) / gap, 0.0), 1.0)
    found = under + share * (over - under)
    total = float(found.sum())
    return np.asarray(found * (volume / total if total > 0.0 else 1.0))


def _bracket(spare: Callable[[float], float], low: float, high: float) -> tuple[float, float]:
    """Two heights next to each other, with no more than enough oil and with enough."""
    under, over = spare(low), spare(high)
    nearest = 4.0 * float(np.finfo(float).eps) * max(abs(low), abs(high))
    for k in range(1, _TRIES):
        if high - low <= nearest:
            break
        middle = 0.5 * (low + high)
        if k % _HALVE and over > under:
            guess = low - under * (high - low) / (over - under)
            # a little to the far side, so that both ends close in
            guess += nearest if guess < middle else -nearest
            middle = guess if low < guess < high else middle
        found = spare(middle)
        if found <= 0.0:
            low, under = middle, found
        else:
            high, over = middle, found
    return low, high
