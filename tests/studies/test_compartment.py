# SPDX-License-Identifier: Apache-2.0
"""Box pans parted by baffles of a job: volumes, ways and doors worked by hand."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.panel import Panel
from sumpwright.job.load import load_job
from sumpwright.oil.opening import SHARP
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import Parted, compartments_of, parted
from sumpwright.studies.compartment_entry import compartments_entry, entry_compartments
from tests.studies.baffled_job import DOOR, PICKUP, WALL, T, baffled, parted_job
from tests.studies.box_job import box_job, box_mesh

L, W, H = 0.3, 0.2, 0.1  # the box: x 0 to 300, y -100 to 100, z -100 to 0 mm
EXACT = 1e-9  # relative: polygons are rounded to 1e-11 m


def test_a_pan_without_baffles_is_one_compartment_with_the_pickup(tmp_path: Path) -> None:
    result = compartments_of(box_job(tmp_path, baffled(tmp_path, WALL, PICKUP).joinpath(
        "job.yaml").read_text().replace("  baffles:\n" + WALL, "")))  # fmt: skip
    (only,) = result.compartments
    assert (only.name, only.has_pickup, only.ways) == ("A", True, ())
    assert only.volume_m3 == pytest.approx(6e-3, rel=EXACT)
    assert only.at_rest_m3 == pytest.approx(3e-3, rel=EXACT)
    assert result.findings == ()


def test_a_wall_with_a_door_parts_the_pan_as_worked_by_hand(tmp_path: Path) -> None:
    result = compartments_of(baffled(tmp_path, WALL + DOOR, PICKUP))
    rear, front = result.compartments
    give = 0.5 * T * 0.04 * 0.02  # half of the hole's metal on either side
    assert rear.volume_m3 == pytest.approx((0.1 - T / 2) * W * H + give, rel=EXACT)
    assert front.volume_m3 == pytest.approx((0.2 - T / 2) * W * H + give, rel=EXACT)
    assert result.panel_m3 == pytest.approx(T * (W * H - 0.04 * 0.02), rel=EXACT)
    assert (rear.has_pickup, front.has_pickup) == (False, True)
    assert [(w.to, w.kind, w.passes, w.opening) for w in rear.ways] == [
        ("B", "door", "out", "flap"),
        ("B", "leak", "both ways", "flap"),
    ]
    assert [(w.to, w.kind, w.passes) for w in front.ways] == [
        ("A", "door", "in"),
        ("A", "leak", "both ways"),
    ]
    assert front.ways[0].area_m2 == pytest.approx(8e-4, rel=EXACT)
    # 0.3 mm round 40 x 20 mm
    assert front.ways[1].area_m2 == pytest.approx(3e-4 * 0.12, rel=EXACT)


def test_at_rest_the_compartments_share_the_fill_at_one_level(tmp_path: Path) -> None:
    rear, front = compartments_of(baffled(tmp_path, WALL + DOOR)).compartments
    assert rear.at_rest_m3 is not None
    assert front.at_rest_m3 is not None
    assert rear.at_rest_m3 + front.at_rest_m3 == pytest.approx(3e-3, rel=EXACT)
    # over the floor on which the hole stands the walls are upright: areas of either side
    hole = T * 0.04 * 0.02
    depth = (3e-3 - hole) / ((L - T) * W)
    assert rear.at_rest_m3 == pytest.approx((0.1 - T / 2) * W * depth + hole / 2, rel=EXACT)


def test_a_door_hangs_and_weighs_as_given(tmp_path: Path) -> None:
    found, _ = parted_job(baffled(tmp_path, WALL + DOOR, PICKUP))
    (door,) = found.doors
    assert found.door_names == ("wall, flap",)
    # along is y: the hole's middle is 30 mm to the left, its upper side 70 mm under the rail
    np.testing.assert_allclose(door.hinge, [0.1, 0.03, -0.07], atol=1e-12)
    np.testing.assert_allclose(door.reach, [0, 0, -1], atol=1e-12)
    np.testing.assert_allclose(door.swing, [1, 0, 0], atol=1e-12)
    assert (door.width, door.length) == pytest.approx((0.04, 0.02), rel=EXACT)
    assert door.mass == pytest.approx(7850 * 0.04 * 0.02 * T, rel=EXACT)  # steel
    assert door.stop == pytest.approx(np.radians(70), rel=1e-12)
    through, leak = found.passages
    assert (through.behind, through.ahead, through.door, through.kind) == (0, 1, 0, "door")
    assert (leak.behind, leak.ahead, leak.door, leak.kind) == (0, 1, -1, "leak")
    np.testing.assert_allclose(through.spot, [0.1, 0.03, -0.08], atol=1e-11)
    assert found.pickup == 1


def test_a_door_that_opens_behind_goes_the_other_way(tmp_path: Path) -> None:
    found, _ = parted_job(baffled(tmp_path, WALL + DOOR.replace("ahead", "behind"), PICKUP))
    assert [(p.behind, p.ahead) for p in found.passages] == [(1, 0), (1, 0)]
    np.testing.assert_allclose(found.doors[0].swing, [-1, 0, 0], atol=1e-12)
    (wrong, cut) = (f for f in found.findings)
    assert (wrong.code, cut.code) == ("GEO-419", "GEO-418")
    assert "lets oil from B to A, away from the pickup" in wrong.found
    assert cut.place == "compartment A"


def test_a_gap_is_a_slit_as_long_as_the_edge_along_the_wall(tmp_path: Path) -> None:
    found, _ = parted_job(baffled(tmp_path, f"{WALL}      gap: 0.5 mm\n"))
    (gap,) = found.passages
    assert (gap.kind, gap.door, gap.discharge) == ("gap", -1, SHARP)
    assert gap.opening.area == pytest.approx(5e-4 * 2 * (W + H), rel=EXACT)
    # hydraulic diameter of a long slit: twice its height
    assert gap.opening.traits[0] == pytest.approx(1e-3, rel=1e-12)


def test_a_top_leaves_a_weir_and_a_bottom_a_way_under(tmp_path: Path) -> None:
    weir, _ = parted_job(baffled(tmp_path / "weir", f"{WALL}      top: -40 mm\n"))
    (over,) = weir.passages
    assert (over.kind, over.opening.area) == ("open", pytest.approx(0.04 * W, rel=EXACT))
    hung, _ = parted_job(baffled(tmp_path / "hung", f"{WALL}      bottom: -75 mm\n"))
    (under,) = hung.passages
    np.testing.assert_allclose(under.spot, [0.1, 0.0, -0.0875], atol=1e-11)
    assert under.opening.area == pytest.approx(0.025 * W, rel=EXACT)


def test_heights_are_over_the_rail_on_a_leaning_baffle_too(tmp_path: Path) -> None:
    leaning = WALL.replace("[1, 0, 0]", "[1, 0, 1]").replace("0 mm, 0 mm]", "0 mm, -30 mm]")
    found, _ = parted_job(baffled(tmp_path, f"{leaning}      top: -40 mm\n"))
    (over,) = found.passages
    low = over.opening.corners[..., 2].min()
    assert low == pytest.approx(-0.04, abs=1e-11)
    assert over.opening.area == pytest.approx(0.04 * np.sqrt(2) * W, rel=1e-9)


def test_without_baffles_only_what_displaces_is_left(tmp_path: Path) -> None:
    lump = box_mesh((0.05, -0.02, -0.1), (0.06, 0.02, -0.05))
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    folder = baffled(tmp_path, WALL + DOOR, PICKUP + more, lump=lump)
    loaded = load_job(folder)
    bodies = read_bodies(loaded)
    bare = parted(loaded.job, bodies, baffles=False)
    assert (bare.passages, bare.doors, bare.findings, bare.panels) == ((), (), (), ())
    assert bare.parts.volumes == pytest.approx([6e-3 - 2e-5], rel=EXACT)
    assert bare.pickup == 0
    full = parted(loaded.job, bodies)
    assert full.parts.solid_volume == pytest.approx(2e-5, rel=EXACT)
    assert full.parts.volumes.sum() == pytest.approx(bodies.new.room.volume, rel=EXACT)


def test_a_pickup_whose_mouth_is_stopped_up_is_refused(tmp_path: Path) -> None:
    lump = box_mesh((0.17, -0.03, -0.09), (0.23, 0.03, -0.07))
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    folder = baffled(tmp_path, WALL + DOOR, PICKUP + more, lump=lump)
    with pytest.raises(InputError) as caught:
        compartments_of(folder)
    (problem,) = caught.value.problems
    assert problem.code == "GEO-421"
    assert problem.where.startswith("job.yaml:4  new.pickup")


def test_a_housing_that_ends_at_the_mouth_does_not_stop_it_up(tmp_path: Path) -> None:
    lump = box_mesh((0.17, -0.03, -0.08), (0.23, 0.03, -0.05))  # its face is the rim's plane
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    found, _ = parted_job(baffled(tmp_path, WALL + DOOR, PICKUP + more, lump=lump))
    assert found.pickup == 1


def test_a_mouth_across_a_baffle_is_said(tmp_path: Path) -> None:
    near = PICKUP.replace("200 mm, 0", "110 mm, 0")
    found, _ = parted_job(baffled(tmp_path, WALL + DOOR, near))
    assert [f.found for f in found.findings if f.code == "GEO-424"] == [
        "its mouth reaches from compartment B into A; all oil is drawn from B"
    ]


def test_a_window_over_the_oil_is_said_but_not_a_tray_s_slots(tmp_path: Path) -> None:
    high = DOOR.replace("-80 mm]", "-20 mm]").split("          door")[0]
    tray = """\
    - name: tray
      at: [0 mm, 0 mm, -10 mm]
      normal: [0, 0, 1]
      thickness: 1 mm
      openings:
        - { name: slot, centre: [50 mm, 0 mm], width: 20 mm, height: 20 mm }
        - { name: other, centre: [200 mm, 0 mm], width: 20 mm, height: 20 mm }
