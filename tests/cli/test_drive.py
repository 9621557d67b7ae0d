# SPDX-License-Identifier: Apache-2.0
"""The command `drive`: what is typed reaches the study, what it answers reaches the person."""

import json
import sys
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from sumpwright.cli.drive import UNSAVED
from sumpwright.cli.drive_text import drive_text
from sumpwright.cli.main import app
from sumpwright.errors import InputError, Problem
from sumpwright.studies.asked import Asked
from sumpwright.studies.motion_result import DriveResult
from tests.cli.drive_sample import drive_result

SAVED = (Path("out/drive.html"),)
FULL = InputError([Problem("SAVE-303", "out", "no room", "room", "make room")])


class Stand:
    """In the study's and the report's place: keeps what it is asked, gives what it was given."""

    def __init__(self, result: DriveResult, saved: tuple[Path, ...] | InputError) -> None:
        loaded = SimpleNamespace(folder=Path("my-pan"))
        self.drove = SimpleNamespace(result=result, bodies="bodies", parted="parted", loaded=loaded)
        self.saved = saved
        self.asked: Any = None
        self.drawn = False

    def drive_with_scene(self, job: Path, asked: Asked, progress: Any) -> Any:
        self.asked = (job, asked)
        return self.drove

    def motion_scene(self, bodies: Any, parted: Any) -> Any:
        return bodies, parted

    def write_drive(self, result: Any, scene: Any, folder: Path, _: Any) -> tuple[Path, ...]:
        assert result is self.drove.result
        assert (scene, folder) == (("bodies", "parted"), Path("my-pan"))
        self.drawn = True
        if isinstance(self.saved, InputError):
            raise self.saved
        return self.saved


def driven(
    monkeypatch: pytest.MonkeyPatch, *typed: str, dry: bool = True, saved: Any = SAVED
) -> tuple[Result, Stand]:
    stand = Stand(drive_result(dry=dry), saved)
    for name, function in (
        ("studies.drive", stand.drive_with_scene),
        ("studies.motion_scene", stand.motion_scene),
        ("report.drive_write", stand.write_drive),
    ):
        module = ModuleType(name)
        setattr(module, function.__name__, function)
        monkeypatch.setitem(sys.modules, f"sumpwright.{name}", module)
    return CliRunner().invoke(app, ["drive", *typed]), stand


def test_what_is_typed_reaches_the_study(monkeypatch: pytest.MonkeyPatch) -> None:
    _, stand = driven(
        monkeypatch, "my pan", "circle", "--radius", "15 m", "--cone-spacing", "3 m", "--oil",
        "cold", "--doors", "stuck open", "--start", "A=1 L", "--chance", "200", "--seed", "9",
    )  # fmt: skip
    job, asked = stand.asked
    assert job == Path("my pan")
    options = {"radius": "15 m", "cone_spacing": "3 m"}
    start = (("A", 1e-3),)
    assert asked == Asked("circle", options, "cold", "stuck open", start, 200, 9)


def test_says_the_answer_and_whether_it_is_met(monkeypatch: pytest.MonkeyPatch) -> None:
    done, stand = driven(monkeypatch, "my-pan", "left circle")
    assert (done.exit_code, stand.drawn) == (1, True)
    assert done.stdout == drive_text(drive_result(), SAVED) + "\n"
    done, _ = driven(monkeypatch, "my-pan", "left circle", dry=False)
    assert done.exit_code == 0


def test_json_is_the_whole_result_and_no_report_is_drawn_where_none_is_wanted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    done, stand = driven(monkeypatch, "my-pan", "eight", "--json", "--no-report")
    assert (done.exit_code, stand.drawn) == (1, False)
    answer = json.loads(done.stdout)
    assert answer == json.loads(json.dumps(drive_result().as_json()))
    # the contract that others read by
    assert set(answer) >= {"time_s", "accel_g", "rpm", "compartments", "doors", "pickup", "pump"}
    assert set(answer["compartments"][0]) >= {"name", "volume_m3", "surface_height_m"}
    assert set(answer["summary"]) >= {"first_air_s", "longest_dry_s", "mass_error"}


def test_the_answer_stands_where_its_report_cannot_be_saved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    done, _ = driven(monkeypatch, "my-pan", "eight", saved=FULL)
    assert done.exit_code == 2
    assert done.stdout == drive_text(drive_result(), ()) + "\n"
    assert "[SAVE-303]" in done.stderr
    assert done.stderr.endswith(f"1 problem; {UNSAVED}\n")


def test_options_that_cannot_be_used_are_said_all_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    typed = ("my-pan", "eight", "--doors", "ajar", "--start", "A", "--chance", "many")
    done, stand = driven(monkeypatch, *typed)
    assert (done.exit_code, stand.asked) == (2, None)
    assert done.stderr.endswith("3 problems; nothing was done.\n")
    done, _ = driven(monkeypatch, *typed, "--json")
    assert [p["where"] for p in json.loads(done.stdout)["problems"]] == [
        "--doors",
        "--start",
        "--chance",
    ]
