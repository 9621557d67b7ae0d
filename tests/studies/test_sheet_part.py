# SPDX-License-Identifier: Apache-2.0
"""Sheet parts of a box pan, worked by hand; lengths by the neutral fibre's arc."""

import json
import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.profile import circle_profile
from sumpwright.metal.bend import deduction
from sumpwright.metal.bend_table import table_k
from sumpwright.metal.flat_pattern import turned
from sumpwright.metal.fold import folded
from sumpwright.metal.material import material
from sumpwright.studies.sheet_part import sheets_of_job
from sumpwright.studies.sheet_part_result import SheetsResult, StripResult
from sumpwright.studies.sheet_web import k_of
from tests.studies.baffled_job import baffled

MM = 1e-3
GAP = 0.5
WALL = """\
    - name: wall
      at: [100 mm, 0 mm, 0 mm]
      normal: [1, 0, 0]
      thickness: 1 mm
      gap: 0.5 mm
"""
ALONG = """\
    - name: along
      at: [150 mm, 0 mm, 0 mm]
      normal: [0, 1, 0]
      thickness: 1 mm
      gap: 0.5 mm
"""
TABS = """\
      tabs:
        - { name: foot, edge: bottom, at: 0 mm, width: 40 mm, flange: 12 mm, bends: ahead, \
radius: 1.5 mm, holes: { diameter: 2 mm, count: 2 } }
"""
DOOR = """\
      openings:
        - name: flap
          centre: [30 mm, -80 mm]
          width: 40 mm
          height: 20 mm
          door: { hinge: top, opens: ahead%s }
"""
HINGE = ", butt_hinge: { pin: 2 mm, knuckles: 3, leaf: 16 mm, holes: { diameter: 3 mm, count: 2 } }"
SHOP = """\
shop:
  sheets:
    - { name: small, size: [300 mm, 300 mm], thickness: 1 mm, material: steel, price: 9 }
    - { name: large, size: [1000 mm, 500 mm], thickness: 1 mm, material: steel, price: 30 }
  prices: { cut_hour: 60, cut_rate: 1000 mm/min, bend: 3 }
"""


def made(folder: Path, baffles: str, shop: str = "") -> SheetsResult:
    job = baffled(folder, baffles)
    text = (job / "job.yaml").read_text("utf-8")
    (job / "job.yaml").write_text(text + shop, "utf-8")
    return sheets_of_job(job)


def problems(folder: Path, baffles: str, shop: str = "") -> list[tuple[str, str, str]]:
    with pytest.raises(InputError) as caught:
        made(folder, baffles, shop)
    return [(p.code, p.where, p.found) for p in caught.value.problems]


def test_a_plain_wall_is_its_panel_less_the_gap(tmp_path: Path) -> None:
    (wall,) = made(tmp_path, WALL).items
    # 200 by 100 mm less 0.5 mm all round; the space ends at the rail, and so does the gap's run
    np.testing.assert_allclose(wall.pattern.size, [0.199, 0.099], atol=1e-8)
    assert wall.mass == pytest.approx(material("steel").density * 0.199 * 0.099 * MM, rel=1e-6)
    assert wall.stray == pytest.approx(0.0, abs=1e-9)


def test_a_tab_is_laid_out_by_its_deduction_and_folds_back(tmp_path: Path) -> None:
    (wall,) = made(tmp_path, WALL + TABS).items
    (bend,) = wall.pattern.bends
    k = table_k("steel", 1.5)
    assert (bend.up, bend.k, bend.k_from) == (True, k.value, "DIN 6935")
    taken = deduction(0.5 * math.pi, 1.5 * MM, MM, k.value)
    assert wall.pattern.size[1] == pytest.approx(0.099 + 0.012 - taken, abs=1e-8)
    assert wall.stray is not None
    assert wall.stray < 1e-5
    assert wall.warnings == ()
    # the flange stands 12 mm ahead of the wall's back face, its outer face on the wall's edge
    body = folded(wall.pattern)
    flange = body.faces[1]
    low = flange.placed([[*p, -0.5 * MM] for p in np.asarray(flange.polygon.exterior.coords)])
    assert low[:, 1].max() == pytest.approx(-0.1 + GAP * MM, abs=1e-8)
    assert low[:, 2].max() == pytest.approx(0.012 - 0.5 * MM, abs=1e-8)


