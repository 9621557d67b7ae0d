# SPDX-License-Identifier: Apache-2.0
"""Baffles, doors and suction lines whose values contradict one another."""

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job

WALL = "baffles: [{name: a, at: [0 m, 0 m, 0 m], normal: [1, 0, 0], thickness: 1 mm, "
TRAY = WALL.replace("[1, 0, 0]", "[0, 0, 1]")
HOLE = "openings: [{name: b, centre: [0 m, 0 m], width: 3 cm, height: 2 cm"
CORNERS = "openings: [{name: b, outline: [[0 m, 0 m], [1 m, 0 m], [0 m, 1 m]]"
LINE = "suction: {pump_inlet: [0 m, 0 m, 0 m], "
TUBE = "tubes: [{bore: 20 mm, length: 10 cm"
CASES = {
    "a top under its bottom": (
        WALL + "top: -9 cm, bottom: -90 mm}]",
        "JOB-139", "baffles.0.top", "more than `bottom`, -90 mm", "swap the two",
    ),
    "a level sheet with a top": (
        TRAY + "top: -4 cm}]", "JOB-139", "baffles.0.top", "an upright or leaning sheet", "outline",
    ),
    "a level sheet with a bottom": (
        TRAY + "bottom: -4 cm}]", "JOB-139", "baffles.0.bottom", "all at one height", "outline",
    ),
    "a fifth side of a rectangle": (
        WALL + HOLE + ", door: {hinge: 4, opens: ahead}}]}]",
        "JOB-140", "baffles.0.openings.0.door.hinge",
        "top, bottom, start or end, or one of its 4 sides: 0 to 3", "count the sides from 0",
    ),
    "a fourth side of a triangle": (
        WALL + CORNERS + ", door: {hinge: 3, opens: ahead}}]}]",
        "JOB-140", "baffles.0.openings.0.door.hinge", "one of its 3 sides: 0 to 2", "from 0",
    ),
    "a word for a side of a triangle": (
        WALL + CORNERS + ", door: {hinge: top, opens: ahead}}]}]",
        "JOB-140", "baffles.0.openings.0.door.hinge", "the number of a side", "first corner",
    ),
    "a mouth rounder than its bore": (
        LINE + "edge_radius: 21 mm, " + TUBE + "}]}",
        "JOB-149", "suction.edge_radius", "at most the first tube's bore, 20 mm", "bellmouth",
    ),
    "a tube as rough as a pipe of gravel": (
        LINE + TUBE + ", roughness: 1.1 mm}]}",
        "JOB-149", "suction.tubes.0.roughness", "a twentieth of the bore", "check its unit",
    ),
    "a bend sharper than its tube": (
        LINE + TUBE + ", bends: [{angle: 90 deg, radius: 9 mm}]}]}",
        "JOB-149", "suction.tubes.0.bends.0.radius", "half the bore, 20 mm", "centre line",
    ),
    "a wire as thick as its pitch": (
        LINE + TUBE + "}], screen: {pitch: 1 mm, wire: 1 mm, area: 9 cm^2}}",
        "JOB-149", "suction.screen.wire", "less than `pitch`, 1 mm", "mend one",
    ),
    "a sheet thicker than its holes": (
        LINE + TUBE + "}], screen: {hole: 1 mm, open_area: 40 %, thickness: 2 mm, area: 9 cm^2}}",
        "JOB-149", "suction.screen.thickness", "at most `hole`, 1 mm", "mend one",
    ),
}  # fmt: skip


def job_with(pan: str, line: str) -> str:
    other = "new: {cavity: geometry/new.step}\n" if pan == "stock" else ""
    return f"job: x\noil: {{fill: 4 L}}\n{other}{pan}:\n  cavity: geometry/new.step\n  {line}\n"


@pytest.mark.parametrize("pan", ["new", "stock"])
@pytest.mark.parametrize("name", CASES)
def test_refuses(name: str, pan: str, make_job) -> None:
    line, code, key, needed, do = CASES[name]
    with pytest.raises(InputError) as caught:
        load_job(make_job(job_with(pan, line)))
    (problem,) = caught.value.problems
    assert (problem.code, problem.where.partition("  ")[2]) == (code, f"{pan}.{key}")
    assert needed in problem.needed
    assert do in problem.do


SOUND = {
    "a top over its bottom": WALL + "top: -89 mm, bottom: -9 cm}]",
    "a leaning sheet with a top": WALL.replace("[1, 0, 0]", "[1, 0, 9]") + "top: -4 cm}]",
    "a triangle's last side": WALL + CORNERS + ", door: {hinge: 2, opens: behind}}]}]",
    "a bellmouth": LINE + "edge_radius: 20 mm, " + TUBE + "}]}",
    "a square inner corner": LINE + TUBE + ", bends: [{angle: 90 deg, radius: 10 mm}]}]}",
    "a sheet as thick as its holes": LINE
    + TUBE
    + "}], screen: {hole: 1 mm, open_area: 40 %, thickness: 1 mm, area: 9 cm^2}}",
}


@pytest.mark.parametrize("name", SOUND)
def test_takes(name: str, make_job) -> None:
    assert load_job(make_job(job_with("new", SOUND[name]))).job.job == "x"


@pytest.mark.parametrize(
    ("line", "key"),
    [
        (WALL.removesuffix(", ") + "}, {name: a, face: geometry/new.step, thickness: 1 mm}]",
         "new.baffles.1.name"),
        (WALL + HOLE + "}, {name: b, centre: [1 m, 0 m], width: 1 cm, height: 1 cm}]}]",
         "new.baffles.0.openings.1.name"),
        ("displacing: [{name: a, file: geometry/new.step}, {name: a, file: geometry/new.step}]",
         "new.displacing.1.name"),
    ],
)  # fmt: skip
def test_refuses_a_name_given_twice(line: str, key: str, make_job) -> None:
    with pytest.raises(InputError) as caught:
        load_job(make_job(job_with("new", line)))
    (problem,) = caught.value.problems
    assert (problem.code, problem.where.partition("  ")[2]) == ("JOB-136", key)
    assert "give each its own name" in problem.do
