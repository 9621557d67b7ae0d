# SPDX-License-Identifier: Apache-2.0
"""Litres of a free space by depth, and by how far it goes beyond the opening."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.free_space import Flags, Space, joined_to_rail
from sumpwright.geometry.free_space_grid import Field, Grid
from sumpwright.geometry.free_space_plan import Growth
from sumpwright.geometry.region import Region, outlines_of

Floats = NDArray[np.float64]
Spans = tuple[NDArray[np.int64], Floats, Floats]
"""Number of the line, and both ends of each span on it"""

SUB = 5
"""Lines a step on which the coverage of a cell is measured."""


@dataclass(frozen=True, eq=False)
class Footprint:
    """The opening over the cells of a grid, as it is and swept straight to the sides."""

    opening: Region
    grid: Grid

    def share(self, growth: Growth) -> Floats:
        """(nx, ny) share of each cell that is covered; corners between two sides stay out."""
        x, y, _ = self.grid.axes
        found = self._covered(self._across, len(x), y, growth.right, growth.left)
        if growth.front == growth.rear == 0.0:
            return found
        along = self._covered(self._along, len(y), x, growth.rear, growth.front)
        return np.maximum(found, along.T)

    @cached_property
    def _across(self) -> list[list[float]]:
        return self._crossings(self.grid.axes[0], outlines_of(self.opening))

    @cached_property
    def _along(self) -> list[list[float]]:
        turned = [loop[:, ::-1] for loop in outlines_of(self.opening)]
        return self._crossings(self.grid.axes[1], turned)

    def _crossings(self, middles: Floats, loops: list[Floats]) -> list[list[float]]:
        """For `SUB` lines in each row of cells, where they cross the outlines, in order."""
        start = np.concatenate(loops)
        side = np.concatenate([np.roll(loop, -1, axis=0) for loop in loops]) - start
        offsets = self.grid.step * ((np.arange(SUB) + 0.5) / SUB - 0.5)
        found = []
        for line in (middles[:, None] + offsets).ravel():
            hit = (start[:, 0] > line) != (start[:, 0] + side[:, 0] > line)
            a, way = start[hit], side[hit]
            found.append(np.sort(a[:, 1] + (line - a[:, 0]) * way[:, 1] / way[:, 0]).tolist())
        return found

    def _covered(
        self, lines: list[list[float]], rows: int, y: Floats, back: float, ahead: float
    ) -> Floats:
        """(rows, ny) share covered by the spans on the lines, longer by back and ahead."""
        step = self.grid.step
        line, low, high = _spread(lines, back, ahead)
        ends = np.minimum(high[:, None], y + 0.5 * step) - np.maximum(low[:, None], y - 0.5 * step)
        share = np.zeros((rows, len(y)))
        np.add.at(share, line // SUB, np.maximum(ends, 0.0))
        return share / (step * SUB)


def _spread(lines: Sequence[Sequence[float]], back: float, ahead: float) -> Spans:
    """Spans between pairs of ends, longer by back and ahead, joined where they then meet."""
    number: list[int] = []
    spans: list[tuple[float, float]] = []
    for k, ends in enumerate(lines):
        for a, b in zip(ends[::2], ends[1::2], strict=True):
            a, b = a - back, b + ahead
            if number and number[-1] == k and a <= spans[-1][1]:
                spans[-1] = (spans[-1][0], b)
            else:
                number.append(k)
                spans.append((a, b))
    low, high = np.array(spans, dtype=float).reshape(-1, 2).T
    return np.array(number, dtype=np.int64), low, high


def volumes_to(
    space: Space, footprint: Footprint, growth: Growth | None, depths: ArrayLike
) -> Floats:
    """What a space holds down to several depths, grown so far beyond the opening and no further.

    Edges at the chosen floor and sides are taken as sharp: the cutter's rounding there is left
    out, 0.22 r^2 along each. Where no cutter gets in between floor and flange nothing counts.

    Parameters
    ----------
    space : Space [m]
        The largest.
    footprint : Footprint [m]
        Of its opening.
    growth : Growth or None [m]
        To left and right, or front and rear; None for as far as the space goes.
    depths : (n,) [m]
        Of the floor, below the rail.

    Returns
    -------
    volumes : (n,) [m^3]
    """
    middles, kept = space.centres, space.share[:, :, ::-1]
    if growth is not None:
        cover = footprint.share(growth).astype(np.float32)
        part = _box(cover > 0.0)
        inner = footprint.share(_less(growth, space.radius))[part] > 0.5
        middles = middles[part] & inner[:, :, None]
        kept = np.minimum(kept[part], cover[part][:, :, None])
    heap = np.cumsum(kept, axis=2) * space.grid.step**3
    to = np.asarray(depths, dtype=float).tolist()
    return np.array([_to_depth(space, heap, middles, depth) for depth in to])


def _box(flags: Flags) -> tuple[slice, slice]:
    """The part of a plan that holds all of `flags`."""
    rows, columns = (np.flatnonzero(flags.any(axis=axis)) for axis in (1, 0))
    return slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)


def _less(growth: Growth, by: float) -> Growth:
    """Where the ball's middle may go."""
    sides = (growth.left, growth.right, growth.front, growth.rear)
    return Growth(*(max(side - by, 0.0) for side in sides))


