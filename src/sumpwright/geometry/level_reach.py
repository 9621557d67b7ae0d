# SPDX-License-Identifier: Apache-2.0
"""Compiled reach of a body along directions; body arrays as in level_kernel.py."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

DEEP = 128
"""Stack of the tree walk: two entries a generation, so good for 2**63 blocks."""


@compiled
def reach(nodes: Floats, corners: Floats, block: int, up: Floats) -> float:
    """Highest up.x over the body.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    block : int [-]
        Triangles a leaf.
    up : (3,) [-]
        Unit vector.

    Returns
    -------
    height : float [m]
    """
    ux, uy, uz = up[0], up[1], up[2]
    ax, ay, az = abs(ux), abs(uy), abs(uz)
    leaves = nodes.shape[0] // 2
    stack = np.zeros(DEEP, dtype=np.int64)
    stack[0] = 1
    top = 1
    best = -np.inf
    while top > 0:
        top -= 1
        k = stack[top]
        row = nodes[k]
        size = ax * row[3] + ay * row[4] + az * row[5]
        if not size >= 0.0 or ux * row[0] + uy * row[1] + uz * row[2] + size <= best:
            continue
        if k < leaves:
            a, b = nodes[2 * k], nodes[2 * k + 1]
            lead = ux * (b[0] - a[0]) + uy * (b[1] - a[1]) + uz * (b[2] - a[2])
            stack[top] = 2 * k if lead > 0.0 else 2 * k + 1  # the likelier one comes off first
            stack[top + 1] = 2 * k + 1 if lead > 0.0 else 2 * k
            top += 2
            continue
        first = (k - leaves) * block
        for t in range(first, min(first + block, corners.shape[0])):
            c = corners[t]
            for i in range(0, 9, 3):
                best = max(best, ux * c[i] + uy * c[i + 1] + uz * c[i + 2])
    return best


@compiled
def many_reaches(
    nodes: Floats, corners: Floats, block: int, ups: Floats, items: Ints, extent: Floats
) -> None:
    """Lowest and highest up.x for several directions.

    Parameters
    ----------
    nodes : (2n, 15) [m, m^2, m^3]
        The tree.
    corners : (m, 9) [m]
        Of its triangles.
    block : int [-]
        Triangles a leaf.
    ups : (k, 3) [-]
        Unit vectors.
    items : (j,) [-]
        Which of them to answer.
    extent : (k, 2) [m]
        Where the answers go.
    """
    for k in items:
        extent[k, 0] = -reach(nodes, corners, block, -ups[k])
        extent[k, 1] = reach(nodes, corners, block, ups[k])
