# SPDX-License-Identifier: Apache-2.0
"""A solid of the CAD kernel as one closed mesh, from the triangles that it was cut into."""

from collections.abc import Iterator
from itertools import chain
from typing import Any

import numpy as np

from sumpwright.errors import SolveError
from sumpwright.geometry.merge import exactly_merged
from sumpwright.geometry.mesh import Mesh, joined

_MM = 1e-3


def solid_mesh(solid: Any) -> Mesh:
    """A solid's faces, cut into triangles before, as one closed mesh in metres.

    Parameters
    ----------
    solid : TopoDS_Solid [mm]
        The kernel's.

    Returns
    -------
    mesh : Mesh [m]
        Facing outward.

    Raises
    ------
    SolveError
        Where a face has no triangles.
    """
    faces = [face_mesh(face) for face in _faces(solid)]
    if not faces or any(f is None for f in faces):
        raise SolveError("the CAD kernel has a face that it cannot turn into triangles")
    mesh = exactly_merged(joined([f for f in faces if f is not None]))
    a, b, c = mesh.faces.T
    # at a pole or an apex the kernel's triangles share a corner with themselves
    kept = Mesh(mesh.vertices * _MM, mesh.faces[(a != b) & (b != c) & (c != a)])
    return kept.flipped() if kept.volume < 0.0 else kept  # a solid stored inside out


def _faces(solid: Any) -> Iterator[Any]:
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopExp import TopExp_Explorer

    found = TopExp_Explorer(solid, Kind.TopAbs_FACE, Kind.TopAbs_SHAPE)
    while found.More():
        yield found.Current()
        found.Next()


def face_mesh(face: Any) -> Mesh | None:
    """One face's triangles in the assembly's millimetres, facing as the face does.

    Parameters
    ----------
    face : TopoDS_Face [mm]
        Cut into triangles before.

    Returns
    -------
    mesh : Mesh or None [mm]
        None where the kernel could not cut it.
    """
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_Orientation
    from OCP.TopLoc import TopLoc_Location
    from OCP.TopoDS import TopoDS

    place = TopLoc_Location()
    cut = BRep_Tool.Triangulation_s(TopoDS.Face(face), place)
    if cut is None:
        return None
    mesh = _read(cut)
    turned = face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
    if place.IsIdentity():
        return mesh.flipped() if turned else mesh
    move = place.Transformation()
    matrix = np.array([[move.Value(r + 1, c + 1) for c in range(4)] for r in range(3)])
    mesh = mesh.moved(matrix[:, :3], matrix[:, 3])
    return mesh.flipped() if turned != bool(move.IsNegative()) else mesh


def _read(cut: Any) -> Mesh:
    """Triangles one by one, for the kernel hands out no arrays: this is where meshing's time goes,
    so no lists between."""
    node, triangle, corners, count = cut.Node, cut.Triangle, cut.NbNodes(), cut.NbTriangles()
    spots = chain.from_iterable(node(i).Coord() for i in range(1, corners + 1))
    numbers = chain.from_iterable(triangle(i).Get() for i in range(1, count + 1))
    points = np.fromiter(spots, float, 3 * corners).reshape(-1, 3)
    return Mesh(points, np.fromiter(numbers, np.int64, 3 * count).reshape(-1, 3) - 1)
