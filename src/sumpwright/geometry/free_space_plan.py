# SPDX-License-Identifier: Apache-2.0
"""What the rail leaves open, seen from above: the opening, and the opening swept to the sides."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.free_space_grid import Field, Grid
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.region import Region, outlines_of, region_of

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Growth:
    """How far the inside may go beyond the opening [m], engine frame."""

    left: float = 0.0
    right: float = 0.0
    front: float = 0.0
    rear: float = 0.0

    @property
    def most(self) -> float:
        """The largest of the four."""
        return max(self.left, self.right, self.front, self.rear)


def flat_top(cavity: Mesh, slack: float) -> Region:
    """The region of a body's level top, seen from above.

    Parameters
    ----------
    cavity : Mesh [m]
        Closed.
    slack : float [m]
        Below its highest point that still belongs to the top.

    Returns
    -------
    region : Region [mm]
        Empty where the body has no level top.
    """
    high = cavity.corners[:, :, 2].min(axis=1) >= cavity.bounds[1, 2] - slack
    return region_of(cavity.corners[high][:, :, :2])


def swept(opening: Region, growth: Growth) -> Region:
    """The opening moved by every step of `growth`, sideways and then along.

    Parameters
    ----------
    opening : Region [mm]
        Of the rail.
    growth : Growth [m]
        To each side.

    Returns
    -------
    region : Region [mm]
    """
    across = _moved_along(opening, (0.0, -growth.right), (0.0, growth.left))
    return _moved_along(across, (-growth.rear, 0.0), (growth.front, 0.0))


def _moved_along(region: Region, start: tuple[float, float], end: tuple[float, float]) -> Region:
    """All that a region covers on its way from one shift to another."""
    if start == end:
        return region
    a, b = np.array(start), np.array(end)
    pieces = [loop + shift for loop in outlines_of(region) for shift in (a, b)]
    for loop in outlines_of(region):
        after = np.roll(loop, -1, axis=0)
        for p, q in zip(loop, after, strict=True):
            quad = np.array([p + a, q + a, q + b, p + b])
            turn = np.cross(np.append(quad[1] - quad[0], 0.0), np.append(quad[2] - quad[1], 0.0))
            pieces.append(quad if turn[2] > 0.0 else quad[::-1])
    holes = [p for p in pieces if _area(p) < 0.0]
    whole = region_of([p for p in pieces if _area(p) > 0.0])
    # a hole is only left where no position of the region covers it: the moved holes' overlap
    return whole if not holes else _with_holes(region, whole, a, b)


def _with_holes(region: Region, whole: Region, a: Floats, b: Floats) -> Region:
    for loop in outlines_of(region):
        if _area(loop) < 0.0:
            hole = region_of([loop[::-1] + a]) ^ region_of([loop[::-1] + b])
            whole = whole - hole
    return whole


def _area(loop: Floats) -> float:
    after = np.roll(loop, -1, axis=0)
    return 0.5 * float((loop[:, 0] * after[:, 1] - after[:, 0] * loop[:, 1]).sum())


def depth_in(region: Region, grid: Grid) -> Floats:
    """How far each column of the grid stands inside a region.

    Parameters
    ----------
    region : Region [mm]
        Not empty.
    grid : Grid [m]
        Of which x and y count.

    Returns
    -------
    depth : (nx, ny) [m]
        Distance to the region's edge, negative outside.
    """
    loops = outlines_of(region)
    start = np.concatenate(loops)
    side = np.concatenate([np.roll(loop, -1, axis=0) for loop in loops]) - start
    x, y, _ = grid.axes
    least = np.full((len(x), len(y)), np.inf)
    within = np.zeros((len(x), len(y)), dtype=bool)
    for (ax, ay), (sx, sy) in zip(start, side, strict=True):
        dx, dy = (x - ax)[:, None], (y - ay)[None, :]
        t = np.clip((dx * sx + dy * sy) / max(sx * sx + sy * sy, 1e-300), 0.0, 1.0)
        np.minimum(least, (dx - t * sx) ** 2 + (dy - t * sy) ** 2, out=least)
        row = (y > min(ay, ay + sy)) & (y <= max(ay, ay + sy))
        if row.any():
            cross = ax + (y[row] - ay) * sx / sy
            within[:, row] ^= x[:, None] < cross
    edge = np.sqrt(least)
    return np.asarray(np.where(within, edge, -edge))


def plan_parts(
    opening: Floats, allowed: Floats, grid: Grid, *, flange: float
) -> tuple[Field, Field]:
    """How far each point is inside what the rail leaves open, by two limits.

    Inside the opening at any height; outside it, as far as allowed, only below the flange.

    Parameters
    ----------
    opening : (nx, ny) [m]
        Depth in the opening, by `depth_in`.
    allowed : (nx, ny) [m]
        Depth in the opening and all that may be beside it.
    grid : Grid [m]
        The points.
    flange : float [m]
        Below the rail; from there down the space may go beyond the opening.

    Returns
    -------
    beside : (nx, ny, nz) [m]
        Distance to the nearest place outside the opening and over the flange; negative in one.
    within : (nx, ny, nz) [m]
        Distance to the nearest column that is not allowed; negative in one.
    """
    z = grid.axes[2][None, None, :]
    o, under = opening[:, :, None], -flange - z
    free = np.hypot(np.maximum(o, 0.0), np.maximum(under, 0.0))
    beside = np.where((o < 0.0) & (under < 0.0), np.maximum(o, under), free)
    within = np.broadcast_to(allowed[:, :, None], grid.shape)
    return beside.astype(np.float32), within.astype(np.float32)
