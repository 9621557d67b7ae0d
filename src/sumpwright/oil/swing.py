# SPDX-License-Identifier: Apache-2.0
r"""How the oil in a compartment swings, tabulated over the way up and how much there is.

The first mode of the box that stands in for the oil (slosh_plane.py), where its surface is the
plane of that direction and volume; along the engine's x laid into the surface, and square to it.

*Damping.* The boundary layer of slosh_damping.py holds where the layer is thin beside the oil. In
thick or shallow oil the layer fills it, and drag is that of a creeping film on the floor and of
creeping flow between side walls: :math:`C_c = 3 \nu / h^2 + 12 \nu / B^2`, twice zeta omega. The
larger of the two counts, and the bulk's :math:`4 \nu k^2` comes on top. Against the exact viscous
wave on a shallow layer, :math:`\sigma^2 + \omega^2 (1 - \tanh m / m) = 0` with
:math:`m^2 = \sigma h^2 / \nu`, the larger is 15 % low to 21 % high all the way from thin layers to
creeping; the root of the sum of squares is up to 31 % high.

*The ends.* Under a thousandth of the volume, or of air, there is no wave to speak of: from there on
the surface goes over to following at 12.5 Hz (in standard gravity), critically damped.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.level import LevelBody
from sumpwright.geometry.level_grid import Swept, grid_ups
from sumpwright.geometry.level_table import REACH
from sumpwright.geometry.level_table_kernel import FINE
from sumpwright.geometry.surface_moment import surface_moments
from sumpwright.oil.swing_kernel import NARROWEST, SHORTEST, SwingStack

Floats = NDArray[np.float64]

DIRECTIONS, VOLUMES = 15, 17
NEAR_END = 2
"""Fine steps from empty and from full at which the table's ends are taken: a millionth."""


@dataclass(frozen=True, eq=False)
class SwingTable:
    """The box that stands in for the oil in one body, over direction and volume."""

    values: Floats
    """(d, d, k, 3) [m, m, m^2] its length along both axes, area of the surface"""
    volume: float
    """Of the body [m^3]"""
    side: float
    """Stereographic coordinate of the tilt that it reaches"""


def swing_table(
    body: LevelBody, *, directions: int = DIRECTIONS, volumes: int = VOLUMES
) -> SwingTable:
    """Table of one body.

    Parameters
    ----------
    body : LevelBody [m]
        From `level_body`.
    directions : int [-]
        Nodes along each side of the grid, two of them past the reach.
    volumes : int [-]
        One more than a divisor of 256.

    Returns
    -------
    table : SwingTable [m, m^2, m^3]

    Raises
    ------
    RangeError
        If there are too few directions or volumes, or the latter do not divide 256 evenly.

    Source
    ------
    The box is ours, as in slosh_plane.py. Checked by tests/oil/test_swing.py.
    """
    if directions < 13 or volumes < 3 or FINE % (volumes - 1):
        raise RangeError(
            f"a swing table needs 13 directions or more and 3, 5, 9, 17 .. volumes, asked "
            f"{directions} and {volumes}"
        )
    side = float(np.tan(0.5 * REACH))
    ups, needed = grid_ups(directions, side)
    steps = np.arange(volumes) * (FINE // (volumes - 1))
    steps[0], steps[-1] = NEAR_END, FINE - NEAR_END
    ways = np.ascontiguousarray(ups[needed])
    full = np.concatenate([[0], steps, [FINE]])  # a sweep wants both ends
    heights = Swept(body).heights(ways, full)[0][:, 1:-1]
    values = np.full((directions, directions, volumes, 3), np.nan)
    values[needed] = _boxes(body, ways, heights)
    return SwingTable(values, body.volume, side)


def _boxes(body: LevelBody, ways: Floats, heights: Floats) -> Floats:
    """Lengths and area of the surface at each height (d, k) along each way (d, 3)."""
    count = heights.shape[1]
    ups = np.repeat(ways, count, axis=0)
    found = surface_moments(body, ups, heights.ravel(), level_axis(ups))
    area = np.maximum(found.area, NARROWEST**2)
    second = np.diagonal(found.second_moments, axis1=1, axis2=2)
    lengths = np.maximum(np.sqrt(12.0 * second / area[:, None]), SHORTEST)
    return np.concatenate([lengths, area[:, None]], axis=1).reshape(len(ways), count, 3)


def level_axis(ups: Floats) -> Floats:
    """The frame's x laid into level planes.

    Parameters
    ----------
    ups : (k, 3) [-]
        Unit vectors up.

    Returns
    -------
    axes : (k, 3) [-]
        Unit vectors; down's own z where up is along x.
    """
    flat = np.array([1.0, 0.0, 0.0]) - ups[:, :1] * ups
    size = np.linalg.norm(flat, axis=1, keepdims=True)
    flat = np.where(size > 1e-6, flat / np.maximum(size, 1e-6), [0.0, 0.0, -1.0])
    flat -= np.einsum("ij,ij->i", flat, ups)[:, None] * ups
    return np.asarray(flat / np.linalg.norm(flat, axis=1, keepdims=True))


def swing_stack(tables: Sequence[SwingTable]) -> SwingStack:
    """Tables of several bodies in one array, for `swing_of` in compiled callers.

    Parameters
    ----------
    tables : sequence of SwingTable [m, m^2, m^3]
        At least one, all of one size.

    Returns
    -------
    swings : SwingStack [m, m^2, m^3]
    """
    return SwingStack(
        values=np.ascontiguousarray(np.stack([table.values for table in tables]).reshape(-1, 3)),
        directions=tables[0].values.shape[0],
        volumes=tables[0].values.shape[2],
        capacity=np.array([table.volume for table in tables]),
        side=tables[0].side,
    )
