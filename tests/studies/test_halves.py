# SPDX-License-Identifier: Apache-2.0
"""A rounded box parted: volumes, lengths and fits by [closed-form]; and what is refused."""

import math
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.solid import less, mesh_of, solid_of
from sumpwright.metal.material import material
from sumpwright.metal.reach import COARSE, Tool
from sumpwright.studies.halves import Halved, halved_of, halves_of
from sumpwright.studies.halves_reach import missed_of, views_of
from sumpwright.studies.halves_result import FromStock, stock_words
from tests.geometry.bodies import box
from tests.studies.halves_job import DEPTH, FLANGE, JOB, OUT, WALL, around, halves_job
from tests.studies.shape_job import shape_job

HEIGHT = 0.045
DENSITY = material("aluminium 6061-T6").density


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Halved:
    """Without lip and groove."""
    split = "{height: -45 mm, groove_depth: 0 mm}"
    return halved_of(halves_job(tmp_path_factory.mktemp("plain") / "job", split))


@pytest.fixture(scope="module")
def joined(tmp_path_factory: pytest.TempPathFactory) -> Halved:
    """With both."""
    split = (
        "{height: -45 mm, lip: {height: 3 mm, thickness: 1.2 mm, clearance: 0.2 mm}, "
        "root_face: 0.6 mm, groove_angle: 90 deg}"
    )
    return halved_of(halves_job(tmp_path_factory.mktemp("joined") / "job", split))


def test_the_halves_add_up_to_the_body(plain: Halved) -> None:
    result = plain.result
    both = result.upper.volume_m3 + result.lower.volume_m3
    assert both == pytest.approx(result.body_m3, rel=1e-9)
    wall = around(0.5 * WALL) * WALL
    flange = around(0.5 * (WALL + OUT)) * (OUT - WALL) * FLANGE
    assert result.upper.volume_m3 == pytest.approx(wall * HEIGHT + flange, rel=1e-9)
    assert result.upper.mass_kg == pytest.approx(DENSITY * result.upper.volume_m3, rel=1e-12)


def test_the_weld_is_as_long_as_the_outline(plain: Halved) -> None:
    joint = plain.result.joint
    assert joint.exact
    assert joint.weld_m == pytest.approx(around(WALL), rel=1e-9)
    # chords lie inside the corners by up to 0.05 mm
    assert joint.wall_least_m == pytest.approx(WALL, abs=6e-5)


def test_the_joint_takes_what_the_wall_leaves(joined: Halved) -> None:
    joint = joined.result.joint
    assert joint.modelled
    # wall less lip, its clearance and the root face
    assert joint.groove_depth_m == pytest.approx(WALL - 1.2e-3 - 0.2e-3 - 0.6e-3, abs=6e-5)
    assert joint.root_face_m == pytest.approx(0.6e-3, abs=1e-9)
    assert joint.section_m2 == pytest.approx(joint.groove_depth_m**2, rel=1e-9)  # 90 deg


def test_lip_rebate_and_groove_are_in_the_masses(joined: Halved) -> None:
    result, depth = joined.result, joined.result.joint.groove_depth_m

    def band(t: float, h: float) -> float:
        return h * t * around(0.5 * t)

    groove = 0.5 * depth**2 * (around(WALL) - 2.0 * math.pi * depth / 3.0)
    change = band(1.2e-3, 3e-3) - band(1.4e-3, 3.2e-3) - 2.0 * groove
    both = result.upper.volume_m3 + result.lower.volume_m3
    assert both - result.body_m3 == pytest.approx(change, rel=1e-6)


def test_every_half_has_its_block_and_its_chips(plain: Halved) -> None:
    upper, lower = plain.result.upper, plain.result.lower
    # 45 mm, 0.5 mm of skim and 2 mm each side; 59 mm and 2 mm each side: 63, over the flat one
    assert (upper.stock.block, lower.stock.block) == ("flat", "tall")
    assert upper.stock.blank_m[2] == pytest.approx(HEIGHT + 0.0005 + 0.004, abs=1e-7)
    assert lower.stock.blank_m[2] == pytest.approx(DEPTH + WALL - HEIGHT + 0.004, abs=1e-7)
    assert upper.stock.mass_in_kg == pytest.approx(DENSITY * 0.4 * 0.3 * 0.06, rel=1e-12)
    assert upper.chips_kg == pytest.approx(upper.stock.mass_in_kg - upper.mass_kg, rel=1e-12)
    assert upper.milling_s == pytest.approx(upper.chips_kg / DENSITY / 1e-6, rel=1e-12)
    assert upper.cost == pytest.approx(80.0 + upper.milling_s / 3600.0 * 50.0, rel=1e-12)


