# SPDX-License-Identifier: Apache-2.0
"""Roundings of a zone's corners, floor and roof by the CAD kernel, believed once measured twice."""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.cad_measure import MM, Solid, edges, mesh_of, single, sound, volume
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.zone import Slope, ZoneForm

Floats = NDArray[np.float64]

ON = 1e-7
"""m; a point this near a plane lies on it."""
CHORD = 5e-5
"""m; of the triangles that measure a volume a second way."""


def rounded(sharp: Solid, zone: ZoneForm, share: float) -> tuple[Solid, Mesh] | None:
    """A zone with roundings of a share of those asked for, and its triangles.

    Parameters
    ----------
    sharp : Solid [mm]
        Before its roundings.
    zone : ZoneForm [m]
        What it is.
    share : float [-]
        1 for the radii asked for.

    Returns
    -------
    made : (Solid [mm], Mesh [m]) or None
        None where the kernel fails.
    """
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