"""
    found, _ = parted_job(baffled(tmp_path, WALL + high + tray))
    (dry,) = (f for f in found.findings if f.code == "GEO-420")
    # 3 L cold is hot too: 50 mm and a hair for the wall; the window starts at 70 mm
    assert dry.place == "baffle 'wall'"
    assert dry.found.startswith("'flap' starts 19.7 mm above the oil at rest, hot")


def test_what_parts_nothing_and_leads_nowhere_is_said(tmp_path: Path) -> None:
    rib = WALL + "      bottom: -20 mm\n"
    found, _ = parted_job(baffled(tmp_path, rib))
    assert [f.code for f in found.findings] == ["GEO-412"]
    closed, _ = parted_job(baffled(tmp_path / "closed", WALL))
    assert [f.code for f in closed.findings] == ["GEO-417", "GEO-417"]


def test_a_mirrored_job_gives_the_mirrored_answer(tmp_path: Path) -> None:
    def job(hand: int) -> str:
        return f"""\
    - name: fore and aft
      at: [150 mm, {hand * 20} mm, -100 mm]
      normal: [0, {hand}, 0]
      outline: [[-200 mm, -10 mm], [200 mm, -10 mm], [200 mm, 70 mm], [-200 mm, 60 mm]]
      thickness: 2 mm
      gap: 0.4 mm
      openings:
        - name: flap
          outline: [[{-30 * hand} mm, 5 mm], [{10 * hand} mm, 5 mm], [{10 * hand} mm, 30 mm]]
          door: {{ hinge: 1, opens: ahead }}
