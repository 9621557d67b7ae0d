# SPDX-License-Identifier: Apache-2.0
"""The inspection sheet in both systems: figures that a gauge of that system can be held against."""

from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.report.inspection_sheet import bolts_view, holes_table, leak_table
from sumpwright.studies.bolts import bolts_of
from sumpwright.studies.make_result import BoltTurn, LeakTest
from sumpwright.studies.rail import rail_with
from sumpwright.studies.rail_result import RailResult
from tests.studies.box_job import box_job
from tests.studies.rail_job import NAMES, rail_text

LEAK = LeakTest(7e-3, 15_000.0, 180.0, 780.0, 1.6e-8, False, 210.0, 21.0, 40.0, 0.0117, 990.0)


@dataclass(frozen=True)
class Answers:
    """Of a pack, what the sheet of bolt holes is made from."""

    rail: RailResult
    bolts: tuple[BoltTurn, ...]


@pytest.fixture(params=["metric", "us"])
def made(request: pytest.FixtureRequest, tmp_path: Path) -> Answers:
    text = f"units: {request.param}\n{rail_text()}"
    loaded = load_job(box_job(tmp_path / "job", text))
    return Answers(rail_with(loaded), bolts_of(loaded))


def rows(table: object) -> dict[str, str]:
    return {row[0]: row[1] for row in table.rows}  # type: ignore[attr-defined]


def test_a_gauge_of_the_job_s_own_units_is_asked_for() -> None:
    metric, us = (rows(leak_table(LEAK, units)) for units in ("metric", "us"))
    assert metric["Pressure may fall by"].startswith("2.1 mbar")
    assert us["Pressure may fall by"].startswith("0.030 psi")  # 210 / 6894.76
    assert (metric["Gauge must see"], us["Gauge must see"]) == ("0.21 mbar", "0.0030 psi")
    assert "195 mbar" in metric["Relief"]
    assert "mbar" not in " ".join(us.values())
    assert "never over 200 mbar" in leak_table(LEAK, "metric").note
    assert "never over 2.9 psi" in leak_table(LEAK, "us").note


def test_a_limit_of_the_job_s_own_needs_no_reason() -> None:
    said = rows(leak_table(replace(LEAK, given=True), "metric"))["Most that may leak"]
    assert said == "0.96 std cm³/min of air: as the job asks"  # 1.6e-8 m^3/s, 60 s, 1e6 cm^3


def test_places_of_holes_have_figures_for_their_tolerance(made: Answers) -> None:
    table = holes_table(made.rail)
    assert [row[0] for row in table.rows] == NAMES
    second = table.rows[1]  # 50 mm ahead of the first, 0.3 mm to be true within
    us = made.rail.units == "us"
    assert second[1] == ("1.9685 in" if us else "50.00 mm")
    assert second[3] == ("0.0118 in" if us else "0.30 mm")


def test_the_picture_names_turn_and_hole_of_every_bolt(made: Answers) -> None:
    svg = bolts_view(made.rail, made.bolts)
    words = svg.decode("utf-8")
    assert words.count("<circle") == len(NAMES)
    for name in NAMES:  # as a turn in a ring, and as a hole's name beside it
        assert words.count(f">{name}</text>") == 2
