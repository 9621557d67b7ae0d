# SPDX-License-Identifier: Apache-2.0
"""Files that a job names: inside the folder, there, of a kind that can be read."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import load_job
from sumpwright.job.named_file import named_files


def problems(folder: Path) -> list[Problem]:
    with pytest.raises(InputError) as caught:
        load_job(folder)
    return list(caught.value.problems)


def job_with(file: str) -> str:
    return f"job: x\nnew: {{cavity: {{file: {file}, unit: mm}}}}\noil: {{fill: 4 L}}\n"


@pytest.mark.parametrize(
    "file",
    ["/etc/passwd.stl", "../new.stl", "geometry/../../new.stl", "'C:\\pans\\new.stl'", "C:/new.stl",
     "'\\\\server\\share\\new.stl'"],
)  # fmt: skip
def test_refuses_a_file_outside_the_job_folder(make_job, file: str) -> None:
    (problem,) = problems(make_job(job_with(file)))
    assert problem.code == "JOB-120"
    assert "copy the file into the job folder" in problem.do


def test_refuses_a_link_that_leads_out_of_the_job_folder(make_job, tmp_path: Path) -> None:
    folder = make_job(job_with("geometry/linked.stl"))
    (tmp_path / "elsewhere.stl").touch()
    (folder / "geometry" / "linked.stl").symlink_to(tmp_path / "elsewhere.stl")
    assert [p.code for p in problems(folder)] == ["JOB-120"]


def test_refuses_a_way_up_behind_a_link_that_leads_out(make_job, tmp_path: Path) -> None:
    folder = make_job(job_with("geometry/sub/../new.stl"))
    (tmp_path / "other" / "deep").mkdir(parents=True)
    (tmp_path / "other" / "new.stl").touch()
    (folder / "geometry" / "sub").symlink_to(tmp_path / "other" / "deep")
    assert [p.code for p in problems(folder)] == ["JOB-120"]


def test_takes_a_link_inside_the_folder_and_a_linked_folder(make_job, tmp_path: Path) -> None:
    folder = make_job(job_with("geometry/linked.stl"))
    (folder / "geometry" / "linked.stl").symlink_to(folder / "geometry" / "new.stl")
    (tmp_path / "door").symlink_to(folder)
    assert load_job(tmp_path / "door").job.new.cavity.file == "geometry/linked.stl"


def test_asks_for_forward_slashes(make_job) -> None:
    (problem,) = problems(make_job(job_with("'geometry\\new.stl'")))
    assert problem.do.endswith("geometry/new.stl")


def test_lists_every_missing_file_at_once_with_near_names(make_job) -> None:
    text = (
        "job: x\n"
        "new:\n"
        "  cavity: {file: geometry/New.stl, unit: mm}\n"
        "  outside: new.step\n"
        "oil: {fill: 4 L}\n"
        "engine:\n"
        "  crank_sweep: {body: crank.step}\n"
        "obstacles:\n"
        "  - {name: rack, file: geometry}\n"
        "  - {name: beam, file: geometry/x.3mf}\n"
    )
    found = {p.where: p for p in problems(make_job(text))}
    assert {w: p.code for w, p in found.items()} == {
        "job.yaml:3  new.cavity.file": "JOB-121",
        "job.yaml:4  new.outside": "JOB-121",
        "job.yaml:7  engine.crank_sweep.body": "JOB-121",
        "job.yaml:9  obstacles.0.file": "JOB-122",
        "job.yaml:10  obstacles.1.file": "JOB-121",
    }
    assert found["job.yaml:3  new.cavity.file"].do == "did you mean geometry/new.stl?"
    assert found["job.yaml:4  new.outside"].do == "did you mean geometry/new.step?"
    there = "copy it there, or name one that is: geometry/new.step, geometry/new.stl"
    assert found["job.yaml:10  obstacles.1.file"].do == there


def test_refuses_a_folder_named_like_a_file(make_job) -> None:
    folder = make_job(job_with("geometry/dir.stl"))
    (folder / "geometry" / "dir.stl").mkdir()
    (problem,) = problems(folder)
    assert (problem.code, problem.found) == ("JOB-121", "geometry/dir.stl, which is a folder")


def test_says_a_file_that_may_not_be_read(make_job, bound) -> None:
    folder = make_job(job_with("geometry/new.stl"))
    (folder / "geometry" / "new.stl").chmod(0)
    said = bound(f"from sumpwright.job.load import load_job; load_job(Path({str(folder)!r}))")
    assert "[JOB-121]" in said
    assert "may not be read" in said


def test_asks_for_the_unit_that_stl_and_ply_do_not_carry(make_job) -> None:
    text = "job: x\nnew: {cavity: geometry/new.stl, outside: {file: geometry/new.step}}\n"
    (problem,) = problems(make_job(text + "oil: {fill: 4 L}\n"))
    assert (problem.code, problem.do) == ("JOB-123", "write `{file: geometry/new.stl, unit: mm}`")


FACE = "baffles: [{{name: a, thickness: 1 mm, face: {}}}]"


@pytest.mark.parametrize(
    ("line", "key", "needed", "do"),
    [
        ("displacing: [{name: a, file: a.csv}]", "displacing.0.file",
         "a STEP, STL, 3MF or PLY file", "export the body in one of these"),
        (FACE.format("geometry/new.stl"), "baffles.0.face", "a STEP file", "no other format"),
        (FACE.format("{file: geometry/new.stl}"), "baffles.0.face.file", "a STEP file", "flat"),
    ],
)  # fmt: skip
def test_refuses_a_file_that_cannot_be_read_at_its_place(
    make_job, line: str, key: str, needed: str, do: str
) -> None:
    text = f"job: x\nnew:\n  cavity: geometry/new.step\n  {line}\noil: {{fill: 4 L}}\n"
    (problem,) = problems(make_job(text))
    assert (problem.code, problem.where) == ("JOB-122", f"job.yaml:4  new.{key}")
    assert problem.needed == needed
    assert do in problem.do


def log_of(file: str) -> str:
    return (
        "job: x\nnew: {cavity: geometry/new.step}\noil: {fill: 4 L}\n"
        f"manoeuvres: [{{name: a, kind: trace, file: {file}}}]\n"
    )


@pytest.mark.parametrize(
    ("file", "code", "do"),
    [
        ("/logs/eight.csv", "JOB-120", "copy the file into the job folder"),
        ("../eight.csv", "JOB-120", "copy the file into the job folder"),
        ("tests/Eight.csv", "JOB-121", "did you mean tests/eight.csv?"),
        ("tests/track.csv", "JOB-121", "copy it there, or name one that is: tests/eight.csv"),
        ("geometry/new.step", "JOB-122", "save the log as CSV text"),
    ],
)
def test_holds_a_log_to_the_same_rules(make_job, file: str, code: str, do: str) -> None:
    (problem,) = problems(make_job(log_of(file)))
    assert (problem.code, problem.where) == (code, "job.yaml:4  manoeuvres.0.file")
    assert do in problem.do


def test_says_that_there_is_no_log_yet(make_job) -> None:
    folder = make_job(log_of("tests/eight.csv"))
    (folder / "tests" / "eight.csv").unlink()
    (problem,) = problems(folder)
    assert problem.do == "copy it there; the job folder holds no CSV file yet"


def test_finds_every_place_where_a_file_may_be_named() -> None:
    data = {
        "note": "a.stl",
        "new": {
            "cavity": "a.stl",
            "outside": {"file": "b.stl"},
            "displacing": [{"name": "f", "file": "f.stl"}],
            "baffles": [{"face": "g.step"}, {"face": {"file": "h.step"}}],
        },
        "stock": {"cavity": {"file": "c.stl"}},
        "engine": {"crank_sweep": {"body": "d.stl"}},
        "obstacles": [{"name": "e", "file": "e.stl"}],
        "manoeuvres": [{"file": "i.csv"}],
    }
    assert dict(named_files(data)) == {
        ("new", "cavity"): "a.stl",
        ("new", "outside", "file"): "b.stl",
        ("stock", "cavity", "file"): "c.stl",
        ("engine", "crank_sweep", "body"): "d.stl",
        ("obstacles", 0, "file"): "e.stl",
        ("new", "displacing", 0, "file"): "f.stl",
        ("new", "baffles", 0, "face"): "g.step",
        ("new", "baffles", 1, "face", "file"): "h.step",
        ("manoeuvres", 0, "file"): "i.csv",
    }
