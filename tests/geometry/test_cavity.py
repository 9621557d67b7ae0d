# SPDX-License-Identifier: Apache-2.0
"""Cavities from shells, metal and outsides, against closed-form volumes."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.errors import InputError
from sumpwright.geometry.cavity import capped, hollow, rail_opening_area, with_crankcase
from sumpwright.geometry.edge import is_closed, welded
from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.plane_cut import cap_of_top
from tests.geometry.bodies import box, icosphere, prismoid, random_rotation

UP = np.array([0.0, 0.0, 1.0])


def opened(solid: Mesh) -> Mesh:
    """The solid without its flat top."""
    return Mesh(solid.vertices, solid.faces[~cap_of_top(solid, 1e-9)])


def pan(bottom: tuple[float, float], top: tuple[float, float], depth: float) -> Mesh:
    """A tapered body hanging from z = 0."""
    return prismoid(bottom, top, depth).moved(np.eye(3), [0.0, 0.0, -depth])


def prismoid_volume(a: tuple[float, float], b: tuple[float, float], height: float) -> float:
    """Simpson's rule, exact for a prismoid."""
    middle = (a[0] + b[0]) * (a[1] + b[1]) / 4.0
    return height * (a[0] * a[1] + 4.0 * middle + b[0] * b[1]) / 6.0


def test_prismoid_of_the_handbook() -> None:
    # 300x200 -> 240x140 x 80 mm holds 3.6960 L: calculated from the prismoid formula
    cavity = capped(opened(pan((0.24, 0.14), (0.3, 0.2), 0.08)))
    assert cavity.volume == pytest.approx(3.6960e-3, rel=1e-12)
    assert is_closed(cavity)


def test_half_a_faceted_ball_is_half_its_volume() -> None:
    ball = icosphere(4, 0.1)  # symmetric about z = 0, where 2-fold edges lie
    half = capped(ball)
    assert half.volume == pytest.approx(ball.volume / 2, rel=1e-12)
    assert is_closed(half)


def test_what_stands_above_the_rail_is_trimmed() -> None:
    shell = opened(box([0, 0, -0.1], [0.3, 0.2, 0.013]))
    assert capped(shell).volume == pytest.approx(0.3 * 0.2 * 0.1, rel=1e-13)
    assert rail_opening_area(capped(shell)) == pytest.approx(0.06, rel=1e-13)


def test_an_inside_out_shell_gives_the_same_cavity() -> None:
    shell = opened(box([0, 0, -0.1], [0.3, 0.2, 0.0]))
    assert capped(shell.flipped()).volume == pytest.approx(6e-3, rel=1e-13)


def test_a_post_in_the_opening_is_left_out() -> None:
    # The post's skin faces the oil, so it is walked inside out
    post = opened(box([0.1, 0.05, -0.1], [0.12, 0.09, 0.0])).flipped()
    floor = Mesh(post.vertices, post.faces[(post.corners[:, :, 2] > -0.1).any(axis=1)])
    well = opened(box([0, 0, -0.1], [0.3, 0.2, 0.0]))
    holed = _floor_with_hole(well, floor)
    cavity = capped(holed)
    assert cavity.volume == pytest.approx((0.3 * 0.2 - 0.02 * 0.04) * 0.1, rel=1e-12)
    assert rail_opening_area(cavity) == pytest.approx(0.3 * 0.2 - 0.02 * 0.04, rel=1e-12)


def _floor_with_hole(well: Mesh, post: Mesh) -> Mesh:
    """The well's walls and the post's, with a floor between them."""
    from manifold3d import triangulate

    walls = well.faces[(well.corners[:, :, 2] > -0.1).any(axis=1)]
    outer = np.array([[0, 0], [0.3, 0], [0.3, 0.2], [0, 0.2]])
    inner = np.array([[0.1, 0.05], [0.1, 0.09], [0.12, 0.09], [0.12, 0.05]])
    flat = np.asarray(triangulate([outer, inner]))[:, ::-1]
    points = np.column_stack([np.concatenate([outer, inner]), np.full(8, -0.1)])
    return welded(joined([Mesh(well.vertices, walls), post, Mesh(points, flat)]))


def test_two_openings_give_two_caps() -> None:
    pair = joined([opened(box([x, 0, -0.1], [x + 0.1, 0.1, 0.0])) for x in (0.0, 0.2)])
    assert capped(pair).volume == pytest.approx(2e-3, rel=1e-13)


def test_a_closed_body_is_trimmed() -> None:
    cavity = capped(box([0, 0, -0.1], [0.3, 0.2, 0.05]), height=-0.02)
    assert cavity.volume == pytest.approx(0.3 * 0.2 * 0.08, rel=1e-13)
    assert cavity.bounds[1, 2] == -0.02


def test_a_file_in_single_precision_still_closes_flush() -> None:
    # mm in single precision round to 3e-5 mm; the rim wobbles about the plane by that
    shell = opened(pan((0.24, 0.14), (0.3, 0.2), 0.08))
    rough = Mesh(np.float32(shell.vertices * 1e3 + 0.1) / np.float32(1e3), shell.faces)
    cavity = capped(rough, height=1e-4)
    assert is_closed(cavity)
    assert cavity.volume == pytest.approx(3.6960e-3, rel=1e-6)  # single precision


