# SPDX-License-Identifier: Apache-2.0
"""The numbers of a level table: which nodes, which volumes, and the heights there."""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import run_in_threads
from sumpwright.geometry.level import LevelBody
from sumpwright.geometry.level_sweep import many_sweeps
from sumpwright.geometry.level_table_kernel import CENTRE, FINE

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

COARSE = 8
"""Volumes are first kept every so many-th of `FINE`."""
EDGE = 8
"""Fine steps at either end of which only every other is kept: the rise from one to the next would
be less than the error."""
LOOKS = 11
"""Nodes along the grid whose heights decide which volumes are kept."""


@dataclass(frozen=True, eq=False)
class Swept:
    """A body as the sweep takes it."""

    body: LevelBody

    @cached_property
    def _indexed(self) -> tuple[Floats, Ints]:
        points, faces = np.unique(self.body.corners.reshape(-1, 3), axis=0, return_inverse=True)
        return np.ascontiguousarray(points), np.ascontiguousarray(faces.reshape(-1, 3))

    def heights(self, ups: Floats, steps: Ints) -> tuple[Floats, Floats]:
        """Heights and their slopes over the volume coordinate, at some of its fine steps.

        Parameters
        ----------
        ups : (d, 3) [-]
            Unit vectors.
        steps : (k,) [-]
            Rising; the first is 0, the last `FINE`.

        Returns
        -------
        heights, slopes : (d, k) [m], (d, k) [m]
        """
        points, faces = self._indexed
        w = steps / FINE
        fill = np.where(w <= 0.5, 4.0 * w**3, 1.0 - 4.0 * (1.0 - w) ** 3)
        height, area = np.zeros((len(ups), len(w))), np.zeros((len(ups), len(w)))

        def work(items: Ints) -> None:
            many_sweeps(points, faces, self.body.areas, ups, fill, items, height, area)

        run_in_threads(work, len(ups))
        bend = 12.0 * np.minimum(w, 1.0 - w) ** 2 * self.body.volume
        slopes = _tamed(height, bend / np.maximum(area, 1e-12 * self.body.skin), w)
        return height + (ups @ self.body.reference)[:, None], slopes


def _tamed(height: Floats, slope: Floats, w: Floats) -> Floats:
    """Slopes with both ends filled in, none so steep that a cubic would fall."""
    chord = np.diff(height, axis=1) / np.diff(w)
    slope[:, 0] = 1.5 * chord[:, 0] - 0.5 * slope[:, 1]  # a parabola's: exact for corner and face
    slope[:, -1] = 1.5 * chord[:, -1] - 0.5 * slope[:, -2]
    most = 3.0 * np.minimum(
        np.pad(chord, ((0, 0), (1, 0)), "edge"), np.pad(chord, ((0, 0), (0, 1)), "edge")
    )
    return np.asarray(np.clip(slope, 0.0, np.maximum(most, 0.0)))


def grid_ups(size: int, side: float) -> tuple[Floats, NDArray[np.bool_]]:
    """Directions up of the nodes, and which of them an answer within reach may need.

    Parameters
    ----------
    size : int [-]
        Nodes along each side.
    side : float [-]
        Stereographic coordinate of the reach.

    Returns
    -------
    ups, needed : (size, size, 3) [-], (size, size) [-]
    """
    t = 2.0 * (np.arange(size) - 1) / (size - 3) - 1.0
    p = CENTRE * t / (1.0 + CENTRE / side - np.abs(t))
    x, y = np.meshgrid(p, p, indexing="ij")
    square = x * x + y * y
    ups = np.stack([2.0 * x, 2.0 * y, 1.0 - square], axis=-1) / (1.0 + square)[..., None]
    near = square <= side * side
    for axis in (0, 1):  # a cell takes two nodes on either side of what is in it
        near = np.asarray(np.stack([_shifted(near, n, axis) for n in range(-2, 3)]).any(axis=0))
    return ups, near


def _shifted(flags: NDArray[np.bool_], by: int, axis: int) -> NDArray[np.bool_]:
    moved = np.roll(flags, by, axis)
    edge = [slice(None)] * 2
    edge[axis] = slice(0, by) if by > 0 else slice(len(flags) + by, None)
    if by:
        moved[tuple(edge)] = False
    return moved


def grid_heights(swept: Swept, steps: Ints, *, size: int, side: float) -> tuple[Floats, Floats]:
    """Heights and slopes of a whole grid; nan at nodes that no answer needs.

    Parameters
    ----------
    swept : Swept [m]
        The body.
    steps : (k,) [-]
        Kept volumes.
    size : int [-]
        Nodes along each side.
    side : float [-]
        Stereographic coordinate of the reach.

    Returns
    -------
    heights, slopes : (size, size, k) [m], (size, size, k) [m]
    """
    ups, needed = grid_ups(size, side)
    heights = np.full((size, size, len(steps)), np.nan)
    slopes = heights.copy()
    heights[needed], slopes[needed] = swept.heights(np.ascontiguousarray(ups[needed]), steps)
    return heights, slopes


def kept_steps(swept: Swept, side: float, *, most: int, limit: float) -> Ints:
    """Fine steps of the volume coordinate to keep, so that cubics between them are good enough.

    Parameters
    ----------
    swept : Swept [m]
        The body.
    side : float [-]
        Stereographic coordinate of the reach.
    most : int [-]
        How many at most.
    limit : float [m]
        Error of height that is looked for, in some directions spread over the reach.

    Returns
    -------
    steps : (k,) [-]
        Rising from 0 to `FINE`.
    """
    ups, _ = grid_ups(LOOKS, side)
    fine = np.arange(FINE + 1)
    height, slope = swept.heights(np.ascontiguousarray(ups[1:-1, 1:-1].reshape(-1, 3)), fine)
    kept = list(range(0, FINE + 1, FINE // COARSE))
    off = [_off(height, slope, a, b) for a, b in pairwise(kept)]
    while len(kept) < most and max(off) > limit:
        n = int(np.argmax(off))
        a, b = kept[n], kept[n + 1]
        middle = (a + b) // 2
        kept.insert(n + 1, middle)
        off[n : n + 1] = [_off(height, slope, a, middle), _off(height, slope, middle, b)]
    return np.array(kept)


def _off(height: Floats, slope: Floats, a: int, b: int) -> float:
    """Largest error of a cubic from one fine step to another."""
    if b - a < (4 if min(b, FINE - a) <= EDGE else 2):
        return 0.0
    t = (np.arange(a + 1, b) - a) / (b - a)
    u, span = 1.0 - t, (b - a) / FINE
    ends = height[:, [a]] * u * u * (1.0 + 2.0 * t) + height[:, [b]] * t * t * (3.0 - 2.0 * t)
    ends += span * (slope[:, [a]] * t * u * u - slope[:, [b]] * t * t * u)
    return float(np.abs(ends - height[:, a + 1 : b]).max())
