# SPDX-License-Identifier: Apache-2.0
"""A curve through space that keeps neighbours together: the order in which trees are built."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Points

_CELLS = 2**20
"""Along each side of the box; the bits of three such numbers fit into one of 64."""


def along_curve(points: Points) -> NDArray[np.uint64]:
    """Place of each point along a Morton curve through their box.

    Parameters
    ----------
    points : (n, 3) [m]
        At least one.

    Returns
    -------
    place : (n,) [-]
        Near in number is mostly near in space; equal in the same cell.
    """
    low = points.min(axis=0)
    span = max(float((points.max(axis=0) - low).max()), np.finfo(float).tiny)
    cell = ((points - low) / span * (_CELLS - 1)).astype(np.uint64)
    place = np.zeros(len(points), dtype=np.uint64)
    for axis in range(3):
        bits = cell[:, axis]
        for shift, mask in (
            (32, 0x1F00000000FFFF),
            (16, 0x1F0000FF0000FF),
            (8, 0x100F00F00F00F00F),
            (4, 0x10C30C30C30C30C3),
            (2, 0x1249249249249249),
        ):
            bits = (bits | (bits << np.uint64(shift))) & np.uint64(mask)
        place |= bits << np.uint64(axis)
    return place
