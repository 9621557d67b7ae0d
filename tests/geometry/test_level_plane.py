# SPDX-License-Identifier: Apache-2.0
"""Planes in awkward places, bodies in awkward shapes, and what the level engine refuses.

The outside reference is rational arithmetic on the same coordinates (bodies.exact_volume_below).
"""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.level import (
    extent_along,
    level_body,
    levels_of,
    liquid_below,
    volume_below,
)
from sumpwright.geometry.mesh import Mesh, joined
from tests.geometry.bodies import (
    box,
    exact_volume_below,
    icosphere,
    prism,
    random_rotation,
    star,
)

UP = np.array([0.0, 0.0, 1.0])
ELL = [[0.0, 0.0], [0.2, 0.0], [0.2, 0.1], [0.1, 0.1], [0.1, 0.3], [0.0, 0.3]]
YOU = [
    [0.0, 0.0], [0.3, 0.0], [0.3, 0.2], [0.2, 0.2], [0.2, 0.1], [0.1, 0.1], [0.1, 0.2], [0.0, 0.2]
]  # fmt: skip


def hollow() -> Mesh:
    """A cube of 0.3 with a closed cube of 0.1 left out of its middle."""
    return joined([box([0, 0, 0], [0.3, 0.3, 0.3]), box([0.1] * 3, [0.2] * 3).flipped()])


def stacked() -> Mesh:
    """Two separate boxes with 0.1 of nothing between their heights."""
    return joined([box([0, 0, 0], [0.2, 0.2, 0.1]), box([0, 0, 0.2], [0.3, 0.3, 0.4])])


