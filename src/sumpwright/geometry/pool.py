# SPDX-License-Identifier: Apache-2.0
r"""Does the oil at a pickup hang together with the rest, or lie in a pool of its own?

Below a plane the skin of the body falls into connected pieces. With the surface at :math:`s` each
contributes :math:`-\sum (\mathbf u \cdot \mathbf a_t) \overline{\max(s-h, 0)}_t` to the volume, as
in level.py. A piece cuts the half space below the plane in two; where its wet side is the bounded
one the contribution is positive, and each pool has exactly one such piece round it: two would
either enclose one another, and then the outer one is not the pool's, or lie apart. Pieces of
negative contribution are islands and hanging parts, and count to the innermost pool round them.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.disc import square_basis
from sumpwright.geometry.edge import welded
from sumpwright.geometry.kernel import run_in_threads
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]

TINY = 1e-9
"""m^3; a cubic millimetre is no pool."""


@dataclass(frozen=True)
class Pool:
    """The pool that holds a point, for each of several planes."""

    volume: Floats
    """(k,) [m^3]; 0 where no liquid surrounds the point"""
    apart: Floats
    """(k,) [m^3]; below the plane, too, but in pools that do not touch this one"""


def pool_at(mesh: Mesh, point: ArrayLike, up: ArrayLike, height: ArrayLike) -> Pool:
    """Liquid that hangs together with the liquid at a point, and liquid that does not.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed, faces outward.
    point : (3,) [m]
        Inside the body and below the planes.
    up : (k, 3) [-]
        Unit vectors against effective gravity.
    height : (k,) [m]
        Surface's signed distance from the frame's origin along `up`.

    Returns
    -------
    pool : Pool [m^3]
    """
    from sumpwright.geometry.pool_kernel import many_pools

    body = welded(mesh)
    ups, heights = np.atleast_2d(np.asarray(up, float)), np.atleast_1d(np.asarray(height, float))
    frames = np.stack([np.vstack([square_basis(u), u]) for u in ups])
    held, whole = np.zeros(len(ups)), np.zeros(len(ups))

    def work(items: NDArray[np.int64]) -> None:
        many_pools(
            body.vertices,
            body.faces,
            body.area_vectors,
            frames,
            heights,
            np.asarray(point, dtype=float),
            TINY,
            items,
            held,
            whole,
        )

    run_in_threads(work, len(ups))
    return Pool(volume=held, apart=np.maximum(0.0, whole - held))
