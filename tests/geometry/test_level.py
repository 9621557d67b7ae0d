# SPDX-License-Identifier: Apache-2.0
"""Levels against closed forms and published worked examples.

The wedge in an accelerated tank, the cylinder segment, the prismoid, the ungula and the cap are
standard results of hydrostatics and mensuration; their printed values were worked out anew here.
"""

import numpy as np
import pytest

from sumpwright.geometry.frame import effective_gravity, up_of
from sumpwright.geometry.level import (
    extent_along,
    level_body,
    levels_of,
    liquid_below,
    volume_below,
)
from sumpwright.geometry.level_kernel import scratch
from sumpwright.geometry.level_solve import height_of
from sumpwright.geometry.level_tree import BLOCK
from tests.geometry.bodies import (
    Floats,
    box,
    icosphere,
    prism,
    prismoid,
    random_rotation,
    random_up,
    regular_outline,
    rippled_pan,
    upright,
)

UP = np.array([0.0, 0.0, 1.0])
SUMS = 1e-12  # a few hundred roundings; the requirement is 1e-9
FILLS = [1e-9, 1e-6, 1e-3, 0.1, 0.25, 0.5, 0.75, 0.9, 0.999, 1.0 - 1e-6, 1.0 - 1e-9]


def corner_volume(up: Floats, size: Floats, depth: Floats) -> Floats:
    """Of a box below a plane `depth` above its lowest corner: the sum over its eight corners.

    Scardovelli and Zaleski, J. Comput. Phys. 164 (2000) 228-237, from memory.
    """
    rise = np.abs(up) * size
    total = np.zeros_like(depth)
    for corner in np.ndindex(2, 2, 2):
        over = np.maximum(depth - np.dot(corner, rise), 0.0)
        total += (-1.0) ** sum(corner) * over**3
    return total / (6.0 * np.prod(np.abs(up)))


@pytest.mark.parametrize("size", [[0.001, 0.001, 0.001], [0.3, 0.2, 0.1], [10.0, 7.0, 3.0]])
def test_cuts_a_corner_off_a_box_of_any_size(size: list[float]) -> None:
    edges = np.array(size)
    body = level_body(box(np.zeros(3), edges))
    up = np.array([0.48, 0.6, 0.64])
    depth = np.linspace(0.05, 1.0, 20) * (up @ edges)
    ours = volume_below(body, up, depth)
    # the formula itself loses digits of the whole volume to cancellation, hence atol
    np.testing.assert_allclose(
        ours, corner_volume(up, edges, depth), rtol=SUMS, atol=1e-14 * np.prod(edges)
    )


@pytest.mark.parametrize("fill", [1e-12, 1e-9, 1e-6, 1e-3, 0.02])
def test_finds_the_level_of_a_tip_of_oil_in_a_corner_and_of_air_in_the_one_above(
    fill: float,
) -> None:
    # below the first edge a corner holds depth^3 / (6 ux uy uz), and as much air at the top
    size = np.array([0.3, 0.2, 0.1])
    up = np.ones(3) / np.sqrt(3.0)
    body = level_body(box(np.zeros(3), size))
    depth = (6.0 * np.prod(up) * fill * body.volume) ** (1 / 3)
    height = levels_of(body, up, [fill * body.volume, (1.0 - fill) * body.volume]).height
    one = np.finfo(float).eps
    np.testing.assert_allclose(height[0], depth, rtol=0.0, atol=one * 0.19)  # a rounding of 0.19 m
    # of 1 - fill one rounding of the whole is lost, which is a share one / fill of the air
    np.testing.assert_allclose(
        up @ size - height[1], depth, rtol=0.0, atol=one * (0.19 + depth / fill)
    )


