# SPDX-License-Identifier: Apache-2.0
"""The tree of boxes that the level kernels walk; rows as level_kernel.py describes them."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Floats = NDArray[np.float64]

BLOCK = 16
"""Triangles in a leaf. 8 to 32 measured alike; 16 was the fastest on a 100k-triangle cavity."""


def tree(corners: Floats, areas: Floats) -> Floats:
    """Rows of level_kernel's tree, summed from the leaves up.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Triangles, neighbours in number near in space.
    areas : (m, 3) [m^2]
        Their area vectors.

    Returns
    -------
    nodes : (2n, 15) [m, m^2, m^3]
        Row 1 is the whole body; row 0 is not used.
    """
    starts = np.arange(0, len(corners), BLOCK)
    leaves = 1 << max(0, int(len(starts) - 1).bit_length())
    low = np.full((2 * leaves, 3), np.inf)
    high = np.full((2 * leaves, 3), -np.inf)
    sums = np.zeros((2 * leaves, 9))
    here = slice(leaves, leaves + len(starts))
    low[here] = np.minimum.reduceat(corners.min(axis=1), starts)
    high[here] = np.maximum.reduceat(corners.max(axis=1), starts)
    middle = corners.mean(axis=1)
    outer = areas[:, :, None] * middle[:, None, :]
    pairs = [(0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2)]
    lift = np.stack([0.5 * (outer[:, i, j] + outer[:, j, i]) for i, j in pairs], axis=1)
    sums[here] = np.add.reduceat(np.concatenate([areas, lift], axis=1), starts)
    row = leaves
    while row > 1:
        kids, row = slice(row, 2 * row), row // 2
        here = slice(row, 2 * row)
        low[here] = low[kids].reshape(-1, 2, 3).min(axis=1)
        high[here] = high[kids].reshape(-1, 2, 3).max(axis=1)
        sums[here] = sums[kids].reshape(-1, 2, 9).sum(axis=1)
    empty = ~(low <= high).all(axis=1)  # blocks that only fill the tree up; half < 0 skips them
    low[empty], high[empty] = 1.0, -1.0
    return np.ascontiguousarray(np.concatenate([0.5 * (low + high), 0.5 * (high - low), sums], 1))


@compiled
def in_pieces(faces: NDArray[np.int64], count: int) -> bool:
    """Whether the triangles hang together in more than one piece.

    Parameters
    ----------
    faces : (m, 3) [-]
        Vertex numbers.
    count : int [-]
        Of vertices.

    Returns
    -------
    several : bool [-]
    """
    owner = np.full(count, -1, dtype=np.int64)
    pieces = 0
    for face in faces:
        root = -1
        for corner in face:
            top = corner
            if owner[top] < 0:
                owner[top] = top
                pieces += 1
            while owner[top] != top:
                owner[top] = owner[owner[top]]  # halves the path for whoever comes next
                top = owner[top]
            if root >= 0 and top != root:
                owner[top] = root
                pieces -= 1
            root = top if root < 0 else root
    return pieces > 1
