# SPDX-License-Identifier: Apache-2.0
"""What the demo's pans have to clear: crossmember, chassis legs, steering rack.

Millimetres in the car frame: x forward from the front axle, y left, z up from the ground at ride
height.
"""

from typing import Any

from demo_geometry.block import Block, side, wall
from demo_geometry.solid import bar, fused, rod, rounded

REAR_FACE = -20.0  # of the crossmember
WELD_GAP = 1.0  # between crossmember and legs
SECTION = (  # y and z round the crossmember, counter-clockwise seen from behind
    (-330.0, 150.0),
    (-150.0, 105.0),
    (150.0, 105.0),
    (330.0, 150.0),
    (330.0, 210.0),
    (150.0, 165.0),
    (-150.0, 165.0),
    (-330.0, 210.0),
)


def crossmember() -> Any:
    """A bent box section, lowest in the middle."""
    return bar(SECTION, rear=REAR_FACE, front=REAR_FACE + 70.0, radius=6.0)


def chassis_legs() -> list[Any]:
    """Right and left leg, as one assembly."""
    return [_leg(-255.0, -205.0), _leg(205.0, 255.0)]


def _leg(right: float, left: float) -> Any:
    """A box section from the crossmember back to the bulkhead."""
    sides = (
        wall("-x", -330.0),
        wall("+x", REAR_FACE - WELD_GAP),
        wall("-y", right),
        wall("+y", left),
        side((0.0, 0.0, 130.0), (0.0, 0.0, -1.0)),
        side((0.0, 0.0, 185.0), (0.0, 0.0, 1.0)),
    )
    return rounded(Block(sides, 6.0))


def steering_rack() -> Any:
    """Tube, boots, tie rods and the pinion's tower, ahead of the crossmember."""
    x, z = 88.0, 158.0
    tube = rod((x, -190.0, z), (x, 190.0, z), 22.0)
    ties = rod((x, -400.0, z + 6.0), (x, 400.0, z + 6.0), 8.0)
    boots = [rod((x, hand * 185.0, z), (x, hand * 320.0, z), 28.0) for hand in (-1.0, 1.0)]
    tower = rod((x, 140.0, z - 26.0), (x - 40.0, 175.0, z + 95.0), 26.0)
    return fused([tube, ties, *boots, tower])