@pytest.mark.parametrize("fill", FILLS)
@pytest.mark.parametrize("sides", [3, 4, 16, 64])
def test_round_trip_holds_from_a_drop_to_the_brim(fill: float, sides: int) -> None:
    body = level_body(upright(prism(regular_outline(sides, 0.1, 0.3), 0.25)))
    rng = np.random.default_rng(sides)
    for _ in range(10):
        up = random_up(rng)
        levels = levels_of(body, up, fill * body.volume)
        back = volume_below(body, up, levels.height)
        # heights count from the frame: one rounding of a height moves the level by eps * reach
        reach = np.abs(extent_along(body, up)).max()
        unsure = 4.0 * np.finfo(float).eps * reach * levels.surface_area
        np.testing.assert_allclose(
            back, fill * body.volume, rtol=0.0, atol=(unsure + 1e-15 * body.volume).item()
        )


@pytest.mark.parametrize("fill", FILLS)
def test_a_drop_or_a_bubble_is_found_in_as_few_looks_as_half_a_pan(fill: float) -> None:
    body = level_body(rippled_pan(30))
    rng = np.random.default_rng(11)
    spent = [
        height_of(
            *(body.nodes, body.corners, body.areas, BLOCK, body.skin, body.several, body.volume),
            *(random_up(rng), fill * body.volume, np.nan, scratch(body.corners)),
        )[2]
        for _ in range(40)
    ]
    assert np.mean(spent) < 9.0  # measured 2 to 7; plain Newton takes 20 in the tips


@pytest.mark.parametrize("sides", [12, 48, 25_000])
def test_cylinder_on_its_side_matches_the_segment_of_its_polygon(sides: int) -> None:
    # 25,000 sides make 100k triangles; depth 0.05 of radius 0.1, length 0.3
    turn = -0.5 * np.pi  # a corner lowest: the polygon's segment is then symmetric
    outline = regular_outline(sides, 0.1, turn)
    body = level_body(prism(outline, 0.3))
    area = _area(_cut_below(outline, -0.05))
    np.testing.assert_allclose(volume_below(body, UP, -0.05), 0.3 * area, rtol=SUMS)


def test_cylinder_on_its_side_approaches_the_published_segment_at_second_order() -> None:
    r, depth, length = 0.1, 0.05, 0.3
    segment = r * r * np.arccos((r - depth) / r) - (r - depth) * np.sqrt(2 * r * depth - depth**2)
    np.testing.assert_allclose(length * segment, 1.8426e-3, atol=0.5e-7)  # printed: 1.8426 L
    # sides divisible by 12 put a corner exactly on the surface, so the error is smooth in 1/n
    errors = [
        length * segment
        - volume_below(level_body(prism(regular_outline(n, r, -0.5 * np.pi), length)), UP, -0.05)[0]
        for n in (48, 96, 192)
    ]
    order = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    np.testing.assert_allclose(order, 2.0, atol=0.1)  # chords of a circle: second order
    assert errors[-1] / (length * segment) < 1e-3  # what 192 sides cost


def test_prismoid_holds_what_the_prismoidal_formula_says() -> None:
    mesh = prismoid((0.3, 0.2), (0.24, 0.14), 0.08)
    body = level_body(mesh)
    np.testing.assert_allclose(body.volume, 3.6960e-3, rtol=SUMS)  # printed: 3.6960 L, exact
    z = np.linspace(0.01, 0.08, 8)
    lost = 0.06 * z / 0.08
    width, depth = 0.3 - lost, 0.2 - lost
    middle = (0.3 - lost / 2) * (0.2 - lost / 2)
    want = z / 6.0 * (0.06 + 4.0 * middle + width * depth)  # the prismoidal formula
    np.testing.assert_allclose(volume_below(body, UP, z), want, rtol=SUMS)
    np.testing.assert_allclose(
        liquid_below(body, UP, z[:-1]).surface_area, (width * depth)[:-1], rtol=SUMS
    )


def test_ungula_of_a_cylinder_is_two_thirds_r_squared_h() -> None:
    # a plane through a diameter of the floor: volume = h/R times the half disc's first moment
    errors = []
    for sides in (32, 64, 128):
        outline = regular_outline(sides, 1.0, np.pi / sides)
        body = level_body(upright(prism(outline, 1.0)))
        plane = np.array([-1.0, 0.0, 1.0]) / np.sqrt(2.0)
        ours = volume_below(body, plane, 0.0)[0]
        half = _cut_below(outline[:, ::-1], 0.0)[:, ::-1]  # x below 0, which mirrors x above 0
        np.testing.assert_allclose(ours, abs(_moment(half)), rtol=SUMS)
        errors.append(2.0 / 3.0 - ours)
    order = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    np.testing.assert_allclose(order, 2.0, atol=0.1)  # chords of a circle: second order


