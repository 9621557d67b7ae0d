# SPDX-License-Identifier: Apache-2.0
"""How a printed piece lies in the printer: on its widest cut, if it then fits."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.solid import Solid, mesh_of
from sumpwright.metal.print_section import Face, Piece
from sumpwright.metal.print_section_joint import Joint

Floats = NDArray[np.float64]

TOP = "top"
"""What a pan without a cut lies on: its rail."""


@dataclass(frozen=True, eq=False)
class Lying:
    """A piece as it lies in the printer."""

    on: Literal["cut", "rail", "none of its cuts"]
    turn: Floats
    """(3, 3) from the engine's frame to the printer's"""
    face: Face | None = None
    """The cut that it lies on"""


def lying(
    number: int, piece: Piece, joints: Sequence[Joint], room: Floats, top: float | None
) -> Lying:
    """The widest flat face that a piece can lie on and fit.

    Parameters
    ----------
    number : int [-]
        Of the piece.
    piece : Piece [mm]
        As cut.
    joints : sequence of Joint [mm]
        Those of all pieces; a face with steps on it is none to lie on.
    room : (3,) [mm]
        What fits the printer.
    top : float or None [mm]
        Height of the body's flat top; None where it has none.

    Returns
    -------
    lying : Lying [-]
    """
    wide = [(area, face) for face in piece.faces if (area := _area(number, face, joints)) > 0.0]
    order = [face for _, face in sorted(wide, key=lambda w: -w[0])]
    for face in order:
        turn = _turned(face.axis, face.side, piece.size, room)
        if turn is not None:
            return Lying("cut", turn, face)
    if top is not None and abs(piece.body.bounding_box()[5] - top) < 1e-6:
        turn = _turned(2, 1, piece.size, room)
        if turn is not None:
            return Lying("rail", turn)
    turns = [_turned(axis, -1, piece.size, room) for axis in (2, 0, 1)]
    return Lying("none of its cuts", next(t for t in turns if t is not None))


def _area(number: int, face: Face, joints: Sequence[Joint]) -> float:
    """What lies flat on a face; nothing where a step stands out of it."""
    at = [j for j in joints if j.axis == face.axis and abs(j.at - face.at) < 1e-6]
    mine = [j for j in at if number == (j.low if face.side > 0 else j.high)]
    if face.side > 0 and any(j.kind == "step" for j in mine):
        return 0.0
    return sum(j.area for j in mine)


def _turned(axis: int, side: int, size: Floats, room: Floats) -> Floats | None:
    """(3, 3) that turns a side down; the other two axes as they fit, None where they do not."""
    down = np.zeros(3)
    down[axis] = -side  # the row that becomes up
    across = [k for k in range(3) if k != axis]
    for first, second in (across, across[::-1]):
        extent = size[[first, second, axis]]
        if (extent <= room + 1e-9).all():
            rows = np.stack([np.eye(3)[first], np.eye(3)[second], down])
            if np.linalg.det(rows) < 0.0:
                rows[1] *= -1.0
            return rows
    return None


def laid(body: Solid, turn: Floats, scale: float) -> Mesh:
    """A body as it is printed: turned, made larger by its shrinkage, set down at the origin.

    Corners are rounded to the single precision of STL and 3MF; what then has no area is left out.

    Parameters
    ----------
    body : Solid [mm]
        In the engine's frame.
    turn : (3, 3) [-]
        To the printer's.
    scale : float [-]
        What it is drawn larger by.

    Returns
    -------
    mesh : Mesh [m]
        Of points that are single precision in millimetres.
    """
    mesh = mesh_of(body)
    points = scale * mesh.vertices @ turn.T
    points = (points - points.min(axis=0)).astype(np.float32)
    kept, number = np.unique(points, axis=0, return_inverse=True)
    faces = number.reshape(-1)[mesh.faces]
    a, b, c = faces.T
    faces = faces[(a != b) & (b != c) & (c != a)]
    return Mesh(kept.astype(np.float64) / 1e3, faces)
