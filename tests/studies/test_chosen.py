# SPDX-License-Identifier: Apache-2.0
"""A manoeuvre by name, by kind with options, or by its log; and every problem of the options."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import LoadedJob
from sumpwright.studies.chosen import chosen
from tests.studies.drive_job import DRIVELINE, drive_job

OURS = """\
{name: left circle, kind: circle, radius: 30 m, accel: 1.1 g, duration: 15 s, rpm: 4500 rpm}
{name: Eight, kind: figure-eight, radius: 15 m, accel: 1.0 g, oil: cold}
{name: log of May, kind: trace, file: log.csv}"""
G = 9.80665
NEEDED = (
    "a kind with options: circle, figure-eight, slalom, brake, brake-and-turn, launch, hill, bank, "
    "kerb, skidpad; or a log, as a CSV file"
)


def ours(folder: Path) -> LoadedJob:
    (folder / "log.csv").write_text("not read")
    return drive_job(folder, OURS, DRIVELINE)


def problems(folder: Path, manoeuvre: str, **options: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        chosen(ours(folder), manoeuvre, options)
    return caught.value.problems


def test_one_of_the_job_s_by_its_name(tmp_path: Path) -> None:
    choice = chosen(ours(tmp_path), "Eight", {})
    assert (choice.section.kind, choice.section.radius, choice.section.oil) == (
        "figure-eight",
        15.0,
        "cold",
    )
    assert (choice.name, choice.log) == ("Eight", None)
    assert choice.where == "job.yaml:12  manoeuvres.1"


def test_options_stand_instead_of_what_the_job_says(tmp_path: Path) -> None:
    choice = chosen(ours(tmp_path), "left circle", {"radius": "40 m", "turn": "right"}, "60 degC")
    section = choice.section
    assert (section.radius, section.turn, section.accel) == (40.0, "right", 1.1 * G)
    assert section.oil == pytest.approx(333.15)
    assert choice.name == "left circle, radius 40 m, turn right"


def test_an_option_takes_its_rival_s_place(tmp_path: Path) -> None:
    given = {"speed": "10 m/s", "laps": "2", "gear": "3"}
    section = chosen(ours(tmp_path), "left circle", given).section
    assert (section.speed, section.laps, section.gear) == (10.0, 2.0, 3)
    assert (section.accel, section.duration, section.rpm) == (None, None, None)


def test_a_kind_with_options(tmp_path: Path) -> None:
    given = {"radius": "30 m", "stages": "0.4 g, 0.6 g", "both": "false"}
    choice = chosen(ours(tmp_path), "skidpad", given)
    assert choice.section.stages == (0.4 * G, 0.6 * G)
    assert choice.section.both is False
    assert choice.name == "skidpad, radius 30 m, stages 0.4 g, 0.6 g, both false"
    assert choice.where == "drive skidpad"


def test_a_log_of_the_job_and_one_that_is_named(tmp_path: Path) -> None:
    loaded = ours(tmp_path)
    assert chosen(loaded, "log of May", {}).log == tmp_path / "log.csv"
    named = chosen(loaded, "elsewhere/other.CSV", {"cutoff": "2 Hz"})
    assert (named.log, named.section.cutoff) == (Path("elsewhere/other.CSV"), 2.0)
    assert named.name == "other.CSV, cutoff 2 Hz"
    text = tmp_path / "log.txt"
    text.write_text("")
    assert chosen(loaded, str(text), {}).log == text


def test_a_name_that_there_is_not_says_which_there_are(tmp_path: Path) -> None:
    (unknown,) = problems(tmp_path, "left-circle")
    assert unknown == Problem(
        "DRIVE-501", "drive left-circle", "no manoeuvre of that name",
        f"one of the job's: left circle, Eight, log of May; {NEEDED}",
        "did you mean 'left circle'?",
    )  # fmt: skip
    assert problems(tmp_path, "EIGHT")[0].do == "did you mean 'Eight'?"
    assert problems(tmp_path, "zigzag")[0].do == "add it to `manoeuvres`, or name a kind"
    (trace,) = problems(tmp_path, "trace")
    assert (trace.found, trace.do) == ("a trace without its file", "name the CSV file in its place")


def test_a_job_without_manoeuvres_knows_the_kinds(tmp_path: Path) -> None:
    loaded = drive_job(tmp_path)
    with pytest.raises(InputError) as caught:
        chosen(loaded, "lap", {})
    assert caught.value.problems[0].needed == NEEDED
    assert chosen(loaded, "brake", {"speed": "9 m/s", "decel": "1 g"}).section.decel == G


def test_every_option_that_is_wrong_is_said_at_once(tmp_path: Path) -> None:
    found = problems(tmp_path, "circle", radius="3", accel="9 g", turn="lef")
    assert [(p.code, p.where, p.found) for p in found] == [
        ("JOB-107", "--turn", "lef"),
        ("JOB-101", "--radius", "3"),
        ("JOB-102", "--accel", "9 g"),
    ]


def test_options_that_are_missing_or_exclude_each_other(tmp_path: Path) -> None:
    radius, speed, laps = problems(tmp_path, "circle", accel="1 g", speed="9 m/s")
    assert radius == Problem(
        "JOB-104", "--radius", "nothing", "`radius` of a circle: 0.5 m to 2000 m", "add --radius"
    )
    assert speed == Problem(
        "JOB-108", "drive circle", "accel: 1 g and speed: 9 m/s",
        "`accel` or `speed` of a circle", "delete one of the two",
    )  # fmt: skip
    assert laps.needed == "`duration` or `laps` of a circle"


def test_an_option_that_a_kind_does_not_take(tmp_path: Path) -> None:
    (strange,) = problems(tmp_path, "left circle", cone_spacing="18 m")
    assert (strange.code, strange.where) == ("JOB-146", "--cone-spacing")
    assert strange.found == "cone_spacing: 18 m"
    assert strange.do == "delete it; `cone_spacing` is for slalom"


def test_a_gear_that_is_not_there_and_stages_that_do_not_rise(tmp_path: Path) -> None:
    (gear,) = problems(tmp_path, "left circle", gear="5")
    assert (gear.where, gear.found) == ("--gear", "5")
    assert gear.needed == "one of the gears of `driveline`: 1 to 4"
    (stage,) = problems(tmp_path, "skidpad", radius="30 m", stages="0.4 g,0.6 g,0.5 g")
    assert (stage.where, stage.found) == ("--stages", "0.5 g")
    assert stage.needed == "more than the stage before it, 0.6 g"
