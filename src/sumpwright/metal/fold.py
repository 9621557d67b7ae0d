# SPDX-License-Identifier: Apache-2.0
"""A flat pattern folded in space, by its neutral fibre.

The sheet lies with its mid-plane at z = 0, *up* is +z. The piece that holds most of the sheet
stays; every bend turns what lies past its strip. A bend that is only partly closed uses the same
length of neutral fibre round a larger radius.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern, Polygon, frame_polygon

Floats = NDArray[np.float64]

_CUT = 1e-6
"""m; a strip is taken this much wider than its bend, so that no shaving is left beside it."""
_SPECK = 1e-9
"""m^2; a smaller piece of the sheet is a shaving."""
_STEP = 1e-6
"""m; how far past a strip one looks for the piece that hangs on it."""


@dataclass(frozen=True, eq=False)
class Face:
    """A piece that stays flat."""

    polygon: Polygon
    """In the flat [m]"""
    rotation: Floats
    """(3, 3) from the flat to where it is"""
    shift: Floats
    """(3,) [m]"""

    def placed(self, points: ArrayLike) -> Floats:
        """Points (..., 3) [m] of the flat, in space."""
        return np.asarray(np.asarray(points, dtype=float) @ self.rotation.T + self.shift)


@dataclass(frozen=True, eq=False)
class Curve:
    """A bend's strip, closed by a share of its angle."""

    bend: FlatBend
    angle: float
    """rad, as far as it is closed"""
    rotation: Floats
    shift: Floats
    """Of the piece it starts from"""

    def placed(self, points: ArrayLike) -> Floats:
        """Points (..., 3) [m] of the flat that lie in the strip, in space."""
        p = np.asarray(points, dtype=float)
        start, out, along = self.bend.line[0], self.bend.out, self.bend.along
        off = p[..., :2] - start
        s, across = off @ out, off @ along
        sign = 1.0 if self.bend.up else -1.0
        half, radius = 0.5 * self.bend.thickness, _radius(self.bend, self.angle)
        if self.angle < 1e-9:
            flat = p
        else:
            turn = s * self.angle / self.bend.allowance
            arm = radius + half - sign * p[..., 2]
            run, rise = arm * np.sin(turn), sign * (radius + half - arm * np.cos(turn))
            plan = start + run[..., None] * out + across[..., None] * along
            flat = np.concatenate([plan, rise[..., None]], axis=-1)
        return np.asarray(flat @ self.rotation.T + self.shift)


@dataclass(frozen=True, eq=False)
class Folded:
    """A sheet part in space."""

    thickness: float
    faces: tuple[Face, ...]
    """The one that stays is first"""
    curves: tuple[Curve, ...]
    """In the order of the pattern's bends"""
    hangs: tuple[tuple[int, int | None], ...]
    """Of each bend: the face it starts from, and the one it turns, if any"""

    def placed(self, points: ArrayLike, z: float = 0.0) -> Floats:
        """Points (n, 2) [m] of the flat at height z [m] in the sheet, in space: (n, 3) [m]."""
        from shapely import Point

        flat = np.asarray(points, dtype=float).reshape(-1, 2)
        found = np.zeros((len(flat), 3))
        for k, at in enumerate(flat):
            spot = Point(at)
            near = [face.polygon.distance(spot) for face in self.faces]
            bent = [strip.distance(spot) for strip in self._strips]
            high = np.array([*at, z])
            if bent and min(bent) < min(near):
                found[k] = self.curves[int(np.argmin(bent))].placed(high)
            else:
                found[k] = self.faces[int(np.argmin(near))].placed(high)
        return found

    @cached_property
    def _strips(self) -> list[Polygon]:
        from shapely import Polygon as Ring

        return [Ring(curve.bend.strip) for curve in self.curves]


@dataclass(frozen=True, eq=False)
class Jointed:
    """A flat pattern parted at its bends, ready to be folded again and again."""

    pattern: FlatPattern
    pieces: tuple[Polygon, ...]
    """What stays flat; the one that holds most of the sheet is first"""
    hangs: tuple[tuple[int, int | None], ...]
    """Of each bend: the piece it starts from, and the one it turns, if any"""
    outward: tuple[int, ...]
    """Numbers of the bends, those nearer to the first piece before those that hang on them"""
    _turns: dict[tuple[int, float], tuple[Floats, Floats]] = field(default_factory=dict)

    def folded(self, shares: Sequence[float]) -> Folded:
        """With each bend closed as far as its share of its angle, 0 to 1."""
        bends = self.pattern.bends
        placing: dict[int, tuple[Floats, Floats]] = {0: (np.eye(3), np.zeros(3))}
        curves: dict[int, Curve] = {}
        for k in self.outward:
            start, end = self.hangs[k]
            curves[k] = Curve(bends[k], shares[k] * bends[k].angle, *placing[start])
            if end is not None:
                rotation, shift = placing[start]
                turn, past = self._turned(k, shares[k])
                placing[end] = rotation @ turn, rotation @ past + shift
        faces = tuple(Face(piece, *placing[k]) for k, piece in enumerate(self.pieces))
        closed = tuple(curves[k] for k in range(len(bends)))
        return Folded(self.pattern.thickness, faces, closed, self.hangs)

    def _turned(self, k: int, share: float) -> tuple[Floats, Floats]:
        if (k, share) not in self._turns:
            bend = self.pattern.bends[k]
            self._turns[(k, share)] = _turned_past(bend, share * bend.angle)
        return self._turns[(k, share)]


