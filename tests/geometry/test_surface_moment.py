# SPDX-License-Identifier: Apache-2.0
"""Moments of cuts against closed forms, the level engine, and the shift of a tilted liquid."""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.level import LevelBody, level_body, levels_of, liquid_below
from sumpwright.geometry.mesh import joined
from sumpwright.geometry.surface_moment import CutMoments, surface_moments
from tests.geometry.bodies import (
    Floats,
    box,
    prism,
    random_rotation,
    random_up,
    regular_outline,
    star,
    upright,
)

X, Y, Z = np.eye(3)
SUMS = 1e-12  # some roundings


def cut(body: LevelBody, up: Floats, height: float, axis: Floats) -> CutMoments:
    return surface_moments(body, [up], [height], [axis])


def axis_of(up: Floats) -> Floats:
    """Some unit vector across."""
    across = np.cross(up, [0.3, -0.8, 0.5])
    return np.asarray(across / np.linalg.norm(across))


def test_a_boxs_cut_is_a_rectangle() -> None:
    found = cut(level_body(box([0.1, 0.2, 0.3], [0.4, 0.4, 0.4])), Z, 0.35, X)
    np.testing.assert_allclose(found.area, 0.3 * 0.2, rtol=SUMS)
    np.testing.assert_allclose(found.centroid, [[0.25, 0.3, 0.35]], rtol=SUMS)
    want = [[0.2 * 0.3**3 / 12.0, 0.0], [0.0, 0.3 * 0.2**3 / 12.0]]
    np.testing.assert_allclose(found.second_moments[0], want, rtol=SUMS, atol=SUMS * 1e-4)


@pytest.mark.parametrize("turn", [20.0, 45.0, 137.0])
def test_turned_axes_have_a_product_of_inertia(turn: float) -> None:
    a = np.radians(turn)
    axis = np.array([np.cos(a), np.sin(a), 0.0])
    found = cut(level_body(box([0, 0, 0], [0.3, 0.2, 0.1])), Z, 0.04, axis)
    along, across = 0.2 * 0.3**3 / 12.0, 0.3 * 0.2**3 / 12.0
    middle, half = 0.5 * (along + across), 0.5 * (along - across)
    want = [  # Mohr's circle
        [middle + half * np.cos(2 * a), -half * np.sin(2 * a)],
        [-half * np.sin(2 * a), middle - half * np.cos(2 * a)],
    ]
    np.testing.assert_allclose(found.second_moments[0], want, rtol=SUMS, atol=SUMS * 1e-4)


@pytest.mark.parametrize("sides", [3, 4, 7, 64])
@pytest.mark.parametrize("tilt", [0.0, 30.0, 50.0])
def test_a_tilted_prisms_cut_is_its_polygon_drawn_out(sides: int, tilt: float) -> None:
    # regular polygon, circumradius R, side a: I = A (6 R^2 - a^2) / 24 (handbooks, from memory)
    r, t = 0.1, np.radians(tilt)
    body = level_body(upright(prism(regular_outline(sides, r, 0.4), 0.6)))
    middle = 0.5 * (body.corners.reshape(-1, 3)[:, 2].min() + body.corners[:, 2].max())
    centre = body.reference[2] + 0.0 * middle
    up, axis = np.array([np.sin(t), 0.0, np.cos(t)]), np.array([np.cos(t), 0.0, -np.sin(t)])
    found = cut(body, up, centre * np.cos(t), axis)
    a = 2.0 * r * np.sin(np.pi / sides)
    area = 0.5 * sides * r**2 * np.sin(2.0 * np.pi / sides)
    second = area * (6.0 * r**2 - a**2) / 24.0
    np.testing.assert_allclose(found.area, area / np.cos(t), rtol=SUMS)
    want = np.diag([second / np.cos(t) ** 3, second / np.cos(t)])
    np.testing.assert_allclose(found.second_moments[0], want, rtol=SUMS, atol=SUMS * second)


