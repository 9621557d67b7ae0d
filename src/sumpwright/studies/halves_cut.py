# SPDX-License-Identifier: Apache-2.0
"""A pan's metal parted at a height, as triangles, and the ring of wall that shows there."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.section import cut_plane, outline_area, section_outlines
from sumpwright.geometry.solid import mesh_of
from sumpwright.metal.weld_access import weld_points

Floats = NDArray[np.float64]

EACH = 0.004
"""m; between points along the weld."""
THICK = 2.2
"""Times the middle wall, from which metal at the split is a boss or a floor, not a wall."""


@dataclass(frozen=True, eq=False)
class MeshCut:
    """Two halves and the outlines between them."""

    height: float
    upper: Mesh
    lower: Mesh
    pieces: tuple[int, int]
    """Bodies that the upper and the lower half fall into"""
    outlines: tuple[Floats, ...]
    """(k, 2) [m] of the cut; metal on the left"""

    @cached_property
    def outer(self) -> tuple[Floats, ...]:
        """Outlines round metal, the longest first."""
        found = [o for o in self.outlines if outline_area([o]) > 0.0]
        return tuple(sorted(found, key=lambda o: -length_of(o)))

    @cached_property
    def ring(self) -> bool:
        """Whether two whole halves meet in one closed ring."""
        return self.pieces == (1, 1) and len(self.outer) == 1 and len(self.outlines) == 2

    @property
    def weld(self) -> float:
        """Length of the outer outlines [m]."""
        return sum(length_of(o) for o in self.outer)

    @cached_property
    def points(self) -> tuple[Floats, Floats]:
        """(n, 2) points along the longest outer outline [m], and the way out from it."""
        return weld_points(self.outer[0], each=EACH)

    @cached_property
    def wall(self) -> Floats:
        """(n,) [m] from each of the points to the nearest inner outline."""
        inner = [o for o in self.outlines if outline_area([o]) <= 0.0]
        if not inner:
            return np.full(len(self.points[0]), np.inf)
        return np.asarray(np.min([_away(self.points[0], o) for o in inner], axis=0))

    def said(self) -> str:
        """Why there is no ring, as the end of a sentence."""
        upper, lower = self.pieces
        if upper != 1 or lower != 1:
            return f"leaves {upper} pieces above and {lower} below"
        spot = self.outlines[-1].mean(axis=0) * 1e3
        place = f"x {spot[0]:.0f} mm, y {spot[1]:.0f} mm"
        if len(self.outer) > 1:
            spot = self.outer[-1].mean(axis=0) * 1e3
            place = f"x {spot[0]:.0f} mm, y {spot[1]:.0f} mm"
            return f"goes through metal that stands alone, such as a boss, at {place}"
        if len(self.outlines) < 2:
            return "meets no closed wall: a hole or a port interrupts it"
        holes = [o for o in self.outlines if outline_area([o]) <= 0.0]
        spot = min(holes, key=length_of).mean(axis=0) * 1e3
        place = f"x {spot[0]:.0f} mm, y {spot[1]:.0f} mm"
        return f"goes through a boss with a hole, or two wells, at {place}"


def cut_at(metal: Any, mesh: Mesh, height: float) -> MeshCut:
    """The metal, as the boolean library's body and as a mesh, parted at `height` [m]."""
    above, below = metal.split_by_plane([0.0, 0.0, 1.0], height)
    plane = cut_plane(origin=(0.0, 0.0, height), normal=(0.0, 0.0, 1.0), across=(1.0, 0.0, 0.0))
    return MeshCut(
        height=height,
        upper=mesh_of(above),
        lower=mesh_of(below),
        pieces=(len(above.decompose()), len(below.decompose())),
        outlines=tuple(section_outlines(mesh, plane)),
    )


def length_of(outline: Floats) -> float:
    """All round [m]."""
    return float(np.linalg.norm(np.roll(outline, -1, axis=0) - outline, axis=1).sum())


def section_area(mesh: Mesh, axis: int, at: float) -> float:
    """Metal in an upright cut square to x (0) or y (1) [m^2]."""
    origin, normal = np.zeros(3), np.zeros(3)
    origin[axis], normal[axis] = at, 1.0
    across = (0.0, 1.0, 0.0) if axis == 0 else (-1.0, 0.0, 0.0)
    outlines = section_outlines(mesh, cut_plane(origin=origin, normal=normal, across=across))
    return outline_area(outlines)


def _away(points: Floats, outline: Floats) -> Floats:
    """(n,) distance of points to a closed outline."""
    a, b = outline, np.roll(outline, -1, axis=0)
    way = b - a
    size = np.maximum((way**2).sum(axis=1), 1e-30)
    share = ((points[:, None] - a[None]) * way[None]).sum(axis=2) / size
    foot = a[None] + np.clip(share, 0.0, 1.0)[..., None] * way[None]
    return np.asarray(np.linalg.norm(points[:, None] - foot, axis=2).min(axis=1))