def test_a_block_is_said_in_the_job_s_units() -> None:
    blank, bought = (0.424, 0.3175, 0.12), (0.425, 0.32, 0.125)
    there = FromStock(blank, "plate 55", (0.46, 0.34, 0.055), True, None, 23.0, None)
    none = FromStock(blank, None, None, False, bought, 46.0, None)
    assert stock_words(there) == "plate 55 (460 x 340 x 55 mm, shared by both halves)"
    assert stock_words(there, "us").startswith("plate 55 (18.11 x 13.386 x 2.165 in, shared")
    assert stock_words(none) == "a block to be bought, at least 425 x 320 x 125 mm"
    # 16.73, 12.60 and 4.92 in: up to a tenth of an inch
    assert stock_words(none, "us") == "a block to be bought, at least 16.8 x 12.6 x 5 in"


def test_a_box_that_a_mill_can_make_lacks_nothing(plain: Halved) -> None:
    result = plain.result
    assert (result.verdict, result.lacks) == ("met", ())
    assert result.upper.machine.fits
    assert result.joint.cone > result.joint.cone_needed


def test_the_oil_over_the_weld_is_the_fill_s_level(plain: Halved) -> None:
    # 3 L in the rounded rectangle
    area = 0.30 * 0.20 - (4.0 - math.pi) * 0.02**2
    level = 3e-3 / area - DEPTH
    # the cavity's triangles lie inside its corners: 0.05 mm of their arcs
    assert plain.result.joint.oil_over_m == pytest.approx(level + HEIGHT, abs=5e-5)
    assert plain.result.joint.wet == (1.0 if level > -HEIGHT else 0.0)


def test_both_halves_stand_in_the_parts_list(joined: Halved) -> None:
    upper, lower, welding = joined.result.parts()
    assert (upper.key, lower.key) == ("upper-half", "lower-half")
    assert lower.mass == joined.result.lower.mass_kg
    assert lower.files == ("lower-half.step",)
    assert lower.stock == "tall (400 x 300 x 80 mm)"
    assert lower.how == "machined"
    assert (welding.how, welding.cost) == ("welded", joined.result.joint.welding_cost)


def test_proposes_a_height_that_is_the_best_of_those_it_looked_at(tmp_path: Path) -> None:
    result = halves_of(halves_job(tmp_path / "job", "{skim: 0.5 mm}"))
    assert result.proposed
    (best,) = [c for c in result.candidates if c.chosen]
    assert best.height_m == result.height_m
    assert best.ring
    assert best.missed_m2 <= min(c.missed_m2 for c in result.candidates if c.ring) + 3e-4
    assert best.bought == min(c.bought for c in result.candidates)
    assert "heights give two halves" in result.why
    low, high = -DEPTH, -FLANGE
    assert all(low < c.height_m < high for c in result.candidates)


def test_a_short_cutter_alone_leaves_what_lies_too_deep(tmp_path: Path) -> None:
    text = "".join(x for x in JOB.splitlines(keepends=True) if "name: long" not in x)
    result = halves_of(halves_job(tmp_path / "job", text=text))
    # 30 mm of reach into a pocket of 55 mm: 25 mm of its wall, and the floor as far in from it as
    # the holder is wider than the cutter, 15 less 5 mm; at most a coarse cell's diagonal more
    wall, strip = around(0.0) * (DEPTH - HEIGHT - 0.030), 0.010
    more = math.sqrt(2.0) * COARSE * result.lower.reach.cell_m
    found = result.lower.reach.causes_m2["too deep"]
    assert wall + strip * around(-0.5 * strip) < found < wall + (strip + more) * around(0.0)
    assert result.verdict == "not met"
    assert any(lack.startswith("lower half: ") for lack in result.lacks)


def test_a_pan_of_triangles_is_parted_without_a_joint(tmp_path: Path) -> None:
    result = halves_of(halves_job(tmp_path / "job", end="stl"))
    assert result.made_from == "meshes"
    assert not result.joint.modelled
    assert [f.code for f in result.findings if f.code.startswith("HALF")] == ["HALF-509"]
    both = result.upper.volume_m3 + result.lower.volume_m3
    assert both == pytest.approx(result.body_m3, rel=1e-9)
    # chords of 0.01 mm at the corners
    assert result.joint.weld_m == pytest.approx(around(WALL), rel=1e-4)
    assert result.parts()[0].files == ("upper-half.stl",)


