# SPDX-License-Identifier: Apache-2.0
"""How triangles meet: counts on bodies small enough to count by hand."""

import numpy as np
import pytest

from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.skin import body_count, skin_of
from tests.geometry.bodies import box, icosphere

CUBE = box([0, 0, 0], [1, 1, 1])


def test_a_cube_has_18_edges_each_met_twice() -> None:
    skin = skin_of(CUBE)
    assert skin.edge_counts.tolist() == [2] * 18  # Euler: 8 corners - 18 edges + 12 faces = 2
    assert not skin.balance.any()
    assert skin.closed.all()


@pytest.mark.parametrize(
    ("shift", "crowded"), [((1, 0, 0), 5), ((1, 1, 0), 1), ((1, 1, 1), 0), ((2, 0, 0), 0)]
)
def test_bodies_that_touch_stay_two(shift: tuple[int, int, int], crowded: int) -> None:
    """By face (four sides and a diagonal), by edge, by corner, and apart."""
    other = CUBE.moved(np.diag([1.0, 1.0, 1.0]), shift)
    if crowded == 5:  # the mirror image, so that the diagonals of the touching faces agree
        other = Mesh(CUBE.vertices * [-1, 1, 1] + [2, 0, 0], CUBE.faces[:, ::-1])
    skin = skin_of(joined([CUBE, other]))
    assert int((skin.edge_counts > 2).sum()) == crowded
    assert skin.bodies == 2
    assert skin.closed.all()
    assert sorted(np.bincount(skin.labels)) == [12, 12]


def test_four_bodies_round_one_edge_stay_four() -> None:
    quarters = [CUBE.moved(np.eye(3), [x, y, 0]) for x in (0, -1) for y in (0, -1)]
    assert body_count(joined(quarters)) == 4


def test_a_void_counts_as_a_skin() -> None:
    assert body_count(joined([CUBE, box([0.2] * 3, [0.8] * 3).flipped()])) == 2


def test_an_open_skin_is_not_closed_and_its_neighbour_is() -> None:
    skin = skin_of(joined([Mesh(CUBE.vertices, CUBE.faces[1:]), CUBE.moved(np.eye(3), [3, 0, 0])]))
    assert skin.closed.tolist() == [False, True]


def test_fewer_than_half_of_the_triangles_are_the_turned_ones() -> None:
    ball = icosphere(2)
    chosen = np.random.default_rng(7).random(320) < 0.3
    faces = np.where(chosen[:, None], ball.faces[:, ::-1], ball.faces)
    turned, one_sided = skin_of(Mesh(ball.vertices, faces)).turned
    np.testing.assert_array_equal(turned, chosen)
    assert one_sided == 0


def test_a_moebius_band_has_one_side() -> None:
    count = 12
    angle = 2 * np.pi * np.arange(count) / count
    across = np.stack(
        [np.cos(angle / 2) * np.cos(angle), np.cos(angle / 2) * np.sin(angle), np.sin(angle / 2)], 1
    )
    middle = np.stack([np.cos(angle), np.sin(angle), 0 * angle], 1)
    points = np.concatenate([middle + 0.3 * across, middle - 0.3 * across])
    faces = []
    for i in range(count):
        j = (i + 1) % count
        a, b = (i, i + count)
        c, d = (j, j + count) if j else (count, 0)  # half a turn closes it crosswise
        faces += [[a, c, b], [b, c, d]]
    assert skin_of(Mesh(points, faces)).turned[1] == 1


def test_copies_and_repeated_corners_are_set_apart() -> None:
    faces = np.concatenate([CUBE.faces, CUBE.faces[[3]][:, [1, 2, 0]], [[0, 0, 1]]])
    skin = skin_of(Mesh(CUBE.vertices, faces))
    assert (len(skin.mesh.faces), skin.repeated) == (12, 1)
    assert skin.copies.tolist() == [3]
    assert skin.closed.all()
