# SPDX-License-Identifier: Apache-2.0
"""A network of compartments as bare arrays, the way the compiled kernels take it.

The state is one row: volume of each of n pools (0:n), oil up in the engine (n), angle (n+1:n+1+d)
and speed (n+1+d:n+1+2d) of each of d doors, air drawn so far, then three numbers a pool for the
direction that its surface is square to, about of unit length, and three for its rate of change.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.level_table_kernel import LevelStack
from sumpwright.oil.swing_kernel import SwingStack

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Pools(NamedTuple):
    """n compartments."""

    levels: LevelStack
    capacity: Floats
    """(n,) [m^3]"""
    swings: SwingStack
    middle: Floats
    """(n, 3) [m] where a surface's height is told"""
    least_area: Floats
    """(n,) [m^2] a surface counts as at least this large where an error is weighed"""
    lever: Floats
    """(n,) [m] from its middle to its farther wall: what an error of tilt does to the level"""


class Ways(NamedTuple):
    """m passages; their triangles in one list."""

    behind: Ints
    ahead: Ints
    door: Ints
    """(m,) -1 for none"""
    spot: Floats
    """(m, 3) [m]"""
    middle: Floats
    """(m, 3) [m] of a flat box round its corners"""
    arms: Floats
    """(m, 2, 3) [m] from there to the middles of two of the box's sides"""
    whole: Floats
    """(m,) [m^2] of each opening"""
    discharge: Floats
    share: Floats
    """(m,) open part where no door moves over it"""
    first: Ints
    """(m + 1,) where each one's triangles start"""
    corners: Floats
    areas: Floats
    traits: Floats


class Hatches(NamedTuple):
    """d doors that move."""

    rows: Floats
    """(d, 21) of oil/door.py"""
    behind: Ints
    ahead: Ints
    spot: Floats


class Mouth(NamedTuple):
    """The pickup."""

    pool: int
    """-1 for none"""
    corners: Floats
    """(k, 3) [m] of a rim; the centre of a round one"""
    axis: Floats
    radius: float
    drawdown: float
    """Of a unit flow in unit gravity"""


class Fluid(NamedTuple):
    """The oil."""

    density: float
    viscosity: float


class Landing(NamedTuple):
    """Where oil comes home."""

    shares: Floats
    """(q, q, n) of each pool over the direction that oil falls in"""
    side: float


class Net(NamedTuple):
    """All of it."""

    pools: Pools
    ways: Ways
    hatches: Hatches
    mouth: Mouth
    fluid: Fluid
    landing: Landing


class Forcing(NamedTuple):
    """What the car and the engine do; straight between nodes."""

    time: Floats
    """(t,) [s] rising"""
    force: Floats
    """(t, 3) [m/s^2] specific force, against effective gravity, engine frame"""
    flow: Floats
    """(t,) [m^3/s] drawn by the pump"""
    rate: Floats
    """(t,) [1/s] at which oil up in the engine comes home"""
    stops: Floats
    """Times where a step must end: corners of the above"""
