# SPDX-License-Identifier: Apache-2.0
"""In which order a pan's bolts are tightened: from the middle outward, crosswise.

Common practice, no source; the engine maker's own order goes before it.
"""

import numpy as np
from numpy.typing import ArrayLike


def bolt_order(holes: ArrayLike) -> tuple[int, ...]:
    """Which hole comes when.

    The hole nearest the pattern's middle, then the one nearest to the place straight across the
    middle from it, then the nearest of those left, and so on: what is clamped grows outward, and
    the gasket is pressed evenly.

    Parameters
    ----------
    holes : (n, 2) [m]
        Centres; of equals the one that stands first in the list comes first.

    Returns
    -------
    order : tuple of int [-]
        Numbers of the holes, the first to tighten first.

    Source
    ------
    Common practice, no source.
    """
    points = np.asarray(holes, dtype=float).reshape(-1, 2)
    if not len(points):
        return ()
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    left = list(range(len(points)))
    found: list[int] = []
    while left:
        first = _nearest(points, left, middle)
        found.append(first)
        if left:
            found.append(_nearest(points, left, 2.0 * middle - points[first]))
    return tuple(found)


def _nearest(points: np.ndarray, left: list[int], place: np.ndarray) -> int:
    """Take the hole nearest to `place` off the list; ties, to a micrometre, go to the first."""
    far = np.round(np.linalg.norm(points[left] - place, axis=1), 6)
    return left.pop(int(far.argmin()))
