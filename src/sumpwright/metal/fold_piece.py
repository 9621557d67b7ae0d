# SPDX-License-Identifier: Apache-2.0
"""A folded part in thick pieces, of which two are held against each other only where they may meet.

What stays flat comes first, then the bends, each in short blocks. A box round each piece says what
is far apart; bodies are made when they are asked for, and kept for the part's other postures.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from math import radians
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.region import MM
from sumpwright.metal.flat_pattern import Polygon
from sumpwright.metal.fold import Curve, Face, Folded, curve_cuts

Floats = NDArray[np.float64]
Thick = Any
"""manifold3d's, in millimetres."""
Kept = dict[Any, Any]
"""Bodies in the flat's own frame, by what they are of."""

FINE, COARSE = radians(6.0), radians(20.0)
"""Of a cut round a bend: of parts that are held against one another, and of a swing."""
TOUCH = 2e-5
"""m; pieces are taken this much smaller all round, so that those that only touch do not clash."""
NEIGHBOUR = radians(91.0)
"""Of a roll next to the piece it starts from: this much of it cannot meet that piece."""
_SPECK = 1e-3
"""mm^3; two pieces that share less touch."""


@dataclass(frozen=True, eq=False)
class Block:
    """A thick body that is made when asked for."""

    box: Floats
    """(2, 3) [m] least and largest"""
    made: Callable[[], Thick]
    angle: float = 0.0
    """rad round its bend to where it starts"""

    def shared(self, other: "Block") -> tuple[Floats, float] | None:
        """Where it and another are both, and how much [m, m^3]; None where they are not."""
        if not _near(self.box, other.box):
            return None
        return common(self.made(), other.made())


class Pieces:
    """The faces of a folded part, then its bends, by number."""

    def __init__(self, body: Folded, fine: float, kept: Kept | None = None) -> None:
        self.body, self.fine = body, fine
        self.kept: Kept = {} if kept is None else kept
        self.faces = len(body.faces)
        self._boxes: dict[int, Floats] = {}

    def __len__(self) -> int:
        return self.faces + len(self.body.curves)

    def box(self, k: int) -> Floats:
        """(2, 3) [m] round a piece, least and largest."""
        if k not in self._boxes:
            self._boxes[k] = _box(self._spots(k))
        return self._boxes[k]

    def blocks(self, k: int) -> list[Block]:
        """What a piece is made of."""
        if k < self.faces:
            return [Block(self.box(k), lambda: self._face(k))]
        cuts = self._spots(k).reshape(-1, 4, 3)
        turn = self.body.curves[k - self.faces].angle / (len(cuts) - 1)
        return [
            Block(_box(p), self._curve(k - self.faces, j), j * turn)
            for j, p in enumerate(np.concatenate([cuts[:-1], cuts[1:]], axis=1))
        ]

    def meeting(self, i: int, k: int) -> tuple[Floats, float] | None:
        """Where two pieces are both, and how much [m, m^3]; not of neighbours that only touch."""
        if not _near(self.box(i), self.box(k)) or self._joined(i, k):
            return None
        pairs = product(self.blocks(i), self.blocks(k))
        near = (self._neighbours(i, k, one, other) for one, other in pairs)
        found = (None if beside else one.shared(other) for beside, one, other in near)
        return next((f for f in found if f is not None), None)

    def _joined(self, i: int, k: int) -> bool:
        """Whether one bend of a right angle or less holds two faces apart."""
        return any(
            {i, k} == {a, b} and curve.angle <= NEIGHBOUR
            for (a, b), curve in zip(self.body.hangs, self.body.curves, strict=True)
        )

    def _neighbours(self, i: int, k: int, one: Block, other: Block) -> tuple[bool, Block, Block]:
        """Whether a block of a bend is one beside the face that it holds."""
        for piece, face, block in ((i, k, one), (k, i, other)):
            if piece >= self.faces > face:
                start, end = self.body.hangs[piece - self.faces]
                left = self.body.curves[piece - self.faces].angle - block.angle
                if (face == start and block.angle < NEIGHBOUR) or (
                    face == end and left < NEIGHBOUR
                ):
                    return True, one, other
        return False, one, other

    def _spots(self, k: int) -> Floats:
        """(n, 3) [m] points that a piece lies within."""
        if k < self.faces:
            face = self.body.faces[k]
            return face.placed(self._keep(("box", k), lambda: _corners(face, self.body.thickness)))
        return _moved(self.body.curves[k - self.faces], self._cuts(k - self.faces).reshape(-1, 3))

    def _cuts(self, k: int) -> Floats:
        curve = self.body.curves[k]
        flat = Curve(curve.bend, curve.angle, np.eye(3), np.zeros(3))
        key = ("cuts", k, curve.angle, self.fine)
        return np.asarray(self._keep(key, lambda: curve_cuts(flat, self.fine)))

    def _face(self, k: int) -> Thick:
        face = self.body.faces[k]
        flat = self._keep(("face", k), lambda: _plate(face.polygon, self.body.thickness))
        return flat.transform(np.column_stack([face.rotation, MM * face.shift]))

    def _curve(self, k: int, j: int) -> Callable[[], Thick]:
        curve = self.body.curves[k]
        key = ("block", k, curve.angle, self.fine, j)

        def made() -> Thick:
            flat = self._keep(key, lambda: _hull(self._cuts(k)[j : j + 2].reshape(-1, 3)))
            return flat.transform(np.column_stack([curve.rotation, MM * curve.shift]))

        return made

    def _keep(self, key: Any, made: Callable[[], Any]) -> Any:
        if key not in self.kept:
            self.kept[key] = made()
        return self.kept[key]

    def solids(self) -> Iterator[Thick]:
        """All of them."""
        return (block.made() for k in range(len(self)) for block in self.blocks(k))


