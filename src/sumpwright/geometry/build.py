# SPDX-License-Identifier: Apache-2.0
"""A body as a recipe: pieces put together, pieces cut out. The boolean library makes a mesh of it,
the CAD kernel (cad_build.py) a solid; that the two agree in volume is each one's check."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.disc import square_basis
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.profile import CHORD, Profile
from sumpwright.geometry.solid import Solid, mesh_of

Floats = NDArray[np.float64]
MM = 1e3


@dataclass(frozen=True, eq=False)
class Prism:
    """An outline in the plane of the rail, carried straight up."""

    profile: Profile
    bottom: float
    """m"""
    top: float
    """m"""


@dataclass(frozen=True, eq=False)
class Rod:
    """A round bar."""

    start: ArrayLike
    """(3,) [m]"""
    end: ArrayLike
    """(3,) [m]"""
    radius: float
    """m"""


@dataclass(frozen=True, eq=False)
class Turned:
    """An outline of radius and height, turned about an axis."""

    profile: Profile
    """Of (radius, height) [m], no radius below 0"""
    start: ArrayLike
    """(3,) [m] where radius and height are 0"""
    axis: ArrayLike
    """(3,) [-] along which the height counts"""


Piece = Prism | Rod | Turned


@dataclass(frozen=True, eq=False)
class Build:
    """What is put together, and what is then cut out of it."""

    add: tuple[Piece, ...]
    cut: tuple[Piece, ...] = ()


def build_mesh(build: Build, *, chord: float = CHORD) -> Mesh:
    """The body's skin.

    Parameters
    ----------
    build : Build [m]
        One body.
    chord : float [m]
        Largest distance of a chord from its curve.

    Returns
    -------
    mesh : Mesh [m]
        Closed, faces outward.
    """
    made = mesh_of(_built(build, chord))
    return Mesh(made.vertices / MM, made.faces)


def build_volume(build: Build, *, chord: float = CHORD) -> float:
    """The body's volume, by booleans of its pieces.

    Parameters
    ----------
    build : Build [m]
        One body.
    chord : float [m]
        Largest distance of a chord from its curve.

    Returns
    -------
    volume : float [m^3]
    """
    return float(_built(build, chord).volume()) / MM**3


def _built(build: Build, chord: float) -> Solid:
    """In millimetres: the library's flat half rounds to 1e-8 of its unit."""
    from manifold3d import Manifold, OpType

    whole = Manifold.batch_boolean([_piece(p, chord) for p in build.add], OpType.Add)
    taken = [_piece(p, chord) for p in build.cut]
    return Manifold.batch_boolean([whole, *taken], OpType.Subtract) if taken else whole


def _piece(piece: Piece, chord: float) -> Solid:
    from manifold3d import CrossSection, FillRule, Manifold

    if isinstance(piece, Prism):
        flat = CrossSection([MM * piece.profile.polygon(chord)], FillRule.NonZero)
        return flat.extrude(MM * (piece.top - piece.bottom)).translate((0, 0, MM * piece.bottom))
    if isinstance(piece, Rod):
        start, end = (np.asarray(p, dtype=float) for p in (piece.start, piece.end))
        long = float(np.linalg.norm(end - start))
        sides = _sides(piece.radius, chord)
        bar = Manifold.cylinder(MM * long, MM * piece.radius, MM * piece.radius, sides)
        return bar.transform(_placing(start, end - start))
    flat = CrossSection([MM * piece.profile.polygon(chord)], FillRule.NonZero)
    widest = float(piece.profile.points[:, 0].max())
    made = flat.revolve(_sides(widest, chord))
    return made.transform(_placing(np.asarray(piece.start, float), np.asarray(piece.axis, float)))


def _placing(start: Floats, axis: Floats) -> Floats:
    """(3, 4) that puts the z axis along `axis` and the origin at `start`, in millimetres."""
    across = square_basis(axis)
    along = axis / np.linalg.norm(axis)
    return np.column_stack([across[0], across[1], along, MM * start])


def _sides(radius: float, chord: float) -> int:
    """Of a polygon in a circle, in fours, so that its widths along the axes are true."""
    if not radius > chord:
        return 8
    return 4 * math.ceil(0.25 * math.pi / math.acos(1.0 - chord / radius))
