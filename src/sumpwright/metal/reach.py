# SPDX-License-Identifier: Apache-2.0
"""What a milling cutter reaches of a part, straight down in one set-up, and what it does not.

The part is seen along the spindle as heights H over a square grid. A cutter whose underside rises
by p(d) at the distance d from its axis may bring its tip down to T = max over the cells it covers
of H - p, and no lower; its holder lets it down no further than the highest metal under the holder
less the cutter's reach. What it takes off is all above T + p. A point of the skin is reached where
the spot just off it, by `TOLD` cells along its normal, is taken off. So metal left thinner than
about a cell is not told apart, nor whether a cutter digs in by less: `grid_error` says how much.
Clamps, and the block round the part, are not looked at; a cutter may run out past the part's edge.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import run_in_threads
from sumpwright.geometry.mesh import Mesh
from sumpwright.metal.reach_kernel import draw_heights, lift_flat, lift_rim

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

TOLD = 0.8
"""Cells off the skin at which a point is looked at: more than half a cell's diagonal, 0.71."""
SLIMMER = 1.5
"""Cells by which a cutter may be taken to be slimmer than it is, depending on how the grid lies."""
COARSE = 4
"""Cells of a side of the coarser grid that holders are looked at on, taken on the safe side."""
BELOW = 0.002
"""m; how far under the part's lowest point a cutter may run out past its edge."""
THREADED = 20_000
"""Cells or points from which threads repay being started."""


@dataclass(frozen=True)
class Tool:
    """An end mill in its holder. SI."""

    radius: float
    corner: float = 0.0
    """Of its corner; the radius makes it a ball"""
    reach: float = math.inf
    """How far it stands out of the holder"""
    holder: float | None = None
    """Radius of the holder; None clears everything"""


@dataclass(frozen=True, eq=False)
class HeightMap:
    """A part seen along the spindle."""

    heights: Singles
    """(ny, nx) [m] highest metal over each cell, along the spindle"""
    start: Floats
    """(2,) [m] x and y of the first cell's middle"""
    cell: float
    """m"""
    side: int
    """1 where the spindle stands over the part, -1 where it stands under it: heights are then -z"""


def height_map(mesh: Mesh, side: int, *, cell: float, margin: float) -> HeightMap:
    """Heights of a part along the spindle.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed.
    side : int [-]
        1 seen from above, -1 seen from below.
    cell : float [m]
        Side of a cell.
    margin : float [m]
        Room round the part: at least the largest tool's radius.

    Returns
    -------
    map : HeightMap [m]
    """
    low, high = mesh.bounds[:, :2]
    start = low - margin
    nx, ny = (np.ceil((high + margin - start) / cell).astype(int) + 1).tolist()
    corners = np.array(mesh.corners)
    corners[..., 2] *= side
    floor = float(corners[..., 2].min()) - BELOW
    heights = np.full((ny, nx), floor - margin, dtype=np.float32)
    draw_heights(corners, start, cell, heights)
    return HeightMap(heights, start, cell, side)


def lowest_tips(seen: HeightMap, tool: Tool, free: Singles | None = None) -> Singles:
    """Lowest height of the tool's tip over each cell, along the spindle [m].

    Parameters
    ----------
    seen : HeightMap [m]
        The part.
    tool : Tool [m]
        In its holder.
    free : (ny, nx) or None [m]
        `free_tips` of the same, where they are there already.

    Returns
    -------
    tips : (ny, nx) [m]
    """
    tips = free_tips(seen, tool) if free is None else free
    if tool.holder is None or not math.isfinite(tool.reach):
        return tips
    return np.asarray(np.maximum(tips, _holder(seen, tool.holder) - np.float32(tool.reach)))


