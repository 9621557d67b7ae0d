# SPDX-License-Identifier: Apache-2.0
"""A pan from numbers: read as a file is, judged as a file is, hashed with its rail."""

import json
import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.cad_measure import volume
from sumpwright.geometry.cad_write import step_bytes
from sumpwright.job.load import load_job
from sumpwright.job.revision import input_hash, part_hash
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.check import check
from sumpwright.studies.shape import shape_of
from sumpwright.studies.shape_body import drawn_solids
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.box_job import box_mesh, write_stl
from tests.studies.motion_job import ENGINE
from tests.studies.shape_job import shape_job

INSIDE = f"""\
  pickup: {{ centre: [150 mm, 0 mm, -80 mm], diameter: 40 mm }}
  baffles:
{WALL}{DOOR}"""
OIL = """\
{ fill: 4 L, cold: 20 degC, hot: 100 degC, viscosity:
  [{ at: 40 degC, value: 96 mm^2/s }, { at: 100 degC, value: 14 mm^2/s }] }"""
CAR = """\
manoeuvres:
  - { name: left, kind: circle, radius: 30 m, accel: 0.5 g, duration: 2 s, rpm: 3000 rpm }
pose: { height: 240 mm }
obstacles: [{ name: beam, file: geometry/beam.stl, unit: mm, guard: true }]
"""
EXAMPLES = Path(__file__).parents[2] / "examples"


def test_litres_and_mass_are_those_of_the_formulas(tmp_path: Path) -> None:
    result = shape_of(shape_job(tmp_path))
    r = 0.01
    plan, around = 0.3 * 0.2 - (4 - math.pi) * r**2, 1.0 - (8 - 2 * math.pi) * r
    tub = plan * 0.1 - around * r**2 * (1 - math.pi / 4) + math.pi * r**3 * (5 / 3 - math.pi / 2)
    assert result.holds_m3 == pytest.approx(tub, rel=1e-9)
    assert result.mass_kg == pytest.approx(2700.0 * result.metal_m3, rel=1e-12)  # 6061
    assert result.metal_m3 == pytest.approx(result.outside_m3 - result.holds_m3, rel=1e-6)


def test_other_studies_read_it_as_they_read_a_file(tmp_path: Path) -> None:
    bodies = read_bodies(load_job(shape_job(tmp_path, boss=True)))
    solids = drawn_solids(load_job(tmp_path), "new")
    assert bodies.new.cavity.volume == pytest.approx(volume(solids.cavity), rel=1e-4)  # chords
    assert bodies.new.outside is not None
    assert bodies.new.outside.bounds[0, 2] == pytest.approx(-0.113, abs=1e-9)


