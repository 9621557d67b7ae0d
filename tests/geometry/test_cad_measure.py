# SPDX-License-Identifier: Apache-2.0
"""What the kernel measures, against closed forms and against the level engine's own volume."""

import math

import numpy as np
import pytest

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import (
    area,
    bounds,
    edges,
    mesh_of,
    single,
    solids_of,
    sound,
    volume,
)
from sumpwright.geometry.cad_solid import box, common, rod
from sumpwright.geometry.level import level_body, volume_below

BAR = rod([0.0, 0.0, -0.05], [0.0, 0.0, 0.0], 0.02)


def test_area_of_a_rod_is_that_of_a_cylinder() -> None:
    assert area(BAR) == pytest.approx(2.0 * math.pi * 0.02 * (0.02 + 0.05), rel=1e-9)


def test_bounds_are_of_the_exact_surface() -> None:
    expected = [[-0.02, -0.02, -0.05], [0.02, 0.02, 0.0]]
    np.testing.assert_allclose(bounds(BAR), expected, atol=2e-7)  # the kernel's edge tolerance


def test_triangles_close_and_hold_the_volume_to_their_chords() -> None:
    chord = 5e-5
    mesh = mesh_of(BAR, tolerance=chord)
    lost = volume(BAR) - mesh.volume
    assert 0.0 < lost < chord * area(BAR)  # chords lie inside a bulge


def test_mass_by_the_kernel_is_that_of_the_level_engine() -> None:
    mesh = mesh_of(BAR, tolerance=1e-6, angle=0.02)
    body = level_body(mesh)
    assert body.volume == pytest.approx(volume(BAR), rel=1e-4)  # 1e-6 m of 20 mm radius, twice
    half = float(volume_below(body, [0.0, 0.0, 1.0], -0.025)[0])
    assert half == pytest.approx(0.5 * volume(BAR), rel=1e-4)


def test_a_coarser_cut_is_not_the_finer_one_kept() -> None:
    fine, coarse = mesh_of(BAR, tolerance=1e-6, angle=0.05), mesh_of(BAR, tolerance=1e-3, angle=0.8)
    assert len(coarse.faces) < len(fine.faces)


def test_a_box_has_twelve_edges() -> None:
    assert len(edges(box([0, 0, 0], [1, 1, 1]))) == 12


def test_one_solid_is_one() -> None:
    assert len(solids_of(BAR)) == 1
    assert volume(single(BAR)) == volume(BAR)


def test_a_shape_of_two_solids_is_not_one() -> None:
    ring = common(box([-1, -1, -0.04], [1, 1, -0.01]), BAR)
    assert volume(ring) == pytest.approx(math.pi * 0.02**2 * 0.03, rel=1e-9)
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    both, builder = TopoDS_Compound(), BRep_Builder()
    builder.MakeCompound(both)
    builder.Add(both, BAR)
    builder.Add(both, box([1, 1, 1], [2, 2, 2]))
    with pytest.raises(SolveError, match="one solid was wanted and 2"):
        single(both)


def test_refuses_a_body_inside_out() -> None:
    with pytest.raises(SolveError, match=r"^rod: the CAD kernel made a body of -62.8 cm\^3$"):
        sound(BAR.Reversed(), "rod")
