# SPDX-License-Identifier: Apache-2.0
"""Whether a torch gets at a weld that runs level round a pan, under what stands out over it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.metal.reach import HeightMap

Floats = NDArray[np.float64]

LOOK = 0.12
"""m; how far out from the weld metal is looked for: about a torch with a hand behind it."""
OFF = 0.004
"""m; metal nearer to the weld than this is its own edge: the cup stands off by more."""
FAN = (0.0, -0.35, 0.35, -0.7, 0.7)
"""rad; ways out from the weld that a torch may come in by, left and right of square."""
LEAN = np.pi / 4.0
"""rad; most that a torch leans up or down from square. Common practice, no source."""
CONE = np.radians(20.0)
"""rad; half angle of the cone a torch and its cup need. Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Access:
    """Room for a torch at points along a weld."""

    points: Floats
    """(n, 2) [m]"""
    over: Floats
    """(n,) [rad] free above level, along the widest way in"""
    under: Floats
    """(n,) [rad] free below level"""
    near: Floats
    """(n,) [m] distance to the metal that leaves least room above; inf where there is none"""

    @property
    def cone(self) -> Floats:
        """(n,) [rad] half angle of the largest free cone that leans no further than `LEAN`."""
        middle = np.clip(0.5 * (self.over - self.under), -LEAN, LEAN)
        return np.asarray(np.minimum(self.over - middle, self.under + middle))


def weld_points(outline: ArrayLike, *, each: float) -> tuple[Floats, Floats]:
    """Points along a closed outline and the way square out from it.

    Parameters
    ----------
    outline : (k, 2) [m]
        Solid on the left.
    each : float [m]
        Between points, about.

    Returns
    -------
    points, out : (n, 2) [m], (n, 2) [-]
    """
    corners = np.asarray(outline, dtype=float)
    side = np.roll(corners, -1, axis=0) - corners
    length = np.linalg.norm(side, axis=1)
    ends = np.cumsum(length)
    count = max(int(ends[-1] / each), 8)
    along = ends[-1] * (np.arange(count) + 0.5) / count
    k = np.minimum(np.searchsorted(ends, along), len(side) - 1)
    share = 1.0 - (ends[k] - along) / length[k]
    unit = side[k] / length[k, None]
    return corners[k] + share[:, None] * side[k], np.stack([unit[:, 1], -unit[:, 0]], axis=1)


def weld_access(
    upper: HeightMap, lower: HeightMap, points: Floats, out: Floats, height: float
) -> Access:
    """Room for a torch along a level weld.

    Parameters
    ----------
    upper : HeightMap [m]
        The upper half seen from below.
    lower : HeightMap [m]
        The lower half seen from above.
    points : (n, 2) [m]
        Along the weld.
    out : (n, 2) [-]
        Square out from it.
    height : float [m]
        Of the weld.

    Returns
    -------
    access : Access
    """
    best = Access(points, *(np.full(len(points), f) for f in (-0.5 * np.pi, 0.0, 0.0)))
    away = np.arange(OFF, LOOK, min(upper.cell, lower.cell))
    for turn in FAN:
        cos, sin = np.cos(turn), np.sin(turn)
        way = out @ np.array([[cos, sin], [-sin, cos]])
        spots = points[:, None] + away[None, :, None] * way[:, None]
        rise = np.arctan2(_surface(upper, spots) - height, away)
        fall = np.arctan2(height - _surface(lower, spots), away)
        least = rise.argmin(axis=1)
        over = rise[np.arange(len(points)), least]
        slant = away[least] / np.maximum(np.cos(over), 1e-9)
        near = np.where(over < 0.5 * np.pi - 1e-6, slant, np.inf)
        best = _wider(best, Access(points, over, fall.min(axis=1), near))
    return best


def _wider(one: Access, other: Access) -> Access:
    """The way in with the wider cone, point by point."""
    pick = other.cone > one.cone
    fields = ((one.over, other.over), (one.under, other.under), (one.near, other.near))
    return Access(one.points, *(np.where(pick, b, a) for a, b in fields))


def _surface(seen: HeightMap, spots: Floats) -> Floats:
    """Height of the metal at places, far away where there is none [m]."""
    ny, nx = seen.heights.shape
    k = np.round((spots - seen.start) / seen.cell).astype(int)
    i, j = k[..., 0], k[..., 1]
    inside = (i >= 0) & (i < nx) & (j >= 0) & (j < ny)
    empty = seen.heights.min()
    found = np.where(inside, seen.heights[np.clip(j, 0, ny - 1), np.clip(i, 0, nx - 1)], empty)
    far = np.where(found <= empty, -np.inf, found)
    return np.asarray(seen.side * far, dtype=float)
