# SPDX-License-Identifier: Apache-2.0
"""The sheets of a programme: a page to each, boxes to fill in, and no one's words become markup."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sumpwright.cli.plan_text import plan_text
from sumpwright.report.plan_content import plan_content, sheets_of, summary_of
from sumpwright.report.plan_page import plan_html
from sumpwright.report.plan_sheet import (
    cockpit_card,
    forecast,
    rpm_text,
    stage_sheets,
    stop_text,
    warning_of,
)
from sumpwright.report.plan_write import plan_pdf, write_plan
from sumpwright.studies.plan import plan
from sumpwright.studies.plan_result import Forecast, PlanResult, PressurePoint
from tests.studies.baffled_job import DOOR, WALL, baffled

MADE = datetime(2024, 5, 4, tzinfo=UTC)
AIR = Forecast("air", 2.0, 30.0, 0.6, 1.9)


@cache
def sample() -> PlanResult:
    """A programme of a box with a door, without a forecast."""
    with TemporaryDirectory() as folder:
        return plan(baffled(Path(folder), WALL + DOOR))


def wet() -> PlanResult:
    """The same with air foretold in its last stage."""
    *first, last = sample().stages
    runs = tuple(replace(run, forecast=AIR) for run in last.runs)
    return replace(sample(), stages=(*first, replace(last, runs=runs)))


def test_each_sheet_is_a_page(tmp_path: Path) -> None:
    content, sheets = plan_content(sample(), made=MADE), sheets_of(sample())
    pdf = plan_pdf(content, sheets, made=MADE)
    assert pdf.startswith(b"%PDF")
    pages = len(re.findall(rb"/Type\s*/Page\b", pdf))
    assert len(sheets) + 1 <= pages <= len(sheets) + 2  # the overview takes one page or two


def test_every_stage_and_every_bench_check_has_its_sheet() -> None:
    keys = [s.key for s in sheets_of(sample())]
    assert keys[:2] == ["cockpit", "pressure"]
    for key in ("fill-test", "tilt-test", "door-test", "leak-test"):
        assert key in keys
    assert [k for k in keys if k.startswith("stage-")] == [
        f"stage-{s.number}" for s in sample().stages
    ]
    for sheet in stage_sheets(sample()):
        boxes = [c for p in sheet.parts if p.grid for row in p.grid.rows for c in row if not c]
        assert boxes or sheet.key == "stage-1"  # before the start there is nothing to read off
        assert any(p.ticks for p in sheet.parts)
    titles = [[p.title for p in s.parts][-1] for s in stage_sheets(sample())]
    assert titles[-1] == "Passed only if"
    assert set(titles[:-1]) == {"On to the next stage only if"}


def test_what_is_not_foretold_is_never_said_to_be_free_of_air() -> None:
    tiles = {name: value for name, value, _ in plan_content(sample(), made=MADE).key_figures}
    assert tiles["First air foretold"] == "not foretold"
    rows = plan_content(sample(), made=MADE).tables[0].rows
    assert {row[-1] for row in rows[2:]} == {"not foretold"}
    covered = Forecast("covered", None, 30.0)
    first, *rest = sample().stages[2:]
    runs = tuple(replace(run, forecast=covered) for run in first.runs)
    some = replace(sample(), stages=(replace(first, runs=runs), *rest))
    assert "of the others it says nothing" in summary_of(some)


def test_the_line_of_a_stop_moves_with_the_engine() -> None:
    at = PressurePoint(4957.0, 373.15, 3.28e5, 4.4e5, 3.28e5)
    idle = PressurePoint(900.0, 373.15, 7.1e4, 9.6e4, 7.1e4)
    run = replace(
        sample().stages[-2].runs[0],
        rpm=4957.0,
        pressure=at,
        slowest_rpm=900.0,
        slowest_pressure=idle,
    )
    assert rpm_text(run) == "900 to 4957"
    assert stop_text(run, "metric") == "71 to 328, with rpm"
    assert stop_text(replace(run, slowest_pressure=None), "metric") == "328"


def test_bench_sheets_say_what_a_release_holds_them_to() -> None:
    gates = {s.key: s.parts[-1].lines for s in sheets_of(sample())}
    # the box's full mark is 3 L: 3 % of it is 0.09 L
    assert any("differ by 0.090 L at most" in line for line in gates["fill-test"])
    assert any("off by 5.0 mm at most" in line for line in gates["tilt-test"])


def test_the_cockpit_card_says_where_to_stop() -> None:
    card = cockpit_card(sample())
    grid = next(p.grid for p in card.parts if p.grid)
    at = {row[0]: row[1] for row in grid.rows}
    assert at["2000"] == "138"  # 20 psi; common practice, no source


def test_air_is_said_on_the_first_page_and_on_the_stage() -> None:
    result = wet()
    assert f"from stage {result.stages[-1].number} on" in summary_of(result)
    assert "AIR" in plan_html(plan_content(result, made=MADE), sheets_of(result)).decode()
    assert "after 2.0 s" in warning_of(result.stages[-1])
    assert "AIR after 2.0 s" in plan_text(result, ())
    assert forecast(replace(AIR, outcome="covered", first_air_s=None)) == (
        "covered, 30 s; AIR after 1.9 s at 0.60 g"
    )


def test_a_persons_words_are_never_markup() -> None:
    result = replace(sample(), job="<script>x</script> #pagebreak()", note="*b* $x$")
    content, sheets = plan_content(result, made=MADE), sheets_of(result)
    assert b"<script>" not in plan_html(content, sheets)
    assert plan_pdf(content, sheets, made=MADE).startswith(b"%PDF")


def test_us_units_are_kept_to_throughout() -> None:
    result = replace(sample(), units="us")
    page = plan_html(plan_content(result, made=MADE), sheets_of(result)).decode()
    assert "kPa" not in page
    assert "psi" in page
    assert "mph" in page
    assert " mm" not in page
    assert max(map(len, plan_text(result, ()).splitlines())) <= 80


def test_both_files_are_written(tmp_path: Path) -> None:
    for path in write_plan(sample(), tmp_path):
        assert path.is_file()
        assert path.parent == tmp_path / "out"
