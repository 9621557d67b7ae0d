# SPDX-License-Identifier: Apache-2.0
"""Convex blocks bounded by planes: what the demo's pans are put together from. Millimetres.

A pan's inside and its outside come from the same planes, the outside's moved out by the wall; the
two are built apart, because the kernel's own shelling of rounded bodies cannot be trusted.
"""

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
ON_PLANE = 1e-7
"""mm; a corner this near a plane lies on it."""


@dataclass(frozen=True)
class Plane:
    """A side of a block: the block lies where normal . x <= reach."""

    normal: tuple[float, float, float]
    reach: float
    fixed: bool = False
    """True for the open top at the pan rail: it gets no wall and no rounding."""


@dataclass(frozen=True)
class Block:
    """A convex block with its edges rounded."""

    planes: tuple[Plane, ...]
    radius: float

    def grown(self, wall: float) -> "Block":
        """The block with a wall round it."""
        sides = (p if p.fixed else Plane(p.normal, p.reach + wall) for p in self.planes)
        return Block(tuple(sides), self.radius + wall)


def side(through: tuple[float, float, float], normal: tuple[float, float, float]) -> Plane:
    """The plane through a point, square to a normal of any length."""
    unit = np.array(normal) / np.linalg.norm(normal)
    a, b, c = (float(u) for u in unit)
    return Plane((a, b, c), float(unit @ through))


def top(height: float = 0.0) -> Plane:
    """The open top at the pan rail."""
    return Plane((0.0, 0.0, 1.0), height, fixed=True)


def wall(axis: str, at: float, *, draft: float = 0.0, from_z: float = 0.0) -> Plane:
    """An upright wall: `axis` is '+x', '-x', '+y' or '-y', the way it faces.

    It passes through `at` at the height `from_z` and leans in below it by `draft` degrees.
    """
    sign = 1.0 if axis[0] == "+" else -1.0
    lean = -math.tan(math.radians(draft))
    if axis[1] == "x":
        return side((at, 0.0, from_z), (sign, 0.0, lean))
    return side((0.0, at, from_z), (0.0, sign, lean))


def floor(at: tuple[float, float, float], *, toward_x: float = 0.0, toward_y: float = 0.0) -> Plane:
    """A floor through a point, rising by so much per mm forward and to the left."""
    return side(at, (toward_x, toward_y, -1.0))


def roof(at: tuple[float, float, float], *, toward_x: float = 0.0, toward_y: float = 0.0) -> Plane:
    """A roof through a point, rising by so much per mm forward and to the left."""
    return side(at, (-toward_x, -toward_y, 1.0))


def corners(block: Block) -> Floats:
    """(n, 3) corner points of a block."""
    normals = np.array([p.normal for p in block.planes])
    reach = np.array([p.reach for p in block.planes])
    found: list[Floats] = []
    for three in combinations(range(len(reach)), 3):
        rows = list(three)
        if abs(np.linalg.det(normals[rows])) < 1e-9:
            continue
        point = np.linalg.solve(normals[rows], reach[rows])
        inside = (normals @ point <= reach + ON_PLANE).all()
        if inside and not any(np.linalg.norm(point - p) < 1e-6 for p in found):
            found.append(point)
    return np.array(found)


def outlines(block: Block) -> list[tuple[Plane, Floats]]:
    """Each side with its corner points in order, counter-clockwise seen from outside."""
    points = corners(block)
    found = []
    for plane in block.planes:
        normal = np.array(plane.normal)
        own = points[np.abs(points @ normal - plane.reach) < ON_PLANE * 10.0]
        if len(own) < 3:
            raise ValueError(f"plane {plane} does not bound its block")
        found.append((plane, own[_order(own, normal)]))
    return found


def _order(points: Floats, normal: Floats) -> NDArray[np.int64]:
    spokes = points - points.mean(axis=0)
    first = spokes[0] / np.linalg.norm(spokes[0])
    second = np.cross(normal, first)
    return np.argsort(np.arctan2(spokes @ second, spokes @ first))
