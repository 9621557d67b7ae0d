# SPDX-License-Identifier: Apache-2.0
"""3MF against lib3mf's and trimesh's own writers and readers, and models that cannot be built."""

import io
import zipfile
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry import threemf
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.skin import body_count
from sumpwright.geometry.threemf import UNITS, read_3mf
from tests.geometry.bodies import box, icosphere

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
PRODUCTION = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
BRICK = box([0, 0, 0], [10, 20, 30])  # 6,000 mm^3


def object_xml(name: int, mesh: Mesh = BRICK, more: str = "") -> str:
    points = "".join(f'<vertex x="{x:g}" y="{y:g}" z="{z:g}"/>' for x, y, z in mesh.vertices)
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.faces)
    inside = f"<mesh><vertices>{points}</vertices><triangles>{faces}</triangles></mesh>"
    return f'<object id="{name}" {more}>{inside}</object>'


def model_xml(resources: str, build: str, more: str = 'unit="millimeter"') -> str:
    return (
        '<?xml version="1.0" encoding="UTF-8"?>'
        f'<model xmlns="{CORE}" xmlns:p="{PRODUCTION}" {more}>'
        f"<resources>{resources}</resources><build>{build}</build></model>"
    )


def save(folder: Path, model: str, **parts: str) -> Path:
    path = folder / "part.3mf"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("3D/3dmodel.model", model)
        for name, text in parts.items():
            archive.writestr(f"3D/{name}.model", text)
    return path


def code_and_text(path: Path) -> tuple[str, str]:
    with pytest.raises(InputError) as caught:
        read_3mf(path)
    return caught.value.problems[0].code, caught.value.problems[0].found


def test_reads_what_lib3mf_writes(tmp_path: Path) -> None:
    """Unit inch, one object placed twice: turned about z and moved, and mirrored."""
    import lib3mf
    from lib3mf import get_wrapper

    wrapper = get_wrapper()
    model = wrapper.CreateModel()
    model.SetUnit(lib3mf.ModelUnit.Inch)
    thing = model.AddMeshObject()
    ball = icosphere(1)
    points = [lib3mf.Position((lib3mf.ctypes.c_float * 3)(*v)) for v in ball.vertices]
    faces = [lib3mf.Triangle((lib3mf.ctypes.c_uint32 * 3)(*map(int, f))) for f in ball.faces]
    thing.SetGeometry(points, faces)
    turned = [[0, 1, 0], [-1, 0, 0], [0, 0, 1], [5, 6, 7]]
    mirrored = [[-1, 0, 0], [0, 1, 0], [0, 0, 1], [-5, 0, 0]]
    for rows in (turned, mirrored):
        transform = lib3mf.Transform()
        for i in range(4):
            for j in range(3):
                transform.Fields[i][j] = rows[i][j]
        model.AddBuildItem(thing, transform)
    path = tmp_path / "balls.3mf"
    # not WriteToFile, which leaves the process with the locale C, and text files read as ASCII
    path.write_bytes(bytes(model.QueryWriter("3mf").WriteToBuffer()))

    mesh, unit = read_3mf(path)
    assert unit == 0.0254
    assert body_count(mesh) == 2
    # the writer keeps single precision: 1e-7 of coordinates up to 8 inch
    expected = np.concatenate([ball.vertices @ np.array(m[:3]) + m[3] for m in (turned, mirrored)])
    np.testing.assert_allclose(mesh.vertices, 0.0254 * expected, atol=3e-8)
    np.testing.assert_allclose(mesh.volume, 2 * 0.0254**3 * ball.volume, rtol=1e-6)


def test_agrees_with_a_mesh_library_on_an_assembly(tmp_path: Path) -> None:
    import trimesh

    scene = trimesh.Scene()
    turn = trimesh.transformations.rotation_matrix(0.3, [1, 2, 3], [4, 5, 6])
    scene.add_geometry(trimesh.creation.box([10, 20, 30]), transform=turn)
    scene.add_geometry(trimesh.creation.icosphere(radius=7), transform=turn @ turn)
    path = tmp_path / "scene.3mf"
    path.write_bytes(scene.export(file_type="3mf"))
    theirs = trimesh.load(io.BytesIO(path.read_bytes()), file_type="3mf").to_mesh()
    mesh, _ = read_3mf(path)
    np.testing.assert_allclose(mesh.volume * 1e9, theirs.volume, rtol=1e-12)
    np.testing.assert_allclose(mesh.bounds * 1e3, theirs.bounds, rtol=1e-12)


