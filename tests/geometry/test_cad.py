# SPDX-License-Identifier: Apache-2.0
"""STEP files made by the CAD kernel itself, read back and held against closed forms.

A chord polygon of a circle lies inside it, so a cylinder comes out smaller by what n sides leave
out of the circle; n comes from the tolerance, for a side's sagitta is R (1 - cos(pi / n)).
"""

import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry import cad
from sumpwright.geometry.cad import read_step
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.geometry.skin import skin_of
from sumpwright.geometry.soundness import soundness
from tests.oracle import kernel_volume_below

MM = 1e-3


def save(path: Path, *shapes: Any, unit: str = "MM") -> Path:
    """`shapes`, in millimetres, as one STEP file."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.Interface import Interface_Static
    from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer

    cad.silence()
    writer = STEPControl_Writer()  # made first: it sets up the values that are changed next
    assert Interface_Static.SetCVal_s("write.step.unit", unit)
    try:
        for shape in shapes:
            writer.Transfer(shape, STEPControl_StepModelType.STEPControl_AsIs)
        assert writer.Write(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
    finally:
        Interface_Static.SetCVal_s("write.step.unit", "MM")
    return path


def block(x: float, y: float, z: float, at: tuple[float, float, float] = (0, 0, 0)) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Pnt

    return BRepPrimAPI_MakeBox(gp_Pnt(*at), x, y, z).Shape()


def cylinder(radius: float, length: float) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder

    return BRepPrimAPI_MakeCylinder(radius, length).Shape()


def compound(*shapes: Any) -> Any:
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    whole, builder = TopoDS_Compound(), BRep_Builder()
    builder.MakeCompound(whole)
    for shape in shapes:
        builder.Add(whole, shape)
    return whole


def test_a_block_is_exact_and_closed(tmp_path: Path) -> None:
    read = read_step(save(tmp_path / "block.step", block(20, 30, 40, (-5, -6, -7))))
    assert (read.solids, len(read.mesh.faces), len(read.mesh.vertices)) == (1, 12, 8)
    # flat faces lose nothing; what is left is the text's digits and double rounding
    np.testing.assert_allclose(read.mesh.volume, 24e-6, rtol=1e-13)
    np.testing.assert_allclose(
        read.mesh.bounds, np.array([[-5, -6, -7], [15, 24, 33]]) * MM, atol=1e-15
    )
    assert soundness(read.mesh).findings == ()


@pytest.mark.parametrize(
    ("unit", "metres"), [("MM", 1e-3), ("INCH", 0.0254), ("M", 1.0), ("CM", 1e-2)]
)
def test_the_files_own_unit_is_read_and_kept_to(tmp_path: Path, unit: str, metres: float) -> None:
    path = save(tmp_path / "block.stp", block(20, 30, 40), unit=unit)
    file = read_mesh(path)
    np.testing.assert_allclose(file.mesh.volume, 24e-6, rtol=1e-12)
    assert (file.unit, file.unit_source) == (metres, "read from the file")
    assert read_mesh(path, metres).unit == metres
    with pytest.raises(InputError, match="GEO-209"):
        read_mesh(path, metres * 2)


@pytest.mark.parametrize("tolerance", [2e-4, 5e-5, 1e-5])
def test_a_cylinder_is_short_by_its_chords_and_no_more(tmp_path: Path, tolerance: float) -> None:
    radius, length = 0.05, 0.1
    mesh = read_step(save(tmp_path / "c.step", cylinder(50, 100)), tolerance=tolerance).mesh
    whole = np.pi * radius**2 * length
    # the kernel may take more chords than needed, so this is a bound
    least_sides = np.pi / np.arccos(1.0 - tolerance / radius)
    short = 1.0 - np.sin(2 * np.pi / least_sides) / (2 * np.pi / least_sides)
    assert whole * (1.0 - short) <= mesh.volume < whole
    assert soundness(mesh).findings == ()


def test_the_angle_bounds_the_chords_too(tmp_path: Path) -> None:
    path = save(tmp_path / "c.step", cylinder(50, 100))
    few, many = (len(read_step(path, tolerance=1e-3, angle=a).mesh.faces) for a in (0.4, 0.05))
    assert many > 4 * few


def turned_shapes() -> dict[str, Any]:
    """Solids whose faces meet at poles, apexes and seams, and some made by cutting."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCone, BRepPrimAPI_MakeSphere, BRepPrimAPI_MakeTorus

    return {
        "sphere": (BRepPrimAPI_MakeSphere(50).Shape(), 4 / 3 * np.pi * 50**3),
        "cone": (BRepPrimAPI_MakeCone(50, 0, 90).Shape(), np.pi * 50**2 * 90 / 3),
        "torus": (BRepPrimAPI_MakeTorus(50, 20).Shape(), 2 * np.pi**2 * 50 * 20**2),
        "drilled": (
            BRepAlgoAPI_Cut(block(100, 100, 20, (-50, -50, 0)), cylinder(30, 20)).Shape(),
            (100 * 100 - np.pi * 30**2) * 20,
        ),
        "hollow": (
            BRepAlgoAPI_Cut(block(60, 60, 60), block(20, 20, 20, (20, 20, 20))).Shape(),
            60**3 - 20**3,
        ),
    }


