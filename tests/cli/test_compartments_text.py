# SPDX-License-Identifier: Apache-2.0
"""`sumpwright compartments` as typed: the list, the JSON, the picture, and what stops it."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from sumpwright.cli.compartments_text import compartments_text
from sumpwright.cli.main import app
from sumpwright.studies.compartment import compartments_of
from tests.studies.baffled_job import DOOR, PICKUP, WALL, baffled

LIST = """\
box, revision A: 2 compartments
taken up: 0.04 L by baffles

                                holds    at rest
  A  rear                      1.98 L     1.00 L
  B  front, pickup             3.98 L     2.00 L

A  rear
  out to B: door 'flap' of wall, 8 cm²
  to and from B: gap at the edge of wall, 3 cm²
  to and from B: leak round the shut 'flap' of wall, 0.36 cm²

B  front, pickup
  in from A: door 'flap' of wall, 8 cm²
  to and from A: gap at the edge of wall, 3 cm²
  to and from A: leak round the shut 'flap' of wall, 0.36 cm²"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return baffled(tmp_path, f"{WALL}      gap: 0.5 mm\n{DOOR}", PICKUP)


def test_the_list_says_what_each_holds_and_where_it_leads(job: Path) -> None:
    assert compartments_text(compartments_of(job), None) == LIST


def test_the_command_writes_its_picture_and_says_where(job: Path) -> None:
    done = CliRunner().invoke(app, ["compartments", str(job)])
    assert done.exit_code == 0
    assert done.output == f"{LIST}\n\nPicture  {job / 'out' / 'compartments.svg'}\n"
    assert (job / "out" / "compartments.svg").read_bytes().startswith(b"<svg ")


def test_json_is_the_whole_result(job: Path) -> None:
    done = CliRunner().invoke(app, ["compartments", str(job), "--json", "--no-picture"])
    assert json.loads(done.output) == json.loads(json.dumps(compartments_of(job).as_json()))
    assert not (job / "out" / "compartments.svg").exists()


def test_many_windows_into_one_compartment_are_one_line(tmp_path: Path) -> None:
    slots = "".join(
        f"        - {{ name: slot {k}, centre: [{25 * k - 140} mm, 0 mm],"
        " width: 10 mm, height: 100 mm }\n"
        for k in range(1, 12)
    )
    tray = f"""\
    - name: tray
      at: [150 mm, 0 mm, -40 mm]
      normal: [0, 0, 1]
      thickness: 1 mm
      openings:
{slots}"""
    text = compartments_text(compartments_of(baffled(tmp_path, tray)), None)
    assert "  to and from B: 11 windows from 'slot 1' to 'slot 11' of tray, 110 cm²" in text


def test_what_to_look_at_is_said_last_and_in_eighty_columns(tmp_path: Path) -> None:
    folder = baffled(tmp_path, WALL + DOOR.replace("ahead", "behind"), PICKUP)
    text = compartments_text(compartments_of(folder), None)
    tail = text.split("\n\n")[-1]
    assert tail.startswith("To look at: baffle 'wall': door 'flap' lets oil from")
    assert "[GEO-418]" in tail
    assert max(map(len, text.splitlines())) <= 80


def test_a_picture_that_cannot_be_saved_takes_no_list_away(job: Path) -> None:
    (job / "out").write_text("a file where the folder should be")
    done = CliRunner().invoke(app, ["compartments", str(job)])
    assert done.exit_code == 2
    assert done.output.startswith(LIST)
    assert "the list stands, its picture was not saved" in done.output
    assert "found   a file where a folder should be" in done.output
