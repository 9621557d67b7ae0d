# SPDX-License-Identifier: Apache-2.0
"""What the shop's cutters reach of a half, from the split face and from the other side."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from sumpwright.geometry.mesh import Mesh
from sumpwright.job.shop import Cutter
from sumpwright.metal.reach import (
    HeightMap,
    Tool,
    free_tips,
    grid_error,
    height_map,
    lowest_tips,
)
from sumpwright.metal.reach_skin import Skin, reached_points, seen_points, skin_points
from sumpwright.studies.halves_body import Drilled
from sumpwright.studies.halves_result import CAUSES, CutterReach, MissedPlace, Reach, Spot

Flags = NDArray[np.bool_]

MOST_CELLS = 700_000
"""Of a grid: half a millimetre on a pan of 500 by 340 mm."""
FINE = 5e-4
COARSE = 1.5e-3
"""m; cells of the answer, and of the heights that are looked at for a proposal."""
UPRIGHT = 0.7
"""Part of a normal along the spindle under which a face is a wall, not a floor."""
LUMP = 0.012
"""m; unreached points nearer to each other belong to one place."""
MOST_SPOTS, MOST_PLACES = 1500, 12
SIDES = (1, -1)
TURNS = {
    "left": ((1, 0, 0), (0, 0, -1), (0, 1, 0)),
    "right": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "front": ((0, 1, 0), (0, 0, 1), (1, 0, 0)),
    "rear": ((0, -1, 0), (0, 0, 1), (-1, 0, 0)),
}
"""Rotations that bring a side up under the spindle."""


@dataclass(frozen=True, eq=False)
class View:
    """A half on the mill: turned, and seen along the spindle."""

    seen: HeightMap
    turn: NDArray[np.float64]
    """(3, 3) from the engine frame"""


@dataclass(frozen=True, eq=False)
class Missed:
    """The raw answer: points of a skin, and which of them cutters reach."""

    skin: Skin
    cell: float
    seen: Flags
    """(n,) in one set-up or another"""
    reached: Flags
    """(c, n) by each cutter, in one set-up or another"""
    unheld: Flags
    """(n,) by any cutter if no holder were in the way"""
    drilled: Flags
    """(n,) on the wall of a hole that a drill makes"""

    @property
    def missed(self) -> Flags:
        """(n,) by no cutter."""
        return np.asarray(~self.reached.any(axis=0) & ~self.drilled)

    @property
    def area(self) -> float:
        """That no cutter reaches [m^2]."""
        return float(self.missed.sum()) * self.skin.share

    @property
    def causes(self) -> NDArray[np.int64]:
        """(n,) number in `CAUSES` of each missed point's, -1 of the others."""
        wall = np.abs(self.skin.normals[:, 2]) < UPRIGHT
        why = np.where(wall, CAUSES.index("corner"), CAUSES.index("floor"))
        why = np.where(self.unheld, CAUSES.index("too deep"), why)
        why = np.where(self.seen, why, CAUSES.index("undercut"))
        return np.where(self.missed, why, -1)


def tools_of(cutters: Sequence[Cutter]) -> tuple[Tool, ...]:
    """The job's cutters as the core takes them."""
    return tuple(
        Tool(
            radius=0.5 * c.diameter,
            corner=min(c.corner, 0.5 * c.diameter),
            reach=c.reach if c.holder is not None else math.inf,
            holder=None if c.holder is None else 0.5 * c.holder,
        )
        for c in cutters
    )


def views_of(
    mesh: Mesh, tools: Sequence[Tool], cell: float, setups: Sequence[str] = ()
) -> tuple[View, ...]:
    """The half from above, from below and in further set-ups, with room for the largest tool."""
    margin = max(t.radius for t in tools) + 3.0 * cell
    upright = [View(height_map(mesh, s, cell=cell, margin=margin), np.eye(3)) for s in SIDES]
    turns = [np.array(TURNS[name], dtype=float) for name in dict.fromkeys(setups)]
    turned = (
        View(height_map(mesh.moved(turn, np.zeros(3)), 1, cell=cell, margin=margin), turn)
        for turn in turns
    )
    return (*upright, *turned)


