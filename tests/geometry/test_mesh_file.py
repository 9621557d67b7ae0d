# SPDX-License-Identifier: Apache-2.0
"""Every kind of file in, metres out; every kind of bad file, one sentence and its code."""

import zipfile
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry import file_limit, mesh_file
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.mesh_file import read_mesh
from tests.geometry.bodies import box, icosphere

MM = 1e-3
BRICK = box([-20, -30, -40], [20, 30, 0])  # in millimetres, as a file holds it: 96 mL


def save(mesh: Mesh, path: Path, kind: str | None = None, **how: object) -> Path:
    """`mesh` as trimesh writes it, its numbers as they are."""
    import trimesh

    body = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    data = body.export(file_type=kind or path.suffix[1:], **how)
    path.write_bytes(data.encode() if isinstance(data, str) else data)
    return path


def code_of(path: Path, unit: float | None = MM) -> str:
    """The code that reading `path` ends with; its text must name the file."""
    with pytest.raises(InputError) as caught:
        read_mesh(path, unit)
    (problem,) = caught.value.problems
    assert problem.where == str(path)
    assert problem.found
    assert problem.needed
    assert problem.do
    return problem.code


@pytest.mark.parametrize(
    ("suffix", "kind", "how"),
    [
        (".stl", "stl", {}),
        (".stl", "stl_ascii", {}),
        (".STL", "stl", {}),
        (".ply", "ply", {"encoding": "binary"}),
        (".ply", "ply", {"encoding": "ascii"}),
        (".scan", "ply", {}),
    ],
)
def test_a_brick_comes_back_whole(tmp_path: Path, suffix: str, kind: str, how: dict) -> None:
    file = read_mesh(save(BRICK, tmp_path / f"brick{suffix}", kind, **how), MM)
    # whole millimetres are exact in single precision; what is left is double rounding
    np.testing.assert_allclose(file.mesh.volume, 96e-6, rtol=1e-14)
    assert (len(file.mesh.vertices), len(file.mesh.faces), file.bodies) == (8, 12, 1)
    assert (file.unit, file.unit_source) == (MM, "declared")


def test_a_3mf_brings_its_unit(tmp_path: Path) -> None:
    file = read_mesh(save(BRICK, tmp_path / "brick.3mf"))
    np.testing.assert_allclose(file.mesh.volume, 96e-6, rtol=1e-14)
    assert (file.unit, file.unit_source, file.kind) == (MM, "read from the file", "3MF")


def test_inches_are_inches(tmp_path: Path) -> None:
    file = read_mesh(save(box([0, 0, 0], [1, 2, 3]), tmp_path / "in.stl"), 0.0254)
    np.testing.assert_allclose(file.mesh.bounds[1], [0.0254, 0.0508, 0.0762], rtol=1e-15)


def test_a_name_with_spaces_and_other_letters_will_do(tmp_path: Path) -> None:
    folder = tmp_path / "Ölwanne für später"
    folder.mkdir()
    for name in ("größe 1.stl", "größe 1.ply", "größe 1.3mf"):
        file = read_mesh(save(BRICK, folder / name), None if name.endswith("3mf") else MM)
        assert len(file.mesh.faces) == 12


def test_stl_and_ply_need_a_unit_and_say_how_to_give_it(tmp_path: Path) -> None:
    for name in ("pan.stl", "pan.ply"):
        with pytest.raises(InputError, match="write `unit: mm`") as caught:
            read_mesh(save(BRICK, tmp_path / name))
        assert caught.value.problems[0].code == "GEO-208"


def test_a_declared_unit_must_not_contradict_the_file(tmp_path: Path) -> None:
    path = save(BRICK, tmp_path / "brick.3mf")
    assert read_mesh(path, MM).unit_source == "read from the file"
    with pytest.raises(
        InputError, match=r"declared unit of 25.4 mm where .* 1 mm per unit"
    ) as caught:
        read_mesh(path, 0.0254)
    assert caught.value.problems[0].code == "GEO-209"


def ply(header: str, body: str = "") -> bytes:
    return f"ply\nformat ascii 1.0\n{header}\nend_header\n{body}".encode()


XYZ = "property float x\nproperty float y\nproperty float z\n"
FACE = "property list uchar int vertex_indices"
TRIANGLE = "element vertex 3\n" + XYZ + "element face 1\n" + FACE
NAN_STL = bytes(80) + (1).to_bytes(4, "little") + np.full(12, np.nan, "<f4").tobytes() + b"\0\0"
INF = np.array([0, 0, 1, 0, 0, 0, np.inf, 0, 0, 0, 1, 0], "<f4")
FLAT = np.array([0, 0, 1, 0, 0, 0, 1, 1, 1, 2, 2, 2], "<f4")