def test_a_strip_of_the_shop_s_own_counts(tmp_path: Path) -> None:
    # K 0.40 by hand: used 1.5708 (1 + 0.4) = 2.1991; legs 100 + 4 - 2.1991 = 101.8009
    strip = (
        "shop:\n  bends:\n    - { material: steel, thickness: 1 mm, radius: 1 mm, flat: 100 mm, "
    )
    result = made(tmp_path, WALL + TABS, strip + "legs: [50.9009 mm, 50.9 mm] }\n")
    assert result.strips[0].k == pytest.approx(0.40, abs=1e-4)
    bend = result.items[0].pattern.bends[0]
    own = result.strips[0]
    wanted = own.k + table_k("steel", bend.radius / bend.thickness).value - own.table
    assert bend.k == pytest.approx(wanted, rel=1e-12)  # rounding
    assert bend.k_from == "test strip"


def test_a_strip_moves_the_table_it_does_not_flatten_it() -> None:
    strip = StripResult("steel", MM, MM, 0.40, table_k("steel", 1.0).value)
    for radius in (0.3 * MM, MM, 3.0 * MM):
        table = table_k("steel", radius / MM).value
        found = k_of("steel", MM, radius, [strip])
        assert found.value == pytest.approx(table + 0.40 - strip.table, rel=1e-12)  # rounding
        assert found.source == "test strip"
    assert k_of("steel", 2.0 * MM, MM, [strip]).source != "test strip"


def test_two_walls_that_cross_are_slit_and_it_is_said(tmp_path: Path) -> None:
    result = made(tmp_path, WALL + ALONG)
    one, other = result.items
    slit = 0.5 * 0.099 + 0.1 * MM
    assert 0.199 * 0.099 - one.pattern.area == pytest.approx(slit * 1.2 * MM, rel=1e-3)
    assert 0.299 * 0.099 - other.pattern.area == pytest.approx(slit * 1.2 * MM, rel=1e-3)
    (said,) = [f for f in result.findings if f.code == "SHEE-519"]
    assert said.severity == "note"
    assert "99.0 mm" in said.found
    assert "half-lap" in said.repair
    assert result.verdict == "met"


def test_a_tab_that_stands_in_the_other_wall_is_seen(tmp_path: Path) -> None:
    # the wall is slit from above, so that its foot goes on under the other one's slit
    join = "      joins: [{ to: along, kind: half-lap, slit: top }]\n"
    result = made(tmp_path, WALL + TABS + join + ALONG)
    errors = [f for f in result.findings if f.severity == "error"]
    assert [f.code for f in errors] == ["SHEE-519"]
    assert "stand in each other near x 10" in errors[0].found
    assert result.verdict == "not met"


def test_a_door_becomes_flap_leaf_pin_and_holes(tmp_path: Path) -> None:
    result = made(tmp_path, WALL + DOOR % HINGE)
    wall, flap, leaf = result.items
    assert [item.kind for item in result.items] == ["baffle", "flap", "leaf"]
    assert [b.name for b in leaf.pattern.bends] == ["knuckle 1", "stop"]
    assert len([b for b in flap.pattern.bends if b.rolled]) == 2
    assert len(wall.pattern.holes) == 3  # the opening, two rivets
    rivets = [
        h for h in wall.pattern.holes if h.area == pytest.approx(-math.pi * 2.25e-6, rel=2e-3)
    ]
    assert len(rivets) == 2
    (pin,) = result.pins
    assert (pin.diameter, pin.length) == (pytest.approx(2 * MM), pytest.approx(0.043))
    # flap: 46 by 26 mm of sheet, and two knuckles
    assert flap.pattern.size[0] == pytest.approx(0.046, abs=1e-8)
    (said,) = [w for w in flap.warnings if w.code == "SHEE-517"]
    assert "the door counts 6.3 g" in said.found  # 7850 x 40 x 20 x 1 mm


