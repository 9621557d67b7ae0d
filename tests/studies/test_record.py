# SPDX-License-Identifier: Apache-2.0
"""Records are typed, filed once, and broken ones are said."""

import hashlib
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.job.record import KINDS, FillTest
from sumpwright.job.record_load import load_record, load_records
from sumpwright.job.revision import part_hash
from sumpwright.studies import record as module
from sumpwright.studies.record import blank_form, write_record
from tests.studies.proof_job import DOORED, FORMS, doored_job, form


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_filed_and_read_back(kind: str, tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    path = write_record(folder, form(kind))
    record = load_record(path)
    assert path.name.startswith(f"{kind}-A-")
    assert record.part_hash == part_hash(load_job(folder))
    assert record.made.tzinfo is not None
    assert load_records(folder).problems == ()


@pytest.mark.parametrize("kind", KINDS)
def test_a_blank_form_says_what_it_lacks_and_no_more(kind: str, tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    blank = folder / "form.yaml"
    blank.write_text(blank_form(folder, kind), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        write_record(folder, blank)
    assert {p.code for p in caught.value.problems} <= {"REC-303", "REC-305"}
    assert "by" in caught.value.problems[0].where or "`by`" in str(caught.value)
    assert not list((folder / "records").glob("*")) if (folder / "records").exists() else True


def test_the_door_form_has_the_job_s_doors_in_it(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    text = blank_form(folder, "door-test")
    assert '- baffle: "wall"' in text
    assert 'door: "door"' in text


def test_a_filled_in_form_keeps_the_part_it_was_made_for(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    before = part_hash(load_job(folder))
    sheet = folder / "form.yaml"
    text = (
        blank_form(folder, "leak-test").replace("by:", "by: Tamsin").replace("stood:", "stood: 2 h")
    )
    sheet.write_text(text, encoding="utf-8")
    (folder / "job.yaml").write_text(DOORED.replace("3 L", "3.1 L"), encoding="utf-8")
    assert load_record(write_record(folder, sheet)).part_hash == before
    assert part_hash(load_job(folder)) != before


def test_rows_left_blank_at_the_end_are_no_rows(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    sheet = folder / "form.yaml"
    text = blank_form(folder, "fill-test").replace("by:", "by: Tamsin")
    text = text.replace("poured:", "poured: 1 L", 1).replace("height:", "height: 16.7 mm", 1)
    sheet.write_text(text, encoding="utf-8")
    record = load_record(write_record(folder, sheet))
    assert isinstance(record, FillTest)
    assert len(record.rows) == 1


def test_is_never_rewritten(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = doored_job(tmp_path)
    path = write_record(folder, form("decision"))
    first = path.read_bytes()

    class Still(module.datetime):  # the same second again
        @classmethod
        def now(cls, tz=None):
            return load_record(path).made

    monkeypatch.setattr(module, "datetime", Still)
    with pytest.raises(InputError, match="REC-310"):
        write_record(folder, form("decision", text="Otherwise."))
    assert path.read_bytes() == first


WRONG = {
    "no unit": ("fill-test", {"rows": [{"poured": "1", "height": "10 mm"}]}, "REC-305"),
    "comma": ("fill-test", {"rows": [{"poured": "1,5 L", "height": "10 mm"}]}, "REC-305"),
    "a kind nobody knows": ("fill-test", {"kind": "fil-test"}, "REC-302"),
    "nobody": ("leak-test", {"by": ""}, "REC-305"),
    "a key nobody knows": ("leak-test", {"stod": "2 h"}, "REC-304"),
    "a word nobody knows": ("teardown", {"oil": "fine"}, "REC-305"),
    "a strange door": (
        "door-test",
        {"doors": [{**FORMS["door-test"]["doors"][0], "door": "hatch"}]},
        "REC-307",
    ),
    "a record that is not there": ("decision", {"set_aside": ["log-A-1.yaml"]}, "REC-308"),
    "a photo that is not there": ("teardown", {"photos": ["no.jpg"]}, "REC-309"),
    "a photo from elsewhere": ("teardown", {"photos": ["../x.jpg"]}, "REC-309"),
}


@pytest.mark.parametrize("what", WRONG)
def test_refuses(what: str, tmp_path: Path) -> None:
    kind, other, code = WRONG[what]
    folder = doored_job(tmp_path / "job")
    (tmp_path / "x.jpg").write_bytes(b"x")
    with pytest.raises(InputError) as caught:
        write_record(folder, {**form(kind), **other})
    assert [p.code for p in caught.value.problems] == [code]
    assert not (folder / "records").exists()


def test_a_photo_s_fingerprint_is_that_of_its_bytes(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    (folder / "screen.jpg").write_bytes(b"a picture")
    record = load_record(write_record(folder, form("teardown", photos=["screen.jpg"])))
    # FIPS 180-4's SHA-256 by the standard library
    assert record.photos[0].sha256 == hashlib.sha256(b"a picture").hexdigest()  # type: ignore[attr-defined]


def test_a_broken_record_is_said_and_the_others_are_read(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    good = write_record(folder, form("session"))
    (folder / "records" / "log-A-20260101-000000.yaml").write_bytes(b"\xff\xfe\x00")
    (folder / "records" / "session-A-20260101-000000.yaml").write_text("kind: session\n")
    (folder / "records" / "leak-test-A-20260101-000000.yaml").write_bytes(good.read_bytes())
    (folder / "records" / "revision-Z.yaml").write_text("job: kept\n")
    found = load_records(folder)
    assert [f.name for f in found.filed] == [good.name]
    assert {p.where.split(":")[0].split("/")[-1] for p in found.problems} == {
        "log-A-20260101-000000.yaml",
        "session-A-20260101-000000.yaml",
        "leak-test-A-20260101-000000.yaml",
    }
    assert "REC-306" in {p.code for p in found.problems}


def test_a_list_that_nobody_filled_in_is_said_to_be_that(tmp_path: Path) -> None:
    folder = doored_job(tmp_path / "job")
    sheet = tmp_path / "sheet.yaml"
    sheet.write_text(blank_form(folder, "fill-test").replace("by:", "by: Tamsin Orrel"))
    with pytest.raises(InputError, match="none of them filled in"):
        write_record(folder, sheet)


def test_a_form_that_is_not_there_is_said_to_be_that(tmp_path: Path) -> None:
    folder = doored_job(tmp_path / "job")
    with pytest.raises(InputError, match=r"CLI-403") as caught:
        write_record(folder, tmp_path / "nowhere.yaml")
    assert "no such file" in str(caught.value)
