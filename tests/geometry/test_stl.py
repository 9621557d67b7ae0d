# SPDX-License-Identifier: Apache-2.0
"""STL bytes against trimesh's writer and reader, and what a broken one is told."""

import io
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sumpwright.errors import InputError
from sumpwright.geometry import stl
from sumpwright.geometry.stl import stl_triangles
from tests.geometry.bodies import icosphere

HERE = Path("pan.stl")
CUBE_CORNER = b"""solid cube corner
 facet normal 0 0 -1
  outer loop
   vertex 0 0 0
   vertex 0 1.5e0 0
   vertex 1 0 0
  endloop
 endfacet
endsolid cube corner
"""


def written(kind: str) -> bytes:
    """A sphere as trimesh writes it."""
    import trimesh

    ball = icosphere(2)
    out = trimesh.Trimesh(ball.vertices, ball.faces).export(file_type=kind)
    return out.encode() if isinstance(out, str) else bytes(out)


@pytest.mark.parametrize("kind", ["stl", "stl_ascii"])
def test_agrees_with_a_mesh_library(kind: str) -> None:
    import trimesh

    data = written(kind)
    theirs = trimesh.load_mesh(io.BytesIO(data), file_type=kind, process=False)
    ours = stl_triangles(HERE, data)
    # binary: the same 32-bit numbers; ASCII: the library keeps 8 digits or so
    np.testing.assert_allclose(ours, theirs.triangles, atol=0.0 if kind == "stl" else 1e-7)


def test_reads_a_binary_file_whose_header_says_solid() -> None:
    data = written("stl")
    named = b"solid pan".ljust(80) + data[80:]
    np.testing.assert_array_equal(stl_triangles(HERE, named), stl_triangles(HERE, data))


@pytest.mark.parametrize(
    "text",
    [
        CUBE_CORNER,
        CUBE_CORNER.upper(),
        CUBE_CORNER.replace(b"\n", b"\r\n"),
        b"\xef\xbb\xbf" + CUBE_CORNER,
        CUBE_CORNER.replace(b"cube corner", b"facet of a solid pan"),
    ],
)
def test_reads_ascii_however_it_is_typed(text: bytes) -> None:
    corners = [[[0, 0, 0], [0, 1.5, 0], [1, 0, 0]]]
    np.testing.assert_array_equal(stl_triangles(HERE, text), corners)


def test_reads_several_solids_and_blocks_as_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stl, "_BLOCK", 150)  # less than one facet, so that every facet is a block
    assert stl_triangles(HERE, CUBE_CORNER * 7).shape == (7, 3, 3)


@given(arrays(np.float32, (4, 3, 3), elements=st.floats(-1e6, 1e6, width=32)))
def test_gives_back_every_bit_of_a_binary_file(corners: np.ndarray) -> None:
    records = np.zeros(4, dtype=stl._RECORD)
    records["corners"] = corners.reshape(4, 9)
    data = bytes(80) + (4).to_bytes(4, "little") + records.tobytes()
    np.testing.assert_array_equal(stl_triangles(HERE, data), corners)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"short", "5 bytes, too few for the header"),
        (written("stl")[:-1], "16,083 bytes where 320 triangles take 16,084"),
        (written("stl") + b"x", "16,085 bytes where 320 triangles take 16,084"),
        (b"solid pan".ljust(80) + written("stl")[80:-9], "16,075 bytes where 320"),
        (CUBE_CORNER[:-60], "the file stops inside facet 1"),
        (CUBE_CORNER.replace(b"outer", b"other"), "facet 1 is not written as STL"),
        (CUBE_CORNER.replace(b"1.5e0", b"1,5"), "a corner after facet 0 is no number"),
        (CUBE_CORNER.replace(b"1.5e0", b"1" * 99), "what follows facet 0 is not written as STL"),
    ],
)
def test_says_where_a_file_breaks_off(data: bytes, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        stl_triangles(HERE, data)
    assert caught.value.problems[0].code == "GEO-210"


def test_does_not_take_in_text_that_never_ends_a_facet(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stl, "_BLOCK", 1000)
    with pytest.raises(InputError, match="GEO-210"):
        stl_triangles(HERE, CUBE_CORNER + b"solid x\n" + b"vertex 0 0 0\n" * 1000)


def test_refuses_more_triangles_than_stated_before_reading_them() -> None:
    data = bytes(80) + (5_000_001).to_bytes(4, "little")
    with pytest.raises(InputError, match="5,000,001 triangles") as caught:
        stl_triangles(HERE, data)
    assert caught.value.problems[0].code == "GEO-207"
