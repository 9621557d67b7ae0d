# SPDX-License-Identifier: Apache-2.0
"""What is in the way while one bend of a sheet is made, some others being made already.

Two pieces of a sheet lie to one another as the bends between them are; what else is bent is of no
account to them, so each pair is looked at once for each state of those. A press brake's tool is
straight: the sheet lies on a die along the bend's line, and a blade stands in the bend. Both are as
long as the line. Sizes of the tool are common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.region import MM
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.fold import Curve, jointed
from sumpwright.metal.fold_piece import COARSE, TOUCH, Kept, Pieces, Thick, common

Floats = NDArray[np.float64]
What = Literal["sheet", "die", "blade"]

STEPS = 6
"""Angles that each bend is looked at on its way; [common-practice]."""
DIE = 4.0
"""Thicknesses to each side of the line that lie on the die: half of a usual opening of 8."""
DEEP = 0.1
"""m that die and blade reach away from the sheet."""


@dataclass(frozen=True, eq=False)
class Hindrance:
    """Why a bend cannot be made as the others then are."""

    bend: int
    """Number of the bend that is being made"""
    others: tuple[int, ...]
    """Numbers of the bends that hold what it meets; none: what it starts from or turns itself"""
    what: What
    """What meets: the sheet itself, or a tool"""
    place: Floats
    """(3,) [m] in the frame of the flat"""
    mask: int
    """A bit for each bend that it depends on"""


class Swings:
    """A pattern's bends, each with what it may meet."""

    def __init__(self, pattern: FlatPattern) -> None:
        self.pattern = pattern
        self.jointed = jointed(pattern)
        self.count, self.faces = len(pattern.bends), len(self.jointed.pieces)
        self._masks = list(self._ancestors())
        self._seen: dict[tuple[int, int, int, int], Hindrance | None] = {}
        self._asked: dict[tuple[int, bool], list[tuple[int, int, int]]] = {}
        self._kept: Kept = {}

    def hindrance(self, bend: int, made: int, *, tools: bool) -> Hindrance | None:
        """What is in the way of a bend, with bits for the bends that are made; None if nothing."""
        if (bend, tools) not in self._asked:
            self._asked[(bend, tools)] = list(self._pairs(bend, tools))
        asked = self._asked[(bend, tools)]
        keys = [(bend, i, k, made & mask) for i, k, mask in asked]
        known = next((met for key in keys if (met := self._seen.get(key)) is not None), None)
        fresh = [pair for pair, key in zip(asked, keys, strict=True) if key not in self._seen]
        return self._look(bend, made, fresh) if known is None and fresh else known

    def _ancestors(self) -> Iterator[int]:
        """Of each piece, a bit for each bend that turns it; a bend's own shape is its own bit's."""
        hangs, masks = self.jointed.hangs, {0: 0}
        for k in self.jointed.outward:
            start, end = hangs[k]
            if end is not None:
                masks[end] = masks[start] | 1 << k
        yield from (masks[k] for k in range(self.faces))
        yield from (masks[start] | 1 << k for k, (start, _) in enumerate(hangs))

    def _pairs(self, bend: int, tools: bool) -> Iterator[tuple[int, int, int]]:
        """Pieces that move to one another as it swings, with the bends between them; with -1 for
        its die and its blade, -2."""
        own, bit = self._masks, 1 << bend
        for i, k in combinations(range(len(own)), 2):
            mask = own[i] ^ own[k] | self._shape(i) | self._shape(k)
            if mask & bit:
                yield i, k, mask
        if tools and not self.pattern.bends[bend].rolled:
            start, end = self.jointed.hangs[bend]
            for k in range(len(own)):
                if k not in (start, end, self.faces + bend):
                    mask = own[start] ^ own[k] | self._shape(k) | bit
                    yield -1, k, mask
                    yield -2, k, mask

    def _shape(self, piece: int) -> int:
        return 1 << piece - self.faces if piece >= self.faces else 0

    def _look(self, bend: int, made: int, pairs: list[tuple[int, int, int]]) -> Hindrance | None:
        """The first of the pairs that meet, on the bend's way; what is seen is kept."""
        tooled = any(i < 0 for i, _, _ in pairs)
        for step in range(STEPS + 1):
            pieces = self._posture(bend, made, step / STEPS)
            tools = dict(self._tools(bend, pieces, step)) if tooled else {}
            for i, k, mask in pairs:
                met = _meets(pieces, tools.get(i), i, k)
                if met is not None:
                    found = self._hindrance(bend, i, k, mask, met)
                    self._seen[(bend, i, k, made & mask)] = found
                    return found
        for i, k, mask in pairs:
            self._seen[(bend, i, k, made & mask)] = None
        return None

    def _posture(self, bend: int, made: int, share: float) -> Pieces:
        shares = [float(made >> k & 1) for k in range(self.count)]
        shares[bend] = share
        return Pieces(self.jointed.folded(shares), COARSE, self._kept)

    def _tools(self, bend: int, pieces: Pieces, step: int) -> Iterator[tuple[int, Thick]]:
        """The die before the bend starts, and the blade all the way."""
        if self.pattern.bends[bend].rolled:
            return
        curve = pieces.body.curves[bend]
        if step == 0:
            yield -1, _die(curve)
        yield -2, _blade(curve)

    def _hindrance(self, bend: int, i: int, k: int, mask: int, place: Floats) -> Hindrance:
        others = {self._nearest(p, mask) for p in (i, k) if p >= 0} - {bend}
        what: What = "sheet" if i >= 0 else "die" if i == -1 else "blade"
        return Hindrance(bend, tuple(sorted(others)), what, place, mask)

    def _nearest(self, piece: int, mask: int) -> int:
        """Of the bends between two pieces, the one that is at one of them."""
        if piece >= self.faces:
            return piece - self.faces
        return next(
            k for k, ends in enumerate(self.jointed.hangs) if mask >> k & 1 and piece in ends
        )