def face_solid(face: Face, thickness: float) -> Thick:
    """A flat piece as a thick body.

    Parameters
    ----------
    face : Face [m]
        In space.
    thickness : float [m]
        Of the sheet.

    Returns
    -------
    solid : Thick [mm]
    """
    flat = _plate(face.polygon, thickness)
    return flat.transform(np.column_stack([face.rotation, MM * face.shift]))


def common(one: Thick, other: Thick) -> tuple[Floats, float] | None:
    """Where two bodies are both, and how much.

    Parameters
    ----------
    one : Thick [mm]
        A body.
    other : Thick [mm]
        Another.

    Returns
    -------
    common : ((3,), float) or None [m, m^3]
        Its middle and its volume; None where they touch at most.
    """
    a, b = (np.asarray(s.bounding_box()).reshape(2, 3) for s in (one, other))
    if not _near(a, b):
        return None
    both = one ^ other
    volume = float(both.volume())
    if volume < _SPECK:
        return None
    box = np.asarray(both.bounding_box()).reshape(2, 3)
    return np.asarray(box.mean(axis=0) / MM), volume / MM**3


def _box(points: Floats) -> Floats:
    return np.array([points.min(axis=0), points.max(axis=0)])


def _near(a: Floats, b: Floats) -> bool:
    return not (bool((a[0] >= b[1]).any()) or bool((b[0] >= a[1]).any()))


def _corners(face: Face, thickness: float) -> Floats:
    """(8, 3) [m] of the box round a flat piece, as it lies in the flat."""
    a, b, c, d = face.polygon.bounds
    high = 0.5 * thickness - TOUCH
    low, far = (a + TOUCH, b + TOUCH, -high), (c - TOUCH, d - TOUCH, high)
    return np.array(list(product(*zip(low, far, strict=True))))


def _moved(curve: Curve, points: Floats) -> Floats:
    return np.asarray(points @ curve.rotation.T + curve.shift)


def _plate(polygon: Polygon, thickness: float) -> Thick:
    from manifold3d import CrossSection, FillRule, JoinType, Manifold

    rings = [polygon.exterior, *polygon.interiors]
    loops = [MM * np.asarray(ring.coords)[:-1] for ring in rings]
    flat = CrossSection(loops, FillRule.EvenOdd).offset(-TOUCH * MM, JoinType.Miter)
    high = (thickness - 2.0 * TOUCH) * MM
    return Manifold.extrude(flat, high).translate([0.0, 0.0, -0.5 * high])


def _hull(corners: Floats) -> Thick:
    """The block between two cuts."""
    from manifold3d import Manifold

    middle = corners.mean(axis=0)
    away = corners - middle
    size = np.linalg.norm(away, axis=1, keepdims=True)
    smaller = middle + away * np.maximum(1.0 - TOUCH / size, 0.5)
    return Manifold.hull_points(MM * smaller)
