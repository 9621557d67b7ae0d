# SPDX-License-Identifier: Apache-2.0
"""A zone of a pan as the CAD kernel's solid: its sides, floor and roof, then its roundings.

Straight sides are planes, put together corner by corner; where an outline has arcs, a prism whose
faces are leaned. Roundings are the kernel's weak spot: when it fails, a radius that works is sought
and named.
"""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import (
    MM,
    Solid,
    edges,
    mesh_of,
    parts,
    single,
    sound,
    volume,
)
from sumpwright.geometry.cad_solid import less, prism
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.zone import Slope, ZoneForm

Floats = NDArray[np.float64]

ON = 1e-7
"""m; a point this near a plane lies on it."""
CHORD = 5e-5
"""m; of the triangles that measure a volume a second way."""
TRIED = (0.9, 0.75, 0.5, 0.25)
"""Shares of the radii that are tried where those asked for fail."""


def zone_solid(zone: ZoneForm) -> Solid:
    """The zone with its roundings.

    Parameters
    ----------
    zone : ZoneForm [m]
        Without a flaw.

    Returns
    -------
    solid : Solid [mm]

    Raises
    ------
    SolveError
        Where the kernel cannot round it; the text says which radius it can.
    """
    return measured_zone(zone)[0]


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
    made = _rounded(sharp, zone, 1.0)
    if made is not None:
        return made
    works = next((s for s in TRIED if _rounded(sharp, zone, s) is not None), None)
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


def _rounded(sharp: Solid, zone: ZoneForm, share: float) -> tuple[Solid, Mesh] | None:
    """With roundings of a share of those asked for; None where the kernel fails."""
    radii, floor = share * zone.radii, share * zone.floor_radius
    alike = bool(np.allclose(radii, floor, rtol=1e-6, atol=0.0))
    ways: list[Sequence[tuple[bool, bool]]] = [[(True, True)], [(True, False), (False, True)]]
    for way in ways if alike else ways[::-1]:
        solid: Solid | None = sharp
        for corners, flat in way:
            if solid is not None:
                solid = _once(solid, zone, radii if corners else None, floor if flat else 0.0)
        mesh = None if solid is None else _believed(solid, sharp)
        if mesh is not None:
            return solid, mesh
    return None


def _once(solid: Solid, zone: ZoneForm, radii: Floats | None, floor: float) -> Solid | None:
    from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet

    rounding = BRepFilletAPI_MakeFillet(solid)
    count = 0
    for edge in edges(solid):
        radius = _radius(edge, zone, radii, floor)
        if radius > 0.0:
            rounding.Add(MM * radius, edge)
            count += 1
    if not count:
        return solid
    try:
        rounding.Build()
        return sound(single(rounding.Shape()), "rounded zone") if rounding.IsDone() else None
    except Exception:  # whatever the kernel met: the caller tries another radius
        return None


def _radius(edge: Any, zone: ZoneForm, radii: Floats | None, floor: float) -> float:
    """By how much an edge is to be rounded."""
    points = _along(edge)
    if _lies(points, zone.floor):
        return floor
    if _lies(points, zone.roof or Slope(0.0)):
        return 0.0 if zone.roof is None else floor
    if radii is None:
        return 0.0
    plan = zone.plan(float(points[-1, 2])).points
    away = np.linalg.norm(plan - points[-1, :2], axis=1)
    k = int(away.argmin())
    return float(radii[k]) if away[k] < 1e-5 else 0.0


def _lies(points: Floats, slope: Slope) -> bool:
    return bool((np.abs(points[:, 2] - slope.at(points[:, :2])) < ON * 10.0).all())


def _along(edge: Any) -> Floats:
    """(3, 3) start, middle and end of an edge [m]."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve

    curve = BRepAdaptor_Curve(edge)
    first, last = curve.FirstParameter(), curve.LastParameter()
    spots = [curve.Value(t).Coord() for t in (first, 0.5 * (first + last), last)]
    return np.array(spots) / MM


def _believed(solid: Solid, sharp: Solid) -> Mesh | None:
    """Its triangles, where they have the volume that the kernel says and no rounding took too
    much."""
    found, before = volume(solid, rough=True), volume(sharp, rough=True)
    if not (0.2 * before < found < 1.2 * before) or math.isnan(found):
        return None
    mesh = mesh_of(solid, tolerance=CHORD)
    return mesh if abs(mesh.volume - found) <= CHORD * mesh.area else None
