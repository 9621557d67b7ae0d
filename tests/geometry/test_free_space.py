# SPDX-License-Identifier: Apache-2.0
"""The free space against closed forms: Steiner's formula for rounded boxes, balls, lenses.

Formulas of solid geometry, any handbook (Bronshtein); derived here where they are short.
"""

from math import pi

import numpy as np
import pytest
import trimesh

from sumpwright.geometry.free_space import Space, opened, triangles
from sumpwright.geometry.free_space_grid import Field, Grid, grid_round, margin_to
from sumpwright.geometry.free_space_litre import Footprint, lost_to, volumes_to
from sumpwright.geometry.free_space_plan import Growth, depth_in, plan_parts, swept
from sumpwright.geometry.inside import SkinTree, inside
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.region import region_area, region_of

LONG, BROAD, DEEP, R, FLANGE = 0.30, 0.20, 0.10, 0.010, 0.030
OPENING = region_of([[(0.0, 0.0), (LONG, 0.0), (LONG, BROAD), (0.0, BROAD)]])
STILL = (np.eye(3), np.zeros(3))


def room(step: float, growth: Growth | None = None) -> tuple[list[Field], Grid]:
    """A box opening over a flat floor, off the grid's points on purpose."""
    grow = growth or Growth()
    side = grow.most + 0.0013
    low, high = [-side, -side, -DEEP], [LONG + side, BROAD + side, R + 3 * step]
    grid = grid_round(low, high, step)
    inner = depth_in(OPENING, grid)
    allowed = depth_in(swept(OPENING, grow), grid)
    plan = plan_parts(inner, allowed, grid, flange=FLANGE)
    return [*plan, level_field(grid, grid.axes[2] + DEEP)], grid


def level_field(grid: Grid, values: np.ndarray) -> Field:
    return np.broadcast_to(values, grid.shape).astype(np.float32)


def rounded_box(a: float, b: float, depth: float, r: float) -> float:
    """Volume of a box open above whose other edges and corners a ball has rounded (Steiner)."""
    p, q = a - 2 * r, b - 2 * r
    plan = p * q + 2 * (p + q) * r + pi * r**2
    cap = p * q * r + 2 * (p + q) * pi * r**2 / 4 + 2 * pi * r**3 / 3
    return plan * (depth - r) + cap


def ball(radius: float, centre: tuple[float, float, float]) -> SkinTree:
    found = trimesh.creation.icosphere(subdivisions=5, radius=radius)
    # a faceted ball of the same volume: its skin is then within 3e-4 of the radius on both sides
    found.vertices *= (4 * pi * radius**3 / 3 / found.volume) ** (1 / 3)
    return SkinTree(Mesh(np.asarray(found.vertices) + centre, np.asarray(found.faces)))


def test_a_box_over_a_flat_floor_is_the_rounded_box() -> None:
    parts, grid = room(0.003)
    found = opened(parts, grid, R)
    # 2e-3: the upright corners' chamfers, 0.6 h R each, and the arcs' chords, h^2/12R of each arc
    assert found.mesh.volume == pytest.approx(rounded_box(LONG, BROAD, DEEP, R), rel=2e-3)
    assert found.mesh.bounds[1, 2] == pytest.approx(0.0, abs=1e-12)


def test_the_error_falls_with_the_square_of_the_step() -> None:
    want = rounded_box(LONG, BROAD, DEEP, R)
    errors = []
    for step in (0.008, 0.004, 0.002):
        parts, grid = room(step)
        errors.append(abs(opened(parts, grid, R).mesh.volume - want))
    order = np.log2(errors[0] / errors[2]) / 2
    assert order > 1.7, errors  # where edges fall between points moves the order by some tenths


@pytest.mark.parametrize("step", [0.008, 0.004, 0.003])
def test_the_change_from_a_grid_of_twice_the_step_is_more_than_the_error(step: float) -> None:
    parts, grid = room(step)
    fine = opened(parts, grid, R).mesh.volume
    every_second = [np.ascontiguousarray(part[::2, ::2, ::2]) for part in parts]
    coarse = opened(every_second, grid.halved, R).mesh.volume
    assert abs(fine - rounded_box(LONG, BROAD, DEEP, R)) < abs(fine - coarse)


