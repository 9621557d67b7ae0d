# SPDX-License-Identifier: Apache-2.0
"""Names and figures on a sheet keep clear of its lines and of one another."""

from pathlib import Path

import numpy as np
import pytest
from shapely import LineString, Point

from sumpwright.job.load import load_job
from sumpwright.report.drawing import Path as Line
from sumpwright.report.drawing import Ring, Words
from sumpwright.report.drawing_label import CLEAR, Taken, named_beside, words_box
from sumpwright.report.drawing_rail import pitch_lines, rail_pages
from sumpwright.studies.make_result import BoltPitch
from sumpwright.studies.rail import rail_with
from tests.studies.box_job import JOB, box_job
from tests.studies.rail_job import NAMES, holes_text, rail_job

OPENING = """\
  opening:
    - at: [16 mm, -84 mm]
    - at: [284 mm, -84 mm]
    - at: [284 mm, 84 mm]
    - at: [16 mm, 84 mm]
  margin: 11 mm
"""


def test_hole_names_stand_clear_of_outline_opening_crosses_and_each_other(tmp_path: Path) -> None:
    (page,) = rail_pages(rail_with(load_job(rail_job(tmp_path / "job", more=OPENING))))
    names = [w for w in page.items if isinstance(w, Words) and w.bold and w.anchor == "middle"]
    assert sorted(w.text for w in names) == sorted(NAMES)
    boxes = [words_box(w) for w in names]
    lines = [
        LineString([*loop, loop[0]] if item.closed else loop)
        for item in page.items
        if isinstance(item, Line) and item.layer in ("OUTLINE", "CENTRE")
        for loop in item.loops
    ]
    rings = [Point(r.at).buffer(r.radius) for r in page.items if isinstance(r, Ring)]
    assert len(rings) == len(NAMES)
    for k, box in enumerate(boxes):
        others = [*lines, *rings, *boxes[:k]]
        assert min(box.distance(other) for other in others) >= CLEAR - 1e-9


def test_a_name_goes_inward_where_there_is_room_and_round_the_hole_where_not() -> None:
    wall = [(-50.0, 4.0), (50.0, 4.0)]
    (free,) = named_beside("7", (0.0, 0.0), 2.0, (0.0, 1.0), Taken([]))
    assert free.at == pytest.approx((0.0, 2.0))
    (past,) = named_beside("7", (0.0, 0.0), 2.0, (0.0, 1.0), Taken([wall]))
    assert past.at[1] >= 4.0 + CLEAR  # over the line, still straight inward
    walls = [[(-50.0, y), (50.0, y)] for y in np.arange(3.0, 30.0, 3.0)]
    (aside,) = named_beside("7", (0.0, 0.0), 2.0, (0.0, 1.0), Taken(walls))
    assert words_box(aside).bounds[3] <= 3.0 - CLEAR


def test_the_sheet_says_bolt_pitch_its_source_and_its_limit() -> None:
    most = {"soft": 0.060, "hard": 0.044}
    pitch = BoltPitch("M6", 0.008, 0.050, ("4", "5"), 0.041, most, 1.58, (0.040, 0.060))
    said = " ".join(pitch_lines(pitch, "metric"))
    assert "41.0 mm to 50.0 mm, widest 4 to 5" in said
    assert "at most 60.0 mm on soft, 44.0 mm on hard. Wider than that on hard." in said
    assert "1.58 times" in said
    assert "pressure vessels (TEMA, from memory" in said
    assert "mm" not in " ".join(pitch_lines(pitch, "us"))


def test_a_long_pattern_has_its_table_on_a_sheet_of_its_own(tmp_path: Path) -> None:
    along = np.linspace(10.0, 890.0, 23)
    sides = [np.column_stack([along, np.full(23, y)]) for y in (-140.0, 140.0)]
    names = [f"bolt-{k + 1}" for k in range(46)]
    text = JOB + "rail:\n  holes:\n" + holes_text(np.concatenate(sides), names, 4)
    face, table = rail_pages(rail_with(load_job(box_job(tmp_path / "job", text))))
    assert (face.key, face.scale) == ("rail", 4.0)  # 900 mm on a sheet of 420 mm
    assert (table.key, table.true) == ("rail-holes", False)
    said = [w for w in face.items if isinstance(w, Words) and w.text in names]
    assert len(said) == len(names)
    boxes = [words_box(w) for w in said]
    for k, box in enumerate(boxes):
        assert min((box.distance(other) for other in boxes[:k]), default=CLEAR) >= CLEAR - 1e-9
    rows = [w.text for w in table.items if isinstance(w, Words)]
    assert [n for n in names if n not in rows] == []