def test_a_door_without_a_hinge_is_a_flap_with_its_overlap(tmp_path: Path) -> None:
    _, flap = made(tmp_path, WALL + DOOR % ", overlap: 4 mm").items
    np.testing.assert_allclose(sorted(flap.pattern.size), [0.028, 0.048], atol=1e-8)
    assert "no hinge" in flap.note


def test_parts_lie_apart_on_the_cheaper_sheet_and_cost_their_share(tmp_path: Path) -> None:
    result = made(tmp_path, WALL + TABS, SHOP)
    (sheet,) = result.sheets
    assert sheet.stock == "small"
    (wall,) = result.items
    assert sheet.used == pytest.approx(wall.pattern.area / 0.09)
    cut = 60.0 * wall.pattern.cut_length / (1.0 / 60.0) / 3600.0
    assert wall.cost == pytest.approx(9.0 + cut + 3.0)
    (at,) = sheet.laid
    ring = wall.pattern.outline.polygon() @ np.round(turned(at.turn)).T + at.shift
    assert ring.min() >= 0.01 - 1e-6
    assert ring.max() <= 0.29 + 1e-6


def test_no_sheet_is_large_enough(tmp_path: Path) -> None:
    size = "size: [9 cm, 9 cm], thickness: 1 mm, material: steel"
    shop = f"shop:\n  sheets:\n    - {{ name: scrap, {size} }}\n"
    result = made(tmp_path, WALL, shop)
    (said,) = result.findings
    assert (said.code, said.severity) == ("SHEE-516", "error")
    assert "199 x 99 mm flat" in said.found
    assert result.verdict == "not met"


def test_a_part_without_a_sheet_of_its_own_is_not_met_and_no_sheets_is_a_note(
    tmp_path: Path,
) -> None:
    size = "size: [1 m, 1 m], thickness: 1 mm, material: stainless steel"
    result = made(tmp_path, WALL, f"shop:\n  sheets:\n    - {{ name: other, {size} }}\n")
    (said,) = result.findings
    assert (said.code, said.severity, result.verdict) == ("SHEE-516", "error", "not met")
    assert "no sheet of steel, 1 mm" in said.found
    assert result.sheets == ()
    cutters_own = made(tmp_path / "none", WALL)
    (note,) = cutters_own.findings
    assert (note.code, note.severity, cutters_own.verdict) == ("SHEE-516", "note", "met")


def test_a_tight_radius_and_a_short_flange_are_warnings_on_the_part(tmp_path: Path) -> None:
    tight = TABS.replace("radius: 1.5 mm", "radius: 0.2 mm").replace("12 mm", "3 mm")
    result = made(tmp_path, WALL + tight.replace(", holes: { diameter: 2 mm, count: 2 }", ""))
    assert [w.code for w in result.items[0].warnings] == ["SHEE-511", "SHEE-513"]
    assert result.verdict == "met"


def test_aluminium_is_the_alloy_that_is_on_the_shelf(tmp_path: Path) -> None:
    soft = WALL.replace("thickness: 1 mm", "thickness: 1 mm\n      material: aluminium")
    assert made(tmp_path, soft).items[0].material == "aluminium 5052-H32"
    shelf = SHOP.replace("material: steel", "material: aluminium 3003-H14")
    assert made(tmp_path, soft, shelf).items[0].material == "aluminium 3003-H14"


def test_json_carries_every_part_and_the_parts_list_its_own(tmp_path: Path) -> None:
    result = made(tmp_path, WALL + TABS + DOOR % HINGE, SHOP)
    data = json.loads(json.dumps(result.as_json(), allow_nan=False))
    assert [p["key"] for p in data["parts"]] == ["wall", "flap-flap", "flap-leaf"]
    assert data["parts"][0]["bends"][0]["direction"] == "up"
    parts = result.parts()
    assert [p.how for p in parts] == ["cut and bent"] * 3 + ["bought"]
    assert parts[0].files == ("sheets/wall.dxf", "sheets/wall.svg")
    assert parts[0].mass == pytest.approx(result.items[0].mass)


