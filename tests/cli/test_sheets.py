# SPDX-License-Identifier: Apache-2.0
"""`sumpwright sheets` as a person calls it."""

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from sumpwright.cli.door import door
from sumpwright.cli.sheets import sheets
from sumpwright.cli.sheets_text import sheets_text
from sumpwright.errors import Finding
from sumpwright.studies.sheet_part import sheets_of_job
from tests.studies.baffled_job import baffled
from tests.studies.test_sheet_part import ALONG, DOOR, HINGE, SHOP, TABS, WALL

app = typer.Typer()
app.command("sheets")(door(sheets))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = baffled(tmp_path / "job", WALL + TABS + DOOR % HINGE)
    text = (folder / "job.yaml").read_text("utf-8")
    (folder / "job.yaml").write_text(text + SHOP, "utf-8")
    return folder


def test_lists_parts_bends_and_sheets_in_eighty_columns(job: Path) -> None:
    done = CliRunner().invoke(app, [str(job)])
    assert done.exit_code == 0
    assert "3 parts from sheet" in done.stdout
    assert "flap pin" in done.stdout
    assert done.stdout.startswith("MET  ")
    assert "nest-1: small, steel 1 mm, 300 x 300 mm, 9.00 EUR" in done.stdout
    assert "DIN 6935" in done.stdout
    assert "kerf is left to the cutter" in done.stdout
    assert max(map(len, done.stdout.replace(str(job), "JOB").splitlines())) <= 80
    assert (job / "out" / "sheets" / "wall.dxf").exists()


def test_a_job_in_inches_is_answered_in_inches(job: Path) -> None:
    text = (job / "job.yaml").read_text("utf-8")
    (job / "job.yaml").write_text("units: us\n" + text, "utf-8")
    done = CliRunner().invoke(app, [str(job)])
    body, _, drawings = done.stdout.partition("\n\nDrawings")
    assert "; DXF is in mm" in drawings
    assert not re.search(r"\d (mm|g)\b|\[(mm|g)\]", body), body
    assert "small, steel 0.0394 in, 11.811 x 11.811 in, 9.00 EUR" in body  # 300 mm / 25.4
    assert "0.0787 in round" in body  # 2 mm / 25.4
    assert max(map(len, body.splitlines())) <= 80


def test_findings_that_say_the_same_are_told_once_with_their_places(job: Path) -> None:
    near = "a hole 3 mm from the bend, near {}, -2 mm (along, up); 4 mm is usual"
    spots = [("wall, tab 1", "1"), ("wall, tab 1", "5"), ("wall, tab 2", "9")]
    alike = [Finding("SHEE-512", at, near.format(x), "move it", "warning") for at, x in spots]
    other = Finding("SHEE-512", "tray, stop", near.format("7").replace("3", "2"), "", "warning")
    said = sheets_text(replace(sheets_of_job(job), findings=(*alike, other)), ())
    minded = " ".join(said.partition("Mind: ")[2].split())
    assert minded.startswith(
        "wall, tab 1 (2 places); wall, tab 2: a hole 3 mm from the bend; 4 mm is usual; move it "
        "[SHEE-512] Mind: tray, stop: a hole 2 mm from the bend, near 7, -2 mm (along, up); 4 mm"
    )


def test_leaves_with_one_where_a_part_has_no_sheet(job: Path) -> None:
    text = (job / "job.yaml").read_text("utf-8").replace("thickness: 1 mm, m", "thickness: 2 mm, m")
    (job / "job.yaml").write_text(text, "utf-8")
    done = CliRunner().invoke(app, [str(job), "--no-files"])
    assert done.exit_code == 1
    assert done.stdout.startswith("NOT MET  ")
    assert "the shop has no sheet of steel, 1 mm" in " ".join(done.stdout.split())


def test_json_is_the_study_s_own_and_nothing_is_written_when_not_asked(job: Path) -> None:
    done = CliRunner().invoke(app, [str(job), "--json", "--no-files"])
    assert json.loads(done.stdout) == json.loads(json.dumps(sheets_of_job(job).as_json()))
    assert not (job / "out" / "sheets").exists()


def test_leaves_with_one_where_a_part_cannot_be_made_so(tmp_path: Path) -> None:
    join = "      joins: [{ to: along, kind: half-lap, slit: top }]\n"
    folder = baffled(tmp_path / "job", WALL + TABS + join + ALONG)
    done = CliRunner().invoke(app, [str(folder), "--no-files"])
    assert done.exit_code == 1
    assert "Cannot be made so: " in done.stdout


def test_leaves_with_two_and_the_place_where_the_job_is_wrong(tmp_path: Path) -> None:
    folder = baffled(tmp_path / "job", WALL + TABS.replace("at: 0 mm", "at: 90 mm"))
    done = CliRunner().invoke(app, [str(folder)])
    assert done.exit_code == 2
    assert "new.baffles.0.tabs.0  [SHEE-501]" in done.stderr
    assert not (folder / "out" / "sheets").exists()
