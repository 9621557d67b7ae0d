# SPDX-License-Identifier: Apache-2.0
"""What a mesh says of itself, against closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.geometry.mesh import Mesh, joined
from tests.geometry.bodies import box, icosphere, prismoid, random_rotation, star


def test_a_box_has_the_area_volume_and_bounds_of_a_box() -> None:
    mesh = box([1.0, 2.0, 3.0], [1.3, 2.2, 3.1])
    np.testing.assert_allclose(mesh.volume, 0.006, rtol=1e-13)  # coordinates round at 3 m
    np.testing.assert_allclose(mesh.area, 2 * (0.06 + 0.03 + 0.02), rtol=1e-13)
    np.testing.assert_array_equal(mesh.bounds, [[1.0, 2.0, 3.0], [1.3, 2.2, 3.1]])


def test_a_prismoid_holds_what_mensuration_says() -> None:
    # h / 6 (A1 + 4 Am + A2): 300 x 200 to 240 x 140 over 80 holds 3.6960 L
    np.testing.assert_allclose(
        prismoid((0.3, 0.2), (0.24, 0.14), 0.08).volume, 3.696e-3, rtol=1e-14
    )


def test_an_icosahedron_has_its_textbook_area_and_volume() -> None:
    # edge a: area 5 sqrt(3) a^2, volume 5 (3 + sqrt 5) / 12 a^3
    mesh = icosphere(0)
    edge = 1.0 / np.sin(2.0 * np.pi / 5.0)  # of circumradius 1
    np.testing.assert_allclose(mesh.area, 5.0 * np.sqrt(3.0) * edge**2, rtol=1e-14)
    np.testing.assert_allclose(mesh.volume, 5.0 * (3.0 + 5.0**0.5) / 12.0 * edge**3, rtol=1e-14)


def test_area_vectors_of_a_closed_skin_cancel() -> None:
    mesh = star(np.random.default_rng(1), 3)
    np.testing.assert_allclose(mesh.area_vectors.sum(axis=0), 0.0, atol=1e-16 * len(mesh.faces))


def test_turned_inside_out_a_mesh_has_negative_volume() -> None:
    mesh = star(np.random.default_rng(2))
    np.testing.assert_allclose(mesh.flipped().volume, -mesh.volume, rtol=1e-14)
    np.testing.assert_allclose(mesh.flipped().area, mesh.area, rtol=1e-14)


@given(st.integers(0, 1000), st.floats(1e-3, 1e3))
def test_moving_keeps_volume_and_scaling_cubes_it(seed: int, factor: float) -> None:
    rng = np.random.default_rng(seed)
    mesh = star(rng, 1)
    moved = mesh.moved(random_rotation(rng), rng.normal(size=3))
    np.testing.assert_allclose(moved.volume, mesh.volume, rtol=1e-13)  # coordinates round at 1 m
    np.testing.assert_allclose(mesh.scaled(factor).volume, factor**3 * mesh.volume, rtol=1e-13)
    np.testing.assert_allclose(mesh.scaled(factor).area, factor**2 * mesh.area, rtol=1e-13)


def test_a_move_turns_first_and_shifts_after() -> None:
    turn = [[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]  # a quarter turn to the left
    moved = box([0, 0, 0], [1, 2, 3]).moved(turn, [10.0, 0.0, 0.0])
    np.testing.assert_array_equal(moved.bounds, [[8.0, 0.0, 0.0], [10.0, 1.0, 3.0]])


def test_joined_bodies_keep_their_own_skins() -> None:
    parts = [box([0, 0, 0], [1, 1, 1]), icosphere(1), box([2, 0, 0], [4, 1, 1])]
    whole = joined(parts)
    np.testing.assert_allclose(whole.volume, sum(p.volume for p in parts), rtol=1e-14)
    np.testing.assert_allclose(whole.area, sum(p.area for p in parts), rtol=1e-14)
    np.testing.assert_array_equal(whole.corners, np.concatenate([p.corners for p in parts]))


def test_a_mesh_cannot_be_changed_and_keeps_its_own_copy() -> None:
    vertices = np.eye(3)
    mesh = Mesh(vertices, np.array([[0, 1, 2]]))
    vertices[0, 0] = 5.0
    assert mesh.vertices[0, 0] == 1.0
    with pytest.raises(ValueError, match="read-only"):
        mesh.vertices[0, 0] = 5.0


def test_an_empty_mesh_holds_nothing() -> None:
    mesh = Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=int))
    assert mesh.volume == 0.0
    assert mesh.area == 0.0
