# SPDX-License-Identifier: Apache-2.0
"""STEP as written, read again: the same body, and the same bytes each time."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.geometry.cad import read_step
from sumpwright.geometry.cad_measure import area, bounds, mesh_of, volume
from sumpwright.geometry.cad_solid import box, less, rod
from sumpwright.geometry.cad_write import step_bytes


@pytest.fixture(scope="module")
def block() -> object:
    return less(box([0, 0, 0], [0.1, 0.06, 0.03]), [rod([0.03, 0.03, -1], [0.03, 0.03, 1], 0.01)])


def test_reads_back_as_the_body_it_was(block: object, tmp_path: Path) -> None:
    path = tmp_path / "block.step"
    path.write_bytes(step_bytes([block], "block"))
    read = read_step(path)
    assert read.solids == 1
    mesh = mesh_of(block)
    assert read.mesh.volume == pytest.approx(mesh.volume, rel=1e-9)  # STEP holds 15 digits
    assert read.mesh.area == pytest.approx(mesh.area, rel=1e-9)
    np.testing.assert_allclose(read.mesh.bounds, bounds(block), atol=2e-7)
    assert volume(block) == pytest.approx(mesh.volume, abs=5e-5 * area(block))  # its chords


def test_several_bodies_are_several(block: object, tmp_path: Path) -> None:
    path = tmp_path / "two.step"
    path.write_bytes(step_bytes([block, box([1, 1, 1], [2, 2, 2])], "two"))
    assert read_step(path).solids == 2


def test_is_the_same_each_time(block: object) -> None:
    first = step_bytes([block], "block")
    assert step_bytes([block], "block") == first
    assert b"1970-01-01T00:00:00" in first
    assert b"'block'" in first


def test_says_when_it_was_made_where_asked(block: object) -> None:
    assert b"2026-05-04T03:02:01" in step_bytes([block], "block", made="2026-05-04T03:02:01")
