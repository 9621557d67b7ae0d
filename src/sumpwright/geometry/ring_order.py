# SPDX-License-Identifier: Apache-2.0
"""Bolt holes in the order they stand round a flange."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ROUNDS = 60
"""Most passes of mending; a pattern of 60 holes needs a few."""


def ring_order(points: ArrayLike) -> Ints:
    """A short way round all points, counter-clockwise.

    By angle about the middle, then mended as long as it becomes shorter: pieces are turned (2-opt)
    and single points put elsewhere. A flange whose edge bends inward so keeps its neighbours.

    Parameters
    ----------
    points : (n, 2) [m]
        Centres, in any order.

    Returns
    -------
    order : (n,) [-]
        Numbers of the points; starts at the first point.

    Source
    ------
    [closed-form]: a closed tour that neither mending shortens.
    """
    p = np.asarray(points, dtype=float).reshape(-1, 2)
    n = len(p)
    if n < 3:
        return np.arange(n)
    arm = p - 0.5 * (p.min(axis=0) + p.max(axis=0))
    tour = np.argsort(np.arctan2(arm[:, 1], arm[:, 0]), kind="stable")
    for _ in range(ROUNDS):
        if not (_shortened(p, tour) | _put_elsewhere(p, tour)):
            break
    x, y = p[tour].T
    if float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) < 0.0:
        tour = tour[::-1]
    return np.asarray(np.roll(tour, -int(np.flatnonzero(tour == 0)[0])))


def _shortened(p: Floats, tour: Ints) -> bool:
    """Turn every piece that is shorter turned; whether there was one."""
    done, n = False, len(tour)
    for i in range(n - 2):
        for j in range(i + 2, n if i else n - 1):
            a, b, c, d = p[tour[[i, i + 1, j, (j + 1) % n]]]
            now = np.linalg.norm(b - a) + np.linalg.norm(d - c)
            then = np.linalg.norm(c - a) + np.linalg.norm(d - b)
            if then < now - 1e-9:
                tour[i + 1 : j + 1] = tour[i + 1 : j + 1][::-1]
                done = True
    return done


def _put_elsewhere(p: Floats, tour: Ints) -> bool:
    """Put every point between two others where that is shorter; whether there was one."""
    done, n = False, len(tour)
    for point in range(n):
        at = int(np.flatnonzero(tour == point)[0])
        rest = np.delete(tour, at)
        a, b = p[rest], p[np.roll(rest, -1)]
        here = p[point]
        more = np.linalg.norm(a - here, axis=1) + np.linalg.norm(b - here, axis=1)
        more -= np.linalg.norm(b - a, axis=1)
        best = int(more.argmin())
        if more[best] < more[at - 1] - 1e-9:
            tour[:] = np.insert(rest, best + 1, point)
            done = True
    return done
