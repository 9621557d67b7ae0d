# SPDX-License-Identifier: Apache-2.0
"""`sumpwright make` as a person calls it: made, made anyway, refused, stopped."""

import json
import os
import re
from pathlib import Path

import pytest
import typer
from click.testing import Result
from typer.testing import CliRunner

from sumpwright.cli.door import STOPPED, STOPPED_TEXT, door
from sumpwright.cli.ledger_text import WIDTH
from sumpwright.cli.make import make
from sumpwright.report import make_write
from tests.studies import halves_job
from tests.studies.box_job import JOB, box_job

app = typer.Typer()
app.command("make")(door(make))
TOO_MUCH = JOB + "requirements: { capacity: 90 L }\n"


def run(*args: object) -> Result:
    return CliRunner().invoke(app, [str(a) for a in args])


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return box_job(tmp_path / "job")


def files_of(place: Path) -> dict[str, bytes]:
    return {str(p.relative_to(place)): p.read_bytes() for p in place.rglob("*") if p.is_file()}


def beside(place: Path) -> list[str]:
    return sorted(p.name for p in place.parent.iterdir())


def test_a_pack_that_nothing_speaks_against_leaves_with_nought(job: Path) -> None:
    done = run(job)
    assert done.exit_code == 0, done.output
    place = job / "out" / "make" / "A"
    assert f"Pack    {place}" in done.stdout
    assert "  cad/          1  solids (STEP, STL)" in done.stdout
    assert "Not made: two halves: the job has no `new.outside`" in done.stdout
    said = done.stdout.replace(str(job), "JOB").splitlines()
    assert max(map(len, said)) <= WIDTH
    assert {"index.pdf", "manifest.json", "cad/pan-cavity.stl"} <= set(files_of(place))
    assert beside(place) == ["A"]


def test_json_is_what_the_manifest_says(job: Path) -> None:
    done = run(job, "--json")
    assert done.exit_code == 0
    manifest = json.loads((job / "out" / "make" / "A" / "manifest.json").read_text("utf-8"))
    assert manifest.pop("kind") == "sumpwright pack"
    assert json.loads(done.stdout) == manifest
    assert "cad/pan-cavity.stl" in {f["path"] for f in manifest["files"]}


def test_every_requirement_that_fails_is_named(tmp_path: Path) -> None:
    text = JOB.replace(
        "oil:", "  pickup: { centre: [150 mm, 0 mm, -60 mm], diameter: 40 mm }\noil:"
    )
    folder = box_job(
        tmp_path / "job", text + "requirements: { capacity: 90 L, slope_side: 60 deg }\n"
    )
    done = run(folder)
    assert done.exit_code == 2
    named = set(re.findall(r"^(requirements\.\w+)  \[MAKE-501\]", done.stderr, re.M))
    assert "requirements.capacity" in named
    assert len(named) > 1
    assert done.stderr.count("or say --anyway") == len(named)
    assert f"{len(named)} problems; nothing was done." in done.stderr
    assert "Traceback" not in done.output
    assert not (folder / "out" / "make").exists()


def test_a_part_that_cannot_be_worked_out_is_named_with_its_place(tmp_path: Path) -> None:
    wall = (
        "  baffles: [{ name: w, at: [9 m, 0 mm, 0 mm], normal: [1, 0, 0], thickness: 1 mm }]\noil:"
    )
    folder = box_job(tmp_path / "job", JOB.replace("oil:", wall))
    done = run(folder)
    assert done.exit_code == 2
    assert "new.baffles.0" in done.stderr
    assert not (folder / "out" / "make").exists()


def test_requirements_and_parts_that_fail_are_named_together(tmp_path: Path) -> None:
    text = halves_job.JOB + "requirements: {{ capacity: 90 L }}\n"
    folder = halves_job.halves_job(tmp_path / "job", "{height: -3 mm}", end="stl", text=text)
    done = run(folder)
    assert done.exit_code == 2
    assert "requirements.capacity  [MAKE-501]" in done.stderr
    assert "two halves: job.yaml:" in done.stderr
    assert "[MAKE-503]" in done.stderr
    assert "[HALF-501]" in done.stderr
    assert "2 problems; nothing was done." in done.stderr


