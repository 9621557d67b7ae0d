# SPDX-License-Identifier: Apache-2.0
"""Levels against libraries that cut bodies: manifold3d, trimesh and the CAD kernel."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sumpwright.geometry.level import LevelBody, extent_along, level_body, levels_of, liquid_below
from sumpwright.geometry.mesh import Mesh, joined
from tests.geometry.bodies import (
    Floats,
    box,
    icosphere,
    prism,
    random_up,
    regular_outline,
    rippled_pan,
    star,
)
from tests.oracle import kernel_volume_below, manifold_volume_below, trimesh_volume_below

BODIES = {
    "box": box([-0.1, -0.2, -0.3], [0.2, 0.1, 0.0]),
    "cylinder": prism(regular_outline(96, 0.1), 0.3),
    "star": star(np.random.default_rng(8), 3),
    "pan": rippled_pan(50),
    "hollow": joined([icosphere(3, 0.2), star(np.random.default_rng(9), 2).flipped()]),
    "apart": joined([star(np.random.default_rng(0)), box([0.3, 0.0, 0.0], [0.5, 0.3, 0.2])]),
}


def planes(body: LevelBody, count: int, seed: int) -> tuple[Floats, Floats]:
    """Random directions, heights within the body's reach along them."""
    rng = np.random.default_rng(seed)
    up = np.array([random_up(rng) for _ in range(count)])
    low, high = extent_along(body, up).T
    return up, low + rng.uniform(0.02, 0.98, count) * (high - low)


@pytest.mark.parametrize("name", BODIES)
def test_agrees_with_a_boolean_librarys_plane_trim(name: str) -> None:
    mesh = BODIES[name]
    body = level_body(mesh)
    up, height = planes(body, 12, seed=1)
    ours = liquid_below(body, up, height)
    theirs = [manifold_volume_below(mesh, u, h) for u, h in zip(up, height, strict=True)]
    # both round some ten thousand terms; measured 3e-15
    np.testing.assert_allclose(ours.volume, theirs, rtol=0.0, atol=2e-14 * body.volume)
    areas, centroids = zip(
        *(_trimmed(mesh, u, h) for u, h in zip(up, height, strict=True)), strict=True
    )
    np.testing.assert_allclose(ours.surface_area, areas, rtol=0.0, atol=1e-14 * body.skin)
    np.testing.assert_allclose(ours.centroid, centroids, rtol=0.0, atol=1e-14)  # of 0.5 m


@pytest.mark.slow  # trimesh takes seconds to import
@pytest.mark.parametrize("name", BODIES)
def test_agrees_with_a_mesh_librarys_slice(name: str) -> None:
    mesh = BODIES[name]
    body = level_body(mesh)
    up, height = planes(body, 12, seed=2)
    ours = liquid_below(body, up, height)
    theirs = [trimesh_volume_below(mesh, u, h) for u, h in zip(up, height, strict=True)]
    # both round some ten thousand terms; measured 3e-15. Its slice takes corners within 1e-8 m of
    # the plane as on it, which at random none is
    np.testing.assert_allclose(ours.volume, theirs, rtol=0.0, atol=2e-14 * body.volume)


def test_level_of_a_volume_agrees_with_bisection_on_a_boolean_library() -> None:
    mesh = rippled_pan(30)
    body = level_body(mesh)
    rng = np.random.default_rng(4)
    for fill in (0.05, 0.5, 0.9):
        up = random_up(rng)
        low, high = extent_along(body, up)[0]
        for _ in range(50):
            middle = 0.5 * (low + high)
            if manifold_volume_below(mesh, up, middle) < fill * body.volume:
                low = middle
            else:
                high = middle
        ours = levels_of(body, up, fill * body.volume).height[0]
        np.testing.assert_allclose(ours, middle, rtol=0.0, atol=1e-14)  # 50 halvings of 0.7 m


@pytest.mark.parametrize("shape", ["box", "cylinder", "filleted"])
def test_agrees_with_the_cad_kernels_own_half_space(shape: str, tmp_path: Path) -> None:
    from sumpwright.geometry.cad import read_step

    step = tmp_path / "body.step"
    _write_step(shape, step)
    errors = []
    for chord in (1e-4, 0.25e-4):
        body = level_body(read_step(step, tolerance=chord, angle=0.5).mesh)
        up, height = planes(body, 6, seed=3)
        exact = [kernel_volume_below(step, u, h) for u, h in zip(up, height, strict=True)]
        errors.append(np.abs(liquid_below(body, up, height).volume - exact))
    if shape == "box":
        # flat faces are met exactly; measured 4e-14
        np.testing.assert_array_less(errors, 1e-12 * body.volume)
        return
    # between chord and curve, at most the chord's tolerance over the whole skin
    assert errors[0].max() < 1e-4 * body.skin
    assert errors[1].max() < 0.25e-4 * body.skin
    # and the error goes as the tolerance: a quarter, but for the count of chords being whole
    assert errors[1].max() < 0.3 * errors[0].max()


def _trimmed(mesh: Mesh, up: Floats, height: float) -> tuple[float, Floats]:
    """Area of the cap and centroid of the body that manifold3d's trim leaves below a plane.

    Its own `slice` would round the section's corners to 1e-8 m on the way to its 2-D library.
    """
    import manifold3d as m3

    body = m3.Manifold(m3.Mesh64(mesh.vertices.copy(), mesh.faces.astype(np.uint64)))
    below = body.trim_by_plane((-up).tolist(), -height).to_mesh64()
    a, b, c = below.vert_properties[:, :3][below.tri_verts.T]
    normals = np.cross(b - a, c - a)
    cap = np.max([np.abs(p @ up - height) for p in (a, b, c)], axis=0) < 1e-10
    parts = np.einsum("ij,ij->i", a, np.cross(b, c))[:, None]
    centroid = (parts * (a + b + c)).sum(axis=0) / parts.sum() / 4.0
    return float(0.5 * (normals[cap] @ up).sum()), centroid


def _write_step(shape: str, path: Path) -> None:
    """A 300 x 200 x 100 mm box, the same with 20 mm fillets, or a lying cylinder."""
    from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    solid: Any = BRepPrimAPI_MakeBox(300.0, 200.0, 100.0).Shape()
    if shape == "cylinder":
        lying = gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 1.0, 0.0))
        solid = BRepPrimAPI_MakeCylinder(lying, 100.0, 300.0).Shape()
    if shape == "filleted":
        rounder = BRepFilletAPI_MakeFillet(solid)
        edges = TopExp_Explorer(solid, TopAbs_ShapeEnum.TopAbs_EDGE)
        while edges.More():
            rounder.Add(20.0, TopoDS.Edge(edges.Current()))
            edges.Next()
        solid = rounder.Shape()
    writer = STEPControl_Writer()
    writer.Transfer(solid, STEPControl_StepModelType.STEPControl_AsIs)
    writer.Write(str(path))
