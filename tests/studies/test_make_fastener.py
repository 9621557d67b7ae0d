# SPDX-License-Identifier: Apache-2.0
"""Rivets and screws of sheet parts: as many as there are holes, of a size that is published."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.studies.make_fastener import rows_of, sheet_fasteners
from sumpwright.studies.part import Part
from tests.studies.making_job import WALL, Making, making_of


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Making:
    return making_of(tmp_path_factory.mktemp("sheet") / "job")


def bought(made: Making) -> dict[str, Part]:
    parts, findings = sheet_fasteners(rows_of(made.loaded, made.sheets, made.seats), "metric")
    assert findings == []
    return {part.key: part for part in parts}


def test_rivets_are_as_many_as_the_round_holes_they_go_into(made: Making) -> None:
    parts = bought(made)
    rivets = sum(p.count for k, p in parts.items() if k.startswith("rivets-3.3mm"))
    # counted on the flat patterns: holes of 3.3 mm in tabs and leaf, the leaf's again in the wall
    area = 0.25 * np.pi * 3.3e-3**2
    seen = [
        sum(abs(-hole.area - area) < 1e-3 * area for hole in item.pattern.holes)
        for item in made.sheets.items
    ]
    names = [item.name for item in made.sheets.items]
    assert dict(zip(names, seen, strict=True)) == {"wall": 4, "flap flap": 0, "flap leaf": 2}
    assert rivets == 4  # two in the tab; two through leaf and wall


def test_a_hinge_s_rivets_hold_leaf_and_baffle_together(made: Making) -> None:
    part = bought(made)["rivets-3.3mm-2mm"]
    assert (part.name, part.count, part.how) == ("blind rivet 3.2 mm, ISO 15979", 2, "bought")
    assert "through 2.00 mm of sheet" in part.note
    assert "flap leaf" in part.note
    assert part.cost is None


def test_of_a_pan_from_files_the_wall_s_thickness_is_not_known(made: Making) -> None:
    part = bought(made)["rivets-3.3mm"]
    assert part.count == 2
    assert "through the sheets" in part.note


def test_screws_come_with_their_nuts(made: Making) -> None:
    parts = bought(made)
    assert parts["screws-4.5mm"].name == "ISO 4762 M4"  # 4.5 mm is M4's medium hole [ISO-273]
    assert parts["nuts-screws-4.5mm"].count == parts["screws-4.5mm"].count == 1


def test_plug_welds_buy_nothing(made: Making) -> None:
    keys = {"rivets-3.3mm", "rivets-3.3mm-2mm", "screws-4.5mm", "nuts-screws-4.5mm"}
    assert set(bought(made)) == keys


def test_a_hole_that_nothing_is_sold_for_is_said_and_still_counted(tmp_path: Path) -> None:
    odd = WALL.replace(
        "holes: { diameter: 3.3 mm, count: 2 } }\n        - { name: screwed",
        "holes: { diameter: 2 mm, count: 2 } }\n        - { name: screwed",
    )
    assert odd != WALL
    made = making_of(tmp_path / "job", odd)
    parts, findings = sheet_fasteners(rows_of(made.loaded, made.sheets, made.seats), "metric")
    assert [(f.code, f.severity) for f in findings] == [("MAKE-508", "warning")]
    assert "a hole of 2 mm" in findings[0].found
    assert {p.key: p.count for p in parts}["rivets-2mm"] == 2


def test_a_hole_a_little_small_is_opened_and_that_is_said(tmp_path: Path) -> None:
    small = WALL.replace("diameter: 3.3 mm, count: 2 } } }", "diameter: 2.4 mm, count: 2 } } }")
    assert small != WALL
    made = making_of(tmp_path / "job", small)
    parts, (found,) = sheet_fasteners(rows_of(made.loaded, made.sheets, made.seats), "metric")
    assert (found.code, found.severity, found.place) == ("MAKE-508", "note", "flap leaf")
    assert found.repair == "draw them 2.50 mm, for rivets of 2.4 mm"
    (rivets,) = (p for p in parts if p.key == "rivets-2.4mm-2mm")
    assert rivets.note.startswith("open the holes of 2.40 mm to 2.50 mm")