def test_refused_as_json_is_a_list_of_problems(tmp_path: Path) -> None:
    done = run(box_job(tmp_path / "job", TOO_MUCH), "--json")
    assert done.exit_code == 2
    (problem,) = json.loads(done.stdout)["problems"]
    assert (problem["code"], problem["where"]) == ("MAKE-501", "requirements.capacity")


def test_anyway_leaves_with_one_and_says_so_wherever_it_is_read(tmp_path: Path) -> None:
    folder = box_job(tmp_path / "job", TOO_MUCH)
    done = run(folder, "--anyway")
    assert done.exit_code == 1
    assert "Against it: requirements.capacity" in done.stdout
    place = folder / "out" / "make" / "A"
    page = (place / "index.html").read_text("utf-8")
    assert "Made although something speaks against it" in page
    assert "requirements.capacity" in page
    assert "NOT RELEASED" in (place / "drawings" / "depth.dxf").read_text("utf-8")
    assert json.loads((place / "manifest.json").read_text("utf-8"))["verdict"] == "not met"


def test_a_second_run_takes_the_place_of_the_first(job: Path, tmp_path: Path) -> None:
    place = tmp_path / "pack"
    assert run(job, "--to", place).exit_code == 0
    (place / "old.txt").write_text("of an older pack", "utf-8")
    path = job / "job.yaml"
    path.write_text(path.read_text("utf-8").replace("fill: 3 L", "fill: 3.5 L"), "utf-8")
    before = json.loads((place / "manifest.json").read_text("utf-8"))
    assert run(job, "--to", place).exit_code == 0
    assert "old.txt" not in files_of(place)
    after = json.loads((place / "manifest.json").read_text("utf-8"))
    assert after["input_hash"] != before["input_hash"]
    assert beside(place) == ["job", "pack"]


def test_refused_it_leaves_the_older_pack_as_it_was(job: Path, tmp_path: Path) -> None:
    place = tmp_path / "pack"
    run(job, "--to", place)
    before = files_of(place)
    (job / "job.yaml").write_text(TOO_MUCH, "utf-8")
    assert run(job, "--to", place).exit_code == 2
    assert files_of(place) == before
    assert beside(place) == ["job", "pack"]


def test_a_folder_that_is_no_pack_is_let_be(job: Path, tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("keep", "utf-8")
    done = run(job, "--to", tmp_path / "mine")
    assert done.exit_code == 2
    assert "[MAKE-505]" in done.stderr
    assert files_of(tmp_path / "mine") == {"letter.txt": b"keep"}


@pytest.mark.parametrize("at", ["while files are written", "before the swap", "within the swap"])
def test_stopped_it_leaves_the_older_pack_and_nothing_half_written(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: str
) -> None:
    place = tmp_path / "pack"
    run(job, "--to", place)
    before = files_of(place)
    moves: list[str] = []
    own = os.rename

    def rename(a: Path, b: Path) -> None:
        moves.append(Path(b).name)
        if (at, len(moves)) in (("before the swap", 1), ("within the swap", 2)):
            raise KeyboardInterrupt
        own(a, b)

    def write(self: Path, data: bytes) -> int:
        if self.name == "parts.csv":
            raise KeyboardInterrupt
        return own_write(self, data)

    own_write = Path.write_bytes
    monkeypatch.setattr(make_write.os, "rename", rename)
    if at == "while files are written":
        monkeypatch.setattr(Path, "write_bytes", write)
    done = run(job, "--to", place)
    assert done.exit_code == STOPPED
    assert STOPPED_TEXT in done.stderr
    assert files_of(place) == before
    assert beside(place) == ["job", "pack"]


def test_a_full_disk_is_a_sentence_and_leaves_nothing(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def write(self: Path, data: bytes) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", write)
    done = run(job)
    assert done.exit_code == 2
    assert "Traceback" not in done.output
    assert list((job / "out" / "make").iterdir()) == []


def test_what_is_bought_for_no_line_is_refused_by_its_place(tmp_path: Path) -> None:
    shop = "shop: { bought: [{ name: bolts, line: pan-bolts, price: 0.4 }] }\n"
    folder = box_job(tmp_path / "job", JOB + shop)
    done = run(folder)
    assert done.exit_code == 2
    assert "shop.bought.0.line  [MAKE-507]" in done.stderr
    assert run(folder, "--anyway").exit_code == 1
