# SPDX-License-Identifier: Apache-2.0
"""Turns of a skin round a point, against closed forms and the distance library."""

import numpy as np
import pytest

from sumpwright.geometry.winding import winding
from tests.geometry.bodies import box, icosphere


def test_one_inside_nought_outside_and_either_on_a_face() -> None:
    cube = box((0, 0, 0), (1, 1, 1))
    turns = winding(cube.corners, [[0.5, 0.5, 0.5], [2, 0, 0], [0.3, 0.6, 1.0]])
    np.testing.assert_allclose(turns[:2], [1.0, 0.0], atol=1e-14)  # a dozen roundings
    assert min(abs(turns[2]), abs(turns[2] - 1.0)) < 1e-14


def test_a_face_of_a_cube_covers_a_sixth_of_the_sphere() -> None:
    cube = box((-1, -1, -1), (1, 1, 1))
    top = (cube.corners[:, :, 2] == 1.0).all(axis=1)
    assert winding(cube.corners[top], np.zeros(3))[0] == pytest.approx(1 / 6, rel=1e-14)


def test_an_inward_skin_turns_the_other_way() -> None:
    ball = icosphere(2).flipped()
    assert winding(ball.corners, np.zeros(3))[0] == pytest.approx(-1.0, rel=1e-12)


def test_agrees_with_the_distance_library() -> None:
    import igl

    ball = icosphere(3)
    points = np.random.default_rng(5).uniform(-1.3, 1.3, (200, 3))
    theirs = igl.winding_number(ball.vertices, ball.faces, points)
    np.testing.assert_allclose(winding(ball.corners, points), theirs, atol=1e-9)
