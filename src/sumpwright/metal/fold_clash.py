# SPDX-License-Identifier: Apache-2.0
"""Does a sheet part run into itself: when it is folded, and while each bend swings?

Thick pieces are held against each other exactly; swings are looked at in steps, the bends in their
order, those before at their angle and those after still flat.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.region import MM
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.fold import Curve, Face, Folded, curve_points, folded

Floats = NDArray[np.float64]
Thick = Any
"""manifold3d's, in millimetres."""

FINE, COARSE = math.radians(6.0), math.radians(20.0)
"""Of a cut round a bend: of parts that are held against one another, and of a swing."""
STEPS = 6
"""Angles that each bend is looked at on its way; practice."""
TOUCH = 2e-5
"""m; pieces are taken this much smaller all round, so that those that only touch do not clash."""
_NEIGHBOUR = math.radians(91.0)
"""Of a roll next to the piece it starts from: this much of it cannot meet that piece."""
_SPECK = 1e-3
"""mm^3; two pieces that share less touch."""


@dataclass(frozen=True, eq=False)
class Clash:
    """Two pieces of a sheet in one place."""

    bend: str
    """That swings there; empty once all is folded"""
    share: float
    """How far it is closed"""
    place: Floats
    """(3,) [m] in the frame of the flat"""
    volume: float
    """m^3 that they share"""


def clashes(pattern: FlatPattern, steps: int = STEPS) -> tuple[Clash, ...]:
    """Where a part runs into itself; the first clash of each bend's swing, and of the whole.

    Parameters
    ----------
    pattern : FlatPattern [m]
        Bends in the order they are made.
    steps : int [-]
        Angles looked at on each bend's way.

    Returns
    -------
    clashes : tuple of Clash [m]
    """
    return tuple(_clashes(pattern, steps))


def _clashes(pattern: FlatPattern, steps: int) -> Iterator[Clash]:
    count = len(pattern.bends)
    if not count:
        return
    end = _first(folded(pattern), "", 1.0, FINE)
    if end is not None:
        yield end
    for k, bend in enumerate(pattern.bends):
        for step in range(1, steps + 1):
            share = step / steps
            shares = [1.0] * k + [share] + [0.0] * (count - k - 1)
            clash = _first(folded(pattern, shares), bend.name, share, COARSE)
            if clash is not None:
                yield clash
                break


def _first(body: Folded, name: str, share: float, fine: float) -> Clash | None:
    faces = [face_solid(face, body.thickness) for face in body.faces]
    curves = [curve_solids(curve, fine) for curve in body.curves]
    for i, one in enumerate(faces):
        for k, other in enumerate(faces[:i]):
            if (found := _shared(one, other)) is not None and not _joined(body, i, k):
                return Clash(name, share, *found)
    for k, segments in enumerate(curves):
        for angle, segment in segments:
            left = body.curves[k].angle - angle
            for i, face in enumerate(faces):
                start, end = body.hangs[k]
                near = (i == start and angle < _NEIGHBOUR) or (i == end and left < _NEIGHBOUR)
                if not near and (found := _shared(segment, face)) is not None:
                    return Clash(name, share, *found)
            for other in curves[:k]:
                for _, piece in other:
                    if (found := _shared(segment, piece)) is not None:
                        return Clash(name, share, *found)
    return None


def _joined(body: Folded, i: int, k: int) -> bool:
    """Whether one bend of a right angle or less holds two faces apart."""
    return any(
        {i, k} == {a, b} and curve.angle <= _NEIGHBOUR
        for (a, b), curve in zip(body.hangs, body.curves, strict=True)
    )


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
    from manifold3d import CrossSection, FillRule, JoinType, Manifold

    rings = [face.polygon.exterior, *face.polygon.interiors]
    loops = [MM * np.asarray(ring.coords)[:-1] for ring in rings]
    flat = CrossSection(loops, FillRule.EvenOdd).offset(-TOUCH * MM, JoinType.Miter)
    high = (thickness - 2.0 * TOUCH) * MM
    raised = Manifold.extrude(flat, high).translate([0.0, 0.0, -0.5 * high])
    return raised.transform(np.column_stack([face.rotation, MM * face.shift]))


def curve_solids(curve: Curve, fine: float) -> list[tuple[float, Thick]]:
    """A bend as short blocks, each with how far round it starts.

    Parameters
    ----------
    curve : Curve [m]
        In space.
    fine : float [rad]
        Most that a block turns.

    Returns
    -------
    blocks : list of (float, Thick) [rad, mm]
    """
    from manifold3d import Manifold

    cuts = list(curve_points(curve, fine))
    count = len(cuts) - 1
    found = []
    for k, (a, b) in enumerate(pairwise(cuts)):
        corners = np.concatenate([a, b])
        middle = corners.mean(axis=0)
        away = corners - middle
        size = np.linalg.norm(away, axis=1, keepdims=True)
        smaller = middle + away * np.maximum(1.0 - TOUCH / size, 0.5)
        angle = curve.angle * k / count
        found.append((angle, Manifold.hull_points(MM * smaller)))
    return found


def part_solids(body: Folded) -> list[Thick]:
    """All of a folded part as thick bodies.

    Parameters
    ----------
    body : Folded [m]
        In space.

    Returns
    -------
    solids : list of Thick [mm]
    """
    faces = [face_solid(face, body.thickness) for face in body.faces]
    return [*faces, *(s for curve in body.curves for _, s in curve_solids(curve, FINE))]


def shared_by(ones: Sequence[Thick], others: Sequence[Thick]) -> tuple[Floats, float] | None:
    """The middle and the volume of the most that two bodies have in common.

    Parameters
    ----------
    ones : sequence of Thick [mm]
        Pieces of one.
    others : sequence of Thick [mm]
        Pieces of the other.

    Returns
    -------
    shared : ((3,), float) or None [m, m^3]
    """
    if not ones or not others:
        return None
    a, b = (
        np.array([solid.bounding_box() for solid in solids]).reshape(-1, 2, 3)
        for solids in (ones, others)
    )
    near = ((a[:, None, 0] < b[None, :, 1]) & (b[None, :, 0] < a[:, None, 1])).all(axis=2)
    pairs = zip(*(index.tolist() for index in np.nonzero(near)), strict=True)
    found = [f for i, k in pairs if (f := _shared(ones[i], others[k])) is not None]
    return max(found, key=lambda f: f[1]) if found else None


def _shared(one: Thick, other: Thick) -> tuple[Floats, float] | None:
    a, b = (np.asarray(s.bounding_box()).reshape(2, 3) for s in (one, other))
    if (a[0] >= b[1]).any() or (b[0] >= a[1]).any():
        return None
    both = one ^ other
    volume = float(both.volume())
    if volume < _SPECK:
        return None
    box = np.asarray(both.bounding_box()).reshape(2, 3)
    return np.asarray(box.mean(axis=0) / MM), volume / MM**3
