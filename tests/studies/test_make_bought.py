# SPDX-License-Identifier: Apache-2.0
"""What is bought prices the lines of the parts list that it names."""

from pathlib import Path

import pytest

from sumpwright.job.load import load_job
from sumpwright.studies.make_bought import with_bought
from sumpwright.studies.part import Part
from tests.studies.box_job import JOB, box_job

LINES = (
    Part("pan", "pan", "machined"),
    Part("pan-bolts", "bolt M6 x 20", "bought", 20, "steel 8.8", note="measure first"),
    Part("pan-washers", "washer for M6", "bought", 20, "steel"),
)


def bought(folder: Path, *entries: str) -> tuple[dict[str, Part], list[tuple[str, str, str]]]:
    shop = "shop:\n  bought:\n" + "".join(f"    - {{ {entry} }}\n" for entry in entries)
    parts, problems = with_bought(load_job(box_job(folder, JOB + shop)), LINES)
    return {p.key: p for p in parts}, [(p.code, p.where, p.found) for p in problems]


def test_a_line_takes_name_and_price_and_keeps_its_count(tmp_path: Path) -> None:
    parts, problems = bought(tmp_path, "name: flanged bolt, line: pan-bolts, price: 0.4")
    assert problems == []
    line = parts["pan-bolts"]
    assert (line.name, line.count, line.cost) == ("flanged bolt (bolt M6 x 20)", 20, 0.4)
    assert line.note == "measure first"
    assert parts["pan-washers"].cost is None


def test_spares_are_bought_where_the_count_is_given(tmp_path: Path) -> None:
    parts, problems = bought(tmp_path, "name: bolt M6 x 20, line: pan-bolts, count: 25")
    assert problems == []
    assert (parts["pan-bolts"].name, parts["pan-bolts"].count) == ("bolt M6 x 20", 25)


def test_without_a_line_it_is_a_line_of_its_own(tmp_path: Path) -> None:
    parts, _ = bought(tmp_path, "name: sealant, price: 14")
    assert (parts["bought-1"].count, parts["bought-1"].cost) == (1, 14.0)


@pytest.mark.parametrize(
    ("entries", "key", "found"),
    [
        (("name: bolt, line: pan-bolt",), "line", "`pan-bolt`"),
        (("name: plate, line: pan",), "line", "`pan`"),
        (("name: a, line: pan-bolts", "name: b, line: pan-bolts"), "line", "already"),
        (("name: bolt, line: pan-bolts, count: 12",), "count", "12 of `pan-bolts`"),
    ],
)
def test_a_price_for_nothing_and_too_few_are_named(
    tmp_path: Path, entries: tuple[str, ...], key: str, found: str
) -> None:
    _, ((code, where, said),) = bought(tmp_path, *entries)
    assert code == "MAKE-507"
    assert where.endswith(f"shop.bought.{len(entries) - 1}.{key}")
    assert found in said
