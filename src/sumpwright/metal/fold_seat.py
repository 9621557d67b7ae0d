# SPDX-License-Identifier: Apache-2.0
"""Does a bent tab lie on something? Spots on its flange's outer face, and what is behind each."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.metal.flat_pattern_tab import SeatedTab

Floats = NDArray[np.float64]

_INSET = 1e-4
"""m; spots keep this far off a flange's edges."""
_ACROSS, _ALONG = 5, 4
"""Spots across a flange and along it."""


@dataclass(frozen=True, eq=False)
class Flange:
    """Spots on the outer face of a bent tab, in the frame of the flat."""

    spots: Floats
    """(n, 3) [m]"""
    run: Floats
    """(n,) [m] from the edge that it is bent at"""
    way: Floats
    """(3,) unit vector out of that face"""
    holes: int
    """The last spots are as many middles of holes"""


def flange_of(tab: SeatedTab) -> Flange:
    """Spots all over the flat of a tab's flange, and where its holes are.

    Parameters
    ----------
    tab : SeatedTab [m]
        On its edge.

    Returns
    -------
    flange : Flange [m]

    Source
    ------
    [closed-form]: the outer face goes out from the edge at the bend's angle.
    """
    s = tab.spec
    sign = 1.0 if s.up else -1.0
    up, out = np.array([0.0, 0.0, sign]), np.append(tab.edge.out, 0.0)
    c, sn = math.cos(s.angle), math.sin(s.angle)
    across = np.linspace(-0.5, 0.5, _ACROSS) * (s.width - 2.0 * _INSET)
    run = np.linspace(tab.back + _INSET, s.flange - _INSET, _ALONG)
    grid = np.stack(np.meshgrid(across, run, indexing="ij"), axis=-1).reshape(-1, 2)
    row = ((np.arange(s.holes) + 0.5) / max(s.holes, 1) - 0.5) * s.width
    middles = np.stack([row, np.full(s.holes, 0.5 * (tab.back + s.flange))], axis=1)
    at = np.concatenate([grid, middles])
    edge = np.append(tab.middle, -sign * 0.5 * tab.thickness)
    along = np.append(tab.edge.along, 0.0)
    spots = edge + at[:, :1] * along + at[:, 1:] * (c * out + sn * up)
    return Flange(spots, at[:, 1], sn * out - c * up, s.holes)


def behind(
    points: ArrayLike, way: ArrayLike, triangles: Floats
) -> tuple[Floats, NDArray[np.bool_]]:
    """What lies first on the way from each point.

    Parameters
    ----------
    points : (n, 3) [m]
        Where to start.
    way : (3,) [-]
        Unit vector, the same for all.
    triangles : (k, 3, 3) [m]
        Corners of a closed skin that looks outward.

    Returns
    -------
    distance : (n,) [m]
        Infinite where nothing is.
    leaving : (n,) [-]
        Whether the way leaves the body there.

    Source
    ------
    [closed-form]: a line through a triangle by the volumes that it spans with each side.
    """
    start, line = np.asarray(points, dtype=float), np.asarray(way, dtype=float)
    a, b, c = (triangles[:, k] for k in range(3))
    normal = np.cross(b - a, c - a)
    toward = normal @ line
    crossed = np.abs(toward) > 1e-12 * np.linalg.norm(normal, axis=1)
    a, b, c, normal, toward = a[crossed], b[crossed], c[crossed], normal[crossed], toward[crossed]
    off = a[None] - start[:, None]
    distance = np.einsum("nkj,kj->nk", off, normal) / toward
    inside = np.ones(distance.shape, dtype=bool)
    for one, other in ((a, b), (b, c), (c, a)):
        side = np.cross(other - one, line)
        from_one = start[:, None] - one[None]
        inside &= np.einsum("nkj,kj->nk", from_one, side) * np.sign(toward) <= 0.0
    distance = np.where(inside & (distance >= 0.0), distance, np.inf)
    if not distance.shape[1]:
        return np.full(len(start), np.inf), np.zeros(len(start), dtype=bool)
    first = distance.argmin(axis=1)
    nearest = distance[np.arange(len(start)), first]
    return nearest, (toward[first] > 0.0) & np.isfinite(nearest)
