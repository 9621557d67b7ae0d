# SPDX-License-Identifier: Apache-2.0
"""Baffles of a job as panels and doors, what they take up, and every way they can be unusable."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.load import load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.fill import fill
from sumpwright.studies.result import PanFill
from tests.geometry.test_cad import block, save
from tests.geometry.test_cad_face import front_of, plate
from tests.studies.baffled_job import DOOR, WALL, T, baffled, parted_job
from tests.studies.box_job import BOX, JOB, box_job, box_mesh

EXACT = 1e-9  # relative: polygons are rounded to 1e-11 m


def refusal(folder: Path) -> list[tuple[str, str, str]]:
    with pytest.raises(InputError) as caught:
        read_bodies(load_job(folder))
    return [(p.code, p.where, p.found) for p in caught.value.problems]


def filled(folder: Path) -> PanFill:
    loaded = load_job(folder)
    found = fill(loaded.job, read_bodies(loaded))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("how", "grams"),
    [
        ("", 7850 * 0.0016),
        (", material: aluminium", 2700 * 0.0016),
        (", material: stainless steel, thickness: 1 mm", 7900 * 0.0008),
        (", mass: 5 g", 5.0),
    ],
)
def test_a_door_weighs_what_its_material_or_its_mass_says(
    tmp_path: Path, how: str, grams: float
) -> None:
    text = WALL + DOOR.replace("opens: ahead", f"opens: ahead{how}")
    (door,) = parted_job(baffled(tmp_path, text))[0].doors
    assert door.mass * 1e3 == pytest.approx(grams, rel=EXACT)


@pytest.mark.parametrize(
    ("hinge", "middle", "reach"),
    [
        ("top", [0.03, -0.07], [0, 0, -1]),
        ("bottom", [0.03, -0.09], [0, 0, 1]),
        ("start", [0.01, -0.08], [0, 1, 0]),
        ("end", [0.05, -0.08], [0, -1, 0]),
        ("3", [0.01, -0.08], [0, 1, 0]),
    ],
)
def test_a_door_hangs_on_the_side_that_is_named(
    tmp_path: Path, hinge: str, middle: list[float], reach: list[float]
) -> None:
    text = WALL + DOOR.replace("hinge: top", f"hinge: {hinge}")
    (door,) = parted_job(baffled(tmp_path, text))[0].doors
    np.testing.assert_allclose(door.hinge, [0.1, *middle], atol=1e-12)
    np.testing.assert_allclose(door.reach, reach, atol=1e-12)


def test_a_spring_a_stop_and_a_gap_come_through(tmp_path: Path) -> None:
    more = ", stop: 55 deg, gap: 0 mm, spring: { preload: 2 mN m, rate: 1 mN m/rad }"
    text = WALL + DOOR.replace("opens: ahead", f"opens: ahead{more}")
    found, _ = parted_job(baffled(tmp_path, text))
    (door,) = found.doors
    assert door.stop == pytest.approx(np.radians(55), rel=1e-12)
    assert (door.preload, door.rate) == pytest.approx((2e-3, 1e-3), rel=1e-12)
    assert [p.kind for p in found.passages] == ["door"]  # no gap, no leak


def test_a_door_of_another_shape_counts_as_a_rectangle_and_is_said(tmp_path: Path) -> None:
    shape = """\
      openings:
        - name: flap
          outline: [[0 mm, -60 mm], [40 mm, -60 mm], [30 mm, -80 mm], [10 mm, -80 mm]]
          door: { hinge: 0, opens: ahead }
"""
    found, _ = parted_job(baffled(tmp_path, WALL + shape))
    (door,) = found.doors
    assert door.length == pytest.approx(0.02, rel=EXACT)
    assert door.width == pytest.approx(0.03, rel=EXACT)  # of the trapezium's area
    assert door.mass == pytest.approx(7850 * 0.03 * 0.02 * T, rel=EXACT)
    assert [f.code for f in found.findings if f.place == "door 'wall, flap'"] == ["GEO-422"]


def test_a_door_across_another_baffle_becomes_two(tmp_path: Path) -> None:
    end = """\
    - name: end
      at: [0 mm, 25 mm, 0 mm]
      normal: [0, 1, 0]
      outline: [[0 mm, -100 mm], [0 mm, 0 mm], [-100 mm, 0 mm], [-100 mm, -100 mm]]
      thickness: 2 mm