def test_a_kick_out_begins_below_the_flange() -> None:
    parts, grid = room(0.003, Growth(left=0.04))
    found = opened(parts, grid, R)
    high = DEEP - FLANGE
    outside = found.mesh.vertices[found.mesh.vertices[:, 1] > BROAD + 0.0031]
    assert outside[:, 2].max() < -FLANGE + 1e-4
    added = found.mesh.volume - rounded_box(LONG, BROAD, DEEP, R)
    # 3 %: round are three long edges less the one that is none any more, and four short ones
    assert added == pytest.approx(LONG * 0.04 * high, rel=0.03)
    assert added < LONG * 0.04 * high + (1 - pi / 4) * R**2 * (LONG + 2 * high)


def test_a_kick_out_too_low_for_the_cutter_is_none() -> None:
    parts, grid = room(0.003, Growth(left=0.04))
    parts.append(level_field(grid, grid.axes[2] + FLANGE + 1.5 * R))
    found = opened(parts, grid, R)
    assert found.mesh.bounds[1, 1] < BROAD + 0.2 * R


def carved(
    step: float, balls: list[tuple[SkinTree, tuple[float, float, float]]], gap: float
) -> Space:
    parts, grid = room(step)
    for tree, shift in balls:
        parts.append(margin_to(grid, tree, np.eye(3), shift, gap=gap, far=R + 2 * step))
    return opened(parts, grid, R)


def test_a_ball_with_its_gap_takes_the_larger_ball() -> None:
    radius, gap = 0.012, 0.008
    found = carved(0.002, [(ball(radius, (0.15, 0.1, -0.05)), (0.0, 0.0, 0.0))], gap)
    lost = carved(0.002, [], gap).mesh.volume - found.mesh.volume
    # 1.5 %: chords of 2 mm, on the skin and on that of the cutter's middles, h^2/8 (1/20 + 1/30)
    # of a millimetre each at most, on a radius of 20 mm, three times that in volume
    assert lost == pytest.approx(4 * pi * (radius + gap) ** 3 / 3, rel=0.015)


def test_a_case_that_shifts_takes_the_union_of_both_balls() -> None:
    radius, gap, apart = 0.012, 0.008, 0.015
    tree = ball(radius, (0.15, 0.1, -0.05))
    # the engine moves by +x: the ball, seen from it, by -x
    both = carved(0.002, [(tree, (0.0, 0.0, 0.0)), (tree, (apart, 0.0, 0.0))], gap)
    lost = carved(0.002, [], gap).mesh.volume - both.mesh.volume
    big = radius + gap
    lens = pi * (4 * big + apart) * (2 * big - apart) ** 2 / 12
    # 2 %: as above, and the cutter's ball does not reach all of the groove between them
    assert lost == pytest.approx(2 * 4 * pi * big**3 / 3 - lens, rel=0.02)
    assert both.mesh.bounds[0, 2] == pytest.approx(-DEEP, abs=1e-4)


def test_what_a_limit_takes_alone_is_its_volume() -> None:
    parts, grid = room(0.002)
    tree = ball(0.012, (0.15, 0.1, -0.05))
    field = margin_to(grid, tree, *STILL, gap=0.008, far=R + 0.004)
    lost, middle = lost_to(np.minimum.reduce(parts), field, grid)
    assert lost == pytest.approx(4 * pi * 0.020**3 / 3, rel=0.01)
    assert middle is not None
    np.testing.assert_allclose(middle, [0.15, 0.1, -0.05], atol=1e-4)


def test_margins_are_exact_distances_where_they_are_not_cut_off() -> None:
    _, grid = room(0.005)
    tree = ball(0.02, (0.15, 0.1, -0.05))
    field = margin_to(grid, tree, *STILL, gap=0.01, far=0.02)
    index = np.argwhere((field > -0.0099) & (field < 0.0199))
    assert len(index) > 500
    distance, _ = tree.nearest(grid.places(index))
    np.testing.assert_allclose(
        field[tuple(index.T)], distance - 0.01, atol=1e-8
    )  # single precision
    far = np.linalg.norm(grid.places(np.argwhere(field >= 0.02)) - [0.15, 0.1, -0.05], axis=1)
    assert far.min() > 0.0499


