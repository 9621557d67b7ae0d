# SPDX-License-Identifier: Apache-2.0
"""The picture of a parted pan says what the result says, and shows every window and door."""

import re
from pathlib import Path

import numpy as np
import pytest
from lxml import etree

from sumpwright.geometry.section import CutPlane
from sumpwright.report import palette
from sumpwright.report.compartment_cut import PartedCut
from sumpwright.report.compartment_view import compartment_view
from sumpwright.studies.compartment import Looked, compartments_with_bodies
from sumpwright.studies.compartment_scene import CompartmentScene, compartment_scene
from tests.studies.baffled_job import DOOR, PICKUP, WALL, baffled
from tests.studies.box_job import box_mesh

SVG = "{http://www.w3.org/2000/svg}"
TRAY = """\
    - name: tray
      at: [150 mm, 0 mm, -30 mm]
      normal: [0, 0, 1]
      thickness: 1 mm
      openings:
        - { name: one, centre: [-80 mm, 0 mm], width: 20 mm, height: 100 mm }
        - { name: two, centre: [80 mm, 0 mm], width: 20 mm, height: 100 mm }
"""
LUMP = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"


def looked_at(folder: Path, baffles: str = WALL + DOOR + TRAY, more: str = PICKUP) -> Looked:
    lump = box_mesh((0.19, -0.01, -0.07), (0.21, 0.01, -0.05))
    return compartments_with_bodies(baffled(folder, baffles, more + LUMP, lump=lump))


def drawn(looked: Looked) -> etree._Element:
    return etree.fromstring(compartment_view(looked.result, compartment_scene(looked)))


def words(svg: etree._Element) -> list[str]:
    return ["".join(t.itertext()) for t in svg.iter(f"{SVG}text") if not t.get("aria-hidden")]


@pytest.fixture(scope="module")
def looked(tmp_path_factory: pytest.TempPathFactory) -> Looked:
    return looked_at(tmp_path_factory.mktemp("job"))


def test_every_compartment_has_its_letter_and_its_volumes(looked: Looked) -> None:
    said = words(drawn(looked))
    # wall and tray make four rooms. Each is in the list; the plan shows the lower two, the cut
    # along all four, the cut across, through the pickup, the front ones
    assert {name: said.count(name) for name in "ABCD"} == {"A": 3, "B": 2, "C": 4, "D": 3}
    assert "lower front, pickup" in said
    for part in looked.result.compartments:
        assert f"{part.volume_m3 * 1e3:.2f} L" in said


def test_windows_and_doors_are_numbered_and_said(looked: Looked) -> None:
    said = words(drawn(looked))
    assert "flap: from A into C only" in said
    # the door's number in the plan and in the list; along the pan the cut misses the door
    assert said.count("1") == 2
    assert "2 openings, seen in the cuts below" in said
    assert "grey: lump" in said


def test_a_door_has_an_arrow_the_way_oil_passes(tmp_path: Path) -> None:
    def tip_ahead_of_tail(opens: str, folder: Path) -> bool:
        svg = drawn(looked_at(folder, WALL + DOOR.replace("ahead", opens)))
        heads = [p for p in svg.iter(f"{SVG}path") if p.get("fill") == palette.NEW]
        (head,) = heads
        points = np.array(re.findall(r"[-\d.]+", head.get("d")), dtype=float).reshape(-1, 2)
        return bool(points[0, 0] > points[1:, 0].mean())  # the tip is drawn first; x runs forward

    assert tip_ahead_of_tail("ahead", tmp_path / "ahead")
    assert not tip_ahead_of_tail("behind", tmp_path / "behind")


def test_neighbours_have_tints_of_their_own(looked: Looked) -> None:
    svg = drawn(looked)
    used = [p.get("fill") for p in svg.iter(f"{SVG}path") if p.get("fill") in palette.TINTS]
    assert set(used) == set(palette.TINTS[:4])


def test_warnings_stand_in_the_picture(tmp_path: Path) -> None:
    text = WALL + DOOR.replace("ahead", "behind")
    said = " ".join(words(drawn(looked_at(tmp_path, text))))
    assert "To look at" in said
    assert "away from the pickup" in said


