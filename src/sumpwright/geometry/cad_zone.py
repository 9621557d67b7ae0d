# SPDX-License-Identifier: Apache-2.0
"""A zone of a pan as the CAD kernel's solid: its sides, floor and roof, then its roundings.

Straight sides are planes, put together corner by corner; where an outline has arcs, a prism whose
faces are leaned. Roundings are the kernel's weak spot: when it fails, a radius that works is sought
and named.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import (
    MM,
    Solid,
    parts,
    single,
    sound,
)
from sumpwright.geometry.cad_rounding import ON, rounded
from sumpwright.geometry.cad_solid import less, prism
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.zone import Slope, ZoneForm

Floats = NDArray[np.float64]

TRIED = (0.9, 0.75, 0.5, 0.25)
"""Shares of the radii that are tried where those asked for fail."""


def measured_zone(zone: ZoneForm) -> tuple[Solid, Mesh]:
    """The zone with its roundings, and the triangles that its volume was measured by.

    Parameters
    ----------
    zone : ZoneForm [m]
        Without a flaw.

    Returns
    -------
    solid : Solid [mm]
    mesh : Mesh [m]

    Raises
    ------
    SolveError
        Where the kernel cannot round it; the text says which radius it can.
    """
    sharp = sharp_solid(zone)
    made = rounded(sharp, zone, 1.0)
    if made is not None:
        return made
    works = next((s for s in TRIED if rounded(sharp, zone, s) is not None), None)
    ask = f"{1e3 * zone.floor_radius:.4g} mm along the floor"
    ask += f" and {1e3 * float(zone.radii.max()):.4g} mm at the corners"
    if works is None:
        raise SolveError(f"the CAD kernel can round it by no radius, {ask} were asked for")
    least = works * zone.floor_radius, works * float(zone.radii.max())
    raise SolveError(
        f"the CAD kernel cannot round it by {ask}; it can by {1e3 * least[0]:.3g} mm and "
        f"{1e3 * least[1]:.3g} mm"
    )


def sharp_solid(zone: ZoneForm) -> Solid:
    """The zone before its roundings.

    Parameters
    ----------
    zone : ZoneForm [m]
        Without a flaw.

    Returns
    -------
    solid : Solid [mm]
    """
    return _of_planes(zone) if zone.straight else _of_prism(zone)


def _of_planes(zone: ZoneForm) -> Solid:
    """Corner by corner: each upright edge runs down to the floor and up to the roof or rail."""
    low, high = zone.span
    a, b = zone.plan(low).points, zone.plan(high).points
    bottom, top = (_on_plane(a, b, low, high, s) for s in (zone.floor, zone.roof or Slope(0.0)))
    n = len(a)
    sides = [np.array([bottom[k], bottom[(k + 1) % n], top[(k + 1) % n], top[k]]) for k in range(n)]
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid, BRepBuilderAPI_Sewing
    from OCP.BRepLib import BRepLib
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    sewing = BRepBuilderAPI_Sewing(1e-6)
    for face in (*sides, top, bottom[::-1]):
        sewing.Add(_face(face))
    sewing.Perform()
    shells = parts(sewing.SewedShape(), Kind.TopAbs_SHELL)
    if len(shells) != 1:
        raise SolveError("its sides, floor and roof do not close")
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell(shells[0])).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    return sound(solid, "sharp zone")


def _on_plane(a: Floats, b: Floats, low: float, high: float, slope: Slope) -> Floats:
    """(n, 3) where the lines from `a` at `low` to `b` at `high` meet a plane."""
    start = np.column_stack([a, np.full(len(a), low)])
    step = np.column_stack([b - a, np.full(len(a), high - low)])
    rise = np.array([-slope.ahead, -slope.left, 1.0])
    share = (slope.height - start @ rise) / (step @ rise)
    return np.asarray(start + share[:, None] * step)


def _face(corners: Floats) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.gp import gp_Pnt

    polygon = BRepBuilderAPI_MakePolygon()
    for point in MM * corners:
        polygon.Add(gp_Pnt(*point.tolist()))
    polygon.Close()
    return BRepBuilderAPI_MakeFace(polygon.Wire(), True).Face()


def _of_prism(zone: ZoneForm) -> Solid:
    """A prism over the whole height, its faces leaned about the outline, cut by floor and roof."""
    low, high = zone.span
    over = 0.1 * (high - low)
    roof = zone.roof or Slope(0.0)
    solid = prism(zone.outline, low - over, high + over)
    if zone.leans.any():
        solid = _leaned(solid, zone)
    return less(solid, [_half(zone.floor, down=True), _half(roof, down=False)])


def _leaned(solid: Solid, zone: ZoneForm) -> Solid:
    from OCP.BRepOffsetAPI import BRepOffsetAPI_DraftAngle
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    draft = BRepOffsetAPI_DraftAngle(solid)
    neutral = gp_Pln(gp_Pnt(0.0, 0.0, MM * zone.level), gp_Dir(0.0, 0.0, 1.0))
    for face in parts(solid, Kind.TopAbs_FACE):
        k = _side_of(face, zone)
        if k is not None and zone.leans[k] != 0.0:
            draft.Add(TopoDS.Face(face), gp_Dir(0.0, 0.0, -1.0), float(zone.leans[k]), neutral)
    draft.Build()
    if not draft.IsDone():
        raise SolveError(
            "the CAD kernel cannot lean its sides; lean them less, or none of its arcs"
        )
    return sound(single(draft.Shape()), "zone with leaning sides")


def _side_of(face: Any, zone: ZoneForm) -> int | None:
    """Which side an upright face of the prism is."""
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    spots = [BRep_Tool.Pnt_s(TopoDS.Vertex(v)).Coord() for v in parts(face, Kind.TopAbs_VERTEX)]
    points = np.array(spots) / MM
    if np.ptp(points[:, 2]) < ON:
        return None
    outline = zone.outline
    for k, (a, b) in enumerate(zip(outline.points, outline.ends, strict=True)):
        near = [min(np.linalg.norm(p[:2] - e) for e in (a, b)) for p in points]
        if max(near) < 1e-6 and _same_bend(face, zone, k):
            return k
    raise SolveError("a side that the CAD kernel does not give back")


def _same_bend(face: Any, zone: ZoneForm, k: int) -> bool:
    """Of an outline of two pieces both faces have the same corners."""
    if len(zone.outline.points) > 2:
        return True
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.SurfaceProperties_s(face, found)
    a, b = zone.outline.points[k], zone.outline.ends[k]
    out = np.array([(b - a)[1], -(b - a)[0]])
    centre = np.array(found.CentreOfMass().Coord()[:2]) / MM
    return bool(float((centre - 0.5 * (a + b)) @ out) * zone.outline.bulges[k] > 0.0)


def _half(slope: Slope, *, down: bool) -> Any:
    """All the space below a plane, or above it."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeHalfSpace
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt

    plane = gp_Pln(gp_Pnt(0.0, 0.0, MM * slope.height), gp_Dir(-slope.ahead, -slope.left, 1.0))
    side = MM * slope.height + (-1e4 if down else 1e4)
    face = BRepBuilderAPI_MakeFace(plane).Face()
    return BRepPrimAPI_MakeHalfSpace(face, gp_Pnt(0.0, 0.0, side)).Solid()
