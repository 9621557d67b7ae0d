# SPDX-License-Identifier: Apache-2.0
"""How a pan's bolt pattern and the block's part when both get hot."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.metal.material import material

Floats = NDArray[np.float64]


def growth_apart(pan: str, block: str, length: float, rise: float) -> float:
    """How much more of a length the pan grows than the block [m].

    Parameters
    ----------
    pan : str [-]
        Metal of the pan.
    block : str [-]
        Metal of the block.
    length : float [m]
        Between two holes, cold.
    rise : float [K]
        Of the temperature of both.

    Returns
    -------
    growth : float [m]
        Negative where the block grows more.

    Source
    ------
    [closed-form]: difference of expansions times length times rise.
    """
    return (material(pan).expansion - material(block).expansion) * length * rise


def pattern_growth(holes: ArrayLike, pan: str, block: str, rise: float) -> Floats:
    """How far each hole of a pan moves off the block's when both get hot.

    The pan is taken to stay put at the middle of its pattern, which is the best it can do; a pan
    that is held at one end moves twice as far at the other.

    Parameters
    ----------
    holes : (n, 2) [m]
        Centres, cold.
    pan : str [-]
        Metal of the pan.
    block : str [-]
        Metal of the block.
    rise : float [K]
        Of the temperature of both.

    Returns
    -------
    moved : (n, 2) [m]

    Source
    ------
    [closed-form]: difference of expansions times rise times the place from the middle, which is
    that of the pattern's box.
    """
    points = np.asarray(holes, dtype=float).reshape(-1, 2)
    if not len(points):
        return points
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    return np.asarray((points - middle) * growth_apart(pan, block, 1.0, rise))