@pytest.mark.parametrize("gap", [0.0, 0.004])
def test_the_side_of_a_skin_is_that_of_every_point_asked_by_itself(gap: float) -> None:
    """A turned hollow ball: sides are handed down from block to block through both its skins."""
    grid = grid_round([0.1, 0.05, -0.1], [0.2, 0.15, 0.0], 0.003)
    outer, inner = (ball(r, (0.151, 0.0993, -0.0507)).mesh for r in (0.04, 0.025))
    faces = np.concatenate([outer.faces, inner.faces[:, ::-1] + len(outer.vertices)])
    tree = SkinTree(Mesh(np.concatenate([outer.vertices, inner.vertices]), faces))
    cos, sin = np.cos(0.4), np.sin(0.4)
    turn = np.array([[cos, 0.0, sin], [0.0, 1.0, 0.0], [-sin, 0.0, cos]])
    shift = np.array([0.03, 0.004, 0.05])
    field = margin_to(grid, tree, turn, shift, gap=gap, far=0.02)
    places = grid.places(np.argwhere(np.ones(grid.shape, dtype=bool))) @ turn.T + shift
    distance, _ = tree.nearest(places)
    exact = np.where(inside(tree.mesh, places), -distance, distance) - gap
    np.testing.assert_allclose(field.ravel(), np.clip(exact, -0.006, 0.02), atol=1e-8)
    assert ((exact < 0.0) & (exact > -0.006)).sum() > 500


def test_what_hangs_apart_from_the_opening_does_not_count() -> None:
    parts, grid = room(0.004)
    z = grid.axes[2]
    wall = np.abs(z + 0.06) - 0.004  # a level plate right through
    found = opened([*parts, level_field(grid, wall)], grid, R)
    assert found.mesh.bounds[0, 2] == pytest.approx(-0.056, abs=1e-4)


def test_litres_by_depth_and_growth_are_those_of_boxes() -> None:
    parts, grid = room(0.004, Growth(0.05, 0.05, 0.05, 0.05))
    found, footprint = opened(parts, grid, R), Footprint(OPENING, grid)
    depths = np.array([0.06, 0.085])
    for growth, across, along in (
        (Growth(), 0.0, 0.0),
        (Growth(left=0.013), 0.013, 0.0),
        (Growth(left=0.013, right=0.021), 0.034, 0.0),
        (Growth(front=0.013), 0.0, 0.013),
    ):
        got = volumes_to(found, footprint, growth, depths)
        beside = LONG * across + BROAD * along
        # 1 %: edges of the opening that the ball has rounded, four of a depth of 30 mm
        np.testing.assert_allclose(
            got, LONG * BROAD * depths + beside * (depths - FLANGE), rtol=0.01
        )


def test_a_swept_opening_has_the_area_of_the_sweep() -> None:
    corner = region_of([[(0, 0), (0.2, 0), (0.2, 0.05), (0.05, 0.05), (0.05, 0.2), (0, 0.2)]])
    grown = swept(corner, Growth(left=0.01, front=0.02))
    # an L: both arms grow, the notch between them keeps its size
    assert region_area(grown) == pytest.approx(0.22 * 0.21 - 0.15 * 0.15, rel=1e-6)
    assert grown.bounds() == pytest.approx((0.0, 0.0, 220.0, 210.0))
    assert region_area(grown - swept(corner, Growth(left=0.02, front=0.02))) < 1e-12


def test_depth_in_a_region_is_the_distance_to_its_edge() -> None:
    grid = grid_round([-0.02, -0.02, -0.05], [LONG + 0.02, BROAD + 0.02, 0.01], 0.005)
    depth = depth_in(OPENING, grid)
    x, y = (axis for axis in grid.axes[:2])
    inside = np.minimum(np.minimum(x, LONG - x)[:, None], np.minimum(y, BROAD - y)[None, :])
    within = inside > 0.0
    np.testing.assert_allclose(depth[within], inside[within], atol=1e-12)
    off = np.hypot(
        np.maximum(np.maximum(-x, x - LONG), 0.0)[:, None],
        np.maximum(np.maximum(-y, y - BROAD), 0.0)[None, :],
    )
    np.testing.assert_allclose(-depth[~within], off[~within], atol=1e-12)


def test_the_skin_is_closed_and_looks_outward() -> None:
    from sumpwright.geometry.edge import is_closed

    parts, grid = room(0.006)
    skin = triangles(opened(parts, grid, R).depth, grid, 0.0)
    assert is_closed(skin)
    assert skin.volume > 0.0
