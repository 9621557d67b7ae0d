# SPDX-License-Identifier: Apache-2.0
"""The edges at a split made ready for welding: groove, lip and rebate in the kernel's solids.

The kernel's chamfers and offsets are taken only where what they take away or add is what the
outline's length says it must be: chamfers have come out valid with a stretch missing.
"""

import math
from collections.abc import Callable
from typing import Any

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import MM, edges, parts, solids_of
from sumpwright.geometry.cad_split import Ring, Weighed, weighed

GROOVE_OFF = 0.1
"""Share by which a groove may differ from its triangle carried round the outline: walls lean."""
REBATE_OFF = 0.25
"""As above, of a rebate: over its height a leaning wall gives a good part of its thickness."""
LIP_OFF = 0.01
"""As above, of a lip, which stands free: only the offset's sharp corners are not in the sum."""


def grooved(half: Weighed, ring: Ring, *, depth: float, leg: float) -> Weighed:
    """A half with the outer edge of its split face bevelled all round.

    Parameters
    ----------
    half : Weighed [m]
        Whose ring it is.
    ring : Ring [m]
        At the split.
    depth : float [m]
        Of the bevel on the split face, from outside.
    leg : float [m]
        Along the wall.

    Returns
    -------
    half : Weighed

    Raises
    ------
    SolveError
        Where the kernel cannot, or takes away something else than a triangle all round.
    """
    from OCP.BRepFilletAPI import BRepFilletAPI_MakeChamfer
    from OCP.BRepTools import BRepTools

    def make() -> Any:
        made = BRepFilletAPI_MakeChamfer(half.solid)
        for edge in edges(BRepTools.OuterWire_s(ring.face)):
            made.Add(MM * depth, MM * leg, edge, ring.face)
        made.Build()
        return made.Shape()

    done = _made(make, "groove")
    # Pappus: a triangle's middle runs round a third of the depth inside the outline
    expected = 0.5 * depth * leg * (ring.outer - 2.0 * math.pi * depth / 3.0)
    return _held(done, half.volume - done.volume, expected, GROOVE_OFF, "groove")


def lipped(half: Weighed, ring: Ring, *, thickness: float, tall: float) -> Weighed:
    """A half with a ring standing on the inside of its split face.

    Parameters
    ----------
    half : Weighed [m]
        Whose ring it is.
    ring : Ring [m]
        At the split.
    thickness : float [m]
        From the inner outline outward.
    tall : float [m]
        Height of the lip over the split; negative where it hangs under it.

    Returns
    -------
    half : Weighed

    Raises
    ------
    SolveError
        Where the kernel cannot, or adds something else than that ring.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse

    done = _made(
        lambda: BRepAlgoAPI_Fuse(half.solid, _band(ring, thickness, tall, hollow=True)).Shape(),
        "lip",
    )
    added = done.volume - half.volume
    return _held(done, added, _band_volume(ring, thickness, tall), LIP_OFF, "lip")


def rebated(half: Weighed, ring: Ring, *, thickness: float, tall: float) -> Weighed:
    """A half with the inside of its wall cut back next to the split.

    Parameters
    ----------
    half : Weighed [m]
        Whose ring it is.
    ring : Ring [m]
        At the split.
    thickness : float [m]
        From the inner outline outward.
    tall : float [m]
        How far up from the split the wall is cut back; negative goes down.

    Returns
    -------
    half : Weighed

    Raises
    ------
    SolveError
        Where the kernel cannot, or takes away something else than that ring.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    done = _made(
        lambda: BRepAlgoAPI_Cut(half.solid, _band(ring, thickness, tall, hollow=False)).Shape(),
        "rebate",
    )
    gone = half.volume - done.volume
    return _held(done, gone, _band_volume(ring, thickness, tall), REBATE_OFF, "rebate")


def _band(ring: Ring, out: float, tall: float, *, hollow: bool) -> Any:
    """What stands on the inner outline and `out` beyond it; filled, or a ring."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepOffsetAPI import BRepOffsetAPI_MakeOffset
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.BRepTools import BRepTools
    from OCP.GeomAbs import GeomAbs_JoinType
    from OCP.gp import gp_Vec
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    outer = BRepTools.OuterWire_s(ring.face)
    wires = [TopoDS.Wire(w) for w in parts(ring.face, Kind.TopAbs_WIRE)]
    inner = next(w for w in wires if not w.IsSame(outer))
    face = BRepBuilderAPI_MakeFace(inner, True).Face()
    offset = BRepOffsetAPI_MakeOffset(face, GeomAbs_JoinType.GeomAbs_Arc)
    offset.Perform(MM * out)
    moved = [TopoDS.Wire(w) for w in parts(offset.Shape(), Kind.TopAbs_WIRE)]
    made = BRepBuilderAPI_MakeFace(moved[0], True)
    if hollow:
        made.Add(TopoDS.Wire(BRepTools.OuterWire_s(face).Reversed()))
    return _plain(BRepPrimAPI_MakePrism(made.Face(), gp_Vec(0.0, 0.0, MM * tall)).Shape())


def _plain(band: Any) -> Any:
    """Offsets of ellipses as splines: carried upward as they are, no STEP file gives them back."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepBuilderAPI import BRepBuilderAPI_NurbsConvert
    from OCP.GeomAbs import GeomAbs_SurfaceType as Surface
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    faces = [BRepAdaptor_Surface(TopoDS.Face(f)) for f in parts(band, Kind.TopAbs_FACE)]
    if all(f.GetType() != Surface.GeomAbs_SurfaceOfExtrusion for f in faces):
        return band
    return BRepBuilderAPI_NurbsConvert(band, True).Shape()


def _band_volume(ring: Ring, thickness: float, tall: float) -> float:
    """Steiner: an offset outward by t adds L t + pi t^2."""
    return abs(tall) * (ring.inner * thickness + math.pi * thickness**2)


def _made(make: Callable[[], Any], what: str) -> Weighed:
    try:
        found = solids_of(make())
    except Exception as err:  # whatever the kernel met at some corner
        raise SolveError(f"the CAD kernel cannot make the {what} at the split") from err
    if len(found) != 1:
        raise SolveError(f"the {what} leaves {len(found)} bodies of one")
    return weighed(found[0], what)


def _held(done: Weighed, found: float, expected: float, off: float, what: str) -> Weighed:
    if not abs(found - expected) <= off * expected:
        raise SolveError(
            f"the {what} comes to {1e9 * found:.4g} mm^3 where the outline says "
            f"{1e9 * expected:.4g} mm^3: the wall turns away at some place"
        )
    return done
