# SPDX-License-Identifier: Apache-2.0
"""A grid of points, and how far each is from coming too near a body of the car.

Distances are exact, to the body's triangles, and are asked for only near the limit: blocks of
points whose middle is far enough on either side are settled at once. Which side of the skin a
point is on is asked only where no point of a coarser block has already said it.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.inside import SkinTree

Floats = NDArray[np.float64]
Field = NDArray[np.float32]
Ints = NDArray[np.int64]
Sides = NDArray[np.int8]

BLOCK = 8
"""Points along the edge of the largest block."""
SURE = 1e-6
"""m by which a skin must be farther than a place for both ends to be on the same side of it."""


@dataclass(frozen=True, eq=False)
class Grid:
    """Points at equal steps, engine frame; z = 0 lies midway between two of them."""

    origin: Floats
    """(3,) [m] the first point"""
    step: float
    """[m]"""
    shape: tuple[int, int, int]

    @property
    def axes(self) -> tuple[Floats, Floats, Floats]:
        """x, y and z of the points [m]."""
        x, y, z = (self.origin[k] + self.step * np.arange(self.shape[k]) for k in range(3))
        return x, y, z

    @property
    def halved(self) -> "Grid":
        """Every second point, the first included."""
        nx, ny, nz = ((n + 1) // 2 for n in self.shape)
        return Grid(self.origin, 2.0 * self.step, (nx, ny, nz))

    def places(self, index: ArrayLike) -> Floats:
        """(..., 3) [m] of points, or places between them, by number along each axis."""
        return np.asarray(self.origin + self.step * np.asarray(index, dtype=float))


def grid_round(low: ArrayLike, high: ArrayLike, step: float) -> Grid:
    """A grid that covers a box with a step to spare all round.

    Parameters
    ----------
    low : (3,) [m]
        Corner of the smallest coordinates.
    high : (3,) [m]
        Corner of the largest.
    step : float [m]
        Between points.

    Returns
    -------
    grid : Grid [m]
        With an odd number of points each way, so that every second one also ends at the ends.
    """
    first = (np.floor(np.asarray(low, dtype=float) / step) - 1.5) * step
    count = np.ceil((np.asarray(high, dtype=float) - first) / step).astype(int) + 2
    nx, ny, nz = (int(n) + 1 - int(n) % 2 for n in count)
    return Grid(first, step, (nx, ny, nz))


def margin_to(
    grid: Grid, body: SkinTree, rotation: ArrayLike, shift: ArrayLike, *, gap: float, far: float
) -> Field:
    """How much further than `gap` each point of the grid is from a body.

    Parameters
    ----------
    grid : Grid [m]
        In the engine's frame.
    body : SkinTree [m]
        A closed body in the car's frame.
    rotation : (3, 3) [-]
        Takes the engine's frame to the car's.
    shift : (3,) [m]
        Added after turning.
    gap : float [m]
        To be kept from the body.
    far : float [m]
        Larger margins are cut off there, and those under two steps below nought.

    Returns
    -------
    margin : (nx, ny, nz) [m]
        Signed distance to the body less `gap`, exact where it is not cut off.
    """
    turn, move = np.asarray(rotation, dtype=float), np.asarray(shift, dtype=float)
    padded = [BLOCK * -(-n // BLOCK) for n in grid.shape]
    found = np.full(padded, far, dtype=np.float32)

    def ask(middles: Floats, spare: float, sides: Sides) -> Floats:
        places = grid.places(middles) @ turn.T + move
        low = gap - 2.0 * grid.step - spare
        return _distances(body, places, sides, low=low, far=gap + far + spare)

    starts = np.stack(np.meshgrid(*(np.arange(0, n, BLOCK) for n in padded), indexing="ij"), -1)
    _settle(found, starts.reshape(-1, 3), grid.step, gap, far, ask)
    nx, ny, nz = grid.shape
    return np.ascontiguousarray(found[:nx, :ny, :nz])


def _settle(
    found: Field,
    starts: Ints,
    step: float,
    gap: float,
    far: float,
    ask: Callable[[Floats, float, Sides], Floats],
) -> None:
    """Fill `found` block by block; what the block's middle cannot settle goes in eight."""
    size, sides = BLOCK, np.zeros(len(starts), dtype=np.int8)
    while len(starts):
        spare = 0.5 * np.sqrt(3.0) * (size - 1) * step
        distance = ask((starts + 0.5 * (size - 1)).astype(float), spare, sides)
        margin = distance - gap
        if size == 1:
            found[tuple(starts.T)] = np.clip(margin, -2.0 * step, far)
            return
        buried = margin + spare <= -2.0 * step
        for i, j, k in starts[buried]:
            found[i : i + size, j : j + size, k : k + size] = -2.0 * step
        goes_on = ~buried & (margin - spare < far)
        # the middles of the eight lie so far off: no skin between means the same side of it
        off = 0.25 * np.sqrt(3.0) * size * step
        sides = np.where(np.abs(distance) > off + SURE, np.sign(distance), 0.0).astype(np.int8)
        sides = np.repeat(sides[goes_on], 8)
        size //= 2
        corner = size * np.stack(np.meshgrid(*[[0, 1]] * 3, indexing="ij"), -1).reshape(-1, 3)
        starts = (starts[goes_on][:, None] + corner).reshape(-1, 3)


def _distances(body: SkinTree, places: Floats, sides: Sides, *, low: float, far: float) -> Floats:
    """Signed distances of places; `far` where the box round the body already says so.

    Places under `low` are buried on whichever side of the skin: theirs is not asked, nor where
    `sides` has it (1 outside, -1 inside, 0 not known).
    """
    least, most = body.mesh.bounds
    off = np.maximum(np.maximum(least - places, places - most), 0.0)
    near = np.flatnonzero(np.linalg.norm(off, axis=1) < far)
    found = np.full(len(places), far)
    if len(near):
        distance, _ = body.nearest(places[near])
        side = sides[near].astype(float)
        unsure = np.flatnonzero((side == 0.0) & (distance > low))
        if len(unsure):
            side[unsure] = np.where(body.encloses(places[near[unsure]]), -1.0, 1.0)
        found[near] = np.where(distance > low, side, 1.0) * distance
    return found
