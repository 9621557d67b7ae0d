# SPDX-License-Identifier: Apache-2.0
"""A pan's body parted by a level plane, and the ring of wall that shows there."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import MM, Solid, area, bounds, parts, solids_of, volume
from sumpwright.geometry.cad_solid import box

Floats = NDArray[np.float64]

MARGIN = 0.01
"""m; of a cutting box round the body."""
ON_PLANE = 1e-6
"""m; a face whose height differs by less from the split's lies on it."""
LOST = 5e-5
"""Of the body: the kernel's sums differ by its edges' tolerances, 2.2e-5 where leaning sides run
into rounded floors; a lost screw boss is more."""


@dataclass(frozen=True, eq=False)
class Ring:
    """Where the plane cuts the wall: one closed ring."""

    face: Any
    """The kernel's [mm]"""
    outer: float
    """Length of its outer outline [m]"""
    inner: float
    """Of its inner outline [m]"""
    area: float
    """m^2"""


@dataclass(frozen=True, eq=False)
class Weighed:
    """A solid and its volume: the kernel takes a while over each."""

    solid: Solid
    volume: float
    """m^3"""


def parted_solid(body: Solid, height: float) -> tuple[list[Weighed], list[Weighed]]:
    """What lies over a level plane, and what lies under it, in pieces.

    Parameters
    ----------
    body : Solid [mm]
        Of the pan.
    height : float [m]
        Of the plane.

    Returns
    -------
    upper, lower : list of Weighed
        Each valid; their volumes add up to the body's within `LOST` of it.

    Raises
    ------
    SolveError
        Where they do not.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut

    low, high = bounds(body) + np.array([[-MARGIN], [MARGIN]])
    under = box(low, [high[0], high[1], height])
    upper, lower = (
        [weighed(piece, "half") for piece in solids_of(done.Shape())]
        for done in (BRepAlgoAPI_Cut(body, under), BRepAlgoAPI_Common(body, under))
    )
    whole = volume(body)
    found = sum(piece.volume for piece in (*upper, *lower))
    if abs(found - whole) > LOST * whole:
        raise SolveError(
            f"the halves come to {1e6 * found:.6f} cm^3 and the body to {1e6 * whole:.6f} cm^3; "
            "move the split by a tenth of a millimetre and try again"
        )
    return upper, lower


def ring_at(half: Solid, height: float) -> Ring | None:
    """The ring that a half shows at the split, or None where that is anything else.

    Parameters
    ----------
    half : Solid [mm]
        That ends at the plane; of the lower one, the pan's floor must not lie there.
    height : float [m]
        Of the plane.

    Returns
    -------
    ring : Ring or None
    """
    from OCP.BRepTools import BRepTools
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind
    from OCP.TopoDS import TopoDS

    faces = [TopoDS.Face(f) for f in parts(half, Kind.TopAbs_FACE)]
    level = [f for f in faces if _on_plane(f, height)]
    if len(level) != 1:
        return None
    wires = parts(level[0], Kind.TopAbs_WIRE)
    if len(wires) != 2:
        return None
    outer = BRepTools.OuterWire_s(level[0])
    inner = next(w for w in wires if not w.IsSame(outer))
    return Ring(level[0], _length(outer), _length(inner), area(level[0]))


def _on_plane(face: Any, height: float) -> bool:
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.GeomAbs import GeomAbs_SurfaceType

    if BRepAdaptor_Surface(face).GetType() != GeomAbs_SurfaceType.GeomAbs_Plane:
        return False
    return bool((np.abs(bounds(face)[:, 2] - height) < ON_PLANE).all())


def _length(wire: Any) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.LinearProperties_s(wire, found)
    return float(found.Mass()) / MM


def weighed(solid: Solid, what: str) -> Weighed:
    """The solid with its volume.

    Parameters
    ----------
    solid : Solid [mm]
        Any.
    what : str [-]
        What to call it.

    Returns
    -------
    weighed : Weighed

    Raises
    ------
    SolveError
        Where the kernel finds it invalid.
    """
    from OCP.BRepCheck import BRepCheck_Analyzer

    if not BRepCheck_Analyzer(solid).IsValid():
        raise SolveError(f"{what}: the CAD kernel made a body that it finds invalid itself")
    return Weighed(solid, volume(solid))
