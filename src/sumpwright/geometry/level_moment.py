# SPDX-License-Identifier: Apache-2.0
"""Compiled first moment of the liquid below a plane; body arrays as in level_kernel.py."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Floats = NDArray[np.float64]


@compiled
def moment_below(nodes: Floats, corners: Floats, block: int, up: Floats, s: float) -> Floats:
    """Integral of position over the liquid, and its volume.

    Each triangle is cut at the plane into at most two; over those, products of linear functions
    integrate exactly: A/12 (sum f sum g + sum f g). The cap drops out because up.x - s = 0 there.

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
    s : float [m]
        The plane's height.

    Returns
    -------
    moment : (4,) [m^4, m^4, m^4, m^3]
        First moments along x, y, z; the volume last.
    """
    answer = np.zeros(4)
    point, h = np.zeros((4, 3)), np.zeros(4)
    root = nodes[1]
    s = min(  # far above, s times the rounding of the sums would grow
        s,
        up[0] * root[0]
        + up[1] * root[1]
        + up[2] * root[2]
        + abs(up[0]) * root[3]
        + abs(up[1]) * root[4]
        + abs(up[2]) * root[5],
    )
    leaves = nodes.shape[0] // 2
    for t in range(corners.shape[0]):
        row = nodes[leaves + t // block]
        middle = up[0] * row[0] + up[1] * row[1] + up[2] * row[2]
        if middle - abs(up[0]) * row[3] - abs(up[1]) * row[4] - abs(up[2]) * row[5] >= s:
            continue
        count = _cut(corners[t], up, s, point, h)
        for fan in range(1, count - 1):
            _add_moment(answer, up, point[0], point[fan], point[fan + 1], h[0], h[fan], h[fan + 1])
    return answer


@compiled
def _cut(corner: Floats, up: Floats, s: float, point: Floats, h: Floats) -> int:
    """The part of a triangle below the plane: corners into `point`, heights over it into `h`."""
    count = 0
    for i in range(0, 9, 3):
        j = (i + 3) % 9
        hi = up[0] * corner[i] + up[1] * corner[i + 1] + up[2] * corner[i + 2] - s
        hj = up[0] * corner[j] + up[1] * corner[j + 1] + up[2] * corner[j + 2] - s
        if hi < 0.0:
            point[count] = corner[i : i + 3]
            h[count] = hi
            count += 1
        if (hi < 0.0) != (hj < 0.0):
            share = hi / (hi - hj)
            for d in range(3):
                point[count, d] = corner[i + d] + share * (corner[j + d] - corner[i + d])
            h[count] = 0.0
            count += 1
    return count


@compiled
def _add_moment(
    answer: Floats,
    up: Floats,
    p: Floats,
    q: Floats,
    r: Floats,
    hp: float,
    hq: float,
    hr: float,
) -> None:
    """One triangle's share of `moment_below`; h.. are the heights of its corners."""
    ax, ay, az = q[0] - p[0], q[1] - p[1], q[2] - p[2]
    bx, by, bz = r[0] - p[0], r[1] - p[1], r[2] - p[2]
    flat = 0.5 * (
        up[0] * (ay * bz - az * by) + up[1] * (az * bx - ax * bz) + up[2] * (ax * by - ay * bx)
    )
    total = hp + hq + hr
    lifted = flat / 24.0 * (total * total + hp * hp + hq * hq + hr * hr)
    for d in range(3):
        cross = total * (p[d] + q[d] + r[d]) + hp * p[d] + hq * q[d] + hr * r[d]
        answer[d] += flat / 12.0 * cross - up[d] * lifted
    answer[3] += flat * total / 3.0
