# SPDX-License-Identifier: Apache-2.0
"""How far a flat disc reaches along a direction: the support function shared by rims and sweeps."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def disc_reach(ups: ArrayLike, axis: ArrayLike, radius: float) -> Floats:
    r"""How far a disc reaches from its centre along each direction.

    .. math:: r \sqrt{1 - (n \cdot a)^2} = r \, |n \times a|

    The cross product keeps all digits where the direction is nearly the axis.

    Parameters
    ----------
    ups : (k, 3) [-]
        Unit directions n.
    axis : (3,) [-]
        Unit vector a the disc is square to.
    radius : float [m]
        Of the disc, r.

    Returns
    -------
    reach : (k,) [m]
    """
    directions = np.atleast_2d(np.asarray(ups, dtype=float))
    return np.asarray(radius * np.linalg.norm(np.cross(directions, np.asarray(axis)), axis=1))


def square_basis(axis: ArrayLike) -> Floats:
    """Two unit vectors square to an axis and to each other, right-handed with it.

    Parameters
    ----------
    axis : (3,) [-]
        Of any length above zero.

    Returns
    -------
    basis : (2, 3) [-]
        First cross second points along the axis.
    """
    a = np.asarray(axis, dtype=float) / np.linalg.norm(axis)
    first = np.cross(np.eye(3)[np.argmin(np.abs(a))], a)
    first /= np.linalg.norm(first)
    return np.stack([first, np.cross(a, first)])
