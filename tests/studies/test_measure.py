# SPDX-License-Identifier: Apache-2.0
"""One file measured, against closed forms."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError, RangeError
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.measure import measure
from tests.studies.box_job import BOX, box_mesh, write_stl

MM = 1e-3
EXACT = {"rel": 1e-12}  # a box: a handful of roundings


@pytest.fixture
def box(tmp_path: Path) -> Path:
    path = tmp_path / "ein Kästchen.stl"
    write_stl(path, box_mesh(*BOX))
    return path


def test_volume_area_and_bounds_of_a_box(box: Path) -> None:
    found = measure(box, unit=MM)
    assert found.volume_m3 == pytest.approx(6e-3, **EXACT)
    assert found.area_m2 == pytest.approx(2 * (0.06 + 0.03 + 0.02), **EXACT)
    np.testing.assert_allclose(found.bounds_m, BOX, atol=1e-15)
    assert found.watertight
    assert found.level is None


def test_height_of_a_volume_and_back(box: Path) -> None:
    level = measure(box, unit=MM, volume=3e-3).level
    assert level is not None
    assert level.height_m == pytest.approx(-0.05, **EXACT)
    assert level.surface_area_m2 == pytest.approx(0.06, **EXACT)
    assert level.centroid_m == pytest.approx((0.15, 0.0, -0.075), abs=1e-15)
    back = measure(box, unit=MM, height=level.height_m).level
    assert back is not None
    assert back.volume_m3 == pytest.approx(3e-3, **EXACT)


def test_a_left_turn_sends_the_oil_right(box: Path) -> None:
    # REFERENCES R7.2: box of 300 mm along the acceleration, 50 mm deep, 0.3 g: 95 mm at one wall
    # and 5 mm at the other; here along x, accelerating, so deep at the tail
    level = measure(box, unit=MM, volume=3e-3, accel_g=(0.3, 0.0, 0.0)).level
    assert level is not None
    up = np.array([0.3, 0.0, 1.0]) / np.hypot(0.3, 1.0)
    deep = np.array([0.0, 0.0, -0.1 + 0.095])
    assert level.height_m == pytest.approx(float(deep @ up), **EXACT)
    assert level.centroid_m is not None
    assert level.centroid_m[0] < 0.15
    turn = measure(box, unit=MM, volume=3e-3, accel_g=(0.0, 0.4, 0.0)).level
    assert turn is not None
    assert turn.centroid_m is not None
    assert turn.centroid_m[1] < 0.0


def test_an_empty_body_has_a_level_but_no_centroid(box: Path) -> None:
    level = measure(box, unit=MM, volume=0.0).level
    assert level is not None
    assert level.height_m == pytest.approx(-0.1, **EXACT)
    assert level.centroid_m is None


def test_says_when_there_is_no_gravity_to_level_in(box: Path) -> None:
    with pytest.raises(RangeError, match="needs gravity"):
        measure(box, unit=MM, volume=1e-3, accel_g=(0.0, 0.0, -1.0))


def test_an_open_body_is_measured_but_has_no_level(tmp_path: Path) -> None:
    whole = box_mesh(*BOX)
    path = tmp_path / "open.stl"
    write_stl(path, Mesh(whole.vertices, whole.faces[1:]))
    found = measure(path, unit=MM)
    assert not found.watertight
    assert any("3 open edges" in f.found + f.place for f in found.findings)
    with pytest.raises(InputError, match="GEO-240"):
        measure(path, unit=MM, volume=1e-3)


def test_refuses_more_than_it_holds(box: Path) -> None:
    with pytest.raises(InputError, match=r"JOB-150") as caught:
        measure(box, unit=MM, volume=7e-3)
    # NIST SP 811 B.8: 1 qt = 0.946353 L
    assert "no more than the body holds: 6.00 L (6.34 qt)" in caught.value.problems[0].needed


def test_refuses_a_level_in_a_body_that_is_inside_out(tmp_path: Path) -> None:
    path = tmp_path / "flipped.stl"
    write_stl(path, box_mesh(*BOX).flipped())
    assert measure(path, unit=MM).volume_m3 == pytest.approx(-6e-3, **EXACT)
    with pytest.raises(InputError, match="GEO-306"):
        measure(path, unit=MM, volume=1e-3)