@pytest.mark.parametrize("name", ["sphere", "cone", "torus", "drilled", "hollow"])
def test_faces_join_without_a_gap_whatever_they_meet_at(tmp_path: Path, name: str) -> None:
    shape, cubic_mm = turned_shapes()[name]
    mesh = read_step(save(tmp_path / "s.step", shape), tolerance=2e-5).mesh
    skin = skin_of(mesh)
    assert (skin.edge_counts == 2).all()
    assert not skin.balance.any()
    assert soundness(mesh).findings == ()
    # error <= tolerance times curved area over volume: at most 2e-5 * 3 / 0.02 (the thin torus)
    np.testing.assert_allclose(mesh.volume, cubic_mm * MM**3, rtol=3e-3)


def test_an_assembly_comes_placed_and_mirrored_parts_face_outward(tmp_path: Path) -> None:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
    from OCP.TopLoc import TopLoc_Location

    part = block(10, 20, 30)
    moved, turned, mirrored = gp_Trsf(), gp_Trsf(), gp_Trsf()
    moved.SetTranslation(gp_Vec(100, 0, 0))
    turned.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), np.pi / 2)
    mirrored.SetMirror(gp_Ax2(gp_Pnt(0, 0, -50), gp_Dir(0, 0, 1)))
    whole = compound(
        part.Moved(TopLoc_Location(moved)),
        part.Moved(TopLoc_Location(turned)),
        BRepBuilderAPI_Transform(part, mirrored, False).Shape(),
        part.Reversed(),  # a solid stored inside out
    )
    read = read_step(save(tmp_path / "all.step", whole))
    assert read.solids == 4
    np.testing.assert_allclose(read.mesh.volume, 4 * 6e-6, rtol=1e-12)
    np.testing.assert_allclose(
        read.mesh.bounds, np.array([[-20, 0, -130], [110, 20, 30]]) * MM, atol=1e-12
    )


def test_touching_solids_stay_apart(tmp_path: Path) -> None:
    path = save(tmp_path / "two.step", block(10, 10, 10), block(10, 10, 10, (10, 0, 0)))
    file = read_mesh(path)
    assert (file.bodies, len(file.mesh.vertices)) == (2, 16)
    np.testing.assert_allclose(file.mesh.volume, 2e-6, rtol=1e-12)


def test_surfaces_without_a_solid_are_refused_with_their_number(tmp_path: Path) -> None:
    from OCP.TopAbs import TopAbs_ShapeEnum

    faces = list(cad._parts(block(10, 20, 30), TopAbs_ShapeEnum.TopAbs_FACE))[:3]
    with pytest.raises(InputError, match=r"shells or surfaces only \(3 faces\)") as caught:
        read_step(save(tmp_path / "faces.step", compound(*faces)))
    assert caught.value.problems[0].code == "GEO-231"
    assert "solid" in caught.value.problems[0].do


