# SPDX-License-Identifier: Apache-2.0
"""Records for the page: every form there is, filed once, in the words of the command."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from sumpwright.errors import InputError
from sumpwright.job.record import KINDS
from sumpwright.job.record_load import load_record
from sumpwright.studies.record import write_record
from sumpwright.studies.record_list import record_list
from sumpwright.web.record_form import STAMPS, file_form, form_json, records_json

DEMO = Path(__file__).parents[2] / "examples/demo-a"
GOOD = {"by": "Ada Quill", "liquid": "water", "rows": [{"poured": "1 L", "height": "30 mm"}]}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    shutil.copytree(DEMO, folder, ignore=shutil.ignore_patterns("tests", "out", "records"))
    return folder


def stamps(job: Path) -> dict[str, str]:
    form = form_json(job, "fill-test")
    return {key: form[key] for key in STAMPS}


def keys(form: dict[str, Any]) -> set[str]:
    return {f["key"] for f in form["fields"]}


@pytest.mark.parametrize("kind", KINDS)
def test_a_form_asks_for_everything_that_its_record_has(job: Path, kind: str) -> None:
    form = form_json(job, kind)
    filled_in = {"kind", "made", *STAMPS}
    assert keys(form) == set(KINDS[kind].model_fields) - filled_in
    assert all(f["says"] for f in form["fields"])


def test_a_form_sets_out_the_doors_of_this_pan(job: Path) -> None:
    doors = next(f for f in form_json(job, "door-test")["fields"] if f["key"] == "doors")
    assert doors["fixed"]
    assert {"baffle": "rear wall", "door": "rear door"} in doors["given"]
    kinds = {f["key"]: f["kind"] for f in doors["fields"]}
    assert kinds == {
        "baffle": "text",
        "door": "text",
        "swings": "switch",
        "stops": "switch",
        "note": "text",
    }


def test_a_quantity_says_what_may_be_written(job: Path) -> None:
    fields = {f["key"]: f for f in form_json(job, "teardown")["fields"]}
    assert fields["level_in"]["needed"] == "0.001 L to 100 L"
    assert fields["debris"]["words"] == ["none", "fluff", "flakes", "chips"]
    assert fields["photos"]["kind"] == "photos"


def test_a_form_of_no_kind_is_refused(job: Path) -> None:
    with pytest.raises(InputError, match="REC-302"):
        form_json(job, "../teardown")


def test_what_was_typed_is_filed_as_the_command_files_it(job: Path) -> None:
    other = shutil.copytree(job, job.parent / "other")
    name = file_form(job, "fill-test", stamps(job), GOOD)["filed"]
    by_command = load_record(write_record(other, {"kind": "fill-test", **GOOD}))
    on_page = load_record(job / "records" / name)
    assert on_page.model_dump(exclude={"made"}) == by_command.model_dump(exclude={"made"})


def test_rows_nobody_filled_in_are_left_out_and_a_switch_is_yes_or_no(job: Path) -> None:
    doors = form_json(job, "door-test")["fields"]
    given = next(f for f in doors if f["key"] == "doors")["given"]
    rows = [{**g, "swings": True, "stops": False, "note": ""} for g in given]
    values = {"by": "Ada Quill", "doors": [*rows, {"baffle": "", "door": "", "swings": None}]}
    name = file_form(job, "door-test", stamps(job), values)["filed"]
    record: Any = load_record(job / "records" / name)
    assert [(r.swings, r.stops) for r in record.doors] == [(True, False)] * len(given)


def test_every_problem_of_a_form_is_said_with_its_key_and_nothing_is_filed(job: Path) -> None:
    values = {"by": "", "rows": [{"poured": "1", "height": "30 mm"}, {}, {"poured": "2 L"}]}
    with pytest.raises(InputError) as told:
        file_form(job, "fill-test", stamps(job), values)
    placed = {p.where.split("  ")[-1].split()[-1] for p in told.value.problems}
    assert {"by", "rows.0.poured", "rows.1.poured", "rows.2.height"} <= placed
    assert not list((job / "records").glob("*.yaml"))


def test_a_form_opened_for_an_older_part_is_not_evidence_on_this_one(job: Path) -> None:
    old = stamps(job)
    text = (job / "job.yaml").read_text(encoding="utf-8")
    (job / "job.yaml").write_text(text.replace("revision: A", "revision: B"), encoding="utf-8")
    name = file_form(job, "fill-test", old, GOOD)["filed"]
    listed = record_list(job).filed
    assert [(r.name, r.standing) for r in listed] == [(name, "stale")]
    assert listed[0].why.startswith("stale: revision A")


def test_a_record_counts_until_a_decision_sets_it_aside(job: Path) -> None:
    name = file_form(job, "fill-test", stamps(job), GOOD)["filed"]
    assert [r["standing"] for r in records_json(job)["filed"]] == ["counts"]
    said = {"by": "Ada Quill", "text": "the scale was off", "set_aside": [name]}
    later = file_form(job, "decision", stamps(job), said)["filed"]
    found = {r["name"]: r for r in records_json(job)["filed"]}
    assert found[name]["standing"] == "set aside"
    assert found[name]["why"] == f"set aside by {later}"


def test_a_record_s_text_comes_as_it_stands(job: Path) -> None:
    values = {**GOOD, "note": "<script>alert(1)</script>"}
    name = file_form(job, "fill-test", stamps(job), values)["filed"]
    row = records_json(job)["filed"][0]
    assert row["text"] == (job / "records" / name).read_text(encoding="utf-8")
    assert row["note"] == "<script>alert(1)</script>"


def test_what_no_file_can_hold_is_taken_out_of_what_was_typed(job: Path) -> None:
    values = {**GOOD, "note": "a\ud800b\x00c\x1b[2Jd\ne: [f, {g"}
    name = file_form(job, "fill-test", stamps(job), values)["filed"]
    assert load_record(job / "records" / name).note == "a?bc[2Jd\ne: [f, {g"


@pytest.mark.parametrize(
    "text", ["no", "null", "- a", "# b", "1e5", "2026-01-01", "{", "'", "&x *x"]
)
def test_what_looks_like_file_syntax_is_text(job: Path, text: str) -> None:
    name = file_form(job, "fill-test", stamps(job), {**GOOD, "note": text})["filed"]
    assert load_record(job / "records" / name).note == text


def test_a_form_cannot_say_when_it_was_filed_or_stamp_itself(job: Path) -> None:
    values = {**GOOD, "made": "2001-01-01T00:00:00+00:00", "part_hash": "0" * 64}
    name = file_form(job, "fill-test", stamps(job), values)["filed"]
    record = load_record(job / "records" / name)
    assert record.made.year > 2001
    assert record.part_hash == record_list(job).part_hash


def test_a_broken_record_is_said_and_hides_no_other(job: Path) -> None:
    file_form(job, "fill-test", stamps(job), GOOD)
    (job / "records" / "teardown-A-1.yaml").write_text("kind: teardown\n", encoding="utf-8")
    found = records_json(job)
    assert len(found["filed"]) == 1
    assert {p["code"] for p in found["problems"]} == {"REC-303"}


def touched(at: str) -> dict[str, Any]:
    finding = {"place": "rear left corner", "found": "touches", "by": "3 mm", "at": at}
    return {"by": "Ada Quill", "prototype": "print 1", "findings": [finding, {"place": ""}]}


@pytest.mark.parametrize("at", ["10 mm, 0 mm, -5 mm", " [10 mm, 0 mm , -5 mm] "])
def test_a_point_is_typed_in_one_line_and_filed_as_the_command_files_it(job: Path, at: str) -> None:
    fields = {f["key"]: f for f in form_json(job, "fit")["fields"]}
    finding = {f["key"]: f for f in fields["findings"]["fields"]}
    assert finding["at"]["kind"] == "place"
    assert finding["by"]["label"] != fields["by"]["label"]  # one is how much, one is who
    filed = file_form(job, "fit", stamps(job), touched(at))
    record: Any = load_record(job / "records" / filed["filed"])
    (found,) = record.findings
    assert (found.place, found.by, found.at) == ("rear left corner", 0.003, (0.01, 0.0, -0.005))


@pytest.mark.parametrize("at", ["10, 0 mm, -5 mm", "10 mm", "left, right"])
def test_a_point_that_is_none_is_said_at_its_line(job: Path, at: str) -> None:
    with pytest.raises(InputError) as refused:
        file_form(job, "fit", stamps(job), touched(at))
    keys = [p.where.split()[-1] for p in refused.value.problems]
    assert keys
    assert all(key.startswith("findings.0.at.") for key in keys)
    assert not list((job / "records").glob("fit-*"))