SHAPES = {
    "box": box([-0.1, -0.2, -0.3], [0.2, 0.1, 0.0]),
    "L": prism(ELL, 0.2),
    "U": prism(YOU, 0.2),
    "hollow": hollow(),
    "stacked": stacked(),
    "star": star(np.random.default_rng(5), halvings=1),
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("turned", [False, True])
def test_planes_through_every_corner_and_a_hair_above_and_below(name: str, turned: bool) -> None:
    mesh = SHAPES[name]
    if turned:
        mesh = mesh.moved(random_rotation(np.random.default_rng(1)), [0.01, 0.02, 0.03])
    body = level_body(mesh)
    a, b = mesh.vertices[0], mesh.vertices[1]  # an edge or a diagonal of a face
    along = np.cross(b - a, [0.3, 0.5, 0.7])
    for up in (UP, np.array([0.6, 0.0, 0.8]), -UP, along / np.linalg.norm(along)):
        for corner in mesh.vertices[:12] @ up:
            for height in (corner, np.nextafter(corner, 1.0), corner - 1e-13, corner + 1e-9):
                got = volume_below(body, up, height)[0]
                want = exact_volume_below(mesh, up, height)
                # the reach is under 0.5 m and the skin under 1 m^2: some roundings of their product
                np.testing.assert_allclose(got, want, rtol=0.0, atol=1e-16)
                assert got >= 0.0


def test_horizontal_faces_at_the_surface_belong_to_the_liquid_below() -> None:
    body = level_body(prism(ELL, 0.2))
    liquid = liquid_below(body, UP, [0.0, 0.1, 0.3])
    np.testing.assert_allclose(liquid.volume, [0.0, 0.004, 0.008], rtol=1e-14, atol=0.0)
    # the area just below each face: nothing under the floor, the foot under the ledge, the leg
    np.testing.assert_allclose(liquid.surface_area, [0.0, 0.04, 0.02], rtol=1e-14)


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("beyond", [1e-6, 1.0, 1e6, np.inf])
def test_planes_beyond_the_body_see_nothing_or_all_of_it(name: str, beyond: float) -> None:
    body = level_body(SHAPES[name])
    up = np.array([0.48, 0.6, 0.64])
    low, high = extent_along(body, up)[0]
    liquid = liquid_below(body, up, [low - beyond, high + beyond])
    assert liquid.volume[0] == 0.0
    np.testing.assert_allclose(liquid.volume[1], body.volume, rtol=1e-14)  # roundings of the sums
    assert (liquid.surface_area == 0.0).all()
    assert np.isnan(liquid.centroid[0]).all()
    whole = liquid_below(body, UP, 1.0).centroid[0]
    np.testing.assert_allclose(liquid.centroid[1], whole, rtol=0.0, atol=1e-15)


@pytest.mark.parametrize("turned", [False, True])
def test_empty_and_full_stand_at_the_lowest_and_highest_corner(turned: bool) -> None:
    turn = random_rotation(np.random.default_rng(2)) if turned else np.eye(3)
    for mesh in SHAPES.values():
        body = level_body(mesh.moved(turn, [0.0, 0.0, 0.0]))
        levels = levels_of(body, UP, [0.0, body.volume])
        np.testing.assert_array_equal(levels.height, extent_along(body, UP)[0])
        np.testing.assert_array_equal(levels.surface_area, [0.0, 0.0])


@pytest.mark.parametrize("seed", range(8))
def test_a_full_lower_body_stands_at_its_own_brim_not_in_the_gap_above(seed: int) -> None:
    # seed 0 is upright; a rotated pair has no plane exactly on a face
    turn = random_rotation(np.random.default_rng(seed)) if seed else np.eye(3)
    body = level_body(stacked().moved(turn, [0.0, 0.0, 0.0]))
    up = turn @ UP
    volume = np.array([0.004, 0.002, 0.004 + 1e-9, 0.004 - 1e-9])
    height = levels_of(body, up, volume).height
    want = [0.1, 0.05, 0.2 + 1e-9 / 0.09, 0.1 - 1e-9 / 0.04]
    np.testing.assert_allclose(height, want, rtol=0.0, atol=4e-16)  # roundings of half a metre


def test_a_gap_above_a_tip_or_below_a_floor_is_found_however_the_sums_round() -> None:
    # lower and upper body each a rough ball or a box: tips, edges and floors at the gap's ends
    for seed in range(200):
        rng = np.random.default_rng(seed)
        cube = box([-0.1] * 3, [0.1] * 3)
        lower, upper = (star(rng, 1) if rng.integers(2) else cube for _ in range(2))
        apart = lower.bounds[1, 2] - upper.bounds[0, 2] + 0.01
        turn = random_rotation(rng)
        mesh = joined([lower, upper.moved(np.eye(3), [0.05, 0.0, apart])])
        body = level_body(mesh.moved(turn, [0.0, 0.0, 0.0]))
        up = turn @ UP
        brim = lower.bounds[1, 2]
        volume = [lower.volume, *volume_below(body, up, brim + np.array([0.001, 0.005, 0.009]))]
        height = levels_of(body, up, volume).height
        # a rounding of the brim's height; never above it, and below only by what a tip's last
        # 1e-14 of the volume stands for: its cube root
        assert (height < brim + 1e-15).all()
        np.testing.assert_allclose(volume_below(body, up, height), volume, rtol=1e-14)


def test_two_legs_fill_together_and_their_bridge_after() -> None:
    # the U upside down: legs below, bridge above; each leg 0.1 x 0.2, 0.1 tall
    body = level_body(prism(YOU, 0.2))
    down = -UP
    volume = np.array([0.001, 0.004, 0.006, 0.01])
    want = [-0.2 + 0.001 / 0.04, -0.1, -0.1 + 0.002 / 0.06, 0.0]
    np.testing.assert_allclose(levels_of(body, down, volume).height, want, rtol=0.0, atol=1e-16)


def test_a_void_holds_no_oil() -> None:
    body = level_body(hollow())
    np.testing.assert_allclose(body.volume, 0.027 - 0.001, rtol=1e-14)
    liquid = liquid_below(body, UP, [0.1, 0.15, 0.2, 0.3])
    np.testing.assert_allclose(liquid.volume, [0.009, 0.013, 0.017, 0.026], rtol=1e-14)
    np.testing.assert_allclose(liquid.surface_area[1], 0.08, rtol=1e-14)
    # below 0.15: 0.0135 m^3 about 0.075, less 0.0005 about 0.125
    want = (0.0135 * 0.075 - 0.0005 * 0.125) / 0.013
    np.testing.assert_allclose(liquid.centroid[1], [0.15, 0.15, want], rtol=1e-14)


def test_flat_triangles_loose_corners_and_doubled_corners_change_nothing() -> None:
    mesh = star(np.random.default_rng(6))
    rng = np.random.default_rng(7)
    k = len(mesh.vertices)
    far = rng.normal(size=(5, 3)) * 1e6  # belong to no triangle, so they may lie anywhere
    flat = [[0, 0, 1], [2, 2, 2], [3, k + 5, 3]]
    more = Mesh(np.concatenate([mesh.vertices, far, mesh.vertices[:1]]), [*mesh.faces, *flat])
    soup = Mesh(mesh.corners.reshape(-1, 3), np.arange(3 * len(mesh.faces)))
    up = np.array([0.48, 0.6, 0.64])
    plain = level_body(mesh)
    heights = np.linspace(*extent_along(plain, up)[0], 12)[1:-1]
    want = liquid_below(plain, up, heights)
    for other in (more, soup):
        got = liquid_below(level_body(other), up, heights)
        # the blocks differ, so the sums round differently
        np.testing.assert_allclose(got.volume, want.volume, rtol=0.0, atol=1e-15 * plain.volume)
        np.testing.assert_allclose(got.centroid, want.centroid, rtol=0.0, atol=1e-14)


def test_one_triangle_more_or_less_than_a_block_is_no_edge_case() -> None:
    # 20, 80 and 320 triangles, alone and with 1 to 17 flat ones added, cross the block size
    up = np.array([0.48, 0.6, 0.64])
    for halvings in (0, 1, 2):
        mesh = icosphere(halvings, 0.1)
        want = exact_volume_below(mesh, up, 0.03)
        for extra in range(18):
            more = Mesh(mesh.vertices, np.concatenate([mesh.faces, np.zeros((extra, 3), int)]))
            got = volume_below(level_body(more), up, 0.03)[0]
            np.testing.assert_allclose(got, want, rtol=1e-14)  # some dozen roundings


@pytest.mark.parametrize("volume", [-1e-9, 0.00601, np.nan])
def test_refuses_a_volume_the_body_does_not_hold(volume: float) -> None:
    body = level_body(box([0.0, 0.0, 0.0], [0.3, 0.2, 0.1]))
    with pytest.raises(RangeError) as error:
        levels_of(body, UP, [0.001, volume])
    assert str(error.value) == f"volume {volume:.6g} m^3 is outside 0 to 0.006 m^3"


def test_refuses_meshes_that_hold_nothing() -> None:
    good = box([0.0, 0.0, 0.0], [0.3, 0.2, 0.1])
    bad = good.vertices.copy()
    bad[3, 1] = np.nan
    for mesh, text in [
        (Mesh(np.zeros((0, 3)), np.zeros((0, 3), int)), "got a mesh without triangles"),
        (good.flipped(), "a level needs a body of positive volume, got -0.006 m^3"),
        (Mesh(good.vertices, good.faces[:-2]), "got one open over 0.06 m^2 or more"),
        (Mesh(bad, good.faces), "a level needs finite corner points, got nan or infinity"),
    ]:
        with pytest.raises(RangeError) as error:
            level_body(mesh)
        assert str(error.value).endswith(text)


def test_refuses_planes_that_are_none() -> None:
    body = level_body(box([0.0, 0.0, 0.0], [0.3, 0.2, 0.1]))
    for up, text in [([0.0, 0.0, 2.0], "2"), ([0.0, 0.0, 0.0], "0"), ([np.nan, 0.0, 1.0], "nan")]:
        with pytest.raises(RangeError) as error:
            volume_below(body, up, 0.05)
        assert str(error.value) == f"up needs unit vectors, got one of length {text}"
    with pytest.raises(RangeError, match="a plane needs a height, got nan"):
        volume_below(body, UP, np.nan)
