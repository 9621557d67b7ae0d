# SPDX-License-Identifier: Apache-2.0
"""Where a straight line crosses a body's skin."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.disc import square_basis
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]


def line_crossings(mesh: Mesh, start: ArrayLike, direction: ArrayLike) -> tuple[Floats, Floats]:
    """How far along a line each crossing of the skin lies, and which way it goes.

    A crossing on an edge or a corner is found once for each triangle that meets there.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed, faces outward.
    start : (3,) [m]
        Where distances count from; the line goes on behind it.
    direction : (3,) [-]
        Unit vector along the line.

    Returns
    -------
    along : (k,) [m]
        Rising; negative behind `start`.
    way : (k,) [-]
        +1 where the line leaves the body, -1 where it enters.
    """
    axis = np.asarray(direction, dtype=float)
    local = mesh.corners - np.asarray(start, dtype=float)
    flat = local @ square_basis(axis).T
    following = np.roll(flat, -1, axis=1)
    turn = flat[..., 0] * following[..., 1] - flat[..., 1] * following[..., 0]
    twice = turn.sum(axis=1)
    hit = ((turn >= 0.0).all(axis=1) | (turn <= 0.0).all(axis=1)) & (twice != 0.0)
    # the share of a corner is the area opposite it
    weight = np.roll(turn[hit], -1, axis=1) / twice[hit, None]
    along = np.einsum("ij,ij->i", weight, local[hit] @ axis)
    order = np.argsort(along, kind="stable")
    way = np.sign(mesh.area_vectors[hit] @ axis)
    return along[order], way[order]