def _meets(pieces: Pieces, tool: Thick | None, i: int, k: int) -> Floats | None:
    if i >= 0:
        met = pieces.meeting(i, k)
        return None if met is None else met[0]
    if tool is None:
        return None
    box = np.asarray(tool.bounding_box()).reshape(2, 3) / MM
    own = pieces.box(k)
    if (own[0] >= box[1]).any() or (box[0] >= own[1]).any():
        return None
    found = (common(tool, block.made()) for block in pieces.blocks(k))
    return next((met[0] for met in found if met is not None), None)


def _die(curve: Curve) -> Thick:
    """What the sheet lies on: along the line, to each side of its middle."""
    bend = curve.bend
    sign = 1.0 if bend.up else -1.0
    middle, half = 0.5 * bend.allowance, DIE * bend.thickness
    low = -sign * 0.5 * bend.thickness
    return _box(curve, (middle, low), np.eye(2), ((-half, half), (-DEEP, 0.0)), sign)


def _blade(curve: Curve) -> Thick:
    """What stands in the bend: as thick as its nose is round, halfway between both sides."""
    bend, half = curve.bend, 0.5 * curve.bend.thickness
    sign = 1.0 if bend.up else -1.0
    turn = 0.5 * curve.angle
    c, s = np.cos(turn), np.sin(turn)
    foot = np.array([0.5 * bend.allowance, sign * half])
    if curve.angle > 1e-9:
        radius = bend.allowance / curve.angle - bend.k * bend.thickness
        foot = np.array([radius * s, sign * (radius + half - radius * c)])
    axes = np.array([[c, sign * s], [-s, sign * c]])
    nose = max(bend.radius, half)
    return _box(curve, (foot[0], foot[1]), axes, ((-nose, nose), (0.0, DEEP)), 1.0)


def _box(
    curve: Curve,
    foot: tuple[float, float],
    axes: Floats,
    spans: tuple[tuple[float, float], tuple[float, float]],
    sign: float,
) -> Thick:
    """A bar along a bend's line; foot and both axes are in the plane square to it, out and up."""
    from manifold3d import Manifold

    bend = curve.bend
    (a, b), (c, d) = spans
    size = np.array([bend.length - 2.0 * TOUCH, b - a, d - c - TOUCH])
    bar = Manifold.cube((MM * size).tolist()).translate(
        [MM * TOUCH, MM * a, MM * (c if d <= 0.0 else c + TOUCH)]
    )
    along, out = np.append(bend.along, 0.0), np.append(bend.out, 0.0)
    up = np.array([0.0, 0.0, 1.0])
    turned = [axis[0] * out + axis[1] * sign * up for axis in axes]
    place = np.append(bend.line[0], 0.0) + foot[0] * out + foot[1] * up
    flat = bar.transform(np.column_stack([along, *turned, MM * place]))
    return flat.transform(np.column_stack([curve.rotation, MM * curve.shift]))
