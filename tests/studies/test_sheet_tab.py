# SPDX-License-Identifier: Apache-2.0
"""Tabs of a wall in a box pan, held against its floor; heights by plane geometry."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import Finding
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.sheet_part import sheets_of_job
from tests.studies.baffled_job import baffled
from tests.studies.box_job import box_mesh
from tests.studies.test_sheet_part import TABS, WALL, made

RAISED = WALL + (
    "      outline: [[-60 mm, -%s mm], [60 mm, -%s mm], [60 mm, -30 mm], [-60 mm, -30 mm]]\n"
)
TRAY = """\
    - name: tray
      at: [150 mm, 0 mm, -30 mm]
      normal: [0, 0, 1]
      thickness: 1 mm
      gap: 0.5 mm
"""
HOLES = ", holes: { diameter: 2 mm, count: 2 }"
HEAD = TABS.replace("edge: bottom", "edge: top")


def tab(angle: float = 90.0, flange: str = "12 mm", more: str = "") -> str:
    """The wall's foot, bent otherwise."""
    said = TABS.replace(HOLES, more).replace("flange: 12 mm", f"flange: {flange}")
    return said.replace("bends: ahead", f"bends: ahead, angle: {angle} deg")


def said_of(folder: Path, baffles: str) -> list[Finding]:
    """What is said of the first wall's tabs."""
    wall = made(folder, baffles).items[0]
    return [w for w in wall.warnings if w.code in ("SHEE-528", "SHEE-529")]


@pytest.mark.parametrize(("depth", "lies"), [("99.3", True), ("99.1", True), ("98.9", False)])
def test_a_tab_lies_within_its_gap_and_half_the_sheet(
    tmp_path: Path, depth: str, lies: bool
) -> None:
    # the floor is at 100 mm; gap 0.5 mm and half of 1 mm
    said = said_of(tmp_path, RAISED % (depth, depth) + TABS)
    assert [w.code for w in said] == ([] if lies else ["SHEE-528"])
    if not lies:
        assert said[0].place == "wall, foot"
        assert said[0].found == "its outer face stands off the pan's wall by 1.1 to 1.1 mm"
        assert said[0].severity == "warning"


def test_a_tab_bent_too_little_goes_through_the_floor(tmp_path: Path) -> None:
    (said,) = said_of(tmp_path, WALL + tab(80.0, "20 mm"))
    # its tip would be 20 sin 10 deg under the edge, which is 0.5 mm over the floor
    deep = 20.0 * math.sin(math.radians(10.0)) - 0.5
    assert (said.code, said.severity) == ("SHEE-529", "error")
    assert float(said.found.split()[2]) == pytest.approx(deep, abs=0.1)  # printed, and 0.1 mm in
    assert said.repair == "bend it by 90.0 deg"


def test_a_tab_bent_too_far_stands_off_and_the_angle_is_named(tmp_path: Path) -> None:
    (said,) = said_of(tmp_path, WALL + tab(100.0, "20 mm"))
    assert said.code == "SHEE-528"
    assert said.repair == "bend it by 90.0 deg"


def test_a_tab_in_mid_air_has_nothing_to_fix_it_to(tmp_path: Path) -> None:
    (said,) = said_of(tmp_path, RAISED % ("70", "70") + TABS)
    assert said.found == "nothing to fix it to within 20 mm of its outer face"
    assert said.severity == "warning"
    # without holes it may be there to stiffen the sheet
    (said,) = said_of(tmp_path / "plain", RAISED % ("70", "70") + tab())
    assert said.severity == "note"


def test_the_open_top_is_no_wall(tmp_path: Path) -> None:
    # the wall runs up to the rail: there is nothing over it
    (said,) = said_of(tmp_path, WALL + HEAD)
    assert "nothing to fix it to" in said.found


def test_a_tab_lies_on_the_tray_over_it_but_not_with_a_hole_at_a_window(tmp_path: Path) -> None:
    under = RAISED % ("90", "90") + HEAD
    assert said_of(tmp_path / "whole", under + TRAY) == []
    window = (
        "      openings: [{ name: slot, centre: [-45 mm, 10 mm], width: 8 mm, height: 6 mm }]\n"
    )
    (said,) = said_of(tmp_path / "holed", under + TRAY + window)
    assert said.found.startswith("nothing lies behind its hole near x 10")
    assert "y 10.0 mm" in said.found  # holes are at a quarter and three quarters of 40 mm


def test_a_body_through_a_sheet_aslant_is_cleared_from_face_to_face(tmp_path: Path) -> None:
    straight = box_mesh((0.08, -0.01, -0.06), (0.12, 0.01, -0.04))
    lean = straight.vertices + np.outer(straight.vertices[:, 0] - 0.1, [0.0, math.sqrt(3.0), 0.0])
    more = "  displacing:\n    - { name: bar, file: geometry/bar.stl, unit: mm }\n"
    job = baffled(tmp_path, WALL, more, bar=Mesh(lean, straight.faces))
    result = sheets_of_job(job)
    (hole,) = result.items[0].pattern.holes
    size = np.ptp(hole.polygon(), axis=0)
    # 20 mm, what it moves aside in 1 mm at 60 deg, and 0.5 mm all round
    np.testing.assert_allclose(size, [0.021 + math.sqrt(3.0) * 1e-3, 0.021], atol=2e-6)
    assert not [f for f in result.findings if f.severity == "error"]