@given(st.integers(0, 10_000), st.floats(-0.07, -0.001))
@settings(max_examples=40, deadline=None)
def test_turning_shell_and_plane_together_changes_nothing(seed: int, height: float) -> None:
    turn = random_rotation(np.random.default_rng(seed))
    shell = opened(pan((0.24, 0.14), (0.3, 0.2), 0.08))
    here = capped(shell, UP, height)
    there = capped(shell.moved(turn, [0, 0, 0]), turn @ UP, height)
    assert there.volume == pytest.approx(here.volume, rel=1e-11)  # rounding over a thin slice
    assert is_closed(there)


def test_says_where_the_rim_dips_and_by_how_much() -> None:
    shell = opened(box([0, 0, -0.1], [0.3, 0.2, 0.0]))
    low = shell.vertices.copy()
    low[np.argmax(low @ [1.0, 1.0, 1.0]), 2] -= 0.0032
    with pytest.raises(InputError) as caught:
        capped(Mesh(low, shell.faces))
    (problem,) = caught.value.problems
    assert problem.code == "GEO-251"
    assert problem.where == "shell near x 300.0 mm, y 200.0 mm, z -3.2 mm"
    assert "3.2 mm below the rail plane" in problem.found
    assert "3.2 mm lower" in problem.do


def test_a_shell_wholly_below_the_rail_falls_short_too() -> None:
    with pytest.raises(InputError, match="GEO-251") as caught:
        capped(opened(box([0, 0, -0.1], [0.3, 0.2, -0.004])))
    assert "4 mm below" in caught.value.problems[0].found


def test_a_drain_hole_is_a_hole_and_not_a_rim() -> None:
    shell = opened(box([0, 0, -0.1], [0.3, 0.2, 0.0]))
    floor = np.flatnonzero((shell.corners[:, :, 2] == -0.1).all(axis=1))
    with pytest.raises(InputError, match="GEO-252"):
        capped(Mesh(shell.vertices, np.delete(shell.faces, floor[0], axis=0)))


@pytest.mark.parametrize("low", [0.01, -0.3])
def test_refuses_a_body_that_the_rail_does_not_cut(low: float) -> None:
    with pytest.raises(InputError, match="GEO-253"):
        capped(box([0, 0, low], [0.3, 0.2, low + 0.1]))


def test_refuses_skins_that_face_different_ways() -> None:
    pair = [opened(box([x, 0, -0.1], [x + 0.1 + x, 0.1, 0.0])) for x in (0.0, 0.2)]
    with pytest.raises(InputError, match="GEO-254"):
        capped(joined([pair[0].flipped(), pair[1]]))


def _metal() -> Mesh:
    """A 4 mm pan of 400 x 200 x 100 mm outside, rail at z = 0, as one closed skin."""
    outer = opened(box([0, 0, -0.1], [0.4, 0.2, 0.0]))
    inner = opened(box([0.004, 0.004, -0.096], [0.396, 0.196, 0.0])).flipped()
    ring = np.array([[0, 0], [0.4, 0], [0.4, 0.2], [0, 0.2]])
    hole = np.array([[0.004, 0.004], [0.004, 0.196], [0.396, 0.196], [0.396, 0.004]])
    from manifold3d import triangulate

    rail = np.column_stack([np.concatenate([ring, hole]), np.zeros(8)])
    return welded(joined([outer, inner, Mesh(rail, np.asarray(triangulate([ring, hole])))]))


def test_the_hollow_of_a_metal_pan_is_its_inside() -> None:
    metal = _metal()
    assert is_closed(metal)
    assert metal.volume == pytest.approx(0.4 * 0.2 * 0.1 - 0.392 * 0.192 * 0.096, rel=1e-12)
    assert hollow(metal).volume == pytest.approx(0.392 * 0.192 * 0.096, rel=1e-12)
    assert hollow(metal, height=-0.01).volume == pytest.approx(0.392 * 0.192 * 0.086, rel=1e-12)


def test_solid_metal_has_no_hollow() -> None:
    with pytest.raises(InputError, match="GEO-255"):
        hollow(box([0, 0, -0.1], [0.4, 0.2, 0.0]))


@given(st.floats(0.001, 0.5))
@settings(max_examples=30, deadline=None)
def test_a_crankcase_adds_exactly_opening_times_height(height: float) -> None:
    cavity = capped(icosphere(2, 0.1), height=0.03)
    space = with_crankcase(cavity, height)
    grown = rail_opening_area(cavity) * height
    assert space.volume - cavity.volume == pytest.approx(grown, rel=1e-10)  # of a difference
    assert is_closed(space)
    assert space.bounds[1, 2] == pytest.approx(0.03 + height)
    assert rail_opening_area(space) == pytest.approx(rail_opening_area(cavity), rel=1e-12)


def test_a_crankcase_of_no_height_changes_nothing() -> None:
    cavity = box([0, 0, -0.1], [0.3, 0.2, 0.0])
    assert with_crankcase(cavity, 0.0).volume == cavity.volume


def test_refuses_a_crankcase_on_a_cavity_without_a_flat_top() -> None:
    peak = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0.3, 0.3, 1.0]])
    with pytest.raises(InputError, match="GEO-258"):
        with_crankcase(Mesh(peak, [[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]]), 0.1)
