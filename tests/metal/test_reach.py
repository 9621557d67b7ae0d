# SPDX-License-Identifier: Apache-2.0
"""Cutter reach against closed forms: corners, undercuts, holders. [closed-form] throughout."""

import math

import numpy as np
import pytest

from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.profile import Profile, circle_profile, rounded_profile
from sumpwright.geometry.solid import less, mesh_of, solid_of
from sumpwright.metal.reach import (
    COARSE,
    SLIMMER,
    TOLD,
    Tool,
    free_tips,
    grid_error,
    height_map,
    lowest_tips,
)
from sumpwright.metal.reach_skin import reached_points, seen_points, skin_points

CELL = 5e-4
EACH = 1e-6
"""m^2 a point: a thousand of them to 10 cm^2."""


def prism(profile: Profile, bottom: float, top: float) -> Mesh:
    from manifold3d import CrossSection, Manifold

    flat = CrossSection([profile.polygon(1e-6)])
    return mesh_of(Manifold.extrude(flat, top - bottom).translate([0.0, 0.0, bottom]))


def cut(block: Mesh, *tools: Mesh) -> Mesh:
    return mesh_of(less(solid_of(block, what="block"), [solid_of(t, what="tool") for t in tools]))


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Mesh:
    (a, b, c), (d, e, f) = low, high
    return prism(rounded_profile([(a, b), (d, b), (d, e), (a, e)], [0.0] * 4), c, f)


def pocket(radius: float, depth: float) -> Mesh:
    """60 by 40 mm; its walls lie on no line of the grid."""
    x, y = 0.01013, 0.01017
    corners = [(x, y), (x + 0.06, y), (x + 0.06, y + 0.04), (x, y + 0.04)]
    hollow = prism(rounded_profile(corners, [radius] * 4), 0.04 - depth, 0.05)
    return cut(box((0.0, 0.0, 0.0), (0.08, 0.06, 0.04)), hollow)


def missed(mesh: Mesh, tool: Tool, cell: float = CELL) -> tuple[np.ndarray, np.ndarray, float]:
    """Points and normals of the inside that a tool from above leaves, and the area of each."""
    seen = height_map(mesh, 1, cell=cell, margin=tool.radius + 3.0 * cell)
    skin = skin_points(mesh, each=EACH)
    left = ~reached_points(seen, skin, lowest_tips(seen, tool), tool)
    away = np.abs(skin.points[:, :2] - [0.04013, 0.03017])
    inside = (away < [0.0301, 0.0201]).all(axis=1)
    inside &= skin.points[:, 2] > 1e-4
    return skin.points[left & inside], skin.normals[left & inside], skin.share


@pytest.mark.parametrize("cell", [5e-4, 2e-4])
def test_a_corner_tighter_than_the_cutter_keeps_the_wall_that_the_closed_form_says(
    cell: float,
) -> None:
    corner, radius, depth = 0.003, 0.010, 0.025
    _, normals, share = missed(pocket(corner, depth), Tool(radius), cell)
    wall = share * float((np.abs(normals[:, 2]) < 0.5).sum())

    def left(told: float) -> float:
        """Of each corner: its arc and both tangents, where the cutter's arc is `told` away."""
        straight = (radius - corner) - math.sqrt(2.0 * radius * told - told**2)
        return 4.0 * depth * (2.0 * straight + 0.5 * math.pi * corner)

    # told apart from TOLD less the half cell a cutter may be kept off, to what the grid may hide
    assert left(grid_error(cell)) < wall < left((TOLD - 0.5) * cell)


@pytest.mark.parametrize("cell", [5e-4, 2e-4])
def test_the_same_corner_keeps_the_floor_between_both_arcs(cell: float) -> None:
    corner, radius = 0.003, 0.010
    _, normals, share = missed(pocket(corner, 0.025), Tool(radius), cell)
    floor = share * float((normals[:, 2] > 0.5).sum())

    # between a right angle's arcs of two radii, four times; the cutter's moves with every cell by
    # which it is taken to be slimmer, over the whole wall that it does not touch
    area = 4.0 * (radius**2 - corner**2) * (1.0 - 0.25 * math.pi)
    around = 4.0 * (2.0 * (radius - corner) + 0.5 * math.pi * corner)
    assert area - SLIMMER * cell * around < floor < area + 0.5 * cell * around


def test_a_cutter_no_larger_than_the_corner_reaches_everything() -> None:
    points, _, _ = missed(pocket(0.006, 0.025), Tool(0.005))
    assert len(points) == 0


