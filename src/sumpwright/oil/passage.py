# SPDX-License-Identifier: Apache-2.0
"""A way for oil between two compartments, as the network takes it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.oil.opening import SHARP
from sumpwright.oil.opening_shape import Opening

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Passage:
    """An opening with the compartments on its two sides."""

    name: str
    behind: int
    """Number of the compartment on the panel's back"""
    ahead: int
    """Number of the one its normal points into"""
    opening: Opening
    spot: Floats
    """(3,) [m] middle of the opening: heads count where the surfaces are over it"""
    kind: str = "window"
    """``window``, ``door``, ``open``, ``gap`` or ``leak`` (round a shut door)"""
    door: int = -1
    """Number of the door over it; -1 for none. Pool 1 of a door is behind it, 2 where it swings"""
    discharge: float = SHARP
