# SPDX-License-Identifier: Apache-2.0
"""The CAD kernel's solid of a recipe of pieces, its volume held against the boolean library's."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import SolveError
from sumpwright.geometry.build import Build, Piece, Prism, Rod, Turned, build_volume
from sumpwright.geometry.cad_measure import MM, Solid, area, single, sound, volume
from sumpwright.geometry.cad_solid import fused, less, prism, rod
from sumpwright.geometry.disc import square_basis

Floats = NDArray[np.float64]

FINE = 1e-6
"""m; distance of a chord from its curve in the second volume."""


def build_solid(build: Build, what: str) -> Solid:
    """The solid, valid and of the volume that booleans of chords give it.

    Parameters
    ----------
    build : Build [m]
        One body.
    what : str [-]
        What to call it.

    Returns
    -------
    solid : Solid [mm]

    Raises
    ------
    SolveError
        Where the kernel's volume is further from the other than the chords explain.
    """
    made = fused([_piece(p) for p in build.add])
    if build.cut:
        made = less(made, [_piece(p) for p in build.cut])
    sound(made, what)
    found, expected = volume(made), build_volume(build, chord=FINE)
    if abs(found - expected) > FINE * area(made):
        raise SolveError(
            f"{what}: the CAD kernel made {1e6 * found:.6g} cm^3 and the booleans "
            f"{1e6 * expected:.6g} cm^3; change a size by a tenth of a millimetre and try again"
        )
    return made


def _piece(piece: Piece) -> Solid:
    if isinstance(piece, Prism):
        return prism(piece.profile, piece.bottom, piece.top)
    if isinstance(piece, Rod):
        return rod(piece.start, piece.end, piece.radius)
    return turned(piece)


def turned(piece: Turned) -> Solid:
    """An outline of radius and height turned about its axis.

    Parameters
    ----------
    piece : Turned [m]
        The outline, and where its axis is.

    Returns
    -------
    solid : Solid [mm]
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt

    start, axis = (np.asarray(v, dtype=float) for v in (piece.start, piece.axis))
    face = BRepBuilderAPI_MakeFace(_upright_wire(piece, start, axis)).Face()
    about = gp_Ax1(gp_Pnt(*(MM * start).tolist()), gp_Dir(*axis.tolist()))
    made = single(BRepPrimAPI_MakeRevol(face, about).Shape())
    if volume(made) < 0.0:
        made.Reverse()
    return sound(made, "turned body")


def _upright_wire(piece: Turned, start: Floats, axis: Floats) -> Any:
    """The outline in a plane through the axis."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Pnt

    plane = np.stack([square_basis(axis)[0], axis / np.linalg.norm(axis)])

    def spot(flat: Floats) -> Any:
        return gp_Pnt(*(MM * (start + flat @ plane)).tolist())

    made = BRepBuilderAPI_MakeWire()
    profile = piece.profile
    for a, b, bulge in zip(profile.points, profile.ends, profile.bulges.tolist(), strict=True):
        if bulge == 0.0:
            made.Add(BRepBuilderAPI_MakeEdge(spot(a), spot(b)).Edge())
            continue
        half = 0.5 * (b - a)
        through = spot(0.5 * (a + b) + bulge * np.array([half[1], -half[0]]))
        arc = GC_MakeArcOfCircle(spot(a), through, spot(b)).Value()
        made.Add(BRepBuilderAPI_MakeEdge(arc).Edge())
    return made.Wire()
