# SPDX-License-Identifier: Apache-2.0
"""PLY bytes against trimesh's writer, and by hand where that library cannot write them."""

import struct
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.ply import ply_mesh
from tests.geometry.bodies import box, icosphere

HERE = Path("scan.ply")
BRICK = box([-20, -30, -40], [20, 30, 0])
QUADS = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
# a brick of five quads and two triangles, so that lists are not all as long as the first
MIXED = [(0, 1, 3), (0, 3, 2), *QUADS[1:]]


def header(form: str, faces: int, more: str = "", index: str = "int") -> bytes:
    lines = [f"ply\nformat {form} 1.0\ncomment from a scanner\nelement vertex 8"]
    lines += [f"property double {axis}" for axis in "xyz"]
    lines += [f"element face {faces}", f"property list uchar {index} vertex_indices"]
    return ("\n".join(lines) + f"\n{more}end_header\n").encode()


def binary(order: str, polygons: list[tuple[int, ...]]) -> bytes:
    body = BRICK.vertices.astype(order + "f8").tobytes()
    for polygon in polygons:
        body += struct.pack(f"{order}B{len(polygon)}i", len(polygon), *polygon)
    return header(f"binary_{'little' if order == '<' else 'big'}_endian", len(polygons)) + body


def ascii_text(polygons: list[tuple[int, ...]]) -> bytes:
    rows = [" ".join(f"{v:g}" for v in row) for row in BRICK.vertices]
    rows += [" ".join(map(str, (len(p), *p))) for p in polygons]
    return header("ascii", len(polygons)) + "\n".join(rows).encode()


@pytest.mark.parametrize("polygons", [QUADS, MIXED, MIXED[::-1]])
@pytest.mark.parametrize("write", [lambda p: binary("<", p), lambda p: binary(">", p), ascii_text])
def test_a_brick_of_polygons_is_96_mL(write: object, polygons: list[tuple[int, ...]]) -> None:
    mesh = Mesh(*ply_mesh(HERE, write(polygons)))  # type: ignore[operator]
    assert len(mesh.faces) == 12
    assert mesh.volume == pytest.approx(96_000.0, rel=1e-14)  # mm^3; double rounding


@pytest.mark.parametrize("encoding", ["binary", "ascii"])
@pytest.mark.parametrize("coloured", [False, True])
def test_agrees_with_a_mesh_library(encoding: str, coloured: bool) -> None:
    import trimesh

    ball = icosphere(2)
    body = trimesh.Trimesh(ball.vertices, ball.faces, process=False)
    if coloured:
        body.visual.vertex_colors = [10, 20, 30, 255]
        body.visual.face_colors = [10, 20, 30, 255]
    data = body.export(file_type="ply", encoding=encoding, vertex_normal=True)
    vertices, faces = ply_mesh(HERE, data)
    np.testing.assert_array_equal(faces, ball.faces)
    np.testing.assert_allclose(vertices, ball.vertices, atol=1e-7)  # written in single precision


def test_elements_and_lists_that_are_not_asked_for_are_stepped_over() -> None:
    extra = "element edge 1\nproperty list uchar int ends\nproperty short kind\n"
    plain = ascii_text(MIXED)
    data = header("ascii", len(MIXED), extra) + plain[plain.index(b"end_header\n") + 11 :]
    vertices, faces = ply_mesh(HERE, data + b"\n2 0 1 7\n")
    assert (len(vertices), len(faces)) == (8, 12)


def test_a_cloud_of_points_has_no_triangles() -> None:
    cloud = b"ply\nformat ascii 1.0\nelement vertex 1\n" + b"".join(
        f"property float {a}\n".encode() for a in "xyz"
    )
    vertices, faces = ply_mesh(HERE, cloud + b"end_header\n1 2 3\n")
    assert (vertices.tolist(), len(faces)) == ([[1, 2, 3]], 0)


@pytest.mark.parametrize(
    "data",
    [
        binary("<", MIXED)[:-1],
        binary("<", QUADS)[:-5],
        ascii_text(MIXED)[:-3],
        ascii_text(MIXED).replace(b"-30", b"x30"),
        ascii_text(MIXED).replace(b"3 0 1 3", b"3 0 1.5 3"),
        ascii_text(MIXED).replace(b"3 0 1 3", b"-3 0 1 3"),
        header("ascii", 1).replace(b"double z", b"double w") + b"0 " * 24 + b"3 0 1 2",
        header("binary_middle_endian", 1),
        header("ascii", 1, index="integer"),
    ],
)
def test_what_does_not_fit_its_header_is_refused(data: bytes) -> None:
    with pytest.raises(InputError) as caught:
        ply_mesh(HERE, data)
    assert caught.value.problems[0].code == "GEO-210"
