# SPDX-License-Identifier: Apache-2.0
"""Inside or not: closed forms near the skin, voids, far-off frames."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.geometry.inside import inside
from sumpwright.geometry.mesh import joined
from tests.geometry.bodies import box, icosphere, random_rotation, star

CUBE = box([0, 0, 0], [0.1, 0.1, 0.1])


def test_decides_right_a_hundredth_of_a_micron_from_a_face() -> None:
    off = np.array([-1e-8, 1e-8])
    points = np.stack([np.full(2, 0.033), np.full(2, 0.051), 0.1 + off], axis=1)
    assert inside(CUBE, points).tolist() == [True, False]


def test_skin_edges_and_corners_count_as_inside() -> None:
    points = [[0.1, 0.05, 0.05], [0.1, 0.1, 0.05], [0.1, 0.1, 0.1], [0.05, 0.05, 0.0]]
    assert inside(CUBE, points).all()
    assert inside(CUBE, np.array(points) * (1 + 1e-9)).all()  # 1e-10 m off


def test_a_void_is_not_inside() -> None:
    shell = joined([CUBE, box([0.02, 0.02, 0.02], [0.08, 0.08, 0.08]).flipped()])
    assert inside(shell, [[0.05, 0.05, 0.05], [0.01, 0.05, 0.05]]).tolist() == [False, True]


def test_a_point_in_the_lap_of_two_bodies_is_inside() -> None:
    pair = joined([CUBE, CUBE.moved(np.eye(3), [0.05, 0, 0])])
    assert inside(pair, [[0.07, 0.05, 0.05], [0.16, 0.05, 0.05]]).tolist() == [True, False]


def test_a_ball_far_from_the_origin_keeps_its_skin() -> None:
    # single precision at 5 m is 5e-7 m; the skin must stay sharper than that
    ball = icosphere(4, 0.1).moved(np.eye(3), [5.0, -3.0, 2.0])
    middle = ball.corners.mean(axis=1)
    outward = ball.area_vectors / np.linalg.norm(ball.area_vectors, axis=1, keepdims=True)
    assert inside(ball, middle - 5e-8 * outward).all()
    assert not inside(ball, middle + 5e-8 * outward).any()


def test_agrees_with_signed_volumes_of_a_star() -> None:
    # A star about its centre: a point is inside if it lies under the one face its ray meets
    rng = np.random.default_rng(11)
    body = star(rng, halvings=2)
    points = rng.uniform(-0.15, 0.15, size=(4000, 3))
    a, b, c = (body.corners[:, i] for i in range(3))
    share = np.linalg.solve(np.stack([a, b, c], axis=2), points.T)
    hit = (share >= 0).all(axis=1)
    under = (hit & (share.sum(axis=1) <= 1.0)).any(axis=0)
    np.testing.assert_array_equal(inside(body, points), under)


@given(st.integers(0, 10_000))
@settings(max_examples=20, deadline=None)
def test_turning_body_and_points_together_changes_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    body, turn, shift = star(rng, 1), random_rotation(rng), rng.normal(size=3)
    points = rng.uniform(-0.12, 0.12, size=(50, 3))
    moved = inside(body.moved(turn, shift), points @ turn.T + shift)
    np.testing.assert_array_equal(moved, inside(body, points))