def jointed(pattern: FlatPattern) -> Jointed:
    """A flat pattern parted at its bends.

    Parameters
    ----------
    pattern : FlatPattern [m]
        Whose bends each run from edge to edge of the sheet.

    Returns
    -------
    jointed : Jointed [m]

    Raises
    ------
    RangeError
        Where a bend does not part the sheet, so that nothing can turn about it.
    """
    pieces = _pieces(pattern)
    ties = [_tie(pieces, bend) for bend in pattern.bends]
    reached, outward = [_base(pieces, ties)], list[int]()
    while len(outward) < len(ties):
        ready = [k for k, (start, _) in enumerate(ties) if start in reached and k not in outward]
        if not ready:
            loose = next(k for k in range(len(ties)) if k not in outward)
            raise RangeError(f"bend '{pattern.bends[loose].name}' hangs on nothing")
        outward += ready
        ends = (ties[k][1] for k in ready)
        reached += [end for end in dict.fromkeys(ends) if end is not None and end not in reached]
    rank = {piece: k for k, piece in enumerate(reached)}
    hangs = tuple((rank[a], None if b is None else rank[b]) for a, b in ties)
    return Jointed(pattern, tuple(pieces[k] for k in reached), hangs, tuple(outward))


def folded(pattern: FlatPattern, shares: Sequence[float] | None = None) -> Folded:
    """A flat pattern with its bends closed.

    Parameters
    ----------
    pattern : FlatPattern [m]
        Whose bends each run from edge to edge of the sheet.
    shares : sequence of float [-]
        How far each bend is closed, 0 to 1; all the way where left out.

    Returns
    -------
    folded : Folded [m]

    Raises
    ------
    RangeError
        Where a bend does not part the sheet, so that nothing can turn about it.
    """
    return jointed(pattern).folded([1.0] * len(pattern.bends) if shares is None else shares)


def _pieces(pattern: FlatPattern) -> list[Polygon]:
    rest = pattern.polygon
    for bend in pattern.bends:
        wide = frame_polygon(
            bend.line[0] - _CUT * bend.along,
            (bend.length + 2.0 * _CUT) * bend.along,
            bend.allowance * bend.out,
        )
        rest = rest.difference(wide)
    parts = list(rest.geoms) if hasattr(rest, "geoms") else [rest]
    return [part for part in parts if part.area > _SPECK]


def _tie(pieces: list[Polygon], bend: FlatBend) -> tuple[int, int | None]:
    """The piece a bend starts from, and the one it turns."""
    middle = bend.line.mean(axis=0)
    start = _at(pieces, middle - _STEP * bend.out)
    end = _at(pieces, middle + (bend.allowance + _STEP) * bend.out)
    if start is None or start == end:
        raise RangeError(f"bend '{bend.name}' does not part the sheet")
    return start, end


def _at(pieces: list[Polygon], point: Floats) -> int | None:
    from shapely import Point

    spot = Point(point)
    apart = [piece.distance(spot) for piece in pieces]
    near = int(np.argmin(apart)) if apart else -1
    return near if apart and apart[near] < _STEP else None


def _base(pieces: list[Polygon], ties: list[tuple[int, int | None]]) -> int:
    turned = {end for _, end in ties}
    free = [k for k in range(len(pieces)) if k not in turned] or list(range(len(pieces)))
    return max(free, key=lambda k: pieces[k].area)


def _radius(bend: FlatBend, angle: float) -> float:
    """Inside radius of a bend closed by `angle` only: its neutral fibre keeps its length."""
    if angle < 1e-9:
        return math.inf
    return bend.allowance / angle - bend.k * bend.thickness


def _turned_past(bend: FlatBend, angle: float) -> tuple[Floats, Floats]:
    """How what lies past a bend turns, and moves, from the flat."""
    out, along = np.append(bend.out, 0.0), np.append(bend.along, 0.0)
    sign = 1.0 if bend.up else -1.0
    up = np.array([0.0, 0.0, 1.0])
    c, s = math.cos(angle), sign * math.sin(angle)
    turn = np.outer(along, along) + np.outer(c * out + s * up, out) + np.outer(c * up - s * out, up)
    start = np.append(bend.line[0], 0.0) + bend.allowance * out
    to = np.append(bend.line[0], 0.0)
    if angle > 1e-9:
        arm = _radius(bend, angle) + 0.5 * bend.thickness
        to = to + arm * (math.sin(angle) * out + sign * (1.0 - math.cos(angle)) * up)
    else:
        to = start
    return turn, to - turn @ start


def curve_cuts(curve: Curve, turned_by: float) -> Floats:
    """Cuts through a bend, one after the other round it.

    Parameters
    ----------
    curve : Curve [m]
        Closed as far as it is.
    turned_by : float [rad]
        Most from one cut to the next.

    Returns
    -------
    cuts : (n, 4, 3) [m]
        Corners of each.
    """
    bend, half = curve.bend, 0.5 * curve.bend.thickness
    count = max(math.ceil(curve.angle / turned_by), 1)
    run = np.linspace(0.0, bend.allowance, count + 1)[:, None, None] * bend.out
    line = np.repeat(bend.line, 2, axis=0)
    high = np.broadcast_to([[-half], [half], [-half], [half]], (count + 1, 4, 1))
    return curve.placed(np.concatenate([line + run, high], axis=-1))