@pytest.mark.parametrize(
    ("split", "code", "key", "words"),
    [
        ("height: -7 mm", "HALF-501", "height", "its underside is at −8.0 mm"),
        ("height: -101 mm", "HALF-502", "height", "lowest point at −100.0 mm"),
        (
            "{height: -45 mm, lip: {height: 37 mm, thickness: 1 mm}}",
            "HALF-512",
            "lip",
            "a lip 37.0 mm high, and 37.0 mm of wall for it",
        ),
        (
            "{height: -45 mm, lip: {height: 55 mm, thickness: 1 mm, on: upper}}",
            "HALF-512",
            "lip",
            "a lip 55.0 mm high, and 55.0 mm of wall for it",
        ),
        (
            "{height: -45 mm, lip: {height: 3 mm, thickness: 3.95 mm}}",
            "HALF-504",
            "lip",
            "4.1 mm taken out of a wall of 4.0 mm",
        ),
        (
            "{height: -45 mm, lip: {height: 3 mm, thickness: 2 mm}, groove_depth: 2 mm}",
            "HALF-504",
            "groove_depth",
            "4.1 mm taken out",
        ),
    ],
)
def test_refuses_a_split_that_cannot_be(
    tmp_path: Path, split: str, code: str, key: str, words: str
) -> None:
    with pytest.raises(InputError) as raised:
        halves_of(halves_job(tmp_path / "job", split))
    (problem,) = raised.value.problems
    assert problem.code == code
    assert problem.where.endswith(f"new.split.{key}")
    assert words in problem.found


def test_a_split_that_misses_the_walls_is_refused_before_the_pan_is_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object) -> None:
        raise AssertionError("drawn")

    monkeypatch.setattr("sumpwright.geometry.cad_pan.pan_solids", never)
    shop = JOB[JOB.index("shop:") :].replace("{{", "{").replace("}}", "}")
    raised_plug = ("height: 14 mm", "height: 20 mm")  # from -113 to -93 mm
    for height, code in (("-8 mm", "HALF-501"), ("-100 mm", "HALF-502"), ("-94 mm", "HALF-503")):
        split = ("new:\n", f"new:\n  split: {{height: {height}}}\n")
        folder = tmp_path / code
        shape_job(folder, split, ("oil:", f"{shop}oil:"), raised_plug, boss=True)
        with pytest.raises(InputError) as raised:
            halves_of(folder)
        (problem,) = raised.value.problems
        assert problem.code == code
        assert problem.where.endswith("new.split.height")


def test_a_split_that_misses_the_walls_is_refused_before_the_metal_is_put_together(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object) -> None:
        raise AssertionError("put together")

    monkeypatch.setattr("sumpwright.studies.halves.pan_metal", never)
    with pytest.raises(InputError, match="HALF-502"):
        halves_of(halves_job(tmp_path / "job", "height: -101 mm"))


def test_refuses_a_split_through_a_post(tmp_path: Path) -> None:
    with pytest.raises(InputError) as raised:
        halves_of(halves_job(tmp_path / "job", post=True))
    (problem,) = raised.value.problems
    assert problem.code == "HALF-503"


@pytest.mark.parametrize(
    ("gone", "code"), [("machine", "HALF-506"), ("cutters", "HALF-505"), ("outside", "HALF-508")]
)
def test_says_what_the_job_lacks(tmp_path: Path, gone: str, code: str) -> None:
    cutters = ("name: long", "name: short") if gone == "cutters" else ()
    dropped = (f"  {gone}:", *cutters)
    lines = JOB.splitlines(keepends=True)
    text = "".join(x for x in lines if not any(d in x for d in dropped))
    with pytest.raises(InputError) as raised:
        halves_of(halves_job(tmp_path / "job", text=text))
    assert [p.code for p in raised.value.problems] == [code]


def test_a_slot_in_a_side_is_reached_from_that_side_alone() -> None:
    block, slot = (
        solid_of(box(low, high), what="box")
        for low, high in (
            ([0.0, 0.0, 0.0], [0.08, 0.06, 0.05]),
            ([-0.01, 0.04, 0.02], [0.09, 0.07, 0.036]),  # open to the left, and at both ends
        )
    )
    mesh = mesh_of(less(block, [slot]))
    tools = (Tool(radius=0.004),)
    seen = {
        setups: missed_of(mesh, tools, 1e-3, views_of(mesh, tools, 1e-3, setups))
        for setups in ((), ("right",), ("left",))
    }
    hidden = 0.08 * (0.02 + 0.02 + 0.016)  # floor, roof and back of the slot
    for setups in ((), ("right",)):
        # its rim, a cell wide, is taken off together with the block's outside
        assert seen[setups].area == pytest.approx(hidden, rel=0.12)
    assert seen["left",].area < 0.02 * hidden  # a cell along the edges
