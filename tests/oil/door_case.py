# SPDX-License-Identifier: Apache-2.0
"""The trap door that the tests of doors use."""

import math
from dataclasses import replace

import numpy as np

from sumpwright.oil.door import Door

G, STEEL, OIL = 9.81, 7850.0, 830.0  # as the checks were worked
DOWN = np.array([0.0, 0.0, -G])
DRY = -math.inf
WIDTH, LENGTH, THICK = 0.060, 0.040, 0.0015


def hung(**other: float) -> Door:
    """60 x 40 x 1.5 mm of steel under a hinge at z = 50 mm, opening to +x."""
    door = Door(
        hinge=np.array([0.0, 0.0, 0.05]),
        reach=np.array([0.0, 0.0, -1.0]),
        swing=np.array([1.0, 0.0, 0.0]),
        width=WIDTH,
        length=LENGTH,
        thickness=THICK,
        mass=STEEL * WIDTH * LENGTH * THICK,
        stop=math.radians(100.0),
    )
    return replace(door, **other)
