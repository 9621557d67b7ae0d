# SPDX-License-Identifier: Apache-2.0
"""Bolt holes of a flange, found where a flat cut through its mesh leaves round gaps."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.circle_fit import circle_fit
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.section import cut_plane, section_outlines

Floats = NDArray[np.float64]

LEAST_CORNERS = 6
"""A gap with fewer corners is taken for no circle."""
ROUND = 0.04
"""Most rms distance from the circle over its radius: half the width between a hexagon's corners and
its flats is 0.07."""
DEPTHS = 1e-3 * np.array([0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0])
"""m under the highest point, tried one after the other."""
STRAIGHT = 1e-3
"""Of a corner's distance from the line between its neighbours over that line's length: a straight
side's own points, which a triangle's edge left there."""


@dataclass(frozen=True)
class FlangeHole:
    """A round gap of the cut. SI, the mesh's axes."""

    x: float
    y: float
    diameter: float
    rms: float
    """Of its corners' distances from the circle [m]"""
    corners: int


@dataclass(frozen=True, eq=False)
class FlangeCut:
    """A flat cut through a flange."""

    height: float
    """m"""
    holes: tuple[FlangeHole, ...]
    outlines: tuple[Floats, ...]
    """Each (k, 2) [m], solid on the left"""


def flange_cut(mesh: Mesh, *, smallest: float, largest: float) -> FlangeCut:
    """The cut, of several under the highest point, that has the most round holes.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed; its flange lies flat at the top.
    smallest : float [m]
        Least diameter of a bolt hole.
    largest : float [m]
        Most.

    Returns
    -------
    cut : FlangeCut [m]
        The highest of those with the most holes; with none where no cut has any.

    Raises
    ------
    RangeError
        Where the mesh is open at every cut.
    """
    top = float(mesh.bounds[1, 2])
    found: FlangeCut | None = None
    said: RangeError | None = None
    for depth in DEPTHS:
        try:
            cut = flat_cut(mesh, top - float(depth), smallest=smallest, largest=largest)
        except RangeError as err:
            said = err
            continue
        if found is None or len(cut.holes) > len(found.holes):
            found = cut
    if found is None:
        assert said is not None
        raise said
    return found


def flat_cut(mesh: Mesh, height: float, *, smallest: float, largest: float) -> FlangeCut:
    """The round holes of a horizontal cut.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed.
    height : float [m]
        Of the cut.
    smallest : float [m]
        Least diameter of a hole.
    largest : float [m]
        Most.

    Returns
    -------
    cut : FlangeCut [m]
        Holes from rear to front, right before left.

    Raises
    ------
    RangeError
        Where an open edge crosses the cut.
    """
    plane = cut_plane(origin=(0, 0, height), normal=(0, 0, 1), across=(1, 0, 0))
    outlines = section_outlines(mesh, plane)
    holes = [h for loop in outlines if (h := _hole(loop, smallest, largest)) is not None]
    order = sorted(holes, key=lambda h: (round(h.x, 3), h.y))
    return FlangeCut(height, tuple(order), tuple(outlines))


def _hole(loop: Floats, smallest: float, largest: float) -> FlangeHole | None:
    """The circle of a clockwise loop; None where it is none, or is of another size."""
    x, y = (loop - loop[0]).T
    wide = np.ptp(loop, axis=0)
    if x @ np.roll(y, -1) >= y @ np.roll(x, -1) or wide.max() > 1.1 * largest:
        return None
    corners = _without_straight(loop)
    if len(corners) < LEAST_CORNERS:
        return None
    circle = circle_fit(corners)
    if circle.rms > ROUND * circle.radius or not smallest <= 2 * circle.radius <= largest:
        return None
    if _widest_gap(corners - [circle.x, circle.y]) > 0.5 * np.pi:
        return None
    return FlangeHole(circle.x, circle.y, 2 * circle.radius, circle.rms, len(corners))


def _without_straight(loop: Floats) -> Floats:
    """Corners alone: a hole's wall is a prism, whose upright edges alone lie on the circle."""
    before, after = np.roll(loop, 1, axis=0), np.roll(loop, -1, axis=0)
    side = after - before
    length = np.maximum(np.linalg.norm(side, axis=1), 1e-12)
    off = np.abs(side[:, 0] * (loop - before)[:, 1] - side[:, 1] * (loop - before)[:, 0]) / length
    return np.asarray(loop[off > STRAIGHT * length])


def _widest_gap(arms: Floats) -> float:
    angle = np.sort(np.arctan2(arms[:, 1], arms[:, 0]))
    return float(np.diff(np.append(angle, angle[0] + 2 * np.pi)).max())
