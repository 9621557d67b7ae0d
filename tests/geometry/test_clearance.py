# SPDX-License-Identifier: Apache-2.0
"""Gaps of pan and obstacle: closed forms, brute force over all pairs, then what always holds."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sumpwright.geometry.clearance import (
    Clearance,
    Gap,
    distance_field,
    lowest_point,
    refined,
    smallest_gap,
)
from sumpwright.geometry.edge import sides_of
from sumpwright.geometry.frame import rotation_zyx
from sumpwright.geometry.mesh import Mesh, joined
from tests.geometry.bodies import box, icosphere, random_rotation, random_up, star

Floats = NDArray[np.float64]
STILL = np.eye(3)
CUBE = box([0, 0, 0], [0.1, 0.1, 0.1])
seeds = st.integers(0, 100_000)


def gap_of(pan: Mesh, obstacle: Mesh, shift: object = (0, 0, 0), turn: object = STILL) -> Gap:
    return smallest_gap(pan, obstacle, [(turn, shift)])[0]


def test_parallel_faces() -> None:
    gap = gap_of(CUBE, CUBE, (0.03, 0.02, 0.112))
    assert gap.distance == pytest.approx(0.012, rel=1e-12)
    assert gap.on_pan[2] == pytest.approx(0.112)
    assert gap.on_obstacle[2] == pytest.approx(0.1)
    assert not gap.touching


def test_edge_over_crossed_edge() -> None:
    # Two cubes stood on an edge each, edges square to each other: common perpendicular
    roof = rotation_zyx(np.pi / 4, 0, 0)  # an edge along x on top, at z = 0.1 sqrt 2
    keel = rotation_zyx(0, np.pi / 4, 0)
    top = 0.1 * np.sqrt(2.0)
    pan = CUBE.moved(keel, (0, 0, 0))  # lowest edge along y
    shift = np.array([0.05 - pan.vertices[np.argmin(pan.vertices[:, 2]), 0], -0.05, 0.0])
    shift[2] = top + 0.007 - pan.bounds[0, 2]
    gap = gap_of(CUBE, CUBE.moved(roof, (0, 0, 0)), shift, keel)
    assert gap.distance == pytest.approx(0.007, rel=1e-9)  # rounding of 0.2 m coordinates
    np.testing.assert_allclose(gap.on_pan - gap.on_obstacle, [0, 0, 0.007], atol=1e-12)


def test_corner_over_a_face() -> None:
    spike = Mesh(
        np.array([[0.0, 0, 0], [0.01, 0, 0.05], [-0.01, 0.01, 0.05], [-0.01, -0.01, 0.05]]),
        np.array([[0, 2, 1], [0, 3, 2], [0, 1, 3], [1, 2, 3]]),
    )
    gap = gap_of(spike, CUBE, (0.031, 0.047, 0.1005))
    assert gap.distance == pytest.approx(0.0005, rel=1e-11)
    np.testing.assert_allclose(gap.on_pan, [0.031, 0.047, 0.1005], atol=1e-15)
    np.testing.assert_allclose(gap.on_obstacle, [0.031, 0.047, 0.1], atol=1e-15)


def test_two_balls_tend_to_centres_less_radii() -> None:
    # facets lie inside the balls: the gap is too large by at most both sagittas, which go with the
    # square of the edge; from 3 to 5 halvings that is 16 times less
    over = []
    for halvings in (3, 5):
        gap = gap_of(icosphere(halvings, 0.1), icosphere(halvings, 0.05), (0.12, 0.13, 0.14))
        over.append(gap.distance - (np.sqrt(0.12**2 + 0.13**2 + 0.14**2) - 0.15))
    assert 0 <= over[1] < 1e-4
    assert over[0] < 2e-3


@given(seeds)
@settings(max_examples=40, deadline=None)
def test_equals_brute_force_over_all_pairs_of_triangles(seed: int) -> None:
    rng = np.random.default_rng(seed)
    pan, obstacle = star(rng, 1), star(rng, 1)
    turn, shift = random_rotation(rng), random_up(rng) * rng.uniform(0.2, 0.5)
    gap = gap_of(pan, obstacle, shift, turn)
    expected = _brute(pan.moved(turn, shift), obstacle)
    if gap.touching:
        assert gap.distance <= 0
        return
    assert gap.distance == pytest.approx(expected, abs=1e-14)  # rounding
    between = np.linalg.norm(gap.on_pan - gap.on_obstacle)
    assert between == pytest.approx(gap.distance, abs=1e-14)
    assert _off(gap.on_pan, pan.moved(turn, shift)) < 1e-14
    assert _off(gap.on_obstacle, obstacle) < 1e-14


def _off(point: Floats, mesh: Mesh) -> float:
    import igl

    squared, _, _ = igl.point_mesh_squared_distance(point[None], mesh.vertices, mesh.faces)
    return float(np.sqrt(squared[0]))


def _brute(one: Mesh, other: Mesh) -> float:
    """Corner to face both ways, and every pair of edges: the nearest places of apart triangles."""
    import igl

    corners = [
        igl.point_mesh_squared_distance(a.vertices, b.vertices, b.faces)[0].min()
        for a, b in ((one, other), (other, one))
    ]
    p, u = _edges(one)
    q, v = _edges(other)
    u, v, w = u[:, None], v[None], p[:, None] - q[None]
    a, b, c = (u * u).sum(-1), (u * v).sum(-1), (v * v).sum(-1)
    d, e, det = (u * w).sum(-1), (v * w).sum(-1), a * c - b**2
    crossed = det > 1e-12 * a * c
    s = np.divide(b * e - c * d, det, out=np.full_like(det, -1.0), where=crossed)
    t = np.divide(a * e - b * d, det, out=np.full_like(det, -1.0), where=crossed)
    within = (s >= 0) & (s <= 1) & (t >= 0) & (t <= 1)
    gap = np.linalg.norm(w + s[..., None] * u - t[..., None] * v, axis=-1)
    return float(min(np.sqrt(min(corners)), np.where(within, gap, np.inf).min()))


def _edges(mesh: Mesh) -> tuple[Floats, Floats]:
    pairs = np.unique(np.sort(sides_of(mesh.faces), axis=1), axis=0)
    return mesh.vertices[pairs[:, 0]], mesh.vertices[pairs[:, 1]] - mesh.vertices[pairs[:, 0]]


@pytest.mark.parametrize("apart", [1e-3, 1e-6, 1e-9, 1e-12])
def test_nearly_touching_faces_keep_their_gap(apart: float) -> None:
    gap = gap_of(CUBE, CUBE, (0.03, 0.02, 0.1 + apart))
    assert gap.distance == pytest.approx(apart, abs=3e-17)  # rounding of 0.2 m coordinates
    assert not gap.touching


def test_faces_that_just_touch_have_no_gap() -> None:
    gap = gap_of(CUBE, CUBE, (0.03, 0.02, 0.1))
    assert gap.distance == 0.0
    assert gap.touching
    np.testing.assert_allclose(gap.on_pan, gap.on_obstacle, atol=1e-15)
    assert gap.on_pan[2] == pytest.approx(0.1)


@pytest.mark.parametrize("deep", [1e-6, 1e-3, 0.02])
def test_a_sunk_face_counts_its_depth(deep: float) -> None:
    gap = gap_of(CUBE, box([-1, -1, -1], [1, 1, 0]), (0.03, 0.02, -deep))
    assert gap.distance == pytest.approx(-deep, rel=1e-9)
    assert gap.touching
    assert np.linalg.norm(gap.on_pan - gap.on_obstacle) == pytest.approx(deep, rel=1e-9)


def test_bars_that_cross_without_a_corner_inside_still_count() -> None:
    # 0.2 m square bars, one let 0.05 into the other: its lower side lies 0.05 under the other's top
    one, other = box([-1, -0.1, -0.1], [1, 0.1, 0.1]), box([-0.1, -1, -0.1], [0.1, 1, 0.1])
    gap = gap_of(one, other, (0, 0, 0.15))
    assert gap.distance == pytest.approx(-0.05, abs=1e-5)  # the search stops at 0.01 mm


def test_a_ball_swallowed_by_a_box_counts_its_deepest_point() -> None:
    # The skins do not meet: only the inside test can tell
    ball = icosphere(4, 0.01)
    room = box([-0.07, -0.07, -0.07], [0.07, 0.07, 0.07])
    gap = gap_of(ball, room, (0.02, 0.0, 0.0))
    placed = ball.moved(STILL, (0.02, 0.0, 0.0))
    deepest = (0.07 - np.abs(placed.vertices)).min(axis=1).max()
    assert gap.distance == pytest.approx(-deepest, abs=1e-5)  # the search stops at 0.01 mm
    assert gap.touching
    swapped = gap_of(room, placed)
    assert swapped.distance == pytest.approx(gap.distance, abs=1e-5)


def test_a_ball_in_a_void_is_apart() -> None:
    room = joined([box([-0.1] * 3, [0.1] * 3), box([-0.05] * 3, [0.05] * 3).flipped()])
    gap = gap_of(icosphere(3, 0.01), room)
    assert 0.04 <= gap.distance < 0.0402
    assert not gap.touching


def test_one_of_several_pieces_inside_is_found() -> None:
    two = joined([icosphere(2, 0.005).moved(STILL, (0.3, 0, 0)), icosphere(2, 0.005)])
    assert gap_of(two, box([-0.05] * 3, [0.05] * 3)).touching


@pytest.mark.slow
@given(seeds)
@example(1335)  # a 3 mm overlap of 0.25 m bodies: most of either skin is far outside the other
@settings(max_examples=25, deadline=None)
def test_moving_both_together_and_swapping_change_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    pan, obstacle = star(rng, 1), star(rng, 1)
    shift = random_up(rng) * rng.uniform(0.0, 0.4)
    here = gap_of(pan, obstacle, shift)
    turn, way = random_rotation(rng), rng.normal(size=3)
    there = gap_of(pan, obstacle.moved(turn, way), turn @ shift + way, turn)
    swapped = gap_of(obstacle.moved(STILL, -shift), pan)
    tol = 1e-13 if here.distance > 0 else 1e-5  # rounding; the depth search stops at 0.01 mm
    assert there.distance == pytest.approx(here.distance, abs=tol)
    assert swapped.distance == pytest.approx(here.distance, abs=tol)


@given(seeds)
@settings(max_examples=15, deadline=None)
def test_convex_bodies_shifted_apart_never_come_nearer(seed: int) -> None:
    rng = np.random.default_rng(seed)
    way, turn = random_up(rng), random_rotation(rng)
    moves = [(turn, step * way) for step in np.linspace(0.2, 0.5, 7)]
    gaps = [g.distance for g in smallest_gap(CUBE, icosphere(2, 0.06), moves)]
    assert (np.diff(gaps) > 0).all()


@pytest.mark.slow
@given(seeds)
@settings(max_examples=15, deadline=None)
def test_many_moves_at_once_answer_as_one_by_one(seed: int) -> None:
    rng = np.random.default_rng(seed)
    pan, obstacle = star(rng, 2), star(rng, 2)
    turns = [rotation_zyx(*rng.normal(scale=0.1, size=3)) for _ in range(5)]
    shifts = rng.normal([0.3, 0.0, 0.0], 0.05, size=(5, 3))
    moves = list(zip(turns, shifts, strict=True))
    together = [g.distance for g in smallest_gap(pan, obstacle, moves)]
    alone = [gap_of(pan, obstacle, shift, turn).distance for turn, shift in moves]
    np.testing.assert_allclose(together, alone, rtol=0, atol=1e-14)


def test_loose_vertices_do_not_count() -> None:
    loose = Mesh(np.concatenate([CUBE.vertices, [[0.05, 0.05, 0.1119]]]), CUBE.faces)
    assert gap_of(CUBE, loose, (0, 0, 0.112)).distance == pytest.approx(0.012)
    assert gap_of(loose, CUBE, (0, 0, -0.112)).distance == pytest.approx(0.012)


def test_no_moves_give_no_gaps() -> None:
    assert smallest_gap(CUBE, CUBE, []) == ()


def test_field_of_a_box_over_a_slab_is_height() -> None:
    slab = box([-2, -2, -1], [2, 2, 0])
    pan = refined(box([0, 0, -0.03], [0.3, 0.2, 0.05]), 0.02)
    np.testing.assert_allclose(distance_field(pan, [slab]), pan.vertices[:, 2], atol=1e-15)


def test_field_takes_the_nearest_of_several() -> None:
    left, right = box([-2, -1, -1], [-0.1, 1, 1]), box([0.15, -1, -1], [2, 1, 1])
    field = distance_field(CUBE, [left, right])
    x = CUBE.vertices[:, 0]
    np.testing.assert_allclose(field, np.minimum(x + 0.1, 0.15 - x), atol=1e-15)


def test_the_least_of_a_fine_field_tends_to_the_gap() -> None:
    ball = icosphere(3, 0.06).moved(STILL, (0.05, 0.05, 0.18))
    coarse = Clearance(CUBE, ball)
    fine = Clearance(refined(CUBE, 0.004), ball)
    gap = coarse.gaps([(STILL, (0, 0, 0))])[0].distance
    assert coarse.field.min() > gap + 0.005  # corners alone miss the middle of a large face
    assert gap <= fine.field.min() < gap + 2e-4


def test_lowest_point_of_a_rolled_box() -> None:
    turn = rotation_zyx(np.radians(10.0), 0, 0)  # right side down: the low edge is at y = 0
    point = lowest_point(CUBE, turn, (0, 0, 0.5))
    assert point[2] == pytest.approx(0.5, abs=1e-15)
    left = lowest_point(CUBE, turn.T, (0, 0, 0.5))
    assert left[2] == pytest.approx(0.5 - 0.1 * np.sin(np.radians(10.0)), rel=1e-14)
