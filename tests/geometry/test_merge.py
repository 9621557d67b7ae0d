# SPDX-License-Identifier: Apache-2.0
"""Vertices made one: exactly, and within a distance."""

import numpy as np
import pytest

from sumpwright.geometry import merge
from sumpwright.geometry.merge import exactly_merged, merged_within
from sumpwright.geometry.mesh import Mesh
from tests.geometry.bodies import icosphere


def soup(mesh: Mesh) -> Mesh:
    """The mesh with every corner a vertex of its own."""
    return Mesh(mesh.corners.reshape(-1, 3), np.arange(3 * len(mesh.faces)))


def test_a_soup_gets_its_shared_vertices_back_and_nothing_moves() -> None:
    ball = icosphere(3)
    merged = exactly_merged(soup(ball))
    assert len(merged.vertices) == len(ball.vertices)
    np.testing.assert_array_equal(merged.corners, ball.corners)


def test_minus_zero_is_zero() -> None:
    mesh = Mesh([[0.0, 0, 0], [1, 0, 0], [0, 1, 0], [-0.0, 0, 0]], [[0, 1, 2], [3, 2, 1]])
    assert len(exactly_merged(mesh).vertices) == 3


def test_the_next_number_is_another_point() -> None:
    mesh = Mesh(
        [[1.0, 0, 0], [2, 0, 0], [0, 1, 0], [np.nextafter(1.0, 2), 0, 0]], [[0, 1, 2], [3, 2, 1]]
    )
    assert len(exactly_merged(mesh).vertices) == 4


def test_vertices_without_a_triangle_go() -> None:
    merged = exactly_merged(Mesh([[9.0, 9, 9], [0, 0, 0], [1, 0, 0], [0, 1, 0]], [[1, 2, 3]]))
    assert len(merged.vertices) == 3


def test_a_hash_that_collides_costs_time_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(merge, "_MIX", np.zeros(3, dtype=np.uint64))
    ball = icosphere(1)
    np.testing.assert_array_equal(exactly_merged(soup(ball)).corners, ball.corners)


def test_near_points_become_one_and_far_ones_stay() -> None:
    ball = icosphere(2)
    shaken = soup(ball).vertices + np.random.default_rng(5).uniform(-1e-7, 1e-7, (960, 3))
    merged, removed = merged_within(Mesh(shaken, np.arange(960)), tolerance=1e-6)
    assert (len(merged.vertices), removed) == (162, 960 - 162)
    untouched, none = merged_within(ball, tolerance=1e-6)
    assert none == 0
    np.testing.assert_array_equal(untouched.corners, ball.corners)
