# SPDX-License-Identifier: Apache-2.0
"""Doors and tabs of sheets that meet in a box pan; where, by hand."""

from pathlib import Path

import pytest

from sumpwright.studies.sheet_part import sheets_of_job
from tests.studies.baffled_job import baffled
from tests.studies.box_job import box_mesh
from tests.studies.test_sheet_part import DOOR, HINGE, TABS, WALL, made

OTHER = """\
    - name: other
      at: [150 mm, 60 mm, 0 mm]
      normal: [0, 1, 0]
      outline: [[-100 mm, -99 mm], [45 mm, -99 mm], [45 mm, -20 mm], [-100 mm, -20 mm]]
      thickness: 1 mm
      gap: 0.5 mm
"""
OPENING = """\
        - name: %s
          centre: [%s mm, %s mm]
          width: 40 mm
          height: 20 mm
          door: { hinge: top, opens: %s%s }
"""


def test_two_flaps_that_only_meet_open_are_a_warning(tmp_path: Path) -> None:
    # flaps are 25 mm deep below their pins: one sweeps x 100 to 125 at y 7 to 53, the other
    # y 60 to 35 at x 107 to 153
    flap = OPENING % ("side", "20", "-80", "behind", HINGE)
    result = made(tmp_path, WALL + DOOR % HINGE + OTHER + "      openings:\n" + flap)
    (said,) = [f for f in result.findings if f.code == "SHEE-525"]
    assert (said.place, said.severity) == ("flap flap", "warning")
    assert "deg open, it meets 'side flap'," in said.found
    assert result.verdict == "met"
    low = OPENING % ("side", "20", "-40", "behind", HINGE)  # its flap ends over the other's pin
    result = made(tmp_path / "low", WALL + DOOR % HINGE + OTHER + "      openings:\n" + low)
    assert not [f for f in result.findings if f.code == "SHEE-525"]


def test_doors_one_over_the_other_need_room_for_the_leaf(tmp_path: Path) -> None:
    # the lower leaf reaches 16 mm up from its pin, at -64, over the upper opening from -60 on
    upper = OPENING % ("upper", "30", "-50", "ahead", HINGE)
    result = made(tmp_path, WALL + DOOR % HINGE + upper)
    (said,) = [f for f in result.findings if f.place == "flap leaf"]
    assert (said.code, said.severity) == ("SHEE-525", "error")
    assert "in its place, it meets 'upper flap', shut" in said.found
    assert result.verdict == "not met"


def test_a_flap_that_swings_into_a_body_in_the_pan_is_seen(tmp_path: Path) -> None:
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    job = baffled(
        tmp_path,
        WALL + DOOR % HINGE,
        more,
        lump=box_mesh((0.115, 0.0, -0.095), (0.14, 0.06, -0.05)),
    )
    (said,) = [f for f in sheets_of_job(job).findings if f.code == "SHEE-525"]
    assert "open, it stands in 'lump' near" in said.found


def test_a_tab_that_stands_in_a_body_is_seen(tmp_path: Path) -> None:
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    foot = TABS.replace(", holes: { diameter: 2 mm, count: 2 }", "")
    lump = box_mesh((0.105, -0.01, -0.1), (0.14, 0.01, -0.08))
    result = sheets_of_job(baffled(tmp_path, WALL + foot, more, lump=lump))
    (said,) = [f for f in result.findings if f.severity == "error"]
    assert (said.code, said.place) == ("SHEE-519", "baffle 'wall' and 'lump'")


@pytest.mark.parametrize(("centre", "how"), [("-80", ""), ("-88", "shut"), ("-60", "deg open")])
def test_a_door_that_reaches_into_the_pan_s_wall_is_seen(
    tmp_path: Path, centre: str, how: str
) -> None:
    # a flap ends 13 mm under its opening's middle: the floor is at 100 mm
    at = "20" if how == "deg open" else "100"  # where open it reaches 25 mm past the rear wall
    way = "behind" if how == "deg open" else "ahead"
    wall = WALL.replace("at: [100 mm", f"at: [{at} mm")
    door = OPENING % ("low", "30", centre, way, HINGE)
    result = made(tmp_path, wall + "      openings:\n" + door)
    said = [f for f in result.findings if f.code == "SHEE-525"]
    assert [f.place for f in said] == (["low flap"] if how else [])
    assert all(how in f.found and "into the pan's wall near x" in f.found for f in said)
    assert result.verdict == ("not met" if how else "met")
