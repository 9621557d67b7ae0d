# SPDX-License-Identifier: Apache-2.0
"""`plan` as a command: the same result as the study's, sheets only where they are wanted."""

import json
from pathlib import Path

import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.plan import plan
from sumpwright.studies.plan import plan as plan_of
from tests.studies.box_job import JOB, box_job

app = typer.Typer()
app.command()(door(plan))


def test_json_is_the_studys_own_result(tmp_path: Path) -> None:
    folder = box_job(tmp_path)
    said = CliRunner().invoke(app, [str(folder), "--json", "--no-report"])
    assert said.exit_code == 0
    assert json.loads(said.stdout) == json.loads(json.dumps(plan_of(folder).as_json()))
    assert not (folder / "out" / "plan.pdf").exists()


def test_the_text_names_the_sheets_and_what_is_missing(tmp_path: Path) -> None:
    said = CliRunner().invoke(app, [str(box_job(tmp_path))])
    assert said.exit_code == 0
    assert "plan.pdf" in said.stdout
    assert "Missing" in said.stdout
    assert (tmp_path / "out" / "plan.html").is_file()


def test_a_job_that_cannot_be_read_is_said_with_status_2(tmp_path: Path) -> None:
    folder = box_job(tmp_path, JOB.replace("3 L", "three"))
    said = CliRunner().invoke(app, [str(folder)])
    assert said.exit_code == 2
    assert "Traceback" not in said.output
