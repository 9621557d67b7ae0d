# SPDX-License-Identifier: Apache-2.0
"""Solids of the CAD kernel: drawn, joined, cut, measured. Metres outside, the kernel's millimetres
inside.

A `Solid` is the kernel's own shape; nobody outside this folder looks into it. Each one is asked
whether it is valid before it leaves, which is not enough: the kernel has said yes to bodies of a
wrong volume. Who builds one says what volume to expect, or measures its triangles a second way.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.cad_measure import MM, Solid, single, solids_of, sound
from sumpwright.geometry.profile import Profile

Floats = NDArray[np.float64]


def prism(profile: Profile, bottom: float, top: float) -> Solid:
    """An outline in the plane of the rail carried straight up from `bottom` to `top` [m].

    Parameters
    ----------
    profile : Profile [m]
        Of the plan.
    bottom : float [m]
        Lower end.
    top : float [m]
        Upper end.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    face = BRepBuilderAPI_MakeFace(wire(profile, bottom), True).Face()
    made = BRepPrimAPI_MakePrism(face, gp_Vec(0.0, 0.0, MM * (top - bottom))).Shape()
    return sound(single(made), "prism")


def wire(profile: Profile, height: float) -> Any:
    """The kernel's wire of an outline at a height [m].

    Parameters
    ----------
    profile : Profile [m]
        Of the plan.
    height : float [m]
        Over the rail.

    Returns
    -------
    wire : TopoDS_Wire [mm]
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Pnt

    made = BRepBuilderAPI_MakeWire()
    points = [gp_Pnt(MM * x, MM * y, MM * height) for x, y in profile.points.tolist()]
    for k, bulge in enumerate(profile.bulges.tolist()):
        a, b = points[k], points[(k + 1) % len(points)]
        if bulge == 0.0:
            made.Add(BRepBuilderAPI_MakeEdge(a, b).Edge())
        else:
            x, y = MM * _middle(profile, k)
            through = gp_Pnt(float(x), float(y), MM * height)
            made.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(a, through, b).Value()).Edge())
    return made.Wire()


def _middle(profile: Profile, k: int) -> Floats:
    """The middle of an arc: off its chord's middle by bulge times half the chord."""
    a, b = profile.points[k], profile.points[(k + 1) % len(profile.points)]
    half = 0.5 * (b - a)
    right = np.array([half[1], -half[0]])
    return np.asarray(0.5 * (a + b) + profile.bulges[k] * right)


def box(low: ArrayLike, high: ArrayLike) -> Solid:
    """A box between two corners [m].

    Parameters
    ----------
    low : (3,) [m]
        Corner of the smallest coordinates.
    high : (3,) [m]
        Corner of the largest.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Pnt

    a, b = (gp_Pnt(*(MM * np.asarray(p, dtype=float)).tolist()) for p in (low, high))
    return sound(BRepPrimAPI_MakeBox(a, b).Solid(), "box")


def rod(start: ArrayLike, end: ArrayLike, radius: float) -> Solid:
    """A round bar between two points [m].

    Parameters
    ----------
    start : (3,) [m]
        Middle of one end.
    end : (3,) [m]
        Middle of the other.
    radius : float [m]
        Of the bar.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    a, b = (MM * np.asarray(p, dtype=float) for p in (start, end))
    axes = gp_Ax2(gp_Pnt(*a.tolist()), gp_Dir(*(b - a).tolist()))
    made = BRepPrimAPI_MakeCylinder(axes, MM * radius, float(np.linalg.norm(b - a))).Solid()
    return sound(made, "rod")


def fused(solids: Sequence[Solid]) -> Solid:
    """Solids that overlap or touch, as one.

    Parameters
    ----------
    solids : sequence of Solid [mm]
        At least one.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain

    whole = solids[0]
    for solid in solids[1:]:
        whole = BRepAlgoAPI_Fuse(whole, solid).Shape()
    tidy = ShapeUpgrade_UnifySameDomain(whole, True, True, False)
    tidy.Build()
    return sound(single(tidy.Shape()), "fused body")


def less(solid: Solid, others: Sequence[Solid]) -> Solid:
    """A solid without what others cut out of it; one piece must be left.

    Parameters
    ----------
    solid : Solid [mm]
        What is cut.
    others : sequence of Solid [mm]
        What cuts.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    for other in others:
        solid = BRepAlgoAPI_Cut(solid, other).Shape()
    return sound(single(solid), "cut body")


def common(solid: Solid, other: Solid) -> Solid | None:
    """What two solids share, as one solid or a compound of several; None where that is nothing.

    Parameters
    ----------
    solid : Solid [mm]
        One.
    other : Solid [mm]
        The other.

    Returns
    -------
    shared : Solid or None [mm]
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    shared = BRepAlgoAPI_Common(solid, other).Shape()
    found = solids_of(shared)
    return None if not found else found[0] if len(found) == 1 else shared


def moved(solid: Solid, rotation: ArrayLike, shift: ArrayLike) -> Solid:
    """The solid turned by `rotation` (3, 3) about the origin, then moved by `shift` [m].

    Parameters
    ----------
    solid : Solid [mm]
        Any.
    rotation : (3, 3) [-]
        About the origin.
    shift : (3,) [m]
        After turning.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Trsf

    r, s = np.asarray(rotation, dtype=float), MM * np.asarray(shift, dtype=float)
    move = gp_Trsf()
    move.SetValues(*(float(v) for row in range(3) for v in (*r[row], s[row])))
    return BRepBuilderAPI_Transform(solid, move, True).Shape()
