# SPDX-License-Identifier: Apache-2.0
"""3MF and STL of a body, read again by our own readers, by trimesh, and 3MF by lib3mf."""

import io
from pathlib import Path

import lib3mf
import numpy as np
import pytest
import trimesh

from sumpwright.geometry.build import build_mesh
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.geometry.solid import solid_of
from sumpwright.geometry.soundness import soundness
from sumpwright.metal.print_section_lay import laid
from sumpwright.report.threemf_write import stl_bytes, threemf_bytes
from tests.geometry.test_build import cup


def body() -> Mesh:
    """A cup, rounded to single precision as prints are."""
    return laid(solid_of(build_mesh(cup()).scaled(1e3), what="cup"), np.eye(3), 1.0)


@pytest.mark.parametrize("kind", ["3mf", "stl"])
def test_our_reader_finds_the_same_closed_body(tmp_path: Path, kind: str) -> None:
    mesh = body()
    path = tmp_path / f"cup.{kind}"
    path.write_bytes(threemf_bytes(mesh, "cup") if kind == "3mf" else stl_bytes(mesh, "cup"))
    read = read_mesh(path, None if kind == "3mf" else 1e-3).mesh
    found = soundness(read)
    assert found.sound
    assert found.watertight
    assert read.volume == pytest.approx(mesh.volume, rel=1e-7)  # text of 1e-6 mm
    np.testing.assert_allclose(read.bounds, mesh.bounds, atol=1e-9)


@pytest.mark.parametrize("kind", ["3mf", "stl"])
def test_trimesh_finds_the_same_closed_body(kind: str) -> None:
    mesh = body()
    text = threemf_bytes(mesh, "cup") if kind == "3mf" else stl_bytes(mesh, "cup")
    read = trimesh.load(io.BytesIO(text), file_type=kind, force="mesh")
    assert read.is_watertight
    assert read.is_winding_consistent
    assert read.volume == pytest.approx(1e9 * mesh.volume, rel=1e-6)  # millimetres in the file


def test_lib3mf_reads_name_and_unit() -> None:
    model = lib3mf.get_wrapper().CreateModel()
    model.QueryReader("3mf").ReadFromBuffer(threemf_bytes(body(), "cup"))
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    objects = model.GetMeshObjects()
    assert objects.MoveNext()
    found = objects.GetCurrentMeshObject()
    assert found.GetName() == "cup"
    assert found.IsManifoldAndOriented()
    assert found.GetTriangleCount() == len(body().faces)


def test_the_same_body_is_the_same_bytes() -> None:
    assert threemf_bytes(body(), "cup") == threemf_bytes(body(), "cup")
    assert threemf_bytes(body(), "cup") != threemf_bytes(body(), "can")


def test_an_stl_says_its_unit_in_its_header_and_does_not_begin_as_text() -> None:
    text = stl_bytes(body(), "cup")
    assert text.startswith(b"cup, millimetres")
    assert len(text) == 84 + 50 * len(body().faces)
