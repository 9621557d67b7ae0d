# SPDX-License-Identifier: Apache-2.0
"""Flat sheets that the CAD kernel made, read back and held against closed forms."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.cad import TOLERANCE
from sumpwright.geometry.cad_face import read_flat_face
from sumpwright.geometry.panel import Opening, Panel, panel_problems
from sumpwright.geometry.section import outline_area
from tests.geometry.test_cad import block, compound, cylinder, save

MM = 1e-3


def cut(body: Any, *tools: Any) -> Any:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    for tool in tools:
        body = BRepAlgoAPI_Cut(body, tool).Shape()
    return body


def fused(one: Any, other: Any) -> Any:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse

    return BRepAlgoAPI_Fuse(one, other).Shape()


def placed(shape: Any, *, turn: float = 0.0, by: tuple[float, float, float] = (0, 0, 0)) -> Any:
    """Turned about z by `turn` [rad], then moved."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec

    turned, moved = gp_Trsf(), gp_Trsf()
    turned.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), turn)
    moved.SetTranslation(gp_Vec(*by))
    return BRepBuilderAPI_Transform(shape, moved.Multiplied(turned), True).Shape()


def upright(radius: float, at: tuple[float, float]) -> Any:
    """A drill along x through (y, z)."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    axes = gp_Ax2(gp_Pnt(-50, at[0], at[1]), gp_Dir(1, 0, 0))
    return BRepPrimAPI_MakeCylinder(axes, radius, 200).Shape()


def faces_of(shape: Any) -> list[Any]:
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer

    found, faces = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE), []
    while found.More():
        faces.append(found.Current())
        found.Next()
    return faces


def plate(thickness: float = 1.5) -> Any:
    """Across the car at x = 40, y -60 to 60, z -100 to -20, with a round and a square window."""
    sheet = block(thickness, 120, 80, (40, -60, -100))
    return cut(sheet, upright(15, (-20, -60)), block(200, 30, 10, (-50, 10, -90)))


def front_of(solid: Any) -> Any:
    return faces_of(solid)[0]  # the kernel makes a block's faces from -x on


def check_plate(face: Any, x: float) -> None:
    np.testing.assert_allclose(face.normal, [1, 0, 0], atol=1e-12)
    np.testing.assert_allclose(face.point, [x * MM, 0, 0], atol=1e-12)
    # for a wall across the car along is y and up is z
    np.testing.assert_allclose(face.outline.min(axis=0), [-0.06, -0.1], atol=1e-9)
    np.testing.assert_allclose(face.outline.max(axis=0), [0.06, -0.02], atol=1e-9)
    round_one, square = face.holes
    assert abs(outline_area([square])) == pytest.approx(30 * 10 * MM**2, rel=1e-9)
    off = np.linalg.norm(round_one - [-0.02, -0.06], axis=1)
    np.testing.assert_allclose(off, 0.015, atol=1e-9)  # corners on the circle itself
    lost = np.pi * 0.015**2 - abs(outline_area([round_one]))
    assert 0.0 < lost <= 2 * np.pi * 0.015 * TOLERANCE  # no chord is farther off than that


def test_a_face_gives_its_plane_outline_and_holes(tmp_path: Path) -> None:
    found = read_flat_face(save(tmp_path / "wall.step", front_of(plate())))
    check_plate(found, 40.0)
    assert (found.thickness, found.findings) == (None, ())


@pytest.mark.parametrize("thickness", [1.5, 3.0])
def test_a_plate_gives_the_plane_midway_in_it(tmp_path: Path, thickness: float) -> None:
    found = read_flat_face(save(tmp_path / "wall.step", plate(thickness)))
    check_plate(found, 40.0 + thickness / 2)
    assert found.thickness == pytest.approx(thickness * MM, rel=1e-9)
    assert found.findings == ()


def test_a_sheet_makes_a_sound_panel_wherever_it_stands(tmp_path: Path) -> None:
    shape = placed(front_of(plate()), turn=0.7, by=(30, -20, 5))
    found = read_flat_face(save(tmp_path / "wall.step", shape))
    holes = tuple(Opening(f"hole {k}", hole) for k, hole in enumerate(found.holes))
    panel = Panel("wall", found.point, found.normal, found.outline, openings=holes)
    assert panel_problems([panel]) == ()
    np.testing.assert_allclose(panel.space(panel.outline), found.outer, atol=1e-12)
    np.testing.assert_allclose(panel.space(holes[0].outline), found.inner[0], atol=1e-12)
    np.testing.assert_allclose(found.normal, [np.cos(0.7), np.sin(0.7), 0], atol=1e-9)


@pytest.mark.parametrize(("turn", "normal"), [(0.0, [1, 0, 0]), (np.pi / 2, [0, 1, 0])])
def test_the_normal_is_to_the_front_else_to_the_left(
    tmp_path: Path, turn: float, normal: list[float]
) -> None:
    for k, shape in enumerate((plate(), placed(plate(), turn=np.pi))):
        found = read_flat_face(save(tmp_path / f"{k}.step", placed(shape, turn=turn)))
        np.testing.assert_allclose(found.normal, normal, atol=1e-9)


def test_a_level_sheet_looks_up(tmp_path: Path) -> None:
    found = read_flat_face(save(tmp_path / "tray.step", block(200, 100, 1, (0, 0, -40))))
    np.testing.assert_allclose(found.normal, [0, 0, 1], atol=1e-12)
    assert found.point[2] == pytest.approx(-39.5 * MM, rel=1e-9)


def test_a_moved_sheet_is_the_sheet_moved(tmp_path: Path) -> None:
    here = read_flat_face(save(tmp_path / "a.step", front_of(plate())))
    quarter = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    shape = placed(front_of(plate()), turn=np.pi / 2, by=(7, 8, 9))
    there = read_flat_face(save(tmp_path / "b.step", shape))
    moved = here.moved(quarter, [0.007, 0.008, 0.009])
    np.testing.assert_allclose(moved.normal, there.normal, atol=1e-9)
    np.testing.assert_allclose(moved.point, there.point, atol=1e-9)
    assert outline_area([moved.outline]) == pytest.approx(outline_area([there.outline]), rel=1e-9)


def test_faces_on_one_plane_that_meet_are_one_sheet(tmp_path: Path) -> None:
    one = front_of(block(1, 50, 50, (0, 0, 0)))
    other = front_of(block(1, 50, 50, (0, 50, 0)))
    found = read_flat_face(save(tmp_path / "two.step", compound(one, other)))
    assert abs(outline_area([found.outline])) == pytest.approx(0.1 * 0.05, rel=1e-9)


def test_a_small_flange_is_left_out_and_said(tmp_path: Path) -> None:
    flanged = fused(block(100, 80, 1), block(1, 80, 15, (0, 0, 0)))
    found = read_flat_face(save(tmp_path / "flanged.step", flanged))
    assert [f.code for f in found.findings] == ["GEO-404"]
    # the upper side is shorter by the flange: within a tenth, so the plate is still seen as one
    assert found.thickness == pytest.approx(1 * MM, rel=1e-9)


def refused(path: Path) -> tuple[str, str]:
    with pytest.raises(InputError) as caught:
        read_flat_face(path)
    (problem,) = caught.value.problems
    return problem.code, problem.found


def test_a_face_that_is_not_flat_is_refused(tmp_path: Path) -> None:
    round_face = faces_of(cylinder(20, 50))[0]
    assert refused(save(tmp_path / "round.step", round_face)) == (
        "GEO-401",
        "1 face, none of them flat",
    )


def test_two_sheets_in_a_file_are_refused(tmp_path: Path) -> None:
    apart = compound(front_of(block(1, 50, 50)), front_of(block(1, 50, 50, (30, 0, 0))))
    assert refused(save(tmp_path / "two.step", apart))[0] == "GEO-402"
    plane = compound(front_of(block(1, 50, 50)), front_of(block(1, 50, 50, (0, 80, 0))))
    assert refused(save(tmp_path / "plane.step", plane)) == (
        "GEO-402",
        "2 flat pieces that do not hang together",
    )
    solids = compound(block(1, 50, 50), block(1, 50, 50, (30, 0, 0)))
    assert refused(save(tmp_path / "solids.step", solids)) == ("GEO-402", "2 solids")
    mixed = compound(front_of(block(1, 50, 50)), faces_of(cylinder(20, 50))[0])
    assert refused(save(tmp_path / "mixed.step", mixed))[0] == "GEO-402"


def test_a_bend_of_two_like_legs_is_refused(tmp_path: Path) -> None:
    bent = fused(block(100, 80, 1), block(1, 80, 100))
    assert refused(save(tmp_path / "bent.step", bent))[0] == "GEO-402"


@pytest.mark.parametrize(
    ("shape", "found"),
    [
        (block(100, 80, 30), "a solid 30 mm thick"),
        (cylinder(30, 4), None),
    ],
    ids=["block", "disc"],
)
def test_only_a_thin_solid_is_a_sheet(tmp_path: Path, shape: Any, found: str | None) -> None:
    path = save(tmp_path / "body.step", shape)
    if found is None:
        assert read_flat_face(path).thickness == pytest.approx(4 * MM, rel=1e-9)
    else:
        assert refused(path) == ("GEO-403", found)
