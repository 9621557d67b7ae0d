# SPDX-License-Identifier: Apache-2.0
"""What stands in the demo's new pans: pickup housing and suction tube. Millimetres.

The tube rises clear of the crank to a flange on the block's right rail; the pump sits beside it.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from demo_geometry.block import Floats
from demo_geometry.solid import less, outward, rod, single, sound, volume

MOUTH, OUTER = 23.0, 27.0  # radii of the housing
TUBE = 10.5  # outer radius: 18 mm bore, 1.5 mm wall
BEND = 22.0  # of its centre line

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Pickup:
    """Middle of the mouth, and where the tube goes from over it."""

    mouth: Point
    corners: tuple[Point, ...]


def pickup_a() -> Pickup:
    """Out on the right, with the pocket."""
    return Pickup((155.0, -115.0, -115.0), ((155.0, -115.0, -70.0), (195.0, -65.0, -46.0)))


def pickup_b() -> Pickup:
    """A little ahead and right of the pocket's middle; the tube goes over to the right."""
    return Pickup((166.0, -5.0, -117.0), ((166.0, -5.0, -72.0), (195.0, -65.0, -50.0)))


def housing(pickup: Pickup) -> Any:
    """A cup turned over, 2 mm of sheet on top."""
    x, y, z = pickup.mouth
    cup = rod((x, y, z), (x, y, z + 22.0), OUTER)
    return less(cup, [rod((x, y, z - 1.0), (x, y, z + 20.0), MOUTH)])


def tube(pickup: Pickup) -> Any:
    """From the housing's top to the rail, with what is in it: oil that is never free."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepOffsetAPI import BRepOffsetAPI_MakePipe

    x, y, z = pickup.mouth
    start, end = (x, y, z + 21.0), (*pickup.corners[-1][:2], 0.0)
    spine = BRepBuilderAPI_MakeWire()
    for piece in _spine(np.array([start, *pickup.corners, end])):
        spine.Add(piece)
    disc = BRepBuilderAPI_MakeFace(_circle(start))
    pipe = single(BRepOffsetAPI_MakePipe(spine.Wire(), disc.Face()).Shape())
    whole = sound(outward(pipe), "tube")
    run = sum(_length(piece) for piece in _spine(np.array([start, *pickup.corners, end])))
    if abs(volume(whole) - math.pi * TUBE**2 * run) > 1.0:  # Pappus: area times the centre's path
        raise ValueError("a tube's volume must be its section times its length")
    return whole


def _circle(at: Point) -> Any:
    """The tube's edge round a point, level."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt

    circle = gp_Circ(gp_Ax2(gp_Pnt(*at), gp_Dir(0.0, 0.0, 1.0)), TUBE)
    return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire()


def _spine(points: Floats) -> Iterator[Any]:
    """Straight edges along `points` (n, 3), and arcs of the bend's radius round the inner ones."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Pnt

    at = points[0]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        back = (before - corner) / np.linalg.norm(before - corner)
        on = (after - corner) / np.linalg.norm(after - corner)
        half = 0.5 * math.acos(float(back @ on))
        inward = (back + on) / np.linalg.norm(back + on)
        first, last = (corner + BEND / math.tan(half) * way for way in (back, on))
        middle = corner + (BEND / math.sin(half) - BEND) * inward
        yield BRepBuilderAPI_MakeEdge(gp_Pnt(*at), gp_Pnt(*first)).Edge()
        arc = GC_MakeArcOfCircle(gp_Pnt(*first), gp_Pnt(*middle), gp_Pnt(*last)).Value()
        yield BRepBuilderAPI_MakeEdge(arc).Edge()
        at = last
    yield BRepBuilderAPI_MakeEdge(gp_Pnt(*at), gp_Pnt(*points[-1])).Edge()


def _length(edge: Any) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.LinearProperties_s(edge, found)
    return float(found.Mass())