def free_tips(seen: HeightMap, tool: Tool) -> Singles:
    """As `lowest_tips`, with the holder left out.

    Parameters
    ----------
    seen : HeightMap [m]
        The part.
    tool : Tool [m]
        Its radius and corner.

    Returns
    -------
    tips : (ny, nx) [m]
    """
    # Half a cell less: else the grid alone keeps a cutter off a wall by more than `TOLD`.
    radius, flat = tool.radius - 0.5 * seen.cell, tool.radius - tool.corner
    tips = _flattened(seen.heights, min(radius, flat) / seen.cell)
    steps, away = _disc(radius / seen.cell)
    rim = away * seen.cell > flat
    if rim.any():
        out = away[rim] * seen.cell - flat
        lifts = (tool.corner - np.sqrt(np.maximum(tool.corner**2 - out**2, 0.0))).astype(np.float32)
        around = np.ascontiguousarray(steps[rim])
        spread(lambda rows: lift_rim(seen.heights, around, lifts, rows, tips), len(tips), tips.size)
    return tips


def _holder(seen: HeightMap, radius: float) -> Singles:
    """Highest metal under the holder, from blocks of cells."""
    ny, nx = seen.heights.shape
    rows, columns = -(-ny // COARSE), -(-nx // COARSE)
    padded = np.full((rows * COARSE, columns * COARSE), seen.heights.min(), dtype=np.float32)
    padded[:ny, :nx] = seen.heights
    blocks = padded.reshape(rows, COARSE, columns, COARSE).max(axis=(1, 3))
    lifted = _flattened(blocks, radius / (COARSE * seen.cell))
    return np.asarray(lifted.repeat(COARSE, axis=0).repeat(COARSE, axis=1)[:ny, :nx])


def _flattened(heights: Singles, cells: float) -> Singles:
    """Highest cell within a distance of each, in cells."""
    reach = max(int(cells), 0)
    high = np.pad(heights, reach, constant_values=heights.min())
    across = np.arange(-reach, reach + 1)
    halves = np.sqrt(np.maximum(max(cells, 0.0) ** 2 - across**2, 0.0)).astype(np.int64)
    levels = np.log2(2 * halves + 1 + 0.5).astype(np.int64)
    spans = [high]
    for level in range(int(levels.max())):
        step, before = 1 << level, spans[-1]
        longer = before.copy()
        longer[:, :-step] = np.maximum(before[:, :-step], before[:, step:])
        spans.append(longer)
    tips = np.full(high.shape, -np.inf, dtype=np.float32)
    table = np.stack(spans)
    spread(lambda k: lift_flat(table, halves, levels, k + reach, tips), len(heights), tips.size)
    inner = slice(reach, -reach or None)
    return np.ascontiguousarray(tips[inner, inner])


def spread(work: Callable[[NDArray[np.int64]], None], count: int, size: int) -> None:
    """`work` over item numbers, in threads where it is large enough to repay starting them.

    Parameters
    ----------
    work : function [-]
        Takes an array of item numbers.
    count : int [-]
        Number of items.
    size : int [-]
        Cells or points to be worked on in all.
    """
    if size >= THREADED:
        run_in_threads(work, count)
    elif count:
        work(np.arange(count))


def _disc(cells: float) -> tuple[NDArray[np.int64], Floats]:
    """Steps to the cells within a distance, and how far each is, in cells."""
    reach = max(int(cells), 0)
    one = np.arange(-reach, reach + 1)
    steps = np.stack(np.meshgrid(one, one, indexing="ij"), axis=-1).reshape(-1, 2)
    away = np.hypot(steps[:, 0], steps[:, 1])
    kept = away <= max(cells, 0.0)
    return steps[kept], away[kept]


def grid_error(cell: float) -> float:
    """Metal left, or dug into, that is not told apart on a grid [m].

    Parameters
    ----------
    cell : float [m]
        Side of a cell.

    Returns
    -------
    error : float [m]
        The look off the skin, and up to a cell and a half that a cutter is taken to be slimmer, so
        that no wall is said to be missed which is not.
    """
    return (TOLD + SLIMMER) * cell
