# SPDX-License-Identifier: Apache-2.0
"""What is asked for becomes a motion with engine speed and a temperature of the oil."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.studies.asked import Asked, Driven, driven
from tests.studies.drive_job import DRIVELINE, ENGINE, drive_job

OURS = """\
{name: eight, kind: figure-eight, radius: 15 m, accel: 1.0 g, gear: 2, oil: cold}
{name: wild, kind: slalom, cone_spacing: 18 m, offset: 6 m, speed: 90 km/h}
{name: log, kind: trace, file: log.csv}"""


def drive(folder: Path, asked: Asked) -> Driven:
    rows = "".join(f"{0.02 * i:.2f},0.1,0.6,1,{3000 + i}\n" for i in range(200))
    (folder / "log.csv").write_text("time,ax,ay,az,rpm\n" + rows)
    return driven(drive_job(folder, OURS, ENGINE + DRIVELINE), asked)


def problem(folder: Path, asked: Asked) -> Problem:
    with pytest.raises(InputError) as caught:
        drive(folder, asked)
    (only,) = caught.value.problems
    return only


def test_manoeuvre_of_the_job_with_its_own_oil(tmp_path: Path) -> None:
    answer = drive(tmp_path, Asked("eight"))
    assert (answer.name, answer.kind, answer.oil) == ("eight", "figure-eight", "cold")
    assert answer.temperature == pytest.approx(288.15)  # 15 degC
    # v = sqrt(9.80665*15) = 12.128 m/s; w = v*1.9*4.1/0.3
    assert answer.motion.engine_speed_at(3.0) == pytest.approx(12.1285 * 1.9 * 4.1 / 0.3, rel=1e-5)
    assert answer.assumptions == ("Engine speed follows the road speed in gear 2; no wheel slips.",)


@pytest.mark.parametrize(
    ("oil", "kelvin", "said"),
    [("hot", 368.15, "hot"), ("cold", 288.15, "cold"), ("140 degF", 333.15, "60 °C")],
)
def test_oil_that_is_asked_for_goes_first(
    oil: str, kelvin: float, said: str, tmp_path: Path
) -> None:
    answer = drive(tmp_path, Asked("eight", oil=oil))
    assert answer.temperature == pytest.approx(kelvin)
    assert answer.oil == said


def test_oil_that_is_no_temperature(tmp_path: Path) -> None:
    wrong = problem(tmp_path, Asked("eight", oil="warm"))
    assert (wrong.code, wrong.where, wrong.found) == ("JOB-101", "--oil", "warm")
    assert wrong.needed == "-60 degC to 250 degC, or hot, or cold"


def test_log_on_the_command_line_is_driven_like_the_job_s(tmp_path: Path) -> None:
    ours = drive(tmp_path, Asked("log"))
    named = drive(tmp_path, Asked(str(tmp_path / "log.csv")))
    np.testing.assert_array_equal(named.motion.accel, ours.motion.accel)
    np.testing.assert_array_equal(named.motion.engine_speed, ours.motion.engine_speed)
    assert (named.name, ours.name) == ("log.csv", "log")
    assert [f.code for f in named.findings] == ["LOG-120"]
    assert named.oil == "hot"
    assert named.assumptions[-1] == "Engine speed is the log's."


def test_manoeuvre_that_cannot_be_driven_is_a_problem_at_its_place(tmp_path: Path) -> None:
    assert problem(tmp_path, Asked("wild")) == Problem(
        "DRIVE-502", "job.yaml:13  manoeuvres.1",
        "this needs a jerk of 279.8 m/s^3, and the limit is 30", "a manoeuvre that can be driven",
        "drive it more gently, or raise the limit",
    )  # fmt: skip
    typed = Asked("kerb", {"accel": "5 g", "pulse": "0.01 s"})
    assert problem(tmp_path, typed).where == "drive kerb"


def test_log_that_cannot_be_used_says_its_lines(tmp_path: Path) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text("time,ax,ay\n0,0,0\n0,0,0\n0.1,0,0\n")
    assert problem(tmp_path, Asked(str(bad))).where == "bad.csv:3  time"