def missed_of(
    mesh: Mesh,
    tools: Sequence[Tool],
    cell: float,
    views: Sequence[View],
    drilled: Sequence[Drilled] = (),
) -> Missed:
    """What the tools reach of a half; holes that are drilled are no business of theirs."""
    skin = skin_points(mesh, each=12.0 * cell**2)
    count = len(skin.points)
    seen = np.zeros(count, dtype=np.bool_)
    reached = np.zeros((len(tools), count), dtype=np.bool_)
    unheld = np.zeros(count, dtype=np.bool_)
    for view in views:
        lies = Skin(skin.points @ view.turn.T, skin.normals @ view.turn.T, skin.share)
        seen |= seen_points(view.seen, lies)
        open_to = seen_points(view.seen, lies, nearly=True)
        for k, tool in enumerate(tools):
            tips = free_tips(view.seen, tool)
            free = reached_points(view.seen, lies, tips, tool, open_to)
            unheld |= free
            if tool.holder is not None:
                held = lowest_tips(view.seen, tool, tips)
                free = reached_points(view.seen, lies, held, tool, free)
            reached[k] |= free
    holes = np.zeros(count, dtype=np.bool_)
    for hole in drilled:
        holes |= hole.holds(skin.points)
    return Missed(skin, cell, seen, reached, unheld, holes)


def cell_of(mesh: Mesh) -> float:
    """Side of a cell for the answer [m]: fine, or as fine as `MOST_CELLS` allow."""
    x, y, _ = np.ptp(mesh.bounds, axis=0)
    return max(FINE, math.sqrt(float(x * y) / MOST_CELLS))


def reach_of(found: Missed, cutters: Sequence[Cutter]) -> Reach:
    """The answer that people and the page see."""
    share = found.skin.share
    causes = found.causes
    asked = found.seen & ~found.drilled
    which = np.nonzero(causes >= 0)[0]
    step = max(-(-len(which) // MOST_SPOTS), 1)
    return Reach(
        area_m2=share * len(causes),
        cell_m=found.cell,
        error_m=grid_error(found.cell),
        missed_m2=found.area,
        causes_m2={c: share * float((causes == k).sum()) for k, c in enumerate(CAUSES)},
        cutters=tuple(
            CutterReach(c.name, share * float(r.sum()), share * float((asked & ~r).sum()))
            for c, r in zip(cutters, found.reached, strict=True)
        ),
        places=_places(found, causes),
        spots=tuple((*_spot(found.skin.points[k]), int(causes[k])) for k in which[::step].tolist()),
        spot_m2=share * step,
    )


def _places(found: Missed, causes: NDArray[np.int64]) -> tuple[MissedPlace, ...]:
    """Missed points of one cause that lie near each other, the largest places first."""
    places = []
    for k, cause in enumerate(CAUSES):
        points = found.skin.points[causes == k]
        if not len(points):
            continue
        spots = np.floor((points - points.min(axis=0)) / LUMP).astype(int)
        grid = np.zeros(spots.max(axis=0) + 1, dtype=bool)
        grid[tuple(spots.T)] = True
        lumps, count = ndimage.label(grid, structure=np.ones((3, 3, 3)))
        own = lumps[tuple(spots.T)]
        for lump in range(1, count + 1):
            inside = points[own == lump]
            area = found.skin.share * len(inside)
            places.append(MissedPlace(cause, area, _spot(_middle(inside))))
    return tuple(sorted(places, key=lambda p: -p.area_m2)[:MOST_PLACES])


def _middle(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """The point nearest to the mean: a place that runs round a pan has its mean in the air."""
    away = np.linalg.norm(points - points.mean(axis=0), axis=1)
    return np.asarray(points[int(away.argmin())])


def _spot(point: NDArray[np.float64]) -> Spot:
    x, y, z = (round(float(c), 5) for c in point)
    return x, y, z
