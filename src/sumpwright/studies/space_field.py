# SPDX-License-Identifier: Apache-2.0
"""How near every place below the rail comes to each obstacle in each case of movement; kept in
out/cache, because it takes seconds and most questions share it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.free_space_grid import Field, Grid, margin_to
from sumpwright.geometry.inside import SkinTree
from sumpwright.studies.bodies import ObstacleBody
from sumpwright.studies.cache import Entry, kept, mesh_key
from sumpwright.studies.clearance import Move

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Progress = Callable[[str, float], None]

FIELD = 1
"""Raise where what is kept changes."""
HALF = 1e-4
"""m; more than half precision loses of a margin"""


@dataclass(frozen=True, eq=False)
class Margins:
    """Margins to each obstacle in each case, on a grid."""

    grid: Grid
    obstacles: tuple[ObstacleBody, ...]
    moves: tuple[Move, ...]
    wall: float
    """Of the pan [m], kept beyond the gap that each obstacle needs"""
    far: float
    """Larger margins are cut off there [m]"""
    boxes: dict[str, NDArray[np.float16]]
    """Under ``obstacle-move``: the part of the grid that is nearer than `far`"""
    starts: dict[str, NDArray[np.int64]]

    def one(self, obstacle: int, move: int) -> Field:
        """(nx, ny, nz) [m] of one obstacle in one case."""
        return self._least([f"{obstacle}-{move}"])

    def all_moves(self, obstacle: int) -> Field:
        """(nx, ny, nz) [m] of one obstacle, the least over all cases."""
        return self._least([f"{obstacle}-{k}" for k in range(len(self.moves))])

    def _least(self, names: list[str]) -> Field:
        field = np.full(self.grid.shape, self.far, dtype=np.float32)
        for name in names:
            box, start = self.boxes[name], self.starts[name]
            part = tuple(slice(a, a + n) for a, n in zip(start, box.shape, strict=True))
            field[part] = np.minimum(field[part], box.astype(np.float32))
        return field

    def exact(self, points: Floats) -> Floats:
        """(n,) [m] least margin of engine-frame points (n, 3), by exact distances; `far` beyond."""
        least = np.full(len(points), self.far)
        index = np.rint((points - self.grid.origin) / self.grid.step).astype(np.int64)
        off_grid = np.linalg.norm(points - self.grid.places(index), axis=1)
        for i, obstacle in enumerate(self.obstacles):
            tree, gap = SkinTree(obstacle.mesh), gap_of(obstacle) + self.wall
            for k, move in enumerate(self.moves):
                places = points @ move.rotation.T + move.shift
                low, high = obstacle.mesh.bounds
                off = np.maximum(np.maximum(low - places, places - high), 0.0)
                near = np.flatnonzero(np.linalg.norm(off, axis=1) - gap < least)
                if not len(near):
                    continue
                distance, _ = tree.nearest(places[near])
                # outside, where the nearest point of the grid is and no skin can lie between
                known = self._at(i, k, index[near]) + gap > off_grid[near] + HALF
                ask = np.flatnonzero(~known)
                if len(ask):
                    distance[ask] *= np.where(tree.encloses(places[near[ask]]), -1.0, 1.0)
                least[near] = np.minimum(least[near], distance - gap)
        return least

    def _at(self, obstacle: int, move: int, index: Ints) -> Floats:
        """(n,) [m] of one obstacle in one case at points of the grid (n, 3), `far` beyond."""
        name = f"{obstacle}-{move}"
        box, found = self.boxes[name], np.full(len(index), self.far)
        spot = index - self.starts[name]
        within = ((spot >= 0) & (spot < box.shape)).all(axis=1)
        found[within] = box[tuple(spot[within].T)]
        return found


def gap_of(obstacle: ObstacleBody) -> float:
    """What is kept from an obstacle [m]; nothing where the job turned its requirement off."""
    return 0.0 if obstacle.needed is None else obstacle.needed


def margins_of(
    grid: Grid,
    obstacles: tuple[ObstacleBody, ...],
    moves: tuple[Move, ...],
    *,
    wall: float,
    far: float,
    folder: Path,
    progress: Progress,
) -> Margins:
    """Margins of every obstacle in every case, from the cache where they were asked before."""
    poses = tuple((m.rotation.tolist(), m.shift.tolist()) for m in moves)
    gaps = tuple(gap_of(o) for o in obstacles)
    spot = (grid.origin.tolist(), grid.step, grid.shape)
    key = mesh_key(*(o.mesh for o in obstacles), how=("space", FIELD, poses, gaps, spot, wall, far))

    def make() -> Entry:
        arrays: dict[str, NDArray[np.generic]] = {}
        for name, box, start in _measured(grid, obstacles, moves, wall, far, progress):
            arrays[name], arrays[f"at-{name}"] = box, start
        return Entry(arrays)

    arrays = kept(folder, key, make).arrays
    boxes = {name: box for name, box in arrays.items() if not name.startswith("at-")}
    starts = {name: arrays[f"at-{name}"] for name in boxes}
    return Margins(grid, obstacles, moves, wall, far, boxes, starts)


def _measured(
    grid: Grid,
    obstacles: tuple[ObstacleBody, ...],
    moves: tuple[Move, ...],
    wall: float,
    far: float,
    progress: Progress,
) -> Iterator[tuple[str, NDArray[np.float16], NDArray[np.int64]]]:
    count = max(len(obstacles) * len(moves), 1)
    for i, obstacle in enumerate(obstacles):
        tree = SkinTree(obstacle.mesh)
        for k, move in enumerate(moves):
            share = 0.1 + 0.5 * (i * len(moves) + k) / count
            progress(f"distances to the {obstacle.name}, {move.name}", share)
            gap = gap_of(obstacle) + wall
            field = margin_to(grid, tree, move.rotation, move.shift, gap=gap, far=far)
            yield f"{i}-{k}", *_cropped(field, far)


def _cropped(field: Field, far: float) -> tuple[NDArray[np.float16], NDArray[np.int64]]:
    """The box of the field that is nearer than `far`; half precision is some micrometres."""
    near = field < np.float32(far)
    if not near.any():
        return np.zeros((0, 0, 0), dtype=np.float16), np.zeros(3, dtype=np.int64)
    spans = []
    for axis in range(3):
        others = tuple(k for k in range(3) if k != axis)
        hit = np.flatnonzero(near.any(axis=others))
        spans.append((int(hit[0]), int(hit[-1]) + 1))
    part = tuple(slice(a, b) for a, b in spans)
    return field[part].astype(np.float16), np.array([a for a, _ in spans], dtype=np.int64)