def test_a_hole_and_a_second_body_count() -> None:
    hollow = joined([box([0, 0, 0], [4, 4, 4]), box([1, 1, 1], [2, 2, 2]).flipped()])
    both = level_body(joined([hollow, box([6, 0, 0], [7, 1, 4])]))
    found = cut(both, Z, 1.5, X)
    area = 16.0 - 1.0 + 1.0
    x = (16.0 * 2.0 - 1.5 + 6.5) / area
    second = 16.0 * (16.0 / 12.0 + (2 - x) ** 2) - (1 / 12 + (1.5 - x) ** 2)
    second += 1 / 12 + (6.5 - x) ** 2
    np.testing.assert_allclose(found.area, area, rtol=SUMS)
    np.testing.assert_allclose(found.centroid[0, 0], x, rtol=SUMS)
    np.testing.assert_allclose(found.second_moments[0, 0, 0], second, rtol=SUMS)


@pytest.mark.parametrize("seed", range(5))
def test_has_the_level_engines_area_and_shifts_a_tilted_liquid(seed: int) -> None:
    # Bouguer, 1746: tilting by a small angle moves the first moment of the liquid by I times it
    rng = np.random.default_rng(seed)
    body = level_body(star(rng).moved(random_rotation(rng), rng.uniform(-0.1, 0.1, 3)))
    for fill in (0.2, 0.5, 0.8):
        up = random_up(rng)
        axis, volume = axis_of(up), fill * body.volume
        side = np.cross(up, axis)
        level = levels_of(body, up, volume)
        found = cut(body, up, level.height[0], axis)
        np.testing.assert_allclose(found.area, level.surface_area, rtol=1e-9)  # sums of both
        angle = 1e-5
        tilted = np.array([np.cos(angle) * up - s * np.sin(angle) * axis for s in (1.0, -1.0)])
        heights = levels_of(body, tilted, volume).height
        first = liquid_below(body, tilted, heights).centroid * volume
        shift = (first[0] - first[1]) / (2.0 * np.tan(angle))
        want = [found.second_moments[0, 0, 0], found.second_moments[0, 0, 1]]
        # differences: off by angle^2, and by roundings over the angle; corners passed on the way
        scale = found.second_moments[0, 0, 0]
        np.testing.assert_allclose([shift @ axis, shift @ side], want, rtol=1e-4, atol=1e-4 * scale)


@pytest.mark.parametrize("seed", range(3))
def test_the_height_of_a_volume_turns_about_the_centroid(seed: int) -> None:
    rng = np.random.default_rng(seed)
    body = level_body(star(rng))
    up = random_up(rng)
    axis, volume = axis_of(up), 0.4 * body.volume
    found = cut(body, up, levels_of(body, up, volume).height[0], axis)
    ups = np.array([up * np.cos(a) + axis * np.sin(a) for a in (1e-5, -1e-5)])
    rise = -np.diff(levels_of(body, ups, volume).height)[0] / 2e-5
    np.testing.assert_allclose(rise, found.centroid[0] @ axis, rtol=0.0, atol=1e-7)  # angle^2


def test_nothing_cut_has_no_centroid_and_no_area() -> None:
    found = cut(level_body(box([0, 0, 0], [1, 1, 1])), Z, 1.5, X)
    assert found.area[0] == 0.0
    assert np.isnan(found.centroid).all()
    assert (found.second_moments == 0.0).all()


def test_a_face_in_the_plane_counts_as_just_above_it() -> None:
    step = level_body(joined([box([0, 0, 0], [1, 1, 1]), box([2, 0, 1], [3, 1, 2])]))
    np.testing.assert_allclose(cut(step, Z, 1.0, X).area, 1.0, rtol=SUMS)


def test_a_sliver_far_from_the_middle_keeps_its_digits() -> None:
    far = joined([box([-50, -1, 0], [-49, 1, 1]), box([40, 0, 0], [40.001, 0.001, 2])])
    found = cut(level_body(far), Z, 1.5, X)
    size = 1e-3
    # corners a metre and more from the origin are themselves rounded to 1e-14 m, 1e-11 of a side
    np.testing.assert_allclose(found.second_moments[0, 0, 0], size**4 / 12.0, rtol=1e-10)


def test_refuses_an_axis_that_stands_out_of_the_plane() -> None:
    with pytest.raises(RangeError, match="right angles, off by 1"):
        cut(level_body(box([0, 0, 0], [1, 1, 1])), Z, 0.5, Z)
