# SPDX-License-Identifier: Apache-2.0
"""How often a skin goes round a point: 1 inside a body, 0 outside, in double precision."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.mesh import Points

_AT_ONCE = 200_000  # pairs of point and triangle, so that the work fits the cache


def winding(corners: Points, points: ArrayLike) -> NDArray[np.float64]:
    r"""How often triangles go round each point: their solid angle over 4 pi.

    .. math:: \tan(\Omega/2) = \frac{a \cdot (b \times c)}
        {|a||b||c| + (a \cdot b)|c| + (b \cdot c)|a| + (c \cdot a)|b|}

    A whole number for a closed skin, to rounding. On the skin itself it may be either side's, or
    on edges and corners a share.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Triangles, counter-clockwise from outside.
    points : (k, 3) [m]
        Where to look from.

    Returns
    -------
    turns : (k,) [-]

    Source
    ------
    [OOSTEROM-1983]. Checked by tests/geometry/test_winding.py.
    """
    places = np.asarray(points, dtype=float).reshape(-1, 3)
    answer = np.zeros(len(places))
    step = max(1, _AT_ONCE // max(1, len(places)))
    for start in range(0, len(corners), step):
        a, b, c = (corners[None, start : start + step, k] - places[:, None] for k in range(3))
        la, lb, lc = (np.sqrt(np.einsum("ijk,ijk->ij", v, v)) for v in (a, b, c))
        top = np.einsum("ijk,ijk->ij", a, np.cross(b, c))
        ab, bc, ca = (np.einsum("ijk,ijk->ij", v, w) for v, w in ((a, b), (b, c), (c, a)))
        answer += np.arctan2(top, la * lb * lc + ab * lc + bc * la + ca * lb).sum(axis=1)
    return answer / (2.0 * np.pi)
