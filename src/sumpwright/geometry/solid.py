# SPDX-License-Identifier: Apache-2.0
"""Meshes to the boolean library and back."""

from typing import Any

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.geometry.mesh import Mesh

Solid = Any
"""manifold3d's Manifold, in metres."""


def solid_of(mesh: Mesh, *, what: str) -> Solid:
    """A body for booleans.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed, faces outward, corners shared by number.
    what : str [-]
        Its name, for the message.

    Returns
    -------
    solid : Solid [m]

    Raises
    ------
    RangeError
        If the skin is open or inside out.
    """
    from manifold3d import Error, Manifold, Mesh64

    solid = Manifold(Mesh64(mesh.vertices.copy(), mesh.faces.astype(np.uint64)))
    if solid.status() != Error.NoError or solid.volume() <= 0.0:
        raise RangeError(f"{what} must be a closed body whose faces look outward")
    return solid


def mesh_of(solid: Solid) -> Mesh:
    """The skin of a body.

    Parameters
    ----------
    solid : Solid [m]
        Any.

    Returns
    -------
    mesh : Mesh [m]
    """
    raw = solid.to_mesh64()
    return Mesh(np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts, dtype=np.int64))


def less(solid: Solid, others: list[Solid]) -> Solid:
    """A body with others taken out of it.

    Parameters
    ----------
    solid : Solid [m]
        Any.
    others : list of Solid [m]
        May overlap each other and reach out of it.

    Returns
    -------
    solid : Solid [m]
    """
    from manifold3d import Manifold, OpType

    return Manifold.batch_boolean([solid, *others], OpType.Subtract) if others else solid


def shared_volume(one: Mesh, other: Mesh) -> float:
    """Volume that two bodies have in common.

    Parameters
    ----------
    one : Mesh [m]
        Closed, faces outward, corners shared by number.
    other : Mesh [m]
        The same.

    Returns
    -------
    volume : float [m^3]

    Raises
    ------
    RangeError
        If a skin is open or inside out.
    """
    bodies = [solid_of(mesh, what="a body") for mesh in (one, other)]
    return float((bodies[0] ^ bodies[1]).volume())
