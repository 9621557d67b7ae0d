# SPDX-License-Identifier: Apache-2.0
"""Solids as triangles: for the STL, and to measure a solid without the kernel's integrals."""

from typing import Any

import numpy as np
from demo_geometry.solid import parts, volume
from numpy.typing import NDArray

Corners = NDArray[np.float64]
CHORD = 0.1
"""mm; largest distance of a chord from its curve."""


def measured(solid: Any, what: str) -> Any:
    """The solid, or ValueError where its triangles enclose another volume than the kernel says."""
    corners = triangles(solid)
    a, b, c = (corners[:, k] for k in range(3))
    enclosed = float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)
    area = float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2.0)
    if abs(enclosed - volume(solid)) > CHORD * area:  # no chord is farther off than that
        raise ValueError(f"{what}: {volume(solid):.0f} mm^3 or {enclosed:.0f} mm^3?")
    return solid


def triangles(solid: Any) -> Corners:
    """(n, 3, 3) corners of a solid's triangles, facing out [mm]."""
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind

    BRepMesh_IncrementalMesh(solid, CHORD, False, 0.35, False)
    return np.concatenate([_face(face) for face in parts(solid, Kind.TopAbs_FACE)])


def _face(shape: Any) -> Corners:
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_Orientation
    from OCP.TopLoc import TopLoc_Location
    from OCP.TopoDS import TopoDS

    face = TopoDS.Face(shape)
    net = BRep_Tool.Triangulation_s(face, TopLoc_Location())
    points = np.array([net.Node(i + 1).Coord() for i in range(net.NbNodes())])
    corners = np.array([net.Triangle(i + 1).Get() for i in range(net.NbTriangles())]) - 1
    if face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED:
        corners = corners[:, ::-1]
    found = points[corners]
    area = np.linalg.norm(np.cross(found[:, 1] - found[:, 0], found[:, 2] - found[:, 0]), axis=1)
    return np.asarray(found[area > 0.0])
