# SPDX-License-Identifier: Apache-2.0
"""The socket that the suction tube stands in: a hole of the tube's bore, a shoulder, the tube's
own bore above it."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.build import Piece, Rod, Turned
from sumpwright.geometry.profile import Profile

if TYPE_CHECKING:
    from sumpwright.studies.housing_shape import HousingShape

Floats = NDArray[np.float64]

THROUGH = 1e-3
"""m; how far a cutter runs out of what it cuts."""


@dataclass(frozen=True, eq=False)
class SocketShape:
    """Pieces to add and to cut, and where the tube stands."""

    add: tuple[Piece, ...]
    cut: tuple[Piece, ...]
    entry: Floats
    """(3,) [m] where the hole leaves the inside, on its axis"""
    axis: Floats
    """(3,) [-] the way the oil goes"""
    shoulder: float
    """m, from `entry` to where the tube stands"""


def socket_of(shape: "HousingShape") -> SocketShape:
    """The socket of a housing.

    Raises RangeError where the tube's axis does not leave the inside.
    """
    socket = shape.housing.socket
    if socket.leaves == "top":
        entry = np.array([*(shape.centre + socket.offset), shape.ceiling])
        shoulder = max(shape.housing.top, socket.edge_radius)
        return _socket(shape, entry, np.array([0.0, 0.0, 1.0]), shoulder, None)
    flat = np.array([math.cos(socket.direction), math.sin(socket.direction)])
    axis = np.array([*(math.cos(socket.rise) * flat), math.sin(socket.rise)])
    way = _Way(shape, flat)
    near, far = way.out(shape.inside, 0.0), way.out(shape.plan(), 0.0)
    middle = 0.5 * (shape.ceiling - shape.seat)
    over = socket.over_inlet if socket.over_inlet is not None else shape.flange + middle
    entry = np.array([*(shape.centre + near * flat), shape.inlet + over])
    ahead = way.spread(0.5 * socket.tube)[1]
    shoulder = max(
        (far - near) / math.cos(socket.rise),
        socket.edge_radius,
        ahead + (shape.housing.wall if ahead > THROUGH else 0.0),
    )
    return _socket(shape, entry, axis, shoulder, way)


@dataclass(frozen=True, eq=False)
class _Way:
    """The level direction in which a tube leaves through a wall."""

    shape: "HousingShape"
    flat: Floats

    def out(self, profile: Profile, beside: float) -> float:
        """From the inlet's middle to an outline, on a line this far to the left."""
        left = beside * np.array([-self.flat[1], self.flat[0]])
        return _way_out(profile, self.shape.centre + left, self.flat)

    def spread(self, radius: float) -> tuple[float, float]:
        """How far before and behind its middle the inner wall lies over a round of that radius,
        along the tube's axis."""
        rise = self.shape.housing.socket.rise
        near = self.out(self.shape.inside, 0.0)
        sides = [self.out(self.shape.inside, s) - near for s in (-radius, radius)]
        steep = radius * math.tan(rise)
        back, ahead = (max(0.0, *way) for way in ([-s for s in sides], sides))
        return back / math.cos(rise) + steep, ahead / math.cos(rise) + steep


def _socket(
    shape: "HousingShape", entry: Floats, axis: Floats, shoulder: float, way: _Way | None
) -> SocketShape:
    """Without a `way` under a flat roof, square to it."""
    socket = shape.housing.socket
    bore, tube, edge = 0.5 * socket.bore, 0.5 * socket.tube, socket.edge_radius
    end = entry + (shoulder + socket.depth) * axis
    boss = tube + socket.wall

    def before(radius: float) -> Floats:
        """Where a piece starts to meet all of a wall that bends or leans."""
        back = THROUGH if way is None else way.spread(radius)[0] + 0.1 * THROUGH
        return np.asarray(entry - back * axis)

    start = entry if way is None else before(boss)
    back = float(np.linalg.norm(before(bore + edge) - entry))
    hole = Turned(_hole(bore, edge, back, tube, (shoulder, socket.depth)), entry, axis)
    return SocketShape((Rod(start, end, boss),), (hole,), entry, axis, shoulder)


def _hole(
    bore: float, edge: float, back: float, tube: float, lengths: tuple[float, float]
) -> Profile:
    """All that is cut for the tube, in one: the rounded edge, the bore, the tube's seat."""
    shoulder, depth = lengths
    points = [
        (0.0, -back),
        (bore + edge, -back),
        (bore + edge, 0.0),
        (bore, edge),
        (bore, shoulder),
        (tube, shoulder),
        (tube, shoulder + depth + THROUGH),
        (0.0, shoulder + depth + THROUGH),
    ]
    bulges = [0.0, 0.0, -math.tan(math.pi / 8.0), 0.0, 0.0, 0.0, 0.0, 0.0]
    kept = [
        k
        for k, (a, b) in enumerate(zip(points, [*points[1:], points[0]], strict=True))
        if math.dist(a, b) > 1e-9
    ]
    return Profile(np.array([points[k] for k in kept]), np.array([bulges[k] for k in kept]))


def _way_out(profile: Profile, start: Floats, flat: Floats) -> float:
    """How far along `flat` the outline is crossed last."""
    points = profile.polygon(1e-6)
    local = points - start
    across = local @ np.array([-flat[1], flat[0]])
    along = local @ flat
    after, beyond = np.roll(across, -1), np.roll(along, -1)
    crossed = (across > 0.0) != (after > 0.0)
    if not crossed.any():
        raise RangeError("the tube's direction does not meet the housing's wall")
    share = across[crossed] / (across[crossed] - after[crossed])
    return float((along[crossed] + share * (beyond[crossed] - along[crossed])).max())