@pytest.mark.parametrize(("name", "metres"), UNITS.items())
def test_every_unit_of_the_standard(tmp_path: Path, name: str, metres: float) -> None:
    """[3MF-CORE] 3.3 ST_Unit."""
    path = save(tmp_path, model_xml(object_xml(1), '<item objectid="1"/>', f'unit="{name}"'))
    mesh, unit = read_3mf(path)
    assert unit == metres
    np.testing.assert_allclose(mesh.volume, 6000 * metres**3, rtol=1e-12)


def test_no_unit_means_millimetres(tmp_path: Path) -> None:
    assert read_3mf(save(tmp_path, model_xml(object_xml(1), '<item objectid="1"/>', "")))[1] == 1e-3


def test_placements_multiply_down_the_assembly(tmp_path: Path) -> None:
    """Moved by 1 inside, then scaled by 2 and moved by 100 outside: x from 102 to 122."""
    inner = '<component objectid="1" transform="1 0 0 0 1 0 0 0 1 1 0 0"/>'
    resources = object_xml(1) + f'<object id="2"><components>{inner}</components></object>'
    build = '<item objectid="2" transform="2 0 0 0 2 0 0 0 2 100 0 0"/>'
    mesh, _ = read_3mf(save(tmp_path, model_xml(resources, build)))
    np.testing.assert_allclose(mesh.bounds[:, 0], [0.102, 0.122], rtol=1e-14)


def test_objects_that_are_not_built_and_supports_are_left_out(tmp_path: Path) -> None:
    resources = object_xml(1) + object_xml(2) + object_xml(3, more='type="support"')
    build = '<item objectid="1"/><item objectid="3"/>'
    assert len(read_3mf(save(tmp_path, model_xml(resources, build)))[0].faces) == 12


def test_objects_in_other_parts_are_found(tmp_path: Path) -> None:
    other = model_xml(object_xml(5), "")
    inner = '<component objectid="5" p:path="/3D/other.model"/>'
    resources = f'<object id="1"><components>{inner}</components></object>'
    main = model_xml(resources, '<item objectid="1"/>', 'unit="inch" requiredextensions="p"')
    mesh, unit = read_3mf(save(tmp_path, main, other=other))
    np.testing.assert_allclose(mesh.volume, 6000 * unit**3, rtol=1e-12)


ITEM = '<item objectid="1"/>'
LOOP = '<object id="1"><components><component objectid="1"/></components></object>'


@pytest.mark.parametrize(
    ("code", "said", "model"),
    [
        ("GEO-225", "is not XML", "<model><resources>"),
        ("GEO-225", "object 1 is placed but not there", model_xml("", ITEM)),
        ("GEO-225", "contains itself", model_xml(LOOP, ITEM)),
        ("GEO-225", "no number", model_xml(object_xml(1).replace('x="10"', 'x="ten"'), ITEM)),
        ("GEO-225", "no number", model_xml(object_xml(1).replace(' v1="0"', ""), ITEM)),
        ("GEO-225", "not there", model_xml(object_xml(1).replace('v1="0"', 'v1="8"'), ITEM)),
        (
            "GEO-225",
            "not 12 numbers",
            model_xml(object_xml(1), '<item objectid="1" transform="1 2"/>'),
        ),
        (
            "GEO-225",
            "flattens",
            model_xml(object_xml(1), '<item objectid="1" transform="1 0 0 0 1 0 0 0 0 0 0 0"/>'),
        ),
        ("GEO-225", "is missing", model_xml("", '<item objectid="1" p:path="/3D/gone.model"/>')),
        ("GEO-225", "beam", model_xml("", ITEM, 'xmlns:b="urn:beam" requiredextensions="b"')),
        ("GEO-226", "'cubit'", model_xml(object_xml(1), ITEM, 'unit="cubit"')),
    ],
)
def test_says_what_is_wrong_with_a_model(tmp_path: Path, code: str, said: str, model: str) -> None:
    got, found = code_and_text(save(tmp_path, model))
    assert got == code
    assert said in found


def test_thousandfold_placements_are_stopped_on_the_way(tmp_path: Path) -> None:
    """Twelve levels of ten components each would be a million million bricks."""
    levels = "".join(
        f'<object id="{k}"><components>'
        + f'<component objectid="{k + 1}"/>' * 10
        + "</components></object>"
        for k in range(1, 13)
    )
    path = save(tmp_path, model_xml(levels + object_xml(13), ITEM))
    assert code_and_text(path) == (
        "GEO-225",
        f"more than {threemf.MAX_PLACEMENTS:,} placed objects",
    )


def test_placed_triangles_count_against_the_limit(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from sumpwright.geometry import file_limit

    monkeypatch.setattr(file_limit, "MAX_TRIANGLES", 30)
    path = save(tmp_path, model_xml(object_xml(1), ITEM * 3))
    assert code_and_text(path) == ("GEO-207", "36 triangles")
