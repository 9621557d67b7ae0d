# SPDX-License-Identifier: Apache-2.0
"""What the CAD kernel's solids measure, what they are made of, and whether they are sound. Metres
outside, millimetres inside."""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_triangle import solid_mesh
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]
Solid = Any
"""OCP's TopoDS_Solid, or a compound of solids where a function says so; millimetres."""

MM = 1e3


def solids_of(shape: Any) -> list[Solid]:
    """The solids of a shape, each once.

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Any.

    Returns
    -------
    solids : list of Solid [mm]
    """
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    return [TopoDS.Solid(s) for s in parts(shape, Kind.TopAbs_SOLID)]


def single(shape: Any) -> Solid:
    """The one solid of a shape.

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Any.

    Returns
    -------
    solid : Solid [mm]

    Raises
    ------
    SolveError
        Where it has none, or several.
    """
    found = solids_of(shape)
    if len(found) != 1:
        raise SolveError(f"one solid was wanted and {len(found)} came out of the CAD kernel")
    return found[0]


def parts(shape: Any, kind: Any) -> list[Any]:
    """Sub-shapes of a kind, each once.

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Any.
    kind : TopAbs_ShapeEnum [-]
        Which sub-shapes.

    Returns
    -------
    found : list of TopoDS_Shape [mm]
    """
    from OCP.collections import IndexedMap_TopoDS_Shape_TopTools_ShapeMapHasher as Shapes
    from OCP.TopExp import TopExp

    found = Shapes()
    TopExp.MapShapes_s(shape, kind, found)
    return [found.FindKey(i + 1) for i in range(found.Extent())]


def edges(shape: Any) -> list[Any]:
    """All edges, each once.

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Any.

    Returns
    -------
    found : list of TopoDS_Edge [mm]
    """
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    return [TopoDS.Edge(e) for e in parts(shape, Kind.TopAbs_EDGE)]


def volume(shape: Any, *, rough: bool = False) -> float:
    """Volume as the kernel integrates it over the exact surfaces [m^3].

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Closed.
    rough : bool [-]
        By fixed points on each face, at once: enough for its sign and size.

    Returns
    -------
    volume : float [m^3]
    """
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    if rough:
        BRepGProp.VolumeProperties_s(shape, found, False, False, False)
    else:
        BRepGProp.VolumeProperties_s(shape, found, 1e-9, False, False)
    return float(found.Mass()) / MM**3


def area(shape: Any) -> float:
    """Area of the whole skin [m^2].

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Any.

    Returns
    -------
    area : float [m^2]
    """
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, found, 1e-9, False)
    return float(found.Mass()) / MM**2


def bounds(shape: Any) -> Floats:
    """(2, 3) smallest and largest x, y, z [m], from the exact surfaces.

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Any.

    Returns
    -------
    bounds : (2, 3) [m]
    """
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    found = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape, found, False, False)
    low, high = found.CornerMin(), found.CornerMax()
    return np.array([[low.X(), low.Y(), low.Z()], [high.X(), high.Y(), high.Z()]]) / MM


def mesh_of(
    solid: Solid, *, tolerance: float = 5e-5, angle: float = 0.2, afresh: bool = True
) -> Mesh:
    """Closed triangles of one solid, facing outward [m]; chords as in `cad.read_step`.

    Parameters
    ----------
    solid : Solid [mm]
        Any.
    tolerance : float [m]
        Largest distance of a chord from its curve.
    angle : float [rad]
        Largest angle between neighbouring chords.
    afresh : bool [-]
        Not where its faces come from solids that were cut just so: those are taken as they are.

    Returns
    -------
    mesh : Mesh [m]
    """
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.BRepTools import BRepTools

    if afresh:
        BRepTools.Clean_s(solid)  # an earlier, finer or coarser cut would be kept
    BRepMesh_IncrementalMesh(solid, MM * tolerance, False, angle, False)
    return solid_mesh(solid)


def sound(shape: Any, what: str) -> Any:
    """The shape, or SolveError where the kernel finds it invalid or it encloses nothing.

    Parameters
    ----------
    shape : TopoDS_Shape [mm]
        Any.
    what : str [-]
        What to call it.

    Returns
    -------
    shape : TopoDS_Shape [mm]

    Raises
    ------
    SolveError
    """
    from OCP.BRepCheck import BRepCheck_Analyzer

    if shape.IsNull() or not BRepCheck_Analyzer(shape).IsValid():
        raise SolveError(f"{what}: the CAD kernel made a body that it finds invalid itself")
    found = volume(shape, rough=True)
    if not (found > 0.0 and math.isfinite(found)):
        raise SolveError(f"{what}: the CAD kernel made a body of {1e6 * found:.3g} cm^3")
    return shape