@pytest.mark.parametrize(
    ("code", "name", "data"),
    [
        ("GEO-204", "empty.stl", b""),
        ("GEO-204", "empty.step", b""),
        ("GEO-205", "notes.txt", b"ask about the crossmember"),
        ("GEO-206", "pan.ply", b"ask about the crossmember"),
        ("GEO-206", "pan.3mf", b"\x89PNG\r\n\x1a\n and so on"),
        ("GEO-206", "pan.step", b"solid pan\nendsolid pan\n"),
        ("GEO-206", "pan.stl", b"ISO-10303-21;\nHEADER;"),
        ("GEO-206", "pan.stl", ply(TRIANGLE, "0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n")),
        ("GEO-210", "pan.stl", b"ask about the crossmember"),
        ("GEO-210", "pan.ply", b"ply\nformat ascii 1.0\n"),
        ("GEO-210", "pan.ply", ply("element vertex many")),
        ("GEO-210", "pan.ply", ply("property float x")),
        ("GEO-210", "pan.ply", ply("element vertex -3\n" + XYZ + "element face 1\n" + FACE)),
        ("GEO-210", "pan.ply", ply(TRIANGLE, "0 0 0\n1 0 0\n")),
        ("GEO-210", "pan.ply", ply(TRIANGLE, "0 0 0\n1 0 0\nzero one 0\n3 0 1 2\n")),
        ("GEO-211", "pan.stl", NAN_STL),
        ("GEO-211", "pan.stl", bytes(80) + b"\1\0\0\0" + INF.tobytes() + b"\0\0"),
        ("GEO-211", "pan.ply", ply(TRIANGLE, "0 0 0\n1 0 nan\n0 1 0\n3 0 1 2\n")),
        ("GEO-212", "pan.stl", bytes(84)),
        ("GEO-212", "pan.stl", b"solid pan\nendsolid pan\n"),
        ("GEO-212", "scan.ply", ply("element vertex 1\n" + XYZ, "0 0 0\n")),
        ("GEO-213", "pan.stl", bytes(80) + b"\1\0\0\0" + FLAT.tobytes() + b"\0\0"),
        ("GEO-214", "pan.ply", ply(TRIANGLE, "0 0 0\n1 0 0\n0 1 0\n3 0 1 7\n")),
    ],
)
def test_each_bad_file_has_its_code(tmp_path: Path, code: str, name: str, data: bytes) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    assert code_of(path) == code


def test_missing_files_and_folders_are_told_apart(tmp_path: Path) -> None:
    assert code_of(tmp_path / "nowhere.stl") == "GEO-201"
    assert code_of(tmp_path) == "GEO-202"


def test_a_file_that_may_not_be_read_is_said_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = save(BRICK, tmp_path / "brick.stl")

    def refuse(*_: object, **__: object) -> None:  # root may read anything, so the refusal is made
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(InputError, match="cannot be opened") as caught:
        read_mesh(path, MM)
    assert caught.value.problems[0].code == "GEO-203"


@pytest.mark.parametrize("name", ["huge.stl", "huge.ply", "huge.3mf", "huge.step"])
def test_a_file_over_the_limit_is_refused_unread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    path = tmp_path / name
    begin = {".stl": bytes(84), ".ply": b"ply\n", ".3mf": b"PK\x03\x04", ".step": b"ISO-10303-21;"}
    with path.open("wb") as stream:
        stream.write(begin[path.suffix])
        stream.truncate(2**30 + 1)  # sparse: takes no room on the disk

    def fail(*_: object) -> bytes:
        raise AssertionError("the file was read")

    monkeypatch.setattr(Path, "read_bytes", fail)
    assert code_of(path) == "GEO-207"


def test_headers_that_promise_too_much_are_refused(tmp_path: Path) -> None:
    many = ply(f"element vertex 3\n{XYZ}element face 5000001\n{FACE}")
    vertices = many.replace(b"vertex 3", b"vertex 99999999999").replace(b"5000001", b"1")
    for data in (many, vertices):
        path = tmp_path / "pan.ply"
        path.write_bytes(data)
        assert code_of(path) == "GEO-207"


def test_an_archive_that_is_no_3mf_is_said_so(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "photos.3mf", "w") as archive:
        archive.writestr("photo.txt", "no model here")
    assert code_of(tmp_path / "photos.3mf") == "GEO-224"


@pytest.mark.parametrize("kind", ["stl", "stl_ascii", "ply", "3mf"])
def test_a_damaged_file_is_an_answer_never_a_traceback(tmp_path: Path, kind: str) -> None:
    """Every tenth cut and 200 changed bytes: read, or refused with a problem."""
    path = save(icosphere(1, 10.0), tmp_path / f"ball.{kind.split('_')[0]}", kind)
    whole, rng = path.read_bytes(), np.random.default_rng(11)
    cuts = [whole[: len(whole) * k // 10] for k in range(10)]
    changed = [bytearray(whole) for _ in range(200)]
    for data in changed:
        data[rng.integers(len(data))] = rng.integers(256)
    refused, codes = 0, {"GEO-2"}
    for data in [*cuts, *changed]:
        path.write_bytes(data)
        try:
            assert len(read_mesh(path, MM).mesh.faces)
        except InputError as err:
            refused += 1
            codes.add(err.problems[0].code[:5])
    assert refused >= 10  # the cuts at least
    assert codes == {"GEO-2"}


def test_every_code_is_given_by_one_kind_of_fault() -> None:
    """A code that two sentences share cannot be looked up."""
    folder = Path(mesh_file.__file__).parent
    names = ("mesh_file", "file_limit", "stl", "ply", "archive", "threemf", "cad")
    text = "".join((folder / f"{n}.py").read_text(encoding="utf-8") for n in names)
    for number in (201, 202, 203, 204, 207, 208, 209, 220, 221, 222, 223, 224, 225, 230, 231, 232):
        assert text.count(f'"GEO-{number}"') == 1
    assert file_limit.MAX_TRIANGLES == 5_000_000
    assert file_limit.MAX_BYTES == 2**30