def test_surfaces_beside_a_solid_are_left_out_and_said(tmp_path: Path) -> None:
    from OCP.TopAbs import TopAbs_ShapeEnum

    face = next(cad._parts(block(10, 20, 30, (50, 0, 0)), TopAbs_ShapeEnum.TopAbs_FACE))
    file = read_mesh(save(tmp_path / "both.step", compound(block(1, 1, 1), face)))
    np.testing.assert_allclose(file.mesh.volume, 1e-9, rtol=1e-12)
    (finding,) = file.findings
    assert (finding.code, finding.severity) == ("GEO-233", "note")
    assert finding.found.startswith("1 face ")


STEP = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\n"
HEAD = STEP + "FILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('AUTOMOTIVE_DESIGN'));\nENDSEC;\n"


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("GEO-230", "ISO-10303-21;\ngarbage"),
        ("GEO-230", STEP),
        ("GEO-231", HEAD + "DATA;\nENDSEC;\nEND-ISO-10303-21;\n"),
        (
            "GEO-231",
            HEAD + "DATA;\n#1=CARTESIAN_POINT('',(0.,0.,0.));\nENDSEC;\nEND-ISO-10303-21;\n",
        ),
        ("GEO-231", HEAD + "DATA;\n#1=NO_SUCH_THING(#2,#1);\nENDSEC;\nEND-ISO-10303-21;\n"),
    ],
)
def test_a_file_without_shapes_is_an_answer_and_the_kernel_is_quiet(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], code: str, text: str
) -> None:
    path = tmp_path / "bad.step"
    path.write_text(text)
    with pytest.raises(InputError) as caught:
        read_step(path)
    assert caught.value.problems[0].code == code
    assert capfd.readouterr() == ("", "")


def test_a_file_cut_short_is_refused_and_reading_on_works(tmp_path: Path) -> None:
    path = save(tmp_path / "block.step", block(1, 2, 3))
    whole = path.read_text()
    for tenth in range(1, 10):
        path.write_text(whole[: len(whole) * tenth // 10])
        with pytest.raises(InputError, match=r"GEO-23[01]"):
            read_step(path)
    path.write_text(whole)
    np.testing.assert_allclose(read_step(path).mesh.volume, 6e-9, rtol=1e-12)


def test_the_kernel_says_nothing_on_reading(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    path = save(tmp_path / "Wanne für später.step", block(1, 2, 3))
    capfd.readouterr()
    read_step(path)
    assert capfd.readouterr() == ("", "")


def test_the_kernels_own_cut_agrees_with_closed_forms(tmp_path: Path) -> None:
    """The oracle itself: half a lying cylinder, and a cap of height h of a sphere."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeSphere

    pipe = save(tmp_path / "c.step", cylinder(50, 100))
    half = np.pi * 0.05**2 * 0.1 / 2
    np.testing.assert_allclose(kernel_volume_below(pipe, [1, 0, 0], 0.0), half, rtol=1e-9)
    ball = save(tmp_path / "s.step", BRepPrimAPI_MakeSphere(50).Shape())
    cap = np.pi * 0.02**2 * (3 * 0.05 - 0.02) / 3
    np.testing.assert_allclose(kernel_volume_below(ball, [0, 0.6, 0.8], -0.03), cap, rtol=1e-9)


def test_says_which_system_library_the_kernel_lacks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Missing:
        def find_spec(self, name: str, *_: object) -> None:
            if name == "OCP" or name.startswith("OCP."):
                raise ImportError("libGL.so.1: cannot open shared object file")

    for name in [n for n in sys.modules if n == "OCP" or n.startswith("OCP.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setattr(sys, "meta_path", [Missing(), *sys.meta_path])
    path = tmp_path / "pan.step"
    path.write_text("ISO-10303-21;")
    with pytest.raises(InputError, match=r"GEO-234(.|\n)*libGL.so.1(.|\n)*apt-get install libgl1"):
        read_step(path)
