# SPDX-License-Identifier: Apache-2.0
"""Bolt holes read off a mesh: a plate made by a solid modeller with holes where we put them."""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.flat_section import flange_cut, flat_cut
from sumpwright.geometry.mesh import Mesh

HOLES = 1e-3 * np.array([[15.3, 12.1], [15.0, 88.0], [140.2, 50.7], [285.0, 12.0], [285.5, 88.4]])


def plate(sides: int = 48, thick: float = 0.008, square: bool = True) -> Mesh:
    """300 x 100 mm, five 6.6 mm holes, a 40 mm one and a square one; flange over a lower body."""
    import manifold3d as m3

    body = m3.Manifold.cube([0.3, 0.1, thick]).translate([0, 0, -thick])
    body += m3.Manifold.cube([0.2, 0.06, 0.05]).translate([0.05, 0.02, -0.05])
    for x, y in HOLES:
        body -= m3.Manifold.cylinder(0.2, 0.0033, 0.0033, sides).translate([x, y, -0.1])
    body -= m3.Manifold.cylinder(0.2, 0.02, 0.02, sides).translate([0.2, 0.05, -0.1])
    if square:
        body -= m3.Manifold.cube([0.006, 0.006, 0.2]).translate([0.1, 0.05, -0.1])
    out = body.to_mesh64() if hasattr(body, "to_mesh64") else body.to_mesh()
    return Mesh(
        np.array(out.vert_properties, dtype=float)[:, :3], np.array(out.tri_verts, dtype=np.int64)
    )


@pytest.mark.parametrize("sides", [12, 24, 48, 96])
def test_finds_each_round_hole_and_no_other_gap(sides: int) -> None:
    cut = flange_cut(plate(sides), smallest=0.0045, largest=0.0132)
    assert len(cut.holes) == len(HOLES)
    got = np.array([[h.x, h.y] for h in cut.holes])
    order = sorted(range(5), key=lambda k: (round(HOLES[k][0], 3), HOLES[k][1]))
    np.testing.assert_allclose(got, HOLES[order], atol=1e-8)  # kernel's own rounding
    assert [h.diameter for h in cut.holes] == pytest.approx([0.0066] * 5, rel=1e-5)


def test_a_scanned_hole_is_as_true_as_its_corners() -> None:
    mesh = plate(48)
    rough = mesh.vertices.copy()
    rough[:, :2] += np.random.default_rng(2).normal(0.0, 2e-5, rough[:, :2].shape)
    cut = flange_cut(Mesh(rough, mesh.faces), smallest=0.0045, largest=0.0132)
    got = np.array([[h.x, h.y] for h in cut.holes])
    assert len(got) == 5
    for hole in HOLES:  # 0.02 mm over the root of some 50 corners, and a good deal to spare
        assert np.linalg.norm(got - hole, axis=1).min() < 2e-5


def test_a_cut_under_the_flange_has_only_what_goes_on_down() -> None:
    cut = flat_cut(plate(), -0.03, smallest=0.0045, largest=0.0132)
    assert [(h.x, h.y) for h in cut.holes] == [pytest.approx((0.1402, 0.0507), abs=1e-8)]


def test_refuses_a_mesh_that_is_open_there() -> None:
    mesh = plate()
    out = (mesh.corners[:, :, 0] < 1e-9).all(axis=1)  # the rear wall
    assert out.any()
    with pytest.raises(RangeError, match="needs a closed mesh"):
        flat_cut(Mesh(mesh.vertices, mesh.faces[~out]), -0.004, smallest=0.0045, largest=0.0132)