def test_cap_of_a_sphere_is_approached_at_second_order() -> None:
    r, h = 0.1, 0.03
    cap = np.pi * h * h * (3.0 * r - h) / 3.0
    np.testing.assert_allclose(cap, 0.2545e-3, atol=0.5e-7)  # printed: 0.2545 L
    errors = []
    for halvings in (3, 4, 5, 6):
        body = level_body(icosphere(halvings, r))
        errors.append(cap - volume_below(body, UP, h - r)[0])
    order = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    np.testing.assert_allclose(order[1:], 2.0, atol=0.1)  # corners on the sphere: second order


@pytest.mark.parametrize(
    ("accel", "wall", "dry"), [(0.3, 95.0, 0.0), (0.6, 134.16, 76.39), (1.2, 189.74, 141.89)]
)
def test_wedge_in_an_accelerated_tank(accel: float, wall: float, dry: float) -> None:
    # tank 300 long, filled 50 deep: a textbook wedge, printed to 0.01 mm
    body = level_body(box([0.0, 0.0, 0.0], [0.3, 0.2, 0.4]))
    up = up_of(effective_gravity([accel, 0.0, 0.0]))  # accelerates to +x: oil goes to x = 0
    height = levels_of(body, up, 0.3 * 0.2 * 0.05).height[0]
    at_wall, at_floor = height / up[2], height / up[0]
    np.testing.assert_allclose(at_wall * 1e3, wall, atol=0.005)  # half of the last printed digit
    np.testing.assert_allclose(max(0.3 - at_floor, 0.0) * 1e3, dry, atol=0.005)
    exact = 0.05 + 0.15 * accel if dry == 0.0 else accel * np.sqrt(2.0 * 0.05 * 0.3 / accel)
    np.testing.assert_allclose(at_wall, exact, rtol=SUMS)


def test_wedge_in_a_tank_that_brakes_and_turns() -> None:
    # 1.0 g to the left with 0.8 g of braking: printed tilt 52.015 deg, 38.66 deg from lateral
    up = up_of(effective_gravity([-0.8, 1.0, 0.0]))
    np.testing.assert_allclose(np.rad2deg(np.arccos(up[2])), 52.015, atol=0.0005)
    np.testing.assert_allclose(np.rad2deg(np.arctan2(-up[0], up[1])), 38.66, atol=0.005)
    size = np.array([0.3, 0.2, 0.1])
    height = levels_of(level_body(box(-size / 2, size / 2)), up, 0.002).height
    depth = height + 0.5 * np.abs(up) @ size  # above the corner the oil runs to
    np.testing.assert_allclose(corner_volume(up, size, depth), 0.002, rtol=SUMS)
    lowest = liquid_below(level_body(box(-size / 2, size / 2)), up, height).centroid[0]
    assert lowest[0] > 0.0 > lowest[1]  # forward under braking, right in a left turn


def test_centroid_of_a_tilted_tank_is_the_trapezoids() -> None:
    # depths a and b at the walls: xbar = L (a + 2 b) / 3 (a + b),
    # zbar = (a^2 + ab + b^2) / 3 (a + b)
    body = level_body(box([0.0, 0.0, 0.0], [0.3, 0.2, 0.4]))
    up = up_of(effective_gravity([0.3, 0.0, 0.0]))
    liquid = liquid_below(body, up, levels_of(body, up, 0.003).height)
    a, b = 0.095, 0.005
    want = [0.3 * (a + 2 * b) / (3 * (a + b)), 0.1, (a * a + a * b + b * b) / (3 * (a + b))]
    np.testing.assert_allclose(liquid.centroid[0], want, rtol=SUMS)
    np.testing.assert_allclose(liquid.surface_area, 0.2 * 0.3 / up[2], rtol=SUMS)