def _to_depth(space: Space, heap: Field, middles: Flags, depth: float) -> float:
    step = space.grid.step
    cells = depth / step
    whole = min(int(cells + 1e-9), heap.shape[2])
    columns = heap[:, :, whole - 1].copy() if whole > 0 else np.zeros(heap.shape[:2])
    if whole < heap.shape[2]:
        above = heap[:, :, whole - 1] if whole > 0 else 0.0
        columns += np.float32(cells - whole) * (heap[:, :, whole] - above)
    return float(columns[_reached(space, middles, depth)].sum(dtype=np.float64))


def _reached(space: Space, middles: Flags, depth: float) -> Flags:
    """(nx, ny) columns that a ball touches whose middle comes down from the opening."""
    from scipy.ndimage import distance_transform_edt

    grid = space.grid
    deep = grid.axes[2] >= space.radius - depth - 0.5 * grid.step
    middles = middles & deep
    joined = joined_to_rail(_pooled(middles), grid.halved).any(axis=2)
    shape = middles.shape[:2]
    if not joined.any():
        return np.zeros(shape, dtype=bool)
    full = np.repeat(np.repeat(joined, 2, axis=0), 2, axis=1)[: shape[0], : shape[1]]
    full &= middles.any(axis=2)
    return np.asarray(distance_transform_edt(~full) * grid.step <= space.radius + grid.step)


def _pooled(flags: Flags) -> Flags:
    """Whether any of each eight neighbours is set."""
    padded = np.pad(flags, [(0, n % 2) for n in flags.shape])
    nx, ny, nz = padded.shape
    return np.asarray(padded.reshape(nx // 2, 2, ny // 2, 2, nz // 2, 2).any(axis=(1, 3, 5)))


def lost_to(room: Field, margin: Field, grid: Grid) -> tuple[float, Floats | None]:
    """What a limit alone takes of a room, and the middle of that.

    Parameters
    ----------
    room : (nx, ny, nz) [m]
        Depth of each point in the room.
    margin : (nx, ny, nz) [m]
        Distance of each point to what is not allowed, negative in it.
    grid : Grid [m]
        The points.

    Returns
    -------
    volume : float [m^3]
        Below the rail.
    middle : (3,) or None [m]
    """
    below = grid.axes[2] < 0.0
    step = np.float32(grid.step)
    have = np.clip(0.5 + room[:, :, below] / step, 0.0, 1.0)
    left = np.clip(0.5 + margin[:, :, below] / step, 0.0, 1.0)
    lost = have - np.minimum(have, left)
    index = np.argwhere(lost > 0.0)
    if not len(index):
        return 0.0, None
    amount = lost[tuple(index.T)].astype(float)
    middle = grid.places(amount @ index / amount.sum())
    return float(amount.sum() * grid.step**3), middle