def test_what_overhangs_is_seen_from_neither_side() -> None:
    # a slot 10 mm high and 8 mm deep into the side of a block, open to the side only
    slot = box((-0.01, -0.01, 0.015), (0.008, 0.07, 0.025))
    part = cut(box((0.0, 0.0, 0.0), (0.08, 0.06, 0.04)), slot)
    skin = skin_points(part, each=EACH)
    seen = np.zeros(len(skin.points), dtype=bool)
    for side in (1, -1):
        seen |= seen_points(height_map(part, side, cell=CELL, margin=0.002), skin)
    # roof, floor and back wall, 60 mm long; less a strip told apart along both open edges
    expected = 0.06 * (2.0 * 0.008 + 0.010)
    assert skin.share * float((~seen).sum()) == pytest.approx(expected, abs=2 * 0.06 * 2 * CELL)


def test_a_holder_keeps_a_short_cutter_from_a_deep_floor_and_the_wall_below() -> None:
    depth, reach, holder = 0.030, 0.020, 0.025
    part = pocket(0.006, depth)
    _, normals, share = missed(part, Tool(0.005, reach=reach, holder=holder))
    # a holder wider than the pocket: nothing deeper than the cutter's reach below the rim
    floor = 0.06 * 0.04 - (4.0 - math.pi) * 0.006**2
    around = 2.0 * (0.06 + 0.04) - (8.0 - 2.0 * math.pi) * 0.006
    wall = (depth - reach) * around
    assert share * float((normals[:, 2] > 0.5).sum()) == pytest.approx(floor, rel=0.01)
    assert share * float((normals[:, 2] < 0.5).sum()) == pytest.approx(wall, rel=0.05)


def test_a_slim_holder_goes_in_after_the_cutter() -> None:
    # slimmer than the cutter by the coarse grid's diagonal, which is on the safe side
    slim = 0.005 - math.sqrt(2.0) * COARSE * CELL
    points, _, _ = missed(pocket(0.006, 0.030), Tool(0.005, reach=0.020, holder=slim))
    assert len(points) == 0


@pytest.mark.parametrize(("corner", "reaches"), [(0.0, True), (0.004, False)])
def test_a_square_floor_edge_needs_a_square_cutter(corner: float, reaches: bool) -> None:
    points, _, share = missed(pocket(0.006, 0.02), Tool(0.005, corner=corner))
    # what a corner radius leaves is r (1 - 1/sqrt 2) thick: 1.2 mm of 4 mm, over the grid's error
    strip = 0.2 * 0.5 * CELL  # the wall's whole length, by what the grid may keep a cutter off
    assert (share * len(points) < strip) == reaches


def test_a_ball_touches_a_flat_at_its_own_height() -> None:
    part = box((0.0, 0.0, 0.0), (0.04, 0.04, 0.02))
    seen = height_map(part, 1, cell=CELL, margin=0.01)
    tips = free_tips(seen, Tool(0.005, corner=0.005))
    j, i = (round(float(0.02 - start) / CELL) for start in seen.start[::-1])
    assert tips[j, i] == pytest.approx(0.02, abs=1e-7)  # single precision of 20 mm


def test_a_ball_beside_an_edge_hangs_down_by_its_own_arc() -> None:
    part = prism(circle_profile((0.0, 0.0), 0.02), 0.0, 0.02)
    seen = height_map(part, 1, cell=2e-4, margin=0.012)
    radius, away = 0.010, 0.006
    tips = free_tips(seen, Tool(radius, corner=radius))
    j, i = (
        round(float(c - s) / 2e-4)
        for c, s in zip((0.0, 0.02 + away), seen.start[::-1], strict=True)
    )
    drop = radius - math.sqrt(radius**2 - away**2)
    # the edge is known to a cell: its slope there is tan(asin(away / radius)) = 0.75
    assert tips[j, i] == pytest.approx(0.02 - drop, abs=0.75 * grid_error(2e-4))


def test_points_are_spread_by_area() -> None:
    part = box((0.0, 0.0, 0.0), (0.10, 0.05, 0.01))
    skin = skin_points(part, each=EACH)
    top = skin.share * float((skin.normals[:, 2] > 0.9).sum())
    assert top == pytest.approx(0.10 * 0.05, rel=1e-3)  # one point in five thousand
    assert skin.share * len(skin.points) == pytest.approx(part.area, rel=1e-12)
