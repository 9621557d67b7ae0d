# SPDX-License-Identifier: Apache-2.0
"""Manoeuvres that lack something, take what their kind does not have, or contradict themselves."""

import pytest

from sumpwright.errors import InputError, Problem
from sumpwright.job.load import load_job

CIRCLE = "kind: circle, radius: 30 m, duration: 9 s, accel: 1 g"
EIGHT = "kind: figure-eight, radius: 15 m, accel: 1 g"
BRAKE = "kind: brake, speed: 30 m/s, decel: 1 g"
LINE = (
    "driveline: {gears: [3, 2], final_drive: 4, tyre_radius: 30 cm, shift_up: 6000 rpm, "
    "shift_down: 2000 rpm}\n"
)
CASES = {
    "a circle without a radius": (
        "kind: circle, duration: 9 s, accel: 1 g",
        "JOB-104", "radius", "`radius` of a circle: 0.5 m to 2000 m", "add `radius:`",
    ),
    "a circle of speed and acceleration": (
        CIRCLE + ", speed: 17 m/s", "JOB-108", "", "`accel` or `speed`", "delete one of the two",
    ),
    "a circle of neither": (
        "kind: circle, radius: 30 m, duration: 9 s",
        "JOB-108", "", "`accel` or `speed` of a circle", "add one of the two",
    ),
    "a circle without end": (
        "kind: circle, radius: 30 m, accel: 1 g", "JOB-108", "", "`duration` or `laps`", "add one",
    ),
    "an eight of a duration": (
        EIGHT + ", duration: 9 s",
        "JOB-146", "duration", "a key that a figure-eight takes: name, kind, oil, rpm, radius",
        "delete it; `duration` is for circle, hill, bank",
    ),
    "a kerb in a gear, whose speed nobody knows": (
        "kind: kerb, accel: 2 g, pulse: 50 ms, gear: 2",
        "JOB-146", "gear", "a kerb takes", "delete it; `gear` is for circle",
    ),
    "a trace without a file": (
        "kind: trace", "JOB-104", "file", "the path of a CSV file", "add `file:`",
    ),
    "a gear and an engine speed": (
        CIRCLE + ", gear: 1, rpm: 4000 rpm", "JOB-108", "gear", "`rpm` or `gear`", "delete one",
    ),
    "a gear that the driveline does not have": (
        CIRCLE + ", gear: 3", "JOB-147", "gear", "1 to 2", "add the gear's ratio",
    ),
    "braking to a higher speed": (
        BRAKE + ", end_speed: 108 km/h", "JOB-148", "end_speed", "less than `speed`", "change one",
    ),
    "a launch to a lower speed": (
        "kind: launch, speed: 9 m/s, accel: 0.5 g, start_speed: 10 m/s",
        "JOB-148", "start_speed", "less than `speed`, 9 m/s", "change one",
    ),
    "a turn faster than the way to it": (
        "kind: brake-and-turn, speed: 20 m/s, turn_speed: 25 m/s, decel: 1 g, accel: 1 g",
        "JOB-148", "turn_speed", "less than `speed`", "change one",
    ),
    "half an eight": (
        EIGHT + ", laps: 1.5", "JOB-148", "laps", "whole eights", "only a circle may",
    ),
    "stages that do not rise": (
        "kind: skidpad, radius: 30 m, stages: [0.5 g, 0.5 g]",
        "JOB-148", "stages.1", "more than the stage before it, 0.5 g", "rising order",
    ),
}  # fmt: skip


def problem_of(folder) -> Problem:
    with pytest.raises(InputError) as caught:
        load_job(folder)
    (problem,) = caught.value.problems
    return problem


@pytest.mark.parametrize("name", CASES)
def test_refuses(name: str, make_job, small) -> None:
    keys, code, key, needed, do = CASES[name]
    problem = problem_of(make_job(f"{small}{LINE}manoeuvres:\n  - {{name: a, {keys}}}\n"))
    where = f"manoeuvres.0.{key}".rstrip(".")
    assert (problem.code, problem.where.partition("  ")[2]) == (code, where)
    assert needed in problem.needed
    assert do in problem.do


def test_refuses_a_gear_without_a_driveline(make_job, small) -> None:
    problem = problem_of(make_job(f"{small}manoeuvres: [{{name: a, {CIRCLE}, gear: 1}}]\n"))
    assert (problem.code, problem.needed) == ("JOB-147", "a job with `driveline`")
    assert problem.do == "add `driveline:`, or give `rpm` instead of the gear"


@pytest.mark.parametrize("name", ["circle", "brake-and-turn", "eight.csv", "LOG.CSV"])
def test_refuses_a_name_that_a_command_would_take_for_something_else(
    make_job, small, name: str
) -> None:
    problem = problem_of(make_job(f"{small}manoeuvres: [{{name: {name}, {CIRCLE}}}]\n"))
    assert (problem.code, problem.found) == ("JOB-145", name)
    assert problem.needed.startswith("a name that is neither a kind of manoeuvre nor a log's")
    assert "call it otherwise, such as '" in problem.do


def test_says_everything_that_is_wrong_with_a_manoeuvre_at_once(make_job, small) -> None:
    with pytest.raises(InputError) as caught:
        load_job(make_job(f"{small}manoeuvres: [{{name: hill, kind: slalom, laps: 2}}]\n"))
    codes = [p.code for p in caught.value.problems]
    assert codes == ["JOB-145", "JOB-146", "JOB-104", "JOB-104", "JOB-104"]
