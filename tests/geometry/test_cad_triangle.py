# SPDX-License-Identifier: Apache-2.0
"""Triangles of the kernel's solids as closed meshes, placed and turned as the solid is."""

import math

import numpy as np
import pytest

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import mesh_of, parts
from sumpwright.geometry.cad_solid import box, rod
from sumpwright.geometry.cad_triangle import face_mesh, solid_mesh
from sumpwright.geometry.soundness import soundness


def placed(solid: object) -> object:
    """The same solid by a location of its own: turned a right angle about z, 100 mm up."""
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
    from OCP.TopLoc import TopLoc_Location

    turn, lift = gp_Trsf(), gp_Trsf()
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), 0.5 * math.pi)
    lift.SetTranslation(gp_Vec(0, 0, 100.0))
    return solid.Moved(TopLoc_Location(lift.Multiplied(turn)))


def test_a_box_is_twelve_triangles_of_its_volume() -> None:
    mesh = mesh_of(box([0, 0, 0], [0.1, 0.2, 0.3]))
    assert (len(mesh.vertices), len(mesh.faces)) == (8, 12)
    assert mesh.volume == pytest.approx(0.006, rel=1e-12)
    assert soundness(mesh).sound


def test_a_placed_solid_is_read_where_it_stands() -> None:
    mesh = mesh_of(placed(box([0, 0, 0], [0.1, 0.2, 0.3])))
    np.testing.assert_allclose(mesh.bounds, [[-0.2, 0, 0.1], [0, 0.1, 0.4]], atol=1e-12)
    assert mesh.volume == pytest.approx(0.006, rel=1e-12)


def test_a_solid_stored_inside_out_faces_outward() -> None:
    assert mesh_of(box([0, 0, 0], [0.1, 0.2, 0.3]).Reversed()).volume > 0.0


def test_one_face_comes_in_the_kernels_millimetres() -> None:
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind

    solid = box([0, 0, 0], [0.1, 0.2, 0.3])
    mesh_of(solid)
    areas = [face_mesh(face).area for face in parts(solid, Kind.TopAbs_FACE)]
    assert sorted(areas) == pytest.approx([2e4, 2e4, 3e4, 3e4, 6e4, 6e4], rel=1e-12)


def test_refuses_a_solid_that_was_not_cut_into_triangles() -> None:
    with pytest.raises(SolveError, match="a face that it cannot turn into triangles"):
        solid_mesh(rod([0, 0, 0], [0, 0, 0.1], 0.02))


def test_faces_cut_before_are_taken_as_they_are() -> None:
    solid = rod([0, 0, 0], [0, 0, 0.1], 0.02)
    fine = mesh_of(solid, tolerance=1e-6)
    assert len(mesh_of(solid, tolerance=1e-3, afresh=False).faces) == len(fine.faces)
    assert len(mesh_of(solid, tolerance=1e-3).faces) < len(fine.faces)
