# SPDX-License-Identifier: Apache-2.0
"""What a result came from, and the revisions left behind."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import InputError
from sumpwright.job import revision as module
from sumpwright.job.load import load_job
from sumpwright.job.revision import input_hash, next_revision, revise

JOB = """\
job: Bench engine
revision: A   # the first
units: metric
new:
  cavity: {file: geometry/new.stl, unit: mm}
oil:
  fill: 4.6 L
  low: 3.6 L
"""


def hash_of(folder: Path, text: str) -> str:
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    return input_hash(load_job(folder))


SAME = {
    "a comment": ("# hello\n" + JOB),
    "spacing": JOB.replace("  fill: 4.6 L", "  fill:   4.6   L"),
    "key order": JOB.replace("  fill: 4.6 L\n  low: 3.6 L\n", "  low: 3.6 L\n  fill: 4.6 L\n"),
    "the unit a value is typed in": JOB.replace("4.6 L", "4600 mL"),
    "a default written out": JOB + "pose: {x: 0 mm}\n",
    "the name": JOB.replace("Bench engine", "Another"),
    "the revision": JOB.replace("revision: A", "revision: B"),
    "the display units": JOB.replace("metric", "us"),
    "a note": JOB + "note: said\n",
    "minus nothing": JOB + "pose: {roll: -0 deg}\n",
}
OTHER = {
    "a fill": JOB.replace("4.6 L", "4.61 L"),
    "a limit": JOB + "requirements: {ground: 90 mm}\n",
    "the file's unit": JOB.replace("unit: mm", "unit: in"),
    "another file": JOB.replace("new.stl", "other.stl"),
    "an angle": JOB + "pose: {roll: 1 deg}\n",
    "a requirement turned off": JOB + "requirements: {ground: off}\n",
}


@pytest.mark.parametrize("file", ["geometry/new.step", "tests/eight.csv"])
def test_is_changed_by_the_bytes_of_a_face_a_body_or_a_log(file: str, make_job, moving) -> None:
    folder = make_job(moving.replace("cavity: geometry/new.step", "cavity: geometry/pan.step"))
    (folder / "geometry" / "pan.step").touch()
    before = input_hash(load_job(folder))
    (folder / file).write_bytes(b"driven again")
    assert input_hash(load_job(folder)) != before


def test_is_not_changed_by_the_name_of_a_log(make_job, moving) -> None:
    folder = make_job(moving)
    before = input_hash(load_job(folder))
    (folder / "tests" / "eight.csv").rename(folder / "tests" / "3-may.csv")
    assert hash_of(folder, moving.replace("tests/eight.csv", "tests/3-may.csv")) == before


def test_a_revision_keeps_baffles_and_manoeuvres(make_job, moving) -> None:
    folder = make_job(moving)
    before = input_hash(load_job(folder))
    record, name = revise(folder)
    assert name == "B"
    assert record.read_text("utf-8").endswith(moving)
    assert input_hash(load_job(folder)) == before


@pytest.mark.parametrize("name", SAME)
def test_is_not_changed_by(name: str, make_job) -> None:
    folder = make_job(JOB)
    assert hash_of(folder, SAME[name]) == hash_of(folder, JOB)


@pytest.mark.parametrize("name", OTHER)
def test_is_changed_by(name: str, make_job) -> None:
    folder = make_job(JOB)
    (folder / "geometry" / "other.stl").write_bytes(b"another body")
    assert hash_of(folder, OTHER[name]) != hash_of(folder, JOB)


def test_follows_the_bytes_of_the_geometry_and_not_its_name(make_job) -> None:
    folder = make_job(JOB)
    before = hash_of(folder, JOB)
    body = folder / "geometry" / "new.stl"
    (folder / "geometry" / "again.stl").write_bytes(body.read_bytes())
    assert hash_of(folder, JOB.replace("new.stl", "again.stl")) == before
    body.write_bytes(b"a changed body")
    assert hash_of(folder, JOB) != before


def test_a_key_of_a_later_schema_that_is_not_there_leaves_no_trace() -> None:
    later = {"fill": 0.0046, "cooler": None, "bosses": [], "shape": {"wall": None}, "zero": 0.0}
    assert module._canonical(later, {}) == module._canonical({"fill": 0.0046, "zero": 0.0}, {})


def test_does_not_hang_on_how_python_orders_things(make_job) -> None:
    folder = make_job(JOB)
    code = (
        "import sys; from pathlib import Path; from sumpwright.job.load import load_job\n"
        "from sumpwright.job.revision import input_hash\n"
        "print(input_hash(load_job(Path(sys.argv[1]))))"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", code, folder],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("0", "1")
    }
    assert said == {input_hash(load_job(folder))}


@pytest.mark.parametrize(
    ("name", "following"),
    [("A", "B"), ("Y", "Z"), ("Z", "AA"), ("AZ", "BA"), ("ZZ", "AAA"), ("a", "b"), ("1", "2"),
     ("9", "10"), ("A1", "A2"), ("A09", "A10"), ("1.9", "1.10"), ("rev-C", "rev-D")],
)  # fmt: skip
def test_the_next_revision(name: str, following: str) -> None:
    assert next_revision(name) == following


@given(st.integers(1, 20_000))
def test_letters_count_on_without_a_gap_or_a_repeat(count: int) -> None:
    name = "A"
    for _ in range(min(count, 800)):
        longer = next_revision(name)
        assert (len(longer), longer) > (len(name), name)
        name = longer


def test_keeps_the_job_as_it_stands_and_starts_the_next(make_job) -> None:
    folder = make_job(JOB)
    hashed = input_hash(load_job(folder))
    record, name = revise(folder, note="sump\n10 mm wider")
    assert (record, name) == (folder / "records" / "revision-A.yaml", "B")
    kept = record.read_text("utf-8")
    assert kept.endswith("\n\n" + JOB)
    head = kept.removesuffix(JOB)
    assert head.startswith("# Revision A of Bench engine, kept 2")
    assert (
        f"# Inputs {hashed}\n# Note: sump\n# Note: 10 mm wider\n# A record: do not edit. " in head
    )
    assert (folder / "job.yaml").read_text("utf-8") == JOB.replace("revision: A ", "revision: B ")
    (folder / "job.yaml").write_bytes(record.read_bytes())
    assert load_job(folder).job.revision == "A"  # copied over job.yaml, a record is that job


def test_goes_on_where_it_was_stopped_between_record_and_revision(
    make_job, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = make_job(JOB)
    write = module.write_atomic

    def stop_at_the_job(path: Path, data: bytes, **more: bytes) -> None:
        if path.name == "job.yaml":
            raise KeyboardInterrupt
        write(path, data, **more)

    monkeypatch.setattr(module, "write_atomic", stop_at_the_job)
    with pytest.raises(KeyboardInterrupt):
        revise(folder, note="first")
    monkeypatch.undo()
    kept = (folder / "records" / "revision-A.yaml").read_bytes()
    revise(folder, note="second")
    assert (folder / "records" / "revision-A.yaml").read_bytes() == kept
    assert load_job(folder).job.revision == "B"


def test_never_rewrites_a_record(make_job) -> None:
    folder = make_job(JOB)
    record, _ = revise(folder)
    kept = record.read_bytes()
    (folder / "job.yaml").write_text(JOB.replace("4.6 L", "4.4 L"), encoding="utf-8")
    with pytest.raises(InputError, match=r"\[SAVE-307\]"):
        revise(folder)
    with pytest.raises(InputError, match=r"\[SAVE-307\]"):
        revise(folder, "A")
    assert record.read_bytes() == kept


@pytest.mark.parametrize("name", ["../B", "", "B/C", "x" * 41, ".hidden", "A"])
def test_refuses_a_revision_name_that_makes_no_file(name: str, make_job) -> None:
    folder = make_job(JOB)
    if not name:
        assert revise(folder, name)[1] == "B"  # nothing named is the next letter
        return
    with pytest.raises(InputError, match=r"\[SAVE-307\]"):
        revise(folder, name)
    assert not (folder / "records").exists()


def test_writes_the_revision_where_the_job_had_none(make_job, small) -> None:
    folder = make_job(small)
    revise(folder)
    assert load_job(folder).job.revision == "B"
    assert (folder / "job.yaml").read_text("utf-8") == small + "revision: B\n"
