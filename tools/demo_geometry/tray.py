# SPDX-License-Identifier: Apache-2.0
"""Windage trays of the demo's new pans: a sheet from wall to wall, with slots. Millimetres."""

from collections.abc import Sequence
from typing import Any

from demo_geometry.block import Block, Plane, wall
from demo_geometry.solid import less, rod, rounded, sharp

SIDES = (-25.5, -26.5)  # upper and lower
EDGE = ((19.9, 400.1), (-76.1, 76.1))  # half a millimetre off the walls there
DIPSTICK = (228.0, 54.0)  # where it goes through
SLOT, HALF = 10.0, 44.0  # width along the car, and half the length across it

Hole = tuple[float, float, float]
"""x, y and radius."""


def tray_a() -> Any:
    """Slots all along the middle, one along each side, the stick's hole."""
    across = (40.0, 64.0, 108.0, 136.0, 164.0, 192.0, 220.0, 275.0, 305.0, 335.0, 365.0)
    along = [_plate((105.0, 175.0), (y - 4.0, y + 4.0), over=1.0) for y in (-67.0, 67.0)]
    return _sheet([*(_across(x) for x in across), *along], [(*DIPSTICK, 5.0)])


def tray_b() -> Any:
    """Closed over the pickup and ahead of it; slots behind it and over the shallow front.

    A hole over each side compartment lets its air out; the stick's hole is a close one. The pipes
    of the drains fill theirs, which are left out.
    """
    across = (32.0, 100.0, 116.0, 275.0, 305.0, 335.0, 365.0)
    air = [(104.0, -68.0, 4.5), (144.0, 68.0, 4.5)]
    return _sheet([_across(x) for x in across], [*air, (*DIPSTICK, 4.0)])


def _sheet(slots: Sequence[Block], holes: Sequence[Hole]) -> Any:
    (rear, front), (right, left) = EDGE
    high, low = SIDES[0] + 1.0, SIDES[1] - 1.0
    drills = [rod((x, y, low), (x, y, high), radius) for x, y, radius in holes]
    sheet = rounded(_plate((rear, front), (right, left), radius=11.5))
    return less(sheet, [*(sharp(slot) for slot in slots), *drills])


def _across(x: float) -> Block:
    return _plate((x - SLOT / 2.0, x + SLOT / 2.0), (-HALF, HALF), over=1.0)


def _plate(
    x: tuple[float, float], y: tuple[float, float], *, radius: float = 0.0, over: float = 0.0
) -> Block:
    """A flat block at the tray's height, `over` above and under it; its upright edges rounded."""
    high, low = SIDES[0] + over, SIDES[1] - over
    flat = (Plane((0.0, 0.0, 1.0), high, fixed=True), Plane((0.0, 0.0, -1.0), -low, fixed=True))
    sides = (wall("-x", x[0]), wall("+x", x[1]), wall("-y", y[0]), wall("+y", y[1]))
    return Block((*flat, *sides), radius)