@pytest.mark.parametrize(
    ("baffles", "code", "key", "found"),
    [
        (WALL + TABS.replace("at: 0 mm", "at: 90 mm"), "SHEE-501", "tabs.0", "reaches from 70 to"),
        (WALL + TABS.replace("at: 0 mm", "at: 300 mm"), "SHEE-501", "tabs.0", "not to 300 mm"),
        (WALL + TABS.replace("flange: 12", "flange: 2"), "SHEE-501", "tabs.0", "is all bend"),
        (WALL + TABS + TABS.split("\n", 1)[1], "SHEE-502", "tabs.1", "as 'foot'"),
        (WALL + "      joins: [{ to: along, kind: butt }]\n", "SHEE-504", "joins.0", "to 'along'"),
        (
            WALL + "      joins: [{ to: along, kind: butt }]\n" + ALONG,
            "SHEE-505", "joins.0", "the two cross",
        ),
        (
            WALL + DOOR % HINGE.replace("pin:", "length: 50 mm, pin:"),
            "SHEE-506", "butt_hinge", "a hinge of 50 mm on a side of 40 mm",
        ),
        (
            WALL + DOOR % HINGE.replace("leaf: 16", "leaf: 4"),
            "SHEE-506", "butt_hinge", "behind knuckles",
        ),
        (WALL.replace("100 mm,", "900 mm,"), "SHEE-508", "baffles.0", "outside the cavity"),
    ],
)  # fmt: skip
def test_says_what_cannot_be_and_where(
    tmp_path: Path, baffles: str, code: str, key: str, found: str
) -> None:
    said = problems(tmp_path, baffles)
    assert [s[0] for s in said] == [code]
    assert key in said[0][1]
    assert found in said[0][2]


def test_says_when_there_is_nothing_to_cut_or_a_strip_is_nonsense(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="SHEE-508"):
        made(tmp_path, "    []\n")
    strip = (
        "shop:\n  bends:\n    - { material: steel, thickness: 1 mm, radius: 1 mm, flat: 100 mm, "
    )
    said = problems(tmp_path, WALL, strip + "legs: [48 mm, 48 mm] }\n")
    assert [s[0] for s in said] == ["SHEE-507"]


def test_a_half_lap_over_a_window_is_refused(tmp_path: Path) -> None:
    window = (
        "      openings: [{ name: hole, centre: [0 mm, -60 mm], width: 30 mm, height: 10 mm }]\n"
    )
    join = "      joins: [{ to: along, kind: half-lap }]\n"
    said = problems(tmp_path, WALL + window + join + ALONG)
    assert said[0][0] == "SHEE-505"
    assert "cross in 2 places" in said[0][2]


def test_round_holes_are_still_round_after_joins(tmp_path: Path) -> None:
    (wall,) = made(tmp_path, WALL + TABS).items
    hole = wall.pattern.holes[-1]
    assert hole.area == pytest.approx(circle_profile((0.0, 0.0), 1 * MM).reversed().area)


@pytest.mark.parametrize(
    ("opens", "x", "how"),
    [
        ("ahead", "112 mm", "open"),
        ("behind", "88 mm", "open"),
        ("ahead", "140 mm", ""),  # 25 mm of flap do not reach it
        ("ahead", "88 mm", ""),
        ("ahead", "101.2 mm", "shut"),
    ],
)
def test_a_flap_that_strikes_a_wall_is_seen_on_its_way(
    tmp_path: Path, opens: str, x: str, how: str
) -> None:
    door = (DOOR % HINGE).replace("opens: ahead", f"opens: {opens}")
    other = WALL.replace("100 mm,", f"{x},").replace("name: wall", "name: other")
    result = made(tmp_path, WALL + door + other)
    said = [f.found for f in result.findings if (f.code, f.place) == ("SHEE-525", "flap flap")]
    assert len(said) == (1 if how else 0)
    assert all(how in text and "it stands in 'other'" in text for text in said)


def test_a_hole_near_the_edge_leaves_too_little(tmp_path: Path) -> None:
    thin = "      openings: [{ name: w, centre: [0 mm, -95 mm], width: 9 mm, height: 8 mm }]\n"
    (wall,) = made(tmp_path, WALL + thin).items
    (said,) = wall.warnings
    assert said.code == "SHEE-524"
    assert "leaves 0.5 mm" in said.found  # 99.5 mm deep, the window's foot at 99
