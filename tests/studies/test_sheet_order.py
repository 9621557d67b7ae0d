# SPDX-License-Identifier: Apache-2.0
"""The order of a part's bends, and what is said where there is none."""

from dataclasses import replace
from pathlib import Path

import numpy as np
from shapely import box

from sumpwright.studies.sheet_order import in_order
from tests.metal.test_bend_order import TAB, bend, strip, tabbed
from tests.studies.test_sheet_part import TABS, WALL, made


def test_bends_come_in_the_order_they_are_made() -> None:
    pattern = strip(bend("long", 0.037), bend("short", 0.014), length=0.076)
    done, names, said = in_order("tray", pattern, "metric")
    assert [b.name for b in done.bends] == ["short", "long"]
    assert names == ("short", "long")
    assert said == ()


def test_one_sentence_where_only_hands_can(tmp_path: Path) -> None:
    pattern = strip(bend("one", 0.03), bend("two", 0.05), length=0.08)
    _, names, (said,) = in_order("tray", pattern, "metric")
    assert names == ("one", "two")
    assert (said.code, said.severity) == ("SHEE-527", "warning")
    assert said.found == (
        "in no order is a press brake's straight tool clear: with 'one' bent, the blade in 'two' "
        "meets 'one' near 5, 10 mm (along, up)"
    )


def test_one_sentence_names_the_bends_that_clash() -> None:
    at = {"bottom": 0.015, "end": 0.015, "top": 0.006, "start": 0.006}
    how = {"width": 0.004, "flange": 0.022, "angle": np.radians(150.0)}
    tabs = [replace(TAB, name=edge, edge=edge, at=x, **how) for edge, x in at.items()]
    pattern = tabbed(box(0.0, 0.0, 0.021, 0.021), *tabs)
    done, names, (said,) = in_order("lid", pattern, "metric")
    assert done is pattern
    assert names == ()
    assert (said.code, said.severity) == ("SHEE-526", "error")
    assert said.found.startswith("there is no order to bend it in: with 'bottom'")
    assert "runs into 'bottom' near" in said.found


def test_a_bend_that_parts_nothing_is_left_to_what_says_so() -> None:
    half = replace(bend("half", 0.02), line=np.array([[0.02, 0.01], [0.02, 0.0]]))
    pattern = strip(half, length=0.05)
    assert in_order("part", pattern, "metric") == (pattern, (), ())


def test_the_order_is_in_the_answer(tmp_path: Path) -> None:
    more = TABS.split("\n", 1)[1].replace("name: foot", "name: heel").replace("at: 0", "at: 60")
    (wall,) = made(tmp_path, WALL + TABS + more).items
    assert wall.order == ("foot", "heel")
    assert wall.as_json()["bend_order"] == ["foot", "heel"]
    assert [b["name"] for b in wall.as_json()["bends"]] == ["foot", "heel"]
