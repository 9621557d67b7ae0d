# SPDX-License-Identifier: Apache-2.0
"""Flat cuts: closed forms of solid geometry first, then what must hold for every cut.

Closed forms: school geometry (prism, cylinder, sphere); the many-sided cylinder's own exact area
is that of a regular polygon, n/2 r^2 sin(2 pi/n).
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from sumpwright.errors import RangeError
from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.section import (
    CutPlane,
    cut_plane,
    outline_area,
    outlines_below,
    section_outlines,
    surface_spans,
)


def mesh_of(solid: Manifold) -> Mesh:
    data = solid.to_mesh()
    return Mesh(np.asarray(data.vert_properties, dtype=float)[:, :3], np.asarray(data.tri_verts))


def level(height: float) -> CutPlane:
    return cut_plane(origin=[0, 0, height], normal=[0, 0, 1], across=[1, 0, 0])


BOX = mesh_of(Manifold.cube([0.4, 0.3, 0.2]))


def test_a_box_is_cut_to_its_own_floor() -> None:
    outlines = section_outlines(BOX, level(0.1))
    assert outline_area(outlines) == pytest.approx(0.12, rel=1e-7)  # single-precision corners


def test_a_cylinder_cut_across_is_its_polygon_and_cut_slanted_is_larger_by_the_cosine() -> None:
    n, r = 64, 0.05
    tube = mesh_of(Manifold.cylinder(1.0, r, circular_segments=n).translate([0, 0, -0.5]))
    polygon = n / 2 * r**2 * np.sin(2 * np.pi / n)
    slanted = cut_plane(origin=[0, 0, 0], normal=[0, np.sin(0.6), np.cos(0.6)], across=[1, 0, 0])
    across = outline_area(section_outlines(tube, level(0.013)))
    assert across == pytest.approx(polygon, rel=1e-6)  # single-precision corners
    tilted = outline_area(section_outlines(tube, slanted))
    assert tilted == pytest.approx(polygon / np.cos(0.6), rel=1e-6)  # the same


def test_a_hole_is_taken_off() -> None:
    tube = Manifold.cube([0.4, 0.3, 0.2]) - Manifold.cube([0.1, 0.1, 1.0]).translate(
        [0.1, 0.1, -0.5]
    )
    outlines = section_outlines(mesh_of(tube), level(0.1))
    assert len(outlines) == 2
    assert outline_area(outlines) == pytest.approx(0.11, rel=1e-6)  # single-precision corners


def test_two_bodies_give_two_outlines() -> None:
    both = joined([BOX, Mesh(BOX.vertices + np.array([1.0, 0, 0]), BOX.faces)])
    outlines = section_outlines(both, level(0.05))
    assert len(outlines) == 2
    assert outline_area(outlines) == pytest.approx(0.24, rel=1e-7)  # single-precision corners


@pytest.mark.parametrize(("height", "area"), [(0.0, 0.0), (0.2, 0.12), (-0.1, 0.0), (0.3, 0.0)])
def test_a_plane_on_a_face_shows_it_where_the_body_is_below(height: float, area: float) -> None:
    box = Mesh(np.round(BOX.vertices, 6), BOX.faces)
    assert outline_area(section_outlines(box, level(height))) == pytest.approx(
        area,
        abs=1e-9,  # m^2, rounding
    )


def test_a_plane_through_vertices_and_edges_needs_no_special_case() -> None:
    corners = np.array([[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]], float)
    faces = np.array(
        [[0, 2, 4], [2, 1, 4], [1, 3, 4], [3, 0, 4], [2, 0, 5], [1, 2, 5], [3, 1, 5], [0, 3, 5]]
    )
    eight = Mesh(corners, faces)  # a regular octahedron: through four vertices it is a square
    assert outline_area(section_outlines(eight, level(0.0))) == pytest.approx(2.0, rel=1e-12)
    upright = cut_plane(origin=[0, 0, 0], normal=[1, 1, 0], across=[1, -1, 0])
    diamond = outline_area(section_outlines(eight, upright))
    assert diamond == pytest.approx(np.sqrt(2.0), rel=1e-12)  # rounding


def test_solid_is_on_the_left_seen_by_the_viewer() -> None:
    behind = cut_plane(origin=[0.1, 0, 0], normal=[-1, 0, 0], across=[0, -1, 0])
    assert behind.up.tolist() == pytest.approx([0.0, 0.0, 1.0])
    assert outline_area(section_outlines(BOX, behind)) == pytest.approx(0.06, rel=1e-7)  # as above


def test_refuses_an_open_mesh() -> None:
    shell = Mesh(BOX.vertices, BOX.faces[BOX.corners[:, :, 0].max(axis=1) > 0.2])  # one end is off
    with pytest.raises(RangeError, match="open edge"):
        section_outlines(shell, level(0.1))


def test_refuses_a_plane_without_a_direction() -> None:
    with pytest.raises(RangeError, match="not zero"):
        cut_plane(origin=[0, 0, 0], normal=[0, 0, 0], across=[1, 0, 0])
    with pytest.raises(RangeError, match="not along"):
        cut_plane(origin=[0, 0, 0], normal=[0, 0, 1], across=[0, 0, 2])


def test_below_a_slanted_line_is_a_triangle_of_half_the_square() -> None:
    square = [np.array([[0, 0], [1, 0], [1, 1], [0, 1]], float)]
    assert outline_area(outlines_below(square, [1.0, 1.0], 1.0)) == pytest.approx(0.5, rel=1e-12)
    spans = surface_spans(square, [1.0, 1.0], 1.0)
    assert spans.shape == (1, 2, 2)
    length = np.linalg.norm(spans[0, 1] - spans[0, 0])
    assert length == pytest.approx(np.sqrt(2.0), rel=1e-12)  # the diagonal


def test_a_u_keeps_two_pools_with_two_surfaces() -> None:
    u = [np.array([[0, 0], [3, 0], [3, 2], [2, 2], [2, 1], [1, 1], [1, 2], [0, 2]], float)]
    assert outline_area(outlines_below(u, [0.0, 1.0], 1.5)) == pytest.approx(4.0, rel=1e-12)
    spans = np.sort(surface_spans(u, [0.0, 1.0], 1.5)[:, :, 0], axis=1)
    assert sorted(spans.tolist()) == [[0.0, 1.0], [2.0, 3.0]]


@given(st.floats(0.0, 2 * np.pi), st.floats(-0.9, 0.9))
def test_what_is_below_and_above_a_line_is_the_whole(turn: float, height: float) -> None:
    ring = np.linspace(0, 2 * np.pi, 24, endpoint=False)
    star = (
        np.stack([np.cos(ring), np.sin(ring)], 1) * np.where(np.arange(24) % 2, 1.0, 0.55)[:, None]
    )
    up = np.array([np.cos(turn), np.sin(turn)])
    below = outline_area(outlines_below([star], up, height))
    above = outline_area(outlines_below([star], -up, -height))
    assert below + above == pytest.approx(outline_area([star]), rel=1e-9)  # rounding


@given(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0), st.floats(-0.2, 0.2))
def test_turning_body_and_plane_together_changes_nothing(a: float, b: float, shift: float) -> None:
    ball = mesh_of(Manifold.sphere(0.3, 24))
    turn = np.array([[np.cos(a), -np.sin(a), 0], [np.sin(a), np.cos(a), 0], [0, 0, 1]]) @ np.array(
        [[1, 0, 0], [0, np.cos(b), -np.sin(b)], [0, np.sin(b), np.cos(b)]]
    )
    still = outline_area(section_outlines(ball, level(shift)))
    plane = cut_plane(origin=turn @ [0, 0, shift], normal=turn @ [0, 0, 1], across=turn @ [1, 0, 0])
    turned = outline_area(section_outlines(ball.moved(turn, [0, 0, 0]), plane))
    assert turned == pytest.approx(still, rel=1e-9, abs=1e-12)  # rounding
