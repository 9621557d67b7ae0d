# SPDX-License-Identifier: Apache-2.0
"""Records, history and release behind their commands."""

import json
from pathlib import Path

import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.history import history
from sumpwright.cli.record import record
from sumpwright.cli.release import release
from sumpwright.job.revision import revise
from sumpwright.studies.history import history as told_of
from sumpwright.studies.record import write_record
from tests.studies.proof_job import DOORED, doored_job, form
from tests.studies.test_release import ASKED, proved

app = typer.Typer()
for command in (record, history, release):
    app.command()(door(command))


def run(*args: object) -> tuple[int, str]:
    done = CliRunner().invoke(app, [str(a) for a in args])
    return done.exit_code, done.output


def test_a_form_is_printed_filled_in_and_filed(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    status, text = run("record", folder, "--blank", "leak-test")
    assert status == 0
    sheet = tmp_path / "leak.yaml"
    filled = text.replace("by:", "by: Tamsin", 1).replace("stood:", "stood: 2 h", 1)
    sheet.write_text(filled, "utf-8")
    status, text = run("record", folder, sheet)
    assert status == 0
    name = next((folder / "records").iterdir()).name
    assert name in text
    assert f"{name}  Tamsin  (counts)" in run("record", folder)[1]


def test_says_which_records_are_stale_or_broken(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    write_record(folder, form("session"))
    (folder / "job.yaml").write_text(DOORED.replace("3 L", "3.1 L"), "utf-8")
    (folder / "records" / "log-A-1.yaml").write_text("kind: log\n", "utf-8")
    text = run("record", folder)[1]
    assert "(stale: revision A, part" in text
    assert "[REC-303]" in text


def test_an_unknown_kind_is_an_input_problem(tmp_path: Path) -> None:
    status, text = run("record", doored_job(tmp_path), "--blank", "leek")
    assert status == 2
    assert "[REC-302]" in text


def test_history_tells_the_same_as_its_json(tmp_path: Path) -> None:
    folder = doored_job(tmp_path)
    revise(folder)
    text = (folder / "job.yaml").read_text("utf-8").replace("3 L", "3.2 L")
    (folder / "job.yaml").write_text(text, "utf-8")
    with (folder / "job.yaml").open("a", encoding="utf-8") as job:
        job.write("fitting: {torque: 9 N m}\n")
    status, text = run("history", folder)
    assert status == 0
    assert "fitting.torque: nothing -> 9 N m" in text
    assert "oil.fill: 3 L -> 3.2 L" in text
    assert "full mark: 3.00 L -> 3.20 L (+0.20 L)" in text
    told = json.loads(run("history", folder, "--json")[1])
    assert told == json.loads(json.dumps(told_of(folder).as_json()))


def test_release_writes_nothing_without_evidence(tmp_path: Path) -> None:
    folder = doored_job(tmp_path, ASKED)
    status, text = run("release", folder)
    assert status == 2
    assert "requirements.proof_leak" in text
    assert not (folder / "out" / "release-A.html").exists()


def test_release_writes_both_with_it(tmp_path: Path) -> None:
    folder = proved(tmp_path)
    status, text = run("release", folder, "--torque", "10 Nm")
    assert status == 0, text
    assert (folder / "out" / "release-A.html").exists()
    assert (folder / "out" / "release-A.pdf").exists()