"""
    found, _ = parted_job(baffled(tmp_path, WALL + DOOR + end))
    assert len(found.doors) == 2
    # the hole spans y 10 to 50 mm, the other baffle's plane is at 25 mm
    assert sorted(d.width for d in found.doors) == pytest.approx([0.015, 0.025], rel=EXACT)
    assert sorted(d.hinge[1] for d in found.doors) == pytest.approx([0.0175, 0.0375], abs=1e-10)
    assert sum(d.mass for d in found.doors) == pytest.approx(7850 * 8e-4 * T, rel=EXACT)
    assert [p.door for p in found.passages if p.kind == "door"] == [0, 1]
    assert {f.code for f in found.findings if f.place == "door 'wall, flap'"} == {"GEO-423"}


def test_a_face_from_cad_is_a_baffle_and_its_holes_are_windows(tmp_path: Path) -> None:
    face = "    - { name: sheet, face: geometry/wall.step, thickness: 1.5 mm, gap: 0.5 mm }\n"
    folder = baffled(tmp_path, face)
    save(folder / "geometry" / "wall.step", front_of(plate()))
    found, bodies = parted_job(folder)
    # 120 x 80 mm of a face of 200 x 100: it parts the pan, and leaves 60 % of its own size open
    kinds = {p.name: p.kind for p in found.passages}
    assert kinds["sheet, hole 1"] == kinds["sheet, hole 2"] == "window"
    by_name = {p.name: p.opening.area for p in found.passages}
    assert by_name["sheet, hole 2"] == pytest.approx(3e-4, rel=EXACT)  # from right to left
    assert by_name["sheet, open"] == pytest.approx(0.2 * 0.1 - 0.12 * 0.08, rel=EXACT)
    assert bodies.findings == ()


def test_a_face_in_the_car_s_frame_is_moved_with_it(tmp_path: Path) -> None:
    how = "{ file: geometry/wall.step, frame: car }"
    face = f"    - {{ name: sheet, face: {how}, thickness: 1.5 mm }}\n"
    folder = baffled(tmp_path, face)
    text = (folder / "job.yaml").read_text() + (
        "pose: { x: 15 mm, y: 0 mm, height: 20 mm, yaw: 180 deg, pitch: 0 deg, roll: 0 deg }\n"
    )
    (folder / "job.yaml").write_text(text)
    save(folder / "geometry" / "wall.step", block(1.5, 120, 80, (-100, -60, -100)))
    (panel,) = parted_job(folder)[1].new.panels
    # car x -99.25 mm is 114.25 mm ahead of the engine's origin, whose x runs to the rear
    np.testing.assert_allclose(panel.point, [0.11425, 0, 0], atol=1e-9)
    np.testing.assert_allclose(panel.normal, [1, 0, 0], atol=1e-9)
    low, high = panel.space(panel.outline)[:, 2].min(), panel.space(panel.outline)[:, 2].max()
    assert (low, high) == pytest.approx((-0.12, -0.04), abs=1e-9)


def test_a_sheet_of_another_thickness_than_the_job_s_is_said(tmp_path: Path) -> None:
    folder = baffled(tmp_path, "    - { name: sheet, face: geometry/wall.step, thickness: 1 mm }\n")
    save(folder / "geometry" / "wall.step", plate(1.5))
    (finding,) = parted_job(folder)[1].findings
    assert finding.code == "GEO-405"
    assert finding.found.startswith("a solid 1.5 mm thick; the job's 1.0 mm counts")
    # and said again when it comes from the cache
    assert parted_job(folder)[1].findings == (finding,)


def test_every_baffle_that_cannot_be_used_is_named_at_once(tmp_path: Path) -> None:
    crossed = WALL.replace("name: wall", "name: crossed") + (
        "      outline: [[0 mm, 0 mm], [50 mm, -50 mm], [50 mm, 0 mm], [0 mm, -50 mm]]\n"
    )
    face = "    - { name: solid, face: geometry/solid.step, thickness: 1 mm }\n"
    folder = baffled(tmp_path, crossed + face)
    save(folder / "geometry" / "solid.step", block(100, 80, 40))
    found = refusal(folder)
    assert [code for code, _, _ in found] == ["GEO-406", "GEO-403"]
    assert found[0][1] == "job.yaml:5  new.baffles.0"
    assert found[0][2].startswith("panel 'crossed': its outline crosses itself")
    assert found[1][1].endswith("new.baffles.1 -> geometry/solid.step")


def test_a_window_that_leaves_its_baffle_is_refused(tmp_path: Path) -> None:
    out = WALL + DOOR + "      top: -75 mm\n"
    ((code, _, said),) = refusal(baffled(tmp_path, out))
    assert code == "GEO-406"
    assert "it reaches out of the panel's outline" in said


def test_what_stands_in_the_pan_is_taken_off_every_level(tmp_path: Path) -> None:
    lump = box_mesh((0.2, -0.05, -0.1), (0.25, 0.05, -0.06))
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    found = filled(baffled(tmp_path, WALL + DOOR, more, lump=lump))
    hole = T * 0.04 * 0.02
    taken = T * 0.2 * 0.1 - hole + 0.05 * 0.1 * 0.04
    assert found.cavity_m3 == pytest.approx(6e-3 - taken, rel=EXACT)
    assert found.usable_m3 == pytest.approx(6e-3 - taken, rel=EXACT)
    # below the surface: the lump, and the wall up to it
    depth = (3e-3 + 2e-4 - hole) / (0.298 * 0.2)
    assert found.full_depth_m == pytest.approx(depth, rel=EXACT)


def test_a_full_pan_is_refused_where_what_stands_in_it_leaves_too_little(tmp_path: Path) -> None:
    lump = box_mesh((0.05, -0.08, -0.1), (0.25, 0.08, -0.0))  # 3.2 of 6 L
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    text = JOB.replace("oil:\n", more + "oil:\n")
    with pytest.raises(InputError) as caught:
        filled(box_job(tmp_path, text, lump=lump))
    (problem,) = caught.value.problems
    assert problem.code == "JOB-150"
    assert "holds up to its rail: 2.80 L" in problem.needed


def test_a_displacing_body_that_stands_outside_is_said(tmp_path: Path) -> None:
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    lump = box_mesh((0.4, 0.0, -0.1), (0.5, 0.1, -0.05))
    bodies = read_bodies(load_job(box_job(tmp_path, JOB.replace("oil:\n", more + "oil:\n"),
                                          lump=lump)))  # fmt: skip
    (finding,) = bodies.findings
    assert (finding.code, finding.place) == ("GEO-407", "geometry/lump.stl: lump")
    assert bodies.new.holds == pytest.approx(6e-3, rel=EXACT)


def test_an_open_displacing_body_is_refused_by_its_key(tmp_path: Path) -> None:
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    whole = box_mesh(*BOX)
    folder = box_job(tmp_path, JOB.replace("oil:\n", more + "oil:\n"),
                     lump=Mesh(whole.vertices, whole.faces[1:]))  # fmt: skip
    ((code, where, _),) = refusal(folder)
    assert code == "GEO-301"
    assert where.startswith("job.yaml:5  new.displacing.0 -> geometry/lump.stl")


def test_the_stock_pan_s_baffles_take_up_room_too(tmp_path: Path) -> None:
    stock = "stock:\n  cavity: {file: geometry/cavity.stl, unit: mm}\n  baffles:\n" + WALL
    bodies = read_bodies(load_job(box_job(tmp_path, JOB.replace("oil:\n", stock + "oil:\n"))))
    assert bodies.stock is not None
    assert bodies.stock.holds == pytest.approx(6e-3 - T * 0.2 * 0.1, rel=EXACT)
    assert bodies.new.holds == pytest.approx(6e-3, rel=EXACT)
