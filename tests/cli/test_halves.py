# SPDX-License-Identifier: Apache-2.0
"""`halves` as a person reads it, and the files it writes."""

import json
import re
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.halves import halves
from sumpwright.cli.ledger_text import WIDTH
from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import area, bounds, volume
from sumpwright.geometry.cad_step import step_solid
from sumpwright.geometry.mesh_file import read_mesh
from sumpwright.report import halves_write
from sumpwright.report.halves_write import write_halves
from sumpwright.studies.halves import halved_of, halves_of
from tests.studies.halves_job import JOB, halves_job

APP = typer.Typer(pretty_exceptions_enable=False)
APP.command()(door(halves))
LIP = "{height: -45 mm, lip: {height: 3 mm, thickness: 1 mm}}"


def test_every_half_reads_back_as_it_was_weighed(tmp_path: Path) -> None:
    folder = halves_job(tmp_path / "job", LIP)
    done = CliRunner().invoke(APP, [str(folder)])
    assert done.exit_code == 0, done.output
    rows = [x for x in done.stdout.splitlines() if str(folder) not in x]
    assert max(map(len, rows)) <= WIDTH
    assert "Split at −45.0 mm, as the job gives it" in done.stdout
    result = halves_of(folder)
    for half in (result.upper, result.lower):
        read = step_solid(folder / "out" / "halves" / f"{half.key}.step")
        assert volume(read) == pytest.approx(half.volume_m3, rel=1e-6)
        assert area(read) == pytest.approx(half.area_m2, rel=1e-6)
        assert bounds(read).tolist()[1] == pytest.approx(half.bounds_m[1], abs=1e-6)
    picture = (folder / "out" / "halves" / "reach.svg").read_text("utf-8")
    assert "upper half, from the split face" in picture


def test_json_is_the_study_s_own_and_no_files_writes_none(tmp_path: Path) -> None:
    folder = halves_job(tmp_path / "job")
    done = CliRunner().invoke(APP, [str(folder), "--json", "--no-files"])
    assert json.loads(done.stdout) == json.loads(json.dumps(halves_of(folder).as_json()))
    assert not (folder / "out" / "halves").exists()


def test_a_proposal_in_inches_marks_its_choice_and_says_no_millimetres(tmp_path: Path) -> None:
    folder = halves_job(tmp_path / "job", "{skim: 1 mm}", text="units: us\n" + JOB)
    done = CliRunner().invoke(APP, [str(folder)])
    assert done.exit_code == 0, done.output
    rows = [x for x in done.stdout.splitlines() if str(folder) not in x]
    assert max(map(len, rows)) <= WIDTH
    assert len([x for x in rows if x.startswith("*")]) == 1
    assert "proposed:" in done.stdout
    ours = " ".join(" ".join(rows).split())
    assert not re.search(r"\d (mm|cm²|kg|g)\b", ours), ours
    assert "leave 0.0394 in" in ours  # 1 mm / 25.4
    assert "0.004 to 0.008 in flat" in ours
    assert "STEP is in mm" in done.stdout
    picture = (folder / "out" / "halves" / "reach.svg").read_text("utf-8")
    assert not re.search(r"\d (mm|cm²)", picture)


def test_a_pan_that_no_cutter_makes_leaves_with_one(tmp_path: Path) -> None:
    text = "".join(x for x in JOB.splitlines(keepends=True) if "name: long" not in x)
    folder = halves_job(tmp_path / "job", text=text)
    done = CliRunner().invoke(APP, [str(folder), "--no-files"])
    assert done.exit_code == 1
    assert "Way out: Too deep" in done.stdout


def test_a_split_in_the_flange_is_one_clear_problem(tmp_path: Path) -> None:
    done = CliRunner().invoke(APP, [str(halves_job(tmp_path / "job", "height: -3 mm"))])
    assert done.exit_code == 2
    assert "[HALF-501]" in done.stderr
    assert "Traceback" not in done.output
    assert not (tmp_path / "job" / "out" / "halves").exists()


def test_nothing_is_written_where_a_half_does_not_read_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    halved = halved_of(halves_job(tmp_path / "job", LIP))
    own = halves_write.step_bytes
    lower = halved.lower.half
    assert lower is not None
    monkeypatch.setattr(halves_write, "step_bytes", lambda _, name: own([lower.solid], name))
    with pytest.raises(SolveError, match=r"upper-half\.step does not read back"):
        write_halves(halved)
    assert not (tmp_path / "job" / "out" / "halves").exists()


def test_triangles_are_written_as_stl(tmp_path: Path) -> None:
    folder = halves_job(tmp_path / "job", end="stl")
    assert CliRunner().invoke(APP, [str(folder)]).exit_code == 0
    result = halves_of(folder)
    read = read_mesh(folder / "out" / "halves" / "lower-half.stl", 1e-3).mesh
    assert read.volume == pytest.approx(result.lower.volume_m3, rel=1e-5)  # single precision
