# SPDX-License-Identifier: Apache-2.0
"""The weld list: lengths by hand, metals that weld, and what is joined otherwise."""

import math
from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.metal.material import material
from sumpwright.studies.make_part import parts_of
from sumpwright.studies.make_result import WeldLine
from sumpwright.studies.make_weld import (
    turned_bosses,
    weld_findings,
    weld_notes,
    weld_problems,
    welds_of,
)
from tests.studies.making_job import RIB, WALL, Making, making_of
from tests.studies.shape_job import shape_job

SHOP = "shop: { prices: { weld_hour: 60, weld_rate: 30 mm/min } }\n"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Making:
    folder = tmp_path_factory.mktemp("weld") / "job"
    return making_of(folder, WALL + RIB % "", shop=SHOP)


def lines(made: Making) -> tuple[WeldLine, ...]:
    return welds_of(made.loaded, None, made.seats, made.joints)


def test_every_tab_lies_on_the_pan_s_floor(made: Making) -> None:
    assert {seat.name: seat.on for seat in made.seats} == dict.fromkeys(
        ("riveted", "screwed", "plugged", "bare"), "the pan"
    )


def test_lengths_are_those_of_tab_holes_and_tongues(made: Making) -> None:
    found = [(w.name, w.where.split(" (")[0], w.length_m, w.thickness_m) for w in lines(made)]
    assert found == [
        ("W1", "wall, plugged", pytest.approx(3 * math.pi * 0.005), 0.001),
        ("W2", "wall, bare", pytest.approx(0.030), 0.001),
        ("W3", "rib to wall, tab-and-slot", pytest.approx(2 * 0.010), 0.001),
    ]
    assert "2 tongues of 10.0 mm" in lines(made)[2].prepared


def test_the_parts_list_has_their_cost(made: Making) -> None:
    results = (None, None, made.sheets, None)
    parts, problems, _ = parts_of(made.loaded, made.bodies, results, made.seats, lines(made))
    (welding,) = (p for p in parts if p.key == "welding-sheet")
    length = 3 * math.pi * 5.0 + 30.0 + 20.0  # mm, 30 in a minute, a minute is 1
    assert welding.cost == pytest.approx(length / 30.0)
    assert welding.how == "welded"
    assert problems == ()


def test_what_is_not_welded_is_said(made: Making) -> None:
    (said,) = weld_notes(made.loaded, made.seats, made.joints)
    assert said == "2 of 4 tabs are riveted or screwed: see the parts list."
    assert list(weld_findings(made.loaded, made.seats)) == []


def test_a_join_is_welded_or_not_as_the_job_says(tmp_path: Path) -> None:
    plain = WALL.split("      tabs:")[0]
    made = making_of(tmp_path / "job", plain + RIB % ", weld: false")
    assert lines(made) == ()
    assert weld_notes(made.loaded, made.seats, made.joints) == (
        "1 of 1 joins of sheet parts are not welded.",
    )
    (found,) = weld_findings(made.loaded, made.seats)
    assert found.code == "MAKE-510"


def test_steel_on_aluminium_is_a_problem_and_no_weld(tmp_path: Path) -> None:
    bare = WALL.replace(", use: plug welds", "")
    made = making_of(tmp_path / "job", bare, "  split: { material: aluminium 6061-T6 }\n")
    (problem,) = weld_problems(made.loaded, made.seats)
    assert (problem.code, problem.found) == (
        "MAKE-509",
        "a weld of steel onto aluminium 6061-T6",
    )
    assert lines(made) == ()


def test_a_boss_is_welded_in_where_there_are_no_halves_to_mill_it_on(tmp_path: Path) -> None:
    loaded = load_job(shape_job(tmp_path / "job", boss=True))
    (line,) = welds_of(loaded, None, (), ())
    assert line.length_m == pytest.approx(math.pi * 0.026)
    assert line.thickness_m == pytest.approx(0.003)  # the wall; the boss is 6.75 mm round its bore
    assert line.where.startswith("plug (drain), outside, all round the boss at 150 mm, 0 mm")
    (boss,) = turned_bosses(loaded)
    assert (boss.how, boss.stock) == ("turned", "round bar 26.0 mm, 14.0 mm long")
    assert boss.mass is None  # of which metal, the job does not say


def test_a_turned_boss_weighs_its_ring(tmp_path: Path) -> None:
    metal = ("    wall: 3 mm\n", "    wall: 3 mm\n    material: steel\n")
    (boss,) = turned_bosses(load_job(shape_job(tmp_path / "job", metal, boss=True)))
    # M14x1.5 is bored 12.5 mm
    area = 0.25 * math.pi * (0.026**2 - 0.0125**2)
    assert boss.mass == pytest.approx(material("steel").density * area * 0.014)


@pytest.mark.parametrize(("made", "count"), [("", 0), ("        made: welded in\n", 1)])
def test_halves_have_their_bosses_milled_on_unless_the_job_asks(
    tmp_path: Path, made: str, count: int
) -> None:
    thread = ("        thread: M14x1.5\n", f"        thread: M14x1.5\n{made}")
    split = ("  shape:\n", "  split: { height: -40 mm }\n  shape:\n")
    loaded = load_job(shape_job(tmp_path / "job", split, thread, boss=True))
    found = welds_of(loaded, None, (), ())
    assert len(found) == count
    if count:
        assert "the half's STEP shows it in place" in found[0].note
    else:
        assert weld_notes(loaded, (), ()) == ("No weld: plug (milled with the half).",)
