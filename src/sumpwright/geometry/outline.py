# SPDX-License-Identifier: Apache-2.0
"""The outermost points of a flat set: only they can be lowest or highest in some direction."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def outermost(points: ArrayLike) -> NDArray[np.int64]:
    """Which points are corners of the convex hull, counter-clockwise (monotone chain).

    Parameters
    ----------
    points : (n, 2) [any]
        Of any order; equal ones count once.

    Returns
    -------
    numbers : (k,) [-]
        Of the corners; both ends where all points lie on a line.
    """
    flat = np.asarray(points, dtype=float)
    order = np.lexsort((flat[:, 1], flat[:, 0]))
    xy = flat[order].tolist()
    lower, upper = _chain(xy, range(len(xy))), _chain(xy, range(len(xy) - 1, -1, -1))
    ring = lower[:-1] + upper[:-1] if len(xy) > 1 else lower
    return np.asarray(order[list(dict.fromkeys(ring))])


def _chain(xy: list[list[float]], order: range) -> list[int]:
    """Half of the hull: from one end of the sorted points to the other, only turning left."""
    found: list[int] = []
    for k in order:
        x, y = xy[k]
        while len(found) > 1:
            (ax, ay), (bx, by) = xy[found[-2]], xy[found[-1]]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0.0:
                break
            found.pop()
        found.append(k)
    return found