def test_centroid_of_a_tip_is_three_quarters_of_the_way_up() -> None:
    # a tetrahedron's is a quarter of the depth below its base, for a drop as for a litre
    body = level_body(box([0.0, 0.0, 0.0], [0.3, 0.2, 0.1]))
    up = np.ones(3) / np.sqrt(3.0)
    depth = np.array([1e-6, 1e-4, 1e-2])
    centroid = liquid_below(body, up, depth).centroid
    want = np.repeat(depth[:, None] * np.sqrt(3.0) / 4.0, 3, axis=1)
    # the height is off by a rounding of the box's 0.19 m, and the centroid with it
    np.testing.assert_allclose(centroid, want, rtol=0.0, atol=1e-16)


def test_a_level_far_from_the_origin_is_as_exact_as_its_coordinates() -> None:
    size = np.array([0.3, 0.2, 0.1])
    shift = 1000.0 * size
    up = np.array([0.48, 0.6, 0.64])
    body = level_body(box(shift, shift + size))
    depth = np.linspace(0.1, 0.9, 9) * (up @ size)
    ours = volume_below(body, up, up @ shift + depth)
    # what two roundings of a height of 400 m do to the volume: 3e-15 m^3 of 6e-3
    unsure = 2.0 * np.spacing(400.0) * liquid_below(body, up, up @ shift + depth).surface_area
    np.testing.assert_array_less(np.abs(ours - corner_volume(up, size, depth)), unsure)
    np.testing.assert_allclose(ours, corner_volume(up, size, depth), rtol=1e-9)  # the requirement
    back = levels_of(body, up, ours).height
    np.testing.assert_allclose(back, up @ shift + depth, rtol=4e-16)  # two roundings of 400 m


def test_a_hundred_thousand_triangles_cost_no_digits() -> None:
    # the ripples cancel over whole waves only, so the volume is the mesh's own, by another sum
    mesh = rippled_pan(158)
    assert len(mesh.faces) == 99_852
    body = level_body(mesh)
    np.testing.assert_allclose(body.volume, mesh.volume, rtol=SUMS)
    rng = np.random.default_rng(3)
    up = np.array([random_up(rng) for _ in range(50)])
    volume = rng.uniform(0.0, body.volume, 50)
    levels = levels_of(body, up, volume)
    np.testing.assert_allclose(volume_below(body, up, levels.height), volume, rtol=SUMS)


def test_extent_is_that_of_the_corners() -> None:
    mesh = rippled_pan(20).moved(random_rotation(np.random.default_rng(1)), [3.0, -2.0, 1.0])
    rng = np.random.default_rng(2)
    ups = np.array([random_up(rng) for _ in range(30)] + [UP, -UP])
    along = mesh.vertices @ ups.T
    want = np.stack([along.min(axis=0), along.max(axis=0)], axis=1)
    got = extent_along(level_body(mesh), ups)
    np.testing.assert_allclose(got, want, rtol=0.0, atol=2e-15)  # roundings of 4 m


def _cut_below(outline: Floats, z: float) -> Floats:
    """The part of a polygon whose second coordinate is at most z (Sutherland and Hodgman)."""
    kept = []
    for p, q in zip(outline, np.roll(outline, -1, axis=0), strict=True):
        if p[1] <= z:
            kept.append(p)
        if (p[1] - z) * (q[1] - z) < 0.0:
            kept.append(p + (z - p[1]) / (q[1] - p[1]) * (q - p))
    return np.array(kept)


def _area(outline: Floats) -> float:
    x, z = outline.T
    return float(0.5 * np.sum(x * np.roll(z, -1) - np.roll(x, -1) * z))


def _moment(outline: Floats) -> float:
    """First moment of a polygon about its second axis."""
    x, z = outline.T
    xn, zn = np.roll(x, -1), np.roll(z, -1)
    return float(np.sum((x + xn) * (x * zn - xn * z)) / 6.0)