def test_the_second_reading_comes_from_the_cache(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = read_bodies(load_job(shape_job(tmp_path))).new

    def never(*_: object) -> None:
        raise AssertionError("drawn again")

    monkeypatch.setattr("sumpwright.geometry.cad_pan.pan_solids", never)
    again = read_bodies(load_job(tmp_path)).new
    np.testing.assert_array_equal(again.cavity.vertices, first.cavity.vertices)
    shape_job(tmp_path, ("depth: 100 mm", "depth: 101 mm"))
    with pytest.raises(AssertionError, match="drawn again"):
        read_bodies(load_job(tmp_path))


def test_check_says_the_same_of_numbers_and_of_files(tmp_path: Path) -> None:
    drawn, filed = tmp_path / "drawn", tmp_path / "filed"
    for folder in (drawn, filed):
        text = (shape_job(folder, boss=True) / "job.yaml").read_text(encoding="utf-8")
        text = text.replace("rail:\n", f"{INSIDE}rail:\n").replace("{ fill: 3 L }", OIL)
        (folder / "job.yaml").write_text(text + ENGINE + CAR, encoding="utf-8")
        beam = box_mesh((0.1, -0.2, 0.05), (0.2, 0.2, 0.12))
        write_stl(folder / "geometry" / "beam.stl", beam)
    solids = drawn_solids(load_job(drawn), "new")
    for name in ("cavity", "outside"):
        data = step_bytes([getattr(solids, name)], name)
        (filed / "geometry" / f"{name}.step").write_bytes(data)
    numbers = text[text.index("  shape:") : text.index("  pickup:")]
    files = "  cavity: geometry/cavity.step\n  outside: geometry/outside.step\n"
    (filed / "job.yaml").write_text((text + ENGINE + CAR).replace(numbers, files), encoding="utf-8")
    one, two = check(drawn), check(filed)
    assert one.verdict == two.verdict
    states = [[(r.id, r.state) for r in result.requirements] for result in (one, two)]
    assert states[0] == states[1]
    judged = {key.partition(".")[0] for key, state in states[0] if state != "not judged"}
    assert judged >= {"capacity", "clearance", "guard", "ground", "floor_gap", "slope_side",
                      "target_left", "target_brake", "dry_spell"}  # fmt: skip
    for mine, other in zip(one.requirements, two.requirements, strict=True):
        if isinstance(other.value, float):
            # the same solids, cut into triangles twice
            assert mine.value == pytest.approx(other.value, rel=1e-6, abs=1e-9), mine.id
    pans = [read_bodies(load_job(folder)).new for folder in (drawn, filed)]
    assert pans[0].cavity.volume == pytest.approx(pans[1].cavity.volume, rel=1e-9)
    assert pans[0].outside is not None
    assert pans[1].outside is not None
    assert pans[0].outside.area == pytest.approx(pans[1].outside.area, rel=1e-9)


def test_the_part_is_another_when_its_flange_is(tmp_path: Path) -> None:
    before = load_job(shape_job(tmp_path))
    hashes = part_hash(before), input_hash(before)
    moved = load_job(shape_job(tmp_path, ("at: [-10 mm, 0 mm]", "at: [-10 mm, 1 mm]")))
    assert part_hash(moved) != hashes[0]
    assert input_hash(moved) != hashes[1]
    more = "  hot: 130 degC\n  holes:"
    warmer = load_job(shape_job(tmp_path, ("  holes:", more)))
    assert part_hash(warmer) == hashes[0]


def test_refuses_a_boss_where_the_pickup_is(tmp_path: Path) -> None:
    pickup = "new:\n  pickup: { centre: [150 mm, 0 mm, -102 mm], diameter: 30 mm }\n"
    raised = ("height: 14 mm", "height: 30 mm")
    job = shape_job(tmp_path, ("new:\n", pickup), raised, boss=True)
    with pytest.raises(InputError, match=r"new.shape.bosses.0  \[SHAP-511\]"):
        read_bodies(load_job(job))


@pytest.mark.parametrize(
    ("change", "where"),
    [
        (("at: [-10 mm, 0 mm]", "at: [-19 mm, 0 mm]"), r"rail.holes.0  \[SHAP-508\]"),
        (("at: [150 mm, 0 mm, -113 mm]", "at: [150 mm, 0 mm, -213 mm]"),
         r"new.shape.bosses.0  \[SHAP-509\]"),
    ],
)  # fmt: skip
def test_what_the_kernel_finds_stands_at_its_key(
    tmp_path: Path, change: tuple[str, str], where: str
) -> None:
    with pytest.raises(InputError, match=where):
        shape_of(shape_job(tmp_path, change, boss=True))


def test_says_what_to_mind(tmp_path: Path) -> None:
    cutters = (
        "shop:\n  cutters: [{ name: slot, diameter: 25 mm, corner: 11 mm, reach: 50 mm }]\noil:"
    )
    tight = ("at: [-10 mm, 0 mm]", "at: [-14 mm, 0 mm]")
    result = shape_of(shape_job(tmp_path, ("oil:", cutters), tight))
    codes = [f.code for f in result.findings]
    assert codes == ["SHAP-522", "SHAP-522", "SHAP-524", "SHAP-526"]
    assert "corners of 10.0 mm, and no cutter smaller than 25.0 mm" in result.findings[0].found


@pytest.mark.parametrize(("wall", "places"), [("1.9 mm", ["wall", "floor"]), ("2 mm", [])])
def test_minds_a_wall_too_thin_to_mill_or_weld(
    tmp_path: Path, wall: str, places: list[str]
) -> None:
    result = shape_of(shape_job(tmp_path, ("wall: 3 mm", f"wall: {wall}")))  # common practice
    assert [f.place for f in result.findings if f.code == "SHAP-525"] == places


def test_minds_a_kick_out_close_under_the_bolts(tmp_path: Path) -> None:
    roofed = (
        "depth: 100 mm }",
        "depth: 100 mm }\n      - { name: left, box: [50 mm, 250 mm, 50 mm, 160 mm], "
        "depth: 90 mm, top: 20 mm, radius: 8 mm, floor_radius: 8 mm }",
    )
    bolt = ("- { name: 1, at: [-10 mm, 0 mm] }", "- { name: 4, at: [150 mm, 112 mm] }")
    result = shape_of(shape_job(tmp_path, roofed, bolt))
    (finding,) = [f for f in result.findings if f.code != "SHAP-526"]
    assert finding.code == "SHAP-521"
    assert finding.found.endswith("at bolt holes 4")


def bolts(count: int) -> str:
    spots = ("[-10 mm, 0 mm]", "[310 mm, 0 mm]", "[150 mm, 110 mm]", "[150 mm, -110 mm]")
    return "".join(f"    - {{ name: {k}, at: {spots[k]} }}\n" for k in range(count))


HOLES = "  holes:\n    - { name: 1, at: [-10 mm, 0 mm] }\n"
OPENING = (
    "  opening: [{at: [0 mm, -100 mm]}, {at: [%s, -100 mm]}, {at: [%s, 100 mm]}, "
    "{at: [0 mm, 100 mm]}]\n  opening_radius: 10 mm\n"
)


@pytest.mark.parametrize(
    ("rail", "codes", "words"),
    [
        (HOLES, ["SHAP-526"], "One bolt holds no pan's flange flat"),
        ("  holes:\n" + bolts(3), ["SHAP-526"], "3 bolts hold no pan's flange flat"),
        ("  holes:\n" + bolts(4) + OPENING.replace("%s", "300 mm"), [], ""),
        ("  holes:\n" + bolts(4) + OPENING.replace("%s", "295 mm"), ["SHAP-527"],
         "open to the rail 5.0 mm beyond the block's opening, at x 300.0 mm"),
        ("  holes:\n" + bolts(4) + OPENING.replace("%s", "12 mm"), ["SHAP-527"],
         "it cannot be drawn: the roundings at corners 1 and 2 need 20 mm of a side of 12 mm"),
    ],
)  # fmt: skip
def test_minds_few_bolts_and_a_pan_wider_than_the_block(
    tmp_path: Path, rail: str, codes: list[str], words: str
) -> None:
    result = shape_of(shape_job(tmp_path, (HOLES, rail)))
    assert [f.code for f in result.findings] == codes
    assert all(f.found.startswith(words) for f in result.findings)


def test_minds_a_flange_thinner_than_half_its_bolts(tmp_path: Path) -> None:
    thin = ("    corner_radius", "    flange: { thickness: 2.9 mm }\n    corner_radius")
    result = shape_of(shape_job(tmp_path, thin))  # common practice
    assert ("SHAP-525", "flange") in [(f.code, f.place) for f in result.findings]


def test_a_place_is_said_in_the_job_s_units(tmp_path: Path) -> None:
    us = ("job: drawn", "job: drawn\nunits: us")
    off = ("at: [150 mm, 0 mm, -113 mm]", "at: [6 in, 0 in, -10 in]")
    with pytest.raises(InputError, match=r"inner face is at x 6 in, y 0 in, z -9\.4488 in"):
        shape_of(shape_job(tmp_path, us, off, boss=True))  # 14 mm within its outer face


def test_refuses_a_job_whose_pan_is_a_file() -> None:
    with pytest.raises(InputError, match=r"\[SHAP-515\]"):
        shape_of(EXAMPLES / "demo-b")


def test_the_json_has_no_solids(tmp_path: Path) -> None:
    said = json.loads(json.dumps(shape_of(shape_job(tmp_path, boss=True)).as_json()))
    assert "solids" not in said
    assert said["bosses"][0]["thread"] == "M14x1.5"
    assert said["zones"][0]["deepest_m"] == pytest.approx(0.1)