def test_a_pan_without_baffles_and_pickup_can_be_drawn(tmp_path: Path) -> None:
    folder = baffled(tmp_path, WALL)
    text = (folder / "job.yaml").read_text().replace("  baffles:\n" + WALL, "")
    (folder / "job.yaml").write_text(text)
    looked = compartments_with_bodies(folder)
    said = words(drawn(looked))
    assert said.count("A") == 4
    assert "No baffles" in said


@pytest.mark.parametrize(
    ("yaw", "where", "nose"),
    [(0, ("rear", "front"), 0), (90, ("right", "left"), 1), (-90, ("left", "right"), 1)],
)
def test_front_and_left_are_the_cars(
    tmp_path: Path, yaw: int, where: tuple[str, str], nose: int
) -> None:
    """A wall across the engine parts left from right where the engine stands across the car."""
    folder = baffled(tmp_path, WALL, PICKUP)
    with (folder / "job.yaml").open("a", encoding="utf-8") as job:
        job.write(f"pose: {{height: 300 mm, yaw: {yaw} deg}}\n")
    looked = compartments_with_bodies(folder)
    assert tuple(c.where for c in looked.result.compartments) == where
    plan = next(p for p in drawn(looked).iter(f"{SVG}path") if p.get("fill") == palette.TINTS[0])
    points = np.array(re.findall(r"[-\d.]+", plan.get("d")), dtype=float).reshape(-1, 2)
    # A is 99 mm of the engine's length (to a 2 mm wall at 100 mm) and all of its width: it turns
    assert np.ptp(points, axis=0)[nose] / np.ptp(points, axis=0)[1 - nose] == pytest.approx(
        99.0 / 200.0,
        rel=1e-3,  # rounded to 0.1 of some 180 on paper
    )


def test_a_number_at_the_floor_stays_in_the_picture(tmp_path: Path) -> None:
    side = WALL.replace("[1, 0, 0]", "[0, 1, 0]").replace("at: [100 mm, 0 mm", "at: [150 mm, {y}")
    door = DOOR.replace("centre: [30 mm, -80 mm]", "centre: [-50 mm, -88 mm]")
    pair = "".join(
        (side + door).replace("{y}", y).replace("name: wall", f"name: {name}").replace("ahead", way)
        for y, name, way in (("60 mm", "left", "behind"), ("-60 mm", "right", "ahead"))
    )
    svg = drawn(looked_at(tmp_path, pair))
    cuts = [
        (float(r.get("y")), float(r.get("y")) + float(r.get("height")))
        for clip in svg.iter(f"{SVG}clipPath")
        for r in clip
    ]
    numbers = [c for c in svg.iter(f"{SVG}circle") if c.get("fill") == palette.PAPER]
    assert len(numbers) >= 4
    for number in numbers:
        y, r = float(number.get("cy")), float(number.get("r"))
        assert any(top <= y - r and y + r <= bottom for top, bottom in cuts)


def test_hostile_names_do_no_harm(tmp_path: Path) -> None:
    name = '<b>& wall "x"'
    looked = looked_at(tmp_path, WALL.replace("name: wall", f"name: '{name}'") + DOOR)
    assert name in words(drawn(looked))


def scene_of(looked: Looked) -> CompartmentScene:
    return compartment_scene(looked)


def test_a_plane_cuts_a_baffle_in_a_line_from_wall_to_wall(looked: Looked) -> None:
    cut = PartedCut(scene_of(looked), CutPlane(np.array([0, 0, -0.05]), np.eye(3)[2], np.eye(3)[0]))
    wall = next(b for b in cut.scene.sheets if b.panel.name == "wall")
    (line,) = cut.line_through(wall)
    np.testing.assert_allclose(sorted(line[:, 1]), [-0.1, 0.1], atol=1e-10)
    np.testing.assert_allclose(line[:, 0], 0.1, atol=1e-10)
    (way,) = (w for w in cut.scene.ways if w.name == "flap")
    np.testing.assert_allclose(sorted(cut.trace_of(way)[:, 1]), [0.01, 0.05], atol=1e-10)
    assert not cut.reaches(way)  # the cut is above the door
