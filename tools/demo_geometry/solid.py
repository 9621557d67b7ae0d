# SPDX-License-Identifier: Apache-2.0
"""Blocks and bars as solids of the CAD kernel, rounded and joined. Millimetres.

Every body is asked whether it is valid before it leaves, which is not enough: the kernel has said
yes to bodies of a wrong volume, so `triangle.py` measures each finished one a second way.
"""

from typing import Any

import numpy as np
from demo_geometry.block import Block, Plane, outlines

ON_PLANE = 1e-6
"""mm; an edge whose ends are both this near an open side lies in it and stays sharp."""


def rounded(block: Block) -> Any:
    """A block as a solid, all edges rounded but those of its open top."""
    from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet

    solid = sharp(block)
    rounding = BRepFilletAPI_MakeFillet(solid)
    open_sides = [p for p in block.planes if p.fixed]
    for edge in edges(solid):
        if not any(_lies_on(edge, plane) for plane in open_sides):
            rounding.Add(block.radius, edge)
    rounding.Build()
    return sound(rounding.Shape(), "rounded block")


def sharp(block: Block) -> Any:
    """A block as a solid with sharp edges."""
    from OCP.BRepBuilderAPI import (
        BRepBuilderAPI_MakeFace,
        BRepBuilderAPI_MakePolygon,
        BRepBuilderAPI_MakeSolid,
        BRepBuilderAPI_Sewing,
    )
    from OCP.gp import gp_Pnt
    from OCP.TopoDS import TopoDS

    sewing = BRepBuilderAPI_Sewing(1e-6)
    for _, outline in outlines(block):
        polygon = BRepBuilderAPI_MakePolygon()
        for point in outline:
            polygon.Add(gp_Pnt(*(float(c) for c in point)))
        polygon.Close()
        sewing.Add(BRepBuilderAPI_MakeFace(polygon.Wire(), True).Face())
    sewing.Perform()
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell(sewing.SewedShape())).Solid()
    return sound(outward(solid), "sharp block")


def outward(solid: Any) -> Any:
    """The solid with its faces looking out."""
    from OCP.BRepLib import BRepLib

    BRepLib.OrientClosedSolid_s(solid)
    return solid


def fused(solids: list[Any]) -> Any:
    """Solids that overlap, as one."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain

    whole = solids[0]
    for solid in solids[1:]:
        whole = BRepAlgoAPI_Fuse(whole, solid).Shape()
    tidy = ShapeUpgrade_UnifySameDomain(whole, True, True, False)
    tidy.Build()
    return single(sound(tidy.Shape(), "fused body"))


def less(solid: Any, others: list[Any]) -> Any:
    """A solid without what others cut out of it."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    for other in others:
        solid = BRepAlgoAPI_Cut(solid, other).Shape()
    return single(sound(solid, "cut body"))


def single(shape: Any) -> Any:
    """The one solid of a shape."""
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    solids = list(parts(shape, Kind.TopAbs_SOLID))
    if len(solids) != 1:
        raise ValueError(f"wanted one solid, got {len(solids)}")
    return TopoDS.Solid(solids[0])


def parts(shape: Any, kind: Any) -> list[Any]:
    """Sub-shapes of a kind, each once."""
    from OCP.collections import IndexedMap_TopoDS_Shape_TopTools_ShapeMapHasher as Shapes
    from OCP.TopExp import TopExp

    found = Shapes()
    TopExp.MapShapes_s(shape, kind, found)
    return [found.FindKey(i + 1) for i in range(found.Extent())]


def edges(shape: Any) -> list[Any]:
    """All edges, each once."""
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    return [TopoDS.Edge(e) for e in parts(shape, Kind.TopAbs_EDGE)]


def _lies_on(edge: Any, plane: Plane) -> bool:
    from OCP.BRep import BRep_Tool
    from OCP.TopExp import TopExp

    ends = (TopExp.FirstVertex_s(edge, False), TopExp.LastVertex_s(edge, False))
    points = np.array([BRep_Tool.Pnt_s(v).Coord() for v in ends])
    return bool((np.abs(points @ plane.normal - plane.reach) < ON_PLANE).all())


def volume(shape: Any) -> float:
    """Volume as the kernel integrates it over the exact surfaces [mm^3]."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found, 1e-9, False, False)
    return float(found.Mass())


def sound(shape: Any, what: str) -> Any:
    """The shape, or ValueError where the kernel finds it invalid or it encloses nothing."""
    from OCP.BRepCheck import BRepCheck_Analyzer

    if shape.IsNull() or not BRepCheck_Analyzer(shape).IsValid():
        raise ValueError(f"{what}: not valid")
    if not volume(shape) > 0.0:
        raise ValueError(f"{what}: volume {volume(shape):.1f} mm^3, so it is inside out or empty")
    return shape


def bar(
    section: tuple[tuple[float, float], ...], *, rear: float, front: float, radius: float
) -> Any:
    """A section of (y, z) corners carried along x, its long edges rounded."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Pnt, gp_Vec

    polygon = BRepBuilderAPI_MakePolygon()
    for y, z in section:
        polygon.Add(gp_Pnt(rear, y, z))
    polygon.Close()
    face = BRepBuilderAPI_MakeFace(polygon.Wire(), True).Face()
    solid = BRepPrimAPI_MakePrism(face, gp_Vec(front - rear, 0.0, 0.0)).Shape()
    ends = [Plane((-1.0, 0.0, 0.0), -rear), Plane((1.0, 0.0, 0.0), front)]
    rounding = BRepFilletAPI_MakeFillet(solid)
    for edge in edges(solid):
        if not any(_lies_on(edge, end) for end in ends):
            rounding.Add(radius, edge)
    rounding.Build()
    return single(sound(outward(single(rounding.Shape())), "bar"))


def rod(start: tuple[float, float, float], end: tuple[float, float, float], radius: float) -> Any:
    """A round bar between two points."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    along = np.subtract(end, start)
    axes = gp_Ax2(gp_Pnt(*start), gp_Dir(*(float(c) for c in along)))
    length = float(np.linalg.norm(along))
    return sound(BRepPrimAPI_MakeCylinder(axes, radius, length).Solid(), "rod")
