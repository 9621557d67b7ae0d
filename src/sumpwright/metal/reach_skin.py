# SPDX-License-Identifier: Apache-2.0
"""Points spread over a part's skin, and which of them a cutter reaches; reach.py has the theory."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from sumpwright.geometry.mesh import Mesh
from sumpwright.metal.reach import TOLD, HeightMap, Tool, spread
from sumpwright.metal.reach_kernel import mark_removed

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Skin:
    """Points spread evenly over a skin."""

    points: Floats
    """(n, 3) [m]"""
    normals: Floats
    """(n, 3) outward"""
    share: float
    """m^2 that each stands for"""


def skin_points(mesh: Mesh, *, each: float) -> Skin:
    """Points spread evenly over a skin, the same ones every time.

    Parameters
    ----------
    mesh : Mesh [m]
        Any.
    each : float [m^2]
        Area that a point is to stand for.

    Returns
    -------
    skin : Skin [m]
    """
    areas = np.linalg.norm(mesh.area_vectors, axis=1)
    total = float(areas.sum())
    count = max(int(total / each), 1)
    owner = np.searchsorted(np.cumsum(areas), total * (np.arange(count) + 0.5) / count)
    owner = np.minimum(owner, len(areas) - 1)
    # a low-discrepancy walk over the unit square: steps by the plastic number's inverse powers
    u, v = (np.mod(0.5 + np.arange(count) * step, 1.0) for step in (0.7548776662, 0.5698402910))
    over = u + v > 1.0
    u, v = np.where(over, 1.0 - u, u), np.where(over, 1.0 - v, v)
    a, b, c = (mesh.corners[owner, k] for k in range(3))
    points = a + u[:, None] * (b - a) + v[:, None] * (c - a)
    normals = mesh.area_vectors[owner] / areas[owner, None]
    return Skin(points, normals, total / count)


def seen_points(seen: HeightMap, skin: Skin, *, nearly: bool = False) -> Flags:
    """Which points of a skin have nothing over them along the spindle.

    Parameters
    ----------
    seen : HeightMap [m]
        The part.
    skin : Skin [m]
        Of the same part.
    nearly : bool [-]
        Also those with nothing over a cell next to them.

    Returns
    -------
    seen : (n,) [-]
    """
    spots = _off(seen, skin)
    heights = ndimage.minimum_filter(seen.heights, size=3) if nearly else seen.heights
    i, j = np.round((spots[:, :2] - seen.start) / seen.cell).astype(int).T
    return np.asarray(spots[:, 2] >= heights[j, i])


def reached_points(
    seen: HeightMap, skin: Skin, tips: Singles, tool: Tool, among: Flags | None = None
) -> Flags:
    """Which points of a skin the tool reaches.

    Parameters
    ----------
    seen : HeightMap [m]
        The part.
    skin : Skin [m]
        Of the same part.
    tips : (ny, nx) [m]
        Where the tool's tip may go: `lowest_tips`.
    tool : Tool [m]
        The tool.
    among : (n,) or None [-]
        Points that may be reached at all, such as `seen_points`; None looks at every one.

    Returns
    -------
    reached : (n,) [-]
    """
    spots = _off(seen, skin)
    removed = np.zeros(len(spots), dtype=np.bool_)
    asked = np.arange(len(spots)) if among is None else np.nonzero(among)[0]
    guesses = (tool.radius - tool.corner - seen.cell) * skin.normals[:, :2]

    def work(which: NDArray[np.int64]) -> None:
        mark_removed(
            spots,
            seen.start,
            seen.cell,
            tips,
            tool.radius,
            tool.corner,
            guesses,
            asked[which],
            removed,
        )

    spread(work, len(asked), len(asked))
    return removed


def _off(seen: HeightMap, skin: Skin) -> Floats:
    spots = skin.points + TOLD * seen.cell * skin.normals
    return np.asarray(spots * [1.0, 1.0, float(seen.side)])
