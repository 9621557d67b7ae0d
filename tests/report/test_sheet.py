# SPDX-License-Identifier: Apache-2.0
"""The report's tables: nothing is left out, nothing is a column of dashes."""

from dataclasses import replace

import pytest

from sumpwright.report.sheet import tables
from sumpwright.report.table import Table
from sumpwright.studies.result import CheckResult
from tests.report.sample_result import bare_result, sample_result


def by_key(result: CheckResult) -> dict[str, list[Table]]:
    found: dict[str, list[Table]] = {}
    for table in tables(result):
        found.setdefault(table.key, []).append(table)
    return found


@pytest.mark.parametrize("result", [sample_result, bare_result])
def test_every_row_is_as_long_as_its_head_and_says_something(result: object) -> None:
    for table in tables(result()):  # type: ignore[operator]
        assert table.rows
        for row in table.rows:
            assert len(row) == len(table.head)
            assert any(cell not in ("", "–") for cell in row[1:])


def test_a_bare_job_has_a_fill_sheet_and_nothing_of_dashes() -> None:
    assert set(by_key(bare_result())) == {"fill-sheet"}


def test_a_slope_without_stick_or_crank_says_nothing() -> None:
    full = sample_result()
    parked = tuple(replace(p, crank_gap_m=None, dipstick_reads_m3=None) for p in full.fill.parked)
    assert "parked" not in by_key(replace(full, fill=replace(full.fill, parked=parked)))
    alone = tuple(replace(p, dipstick_reads_m3=None) for p in full.fill.parked)
    (table,) = by_key(replace(full, fill=replace(full.fill, parked=alone)))["parked"]
    assert table.head == ("parked with", "oil below the crank")
    assert table.rows[0] == ("nose uphill, 11°", "12.0 mm")


def test_gaps_name_the_tightest_case_of_each_obstacle_and_all_cases_in_the_grid() -> None:
    found = by_key(sample_result())
    (gaps,) = found["gaps"]
    beam = next(row for row in gaps.rows if row[0] == "Crossmember")
    assert beam[1:4] == ("10.0 mm", "6.2 mm", "roll left 2°")
    (grid,) = found["positions"]
    assert grid.head == ("engine position", "Crossmember", "Steering rack")
    assert [row[1] for row in grid.rows] == ["14.3 mm", "6.2 mm", "11.7 mm"]


def test_an_overlap_is_called_one_and_many_obstacles_take_several_grids() -> None:
    full = sample_result()
    room = full.clearance
    assert room is not None
    beam = room.obstacles[0]
    into = replace(beam.worst, gap_m=-0.0032)
    bodies = [replace(beam, obstacle=f"body {k}", worst=into) for k in range(9)]
    found = by_key(replace(full, clearance=replace(room, obstacles=tuple(bodies), stock=None)))
    assert all(row[2] == "overlap 3.2 mm" for row in found["gaps"][0].rows)
    named = [name for grid in found["positions"] for name in grid.head[1:]]
    assert named == [f"body {k}" for k in range(9)]


def test_a_long_scale_is_folded_whole() -> None:
    full = sample_result()
    scale = full.fill.dipstick
    assert scale is not None
    marks = tuple(
        replace(scale.graduations[0], volume_m3=0.001 * k, along_m=0.30 + 0.005 * k)
        for k in range(20)
    )
    fill = replace(full.fill, dipstick=replace(scale, graduations=marks))
    (table,) = by_key(replace(full, fill=fill))["dipstick-marks"]
    assert table.fold == 2
    assert [row[0] for row in table.rows].count("340.0 mm") == 1
    assert {"FULL", "LOW", "no reading beyond"} <= {row[2] for row in table.rows}
