# SPDX-License-Identifier: Apache-2.0
"""A flat sheet with holes, in triangles: what every picture of a panel starts from."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def sheet_triangles(loops: Sequence[Floats]) -> tuple[Floats, NDArray[np.int64]]:
    """Points (n, 3) [m] and triangles (m, 3) of the sheet that `loops` (k, 3) [m] go round.

    Solid on the left of each; holes run the other way round.
    """
    from manifold3d import triangulate

    points = np.concatenate(loops)
    normal = sum((np.cross(loop, np.roll(loop, -1, axis=0)).sum(axis=0) for loop in loops),
                 np.zeros(3))  # fmt: skip
    normal /= max(float(np.linalg.norm(normal)), 1e-300)
    along = np.cross([0.0, 0.0, 1.0] if abs(normal[2]) < 0.9 else [1.0, 0.0, 0.0], normal)
    along /= np.linalg.norm(along)
    flat = [loop @ np.stack([along, np.cross(normal, along)], axis=1) for loop in loops]
    return points, np.asarray(triangulate(flat), dtype=np.int64).reshape(-1, 3)