"""

    # along of a wall is against x for +y and with it for -y; drawn so that x is the same for both
    text = job(1).replace("70 mm], [-200 mm, 60", "60 mm], [-200 mm, 70")
    one, _ = parted_job(baffled(tmp_path / "left", text))
    other, _ = parted_job(baffled(tmp_path / "right", job(-1)))
    flip = np.array([1.0, -1.0, 1.0])
    # right to left turns round: A of one is B of the other
    np.testing.assert_allclose(one.parts.volumes, other.parts.volumes[::-1], rtol=EXACT)
    for a, b in zip(one.passages, other.passages, strict=True):
        assert (a.name, a.kind) == (b.name, b.kind)
        assert (a.behind, a.ahead) == (1 - b.behind, 1 - b.ahead)
        assert a.opening.area == pytest.approx(b.opening.area, rel=EXACT)
        np.testing.assert_allclose(a.spot, b.spot * flip, atol=1e-10)
    (p,), (q,) = one.doors, other.doors
    for name in ("hinge", "reach", "swing"):
        np.testing.assert_allclose(getattr(p, name), getattr(q, name) * flip, atol=1e-12)
    assert (p.width, p.length, p.mass) == pytest.approx((q.width, q.length, q.mass), rel=1e-12)


def test_the_cache_gives_back_the_same_digits(tmp_path: Path) -> None:
    found, _ = parted_job(baffled(tmp_path, f"{WALL}      gap: 0.5 mm\n{DOOR}", PICKUP))
    again = entry_compartments(compartments_entry(found.parts))
    check_same(found, again.links, found.parts.links)
    assert (again.names, again.hints, again.notes) == (
        found.parts.names,
        found.parts.hints,
        found.parts.notes,
    )
    for a, b in zip(again.bodies, found.parts.bodies, strict=True):
        np.testing.assert_array_equal(a.vertices, b.vertices)
        np.testing.assert_array_equal(a.faces, b.faces)


def check_same(found: Parted, again: tuple[object, ...], links: tuple[object, ...]) -> None:
    assert len(again) == len(links) == 2
    for a, b in zip(again, links, strict=True):
        for name, value in vars(b).items():
            np.testing.assert_array_equal(getattr(a, name), value, err_msg=name)


def test_a_second_look_comes_from_the_cache(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = baffled(tmp_path, WALL + DOOR, PICKUP)
    first = compartments_of(folder)

    def never(*_: object, **__: object) -> Panel:
        raise AssertionError("parted again")

    monkeypatch.setattr("sumpwright.studies.compartment.compartments", never)
    assert compartments_of(folder) == first
