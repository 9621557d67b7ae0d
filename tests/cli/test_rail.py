# SPDX-License-Identifier: Apache-2.0
"""`sumpwright rail` as a person types it."""

import json
from pathlib import Path

import numpy as np
import pytest
import typer
from PIL import Image
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.history import history
from sumpwright.cli.rail import rail
from sumpwright.cli.record import record
from sumpwright.job.revision import revise
from sumpwright.studies.rail import rail_of
from sumpwright.studies.record import write_record
from tests.studies.proof_job import form
from tests.studies.rail_job import SPOTS, rail_job
from tests.studies.test_rail_scan import DPI, scanned

app = typer.Typer()
for command in (rail, record, history):
    app.command()(door(command))


def run(*args: object) -> tuple[int, str]:
    done = CliRunner().invoke(app, [str(a) for a in args])
    return done.exit_code, done.output


def off_by(mm: float) -> np.ndarray:
    spots = SPOTS.copy()
    spots[3] += [0.0, mm]
    return spots


def test_leaves_by_the_verdict_and_draws_the_pattern(tmp_path: Path) -> None:
    status, text = run("rail", rail_job(tmp_path / "a", ("March", "calipers", SPOTS)))
    assert status == 0
    assert text.startswith("MET  box")
    assert (tmp_path / "a/out/rail/rail.svg").is_file()
    assert max(map(len, text.splitlines())) <= 120  # paths may be long
    status, text = run("rail", rail_job(tmp_path / "b", ("March", "calipers", off_by(0.6))))
    assert status == 1
    assert "the bolt of hole 4 strikes" in text
    assert "STRIKES" in text


def test_json_is_the_study_s_answer(tmp_path: Path) -> None:
    folder = rail_job(tmp_path, ("March", "calipers", off_by(0.1)))
    status, text = run("rail", folder, "--json", "--no-picture")
    assert status == 0
    assert json.loads(text) == json.loads(json.dumps(rail_of(folder).as_json()))
    assert not (folder / "out" / "rail").exists()


def test_a_scan_is_marked_first_and_kept_second(tmp_path: Path) -> None:
    folder = rail_job(tmp_path / "job")
    picture = scanned(tmp_path / "gasket.png", SPOTS)
    before = (folder / "job.yaml").read_bytes()
    status, text = run("rail", folder, "--scan", picture, "--dpi", DPI)
    assert status == 0
    assert "10 of them lie on 10 designed holes" in text
    assert "Nothing was written into the job" in text
    assert (folder / "job.yaml").read_bytes() == before
    with Image.open(folder / "out/rail/found.png") as marked:
        assert marked.mode == "RGB"
    status, text = run("rail", folder, "--scan", picture, "--dpi", DPI, "--keep", "--name", "flat")
    assert status == 0
    assert "10 holes written as rail.measured, flat" in text
    assert run("rail", folder)[0] == 0


WRONG = {
    "two ways to find": (["--scan", "a.png", "--mesh"], "CLI-402"),
    "a scale alone": (["--dpi", "100"], "CLI-402"),
    "kept alone": (["--keep"], "CLI-402"),
    "a bar without a unit": (["--scan", "a.png", "--bar", "1,2,300,4,200"], "RAIL-508"),
    "a bar of words": (["--scan", "a.png", "--bar", "left,right"], "RAIL-508"),
    "three corners": (["--scan", "a.png", "--corners", "1,2,3,4,5,6,1m,1m"], "RAIL-508"),
    "sizes turned round": (["--mesh", "--hole", "9mm,5mm"], "RAIL-508"),
    "infinite": (["--scan", "a.png", "--bar", "inf,2,300,4,200mm"], "RAIL-508"),
    "no picture": (["--scan", "none.png", "--dpi", "100"], "RAIL-506"),
}


@pytest.mark.parametrize("what", WRONG)
def test_what_cannot_be_taken_is_said_once(tmp_path: Path, what: str) -> None:
    args, code = WRONG[what]
    folder = rail_job(tmp_path)
    before = (folder / "job.yaml").read_bytes()
    status, text = run("rail", folder, *args)
    assert status == 2
    assert text.count(code) == 1
    assert "Traceback" not in text
    assert (folder / "job.yaml").read_bytes() == before


def test_the_fit_log_stands_in_the_history_under_its_revision(tmp_path: Path) -> None:
    folder = rail_job(tmp_path)
    status, blank = run("record", folder, "--blank", "fit")
    assert status == 0
    assert "prototype:" in blank
    write_record(folder, form("fit"))
    status, text = run("history", folder, "--no-figures")
    assert status == 0
    assert "fit log" in text
    assert "rear left: touches at 20.0 mm, 60.0 mm, −40.0 mm" in text
    assert "front: short 3.0 mm" in text
    assert "changed: left wall 4 mm further in" in text
    revise(folder, note="left wall further in")
    status, text = run("history", folder, "--no-figures")
    assert "fit log" not in text  # it stands under the step that it led to
    assert text.index("A to B") < text.index("print 1") < text.index("changed: left wall")
    status, told = run("history", folder, "--no-figures", "--json")
    (entry,) = json.loads(told)["fits"]
    assert (entry["revision"], entry["prototype"]) == ("A", "print 1")
    assert entry["findings"][1]["by_m"] == pytest.approx(0.003)
    assert "fit-A-" in run("record", folder)[1]
