# SPDX-License-Identifier: Apache-2.0
"""Volume below a plane by three libraries that know nothing of ours: the level engine's oracles.

All take metres, a unit vector `up` and `height`, the plane's signed distance from the origin
along `up`; all give cubic metres.
"""

from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike

from sumpwright.geometry.mesh import Mesh

MM = 1e3  # the CAD kernel works in millimetres


def manifold_volume_below(mesh: Mesh, up: ArrayLike, height: float) -> float:
    """By manifold3d's own plane trim; the mesh must be closed and bodies must not overlap."""
    import manifold3d as m3

    # copied, for manifold3d takes no read-only arrays
    body = m3.Manifold(m3.Mesh64(mesh.vertices.copy(), mesh.faces.astype(np.uint64)))
    assert body.status() == m3.Error.NoError, body.status()
    down = -np.asarray(up, dtype=float)
    return float(body.trim_by_plane(down.tolist(), -height).volume())


def trimesh_volume_below(mesh: Mesh, up: ArrayLike, height: float) -> float:
    """By trimesh's plane slice, capped by a fan from a point of the plane.

    A cap seen from a point of its own plane has no volume, so moving the origin onto the plane
    closes the body exactly, and the libraries behind trimesh's own cap have no part in the answer.
    """
    import trimesh.intersections

    normal = np.asarray(up, dtype=float)
    on_plane = normal * height
    vertices, faces = trimesh.intersections.slice_faces_plane(
        mesh.vertices, mesh.faces, -normal, on_plane
    )[:2]
    corners = (vertices - on_plane)[faces]
    parts = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
    return float(parts.sum() / 6.0)


def kernel_volume_below(step: Path, up: ArrayLike, height: float) -> float:
    """By the CAD kernel: the solids of a STEP file cut by a large box, curved faces kept exact."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
    from OCP.BRepGProp import BRepGProp
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.GProp import GProp_GProps
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader

    reader = STEPControl_Reader()
    # the kernel crashes the process when asked for shapes after a failed read
    assert reader.ReadFile(str(step)) == IFSelect_ReturnStatus.IFSelect_RetDone
    reader.TransferRoots()
    size = 1e5  # mm; 100 m, larger than any body tested
    down = -np.asarray(up, dtype=float)
    helper = np.eye(3)[np.argmin(np.abs(down))]  # any direction that is not along `up`
    across = np.cross(helper, down)
    across /= np.linalg.norm(across)
    corner = -down * height * MM - 0.5 * size * (across + np.cross(down, across))
    axes = gp_Ax2(gp_Pnt(*corner), gp_Dir(*down), gp_Dir(*across))
    box = BRepPrimAPI_MakeBox(axes, size, size, size).Shape()
    below = BRepAlgoAPI_Common(reader.OneShape(), box).Shape()
    props = GProp_GProps()
    BRepGProp.VolumeProperties_s(below, props, 1e-9)
    return float(props.Mass()) / MM**3
