# SPDX-License-Identifier: Apache-2.0
"""A grid of points, and how far each is from coming too near a body of the car.

Distances are exact, to the body's triangles, and are asked for only near the limit: blocks of
points whose middle is far enough on either side are settled at once.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.inside import SkinTree

Floats = NDArray[np.float64]
Field = NDArray[np.float32]
Ints = NDArray[np.int64]

BLOCK = 8
"""Points along the edge of the largest block."""


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

    def ask(middles: Floats, spare: float) -> Floats:
        places = grid.places(middles) @ turn.T + move
        return _margins(body, places, gap, low=-2.0 * grid.step - spare, far=far + spare)

    starts = np.stack(np.meshgrid(*(np.arange(0, n, BLOCK) for n in padded), indexing="ij"), -1)
    _settle(found, starts.reshape(-1, 3), BLOCK, grid.step, far, ask)
    nx, ny, nz = grid.shape
    return np.ascontiguousarray(found[:nx, :ny, :nz])


def _settle(
    found: Field,
    starts: Ints,
    size: int,
    step: float,
    far: float,
    ask: Callable[[Floats, float], Floats],
) -> None:
    """Fill `found` block by block; what the block's middle cannot settle goes in eight."""
    while len(starts):
        spare = 0.5 * np.sqrt(3.0) * (size - 1) * step
        margin = ask((starts + 0.5 * (size - 1)).astype(float), spare)
        if size == 1:
            found[tuple(starts.T)] = np.clip(margin, -2.0 * step, far)
            return
        buried = margin + spare <= -2.0 * step
        for i, j, k in starts[buried]:
            found[i : i + size, j : j + size, k : k + size] = -2.0 * step
        size //= 2
        corner = size * np.stack(np.meshgrid(*[[0, 1]] * 3, indexing="ij"), -1).reshape(-1, 3)
        open_ones = starts[~buried & (margin - spare < far)]
        starts = (open_ones[:, None] + corner).reshape(-1, 3)


def _margins(body: SkinTree, places: Floats, gap: float, *, low: float, far: float) -> Floats:
    """Margins of places; `far` where the box round the body already says so.

    Places under `low` are buried on whichever side of the skin: theirs is not asked.
    """
    least, most = body.mesh.bounds
    off = np.maximum(np.maximum(least - places, places - most), 0.0)
    near = np.linalg.norm(off, axis=1) - gap < far
    margin = np.full(len(places), far)
    if near.any():
        distance, _ = body.nearest(places[near])
        unsure = distance - gap > low
        distance[unsure] *= np.where(body.encloses(places[near][unsure]), -1.0, 1.0)
        margin[near] = distance - gap
    return margin
