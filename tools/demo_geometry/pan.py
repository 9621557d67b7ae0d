# SPDX-License-Identifier: Apache-2.0
"""The demo's three pans as blocks: one pressed stock pan, two welded low-profile ones. Millimetres.

Engine frame: x forward from the rear face of the block, y left, z up from the pan rail. Every
number is a dimension of the inside; the outside is the same planes moved out by the wall.
"""

from dataclasses import dataclass

from demo_geometry.block import Block, Plane, floor, roof, top, wall

OPENING = 78.0  # half the rail's opening across
REAR, FRONT = 18.0, 402.0  # of the rail's opening
DRAFT = 3.0  # degrees; every upright wall leans in by this unless it says more


@dataclass(frozen=True)
class PanShape:
    """A pan: blocks that make its inside, and the wall round them."""

    blocks: tuple[Block, ...]
    wall: float


def flange() -> Block:
    """The rail flange outside the walls, with upright corners rounded."""
    sides = (wall("-x", 0.0), wall("+x", 420.0), wall("-y", -95.0), wall("+y", 95.0))
    return Block((top(), *sides, Plane((0.0, 0.0, -1.0), 8.0, fixed=True)), 24.0)


def stock_pan() -> PanShape:
    """Deep at the rear, a long slope up to a shallow front; pressed from 1.5 mm sheet."""
    shallow = _between_rails(FRONT, draft=DRAFT, depth=60.0, radius=16.0)
    deep = _between_rails(345.0, draft=25.0, depth=162.0, radius=16.0)
    return PanShape((shallow, deep), 1.5)


def pan_a() -> PanShape:
    """Revision A: all the width on the right, and the pickup's pocket out there with it."""
    return PanShape(
        (
            *_low_centre(),
            _kick_out(-1, out=192.0, rear=24.0, height=(-111.0, -107.0)),
            _pocket(centre=-115.0),
        ),
        3.0,
    )


def pan_b() -> PanShape:
    """Revision B: two shorter kick-outs, the left ahead of the starter; pocket in the middle."""
    return PanShape(
        (
            *_low_centre(),
            _kick_out(-1, out=156.0, rear=30.0, height=(-109.0, -103.0)),
            _kick_out(1, out=156.0, rear=110.0, height=(-109.0, -103.0)),
            _pocket(centre=0.0),
        ),
        3.0,
    )


def _low_centre() -> tuple[Block, Block]:
    """Shallow over the crossmember at the front, low from there to the rear."""
    shallow = _between_rails(FRONT, draft=DRAFT, depth=42.0, radius=12.0)
    low = _between_rails(262.0, draft=6.0, depth=112.0, radius=12.0)
    return shallow, low


def _between_rails(front: float, *, draft: float, depth: float, radius: float) -> Block:
    """As wide as the rail's opening, from the rear to `front`."""
    across = (wall("-y", -OPENING, draft=DRAFT), wall("+y", OPENING, draft=DRAFT))
    along = (wall("-x", REAR, draft=DRAFT), wall("+x", front, draft=draft))
    return Block((top(), *along, *across, floor((0.0, 0.0, -depth))), radius)


def _kick_out(hand: int, *, out: float, rear: float, height: tuple[float, float]) -> Block:
    """Wider than the rail on one side (1 left, -1 right); roof low enough to reach the bolts.

    `height` is that of the floor at the side wall and at the outer end: it drains to the middle.
    """
    outer, inner = ("+y", "-y") if hand > 0 else ("-y", "+y")
    fall = (height[1] - height[0]) / (out - OPENING)
    return Block(
        (
            wall("-x", rear, draft=DRAFT),
            wall("+x", 258.0, draft=6.0),
            wall(outer, hand * out, draft=DRAFT),
            wall(inner, hand * 45.0),
            floor((0.0, hand * OPENING, height[0]), toward_y=hand * fall),
            roof((0.0, hand * OPENING, -30.0), toward_y=-hand * 0.04),
        ),
        10.0,
    )


def _pocket(*, centre: float) -> Block:
    """A shallow well in the floor for the pickup."""
    return Block(
        (
            wall("-x", 95.0, draft=20.0, from_z=-100.0),
            wall("+x", 230.0, draft=20.0, from_z=-100.0),
            wall("-y", centre - 50.0, draft=20.0, from_z=-100.0),
            wall("+y", centre + 50.0, draft=20.0, from_z=-100.0),
            floor((0.0, 0.0, -124.0)),
            roof((0.0, 0.0, -90.0)),
        ),
        6.0,
    )
