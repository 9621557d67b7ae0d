# SPDX-License-Identifier: Apache-2.0
"""Values that are right alone and contradict one another."""

from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job

STICK = "start: [0 m, 0 m, 0.1 m]"
CASES = {
    "no fill at all": ("", "JOB-130", "oil.fill", "add `fill:` to `oil`"),
    "a fill and a full mark": (
        "oil: {fill: 4 L}\n@dipstick: {" + STICK + ", full: 180 mm}",
        "JOB-130", "oil.fill", "delete one of the two",
    ),
    "the stock fill twice": (
        "oil: {fill: 4 L}\nstock: {cavity: geometry/new.step, fill: 4 L, dipstick: {"
        + STICK + ", full: 180 mm}}", "JOB-130", "stock.dipstick.full", "delete one",
    ),
    "a low mark above the full one": (
        "oil: {fill: 4 L, low: 4.2 L}", "JOB-131", "oil.low", "lower it, or raise the fill",
    ),
    "a low mark at the full one": (
        "oil: {fill: 4 L, low: 4000 mL}", "JOB-131", "oil.low", "lower it",
    ),
    "marks on the stick the wrong way round": (
        "@dipstick: {" + STICK + ", full: 180 mm, low: 170 mm}",
        "JOB-131", "new.dipstick.low", "swap the two",
    ),
    "a mark beyond the stick": (
        "@dipstick: {" + STICK + ", length: 150 mm, full: 180 mm}",
        "JOB-131", "new.dipstick.full", "mend the mark or the length",
    ),
    "the low mark twice": (
        "oil: {fill: 4 L, low: 3 L}\n@dipstick: {" + STICK + ", low: 190 mm}",
        "JOB-131", "oil.low", "delete one",
    ),
    "a curve that turns back": (
        "oil: {fill: 4 L}\nengine: {flow: [{rpm: 800 rpm, flow: 6 L/min}, "
        "{rpm: 700 rpm, flow: 9 L/min}]}", "JOB-132", "engine.flow.1.rpm", "rising speed",
    ),
    "a curve with a speed twice": (
        "oil: {fill: 4 L}\nengine: {retained: [{rpm: 8 rpm, oil: 0 L}, {rpm: 8 rpm, oil: 1 L}]}",
        "JOB-132", "engine.retained.1.rpm", "each speed once",
    ),
    "a speed over a curve": (
        "oil: {fill: 4 L}\nengine: {rpm: 7000 rpm, retained: [{rpm: 0 rpm, oil: 0 L}, "
        "{rpm: 6000 rpm, oil: 1 L}]}", "JOB-133", "engine.rpm", "nothing is guessed",
    ),
    "curves of different reach": (
        "oil: {fill: 4 L}\nengine: {flow: [{rpm: 0 rpm, flow: 0 L/min}, {rpm: 7000 rpm, "
        "flow: 40 L/min}], retained: [{rpm: 0 rpm, oil: 0 L}, {rpm: 6000 rpm, oil: 1 L}]}",
        "JOB-133", "engine.retained", "carry `retained` on",
    ),
    "a wall of nothing": (
        "oil: {fill: 4 L}\nstock: {cavity: {wall: 3 mm}}",
        "JOB-135", "stock.cavity.wall", "outside",
    ),
    "two obstacles of one name": (
        "oil: {fill: 4 L}\nobstacles: [{name: a, file: geometry/new.step}, "
        "{name: a, file: geometry/new.step}]", "JOB-136", "obstacles.1.name", "its own name",
    ),
    "two movements of one name": (
        "oil: {fill: 4 L}\nmovement: [{name: a}, {name: a}]", "JOB-136", "movement.1.name", "own",
    ),
    "cold above hot": (
        "oil: {fill: 4 L, cold: 100 degC, hot: 90 degC}", "JOB-137", "oil.hot", "swap the two",
    ),
    "an oil that thickens with heat": (
        "oil: {fill: 4 L, viscosity: [{at: 4 degC, value: 14 cSt}, {at: 9 degC, value: 90 cSt}]}",
        "JOB-137", "oil.viscosity", "data sheet",
    ),
    "a crank back to front": (
        "oil: {fill: 4 L}\nengine: {crank_sweep: {height: 6 cm, radius: 8 cm, front: 0 mm, "
        "rear: 40 cm}}", "JOB-138", "engine.crank_sweep.front", "swap `front` and `rear`",
    ),
}  # fmt: skip


def job_with(lines: str) -> str:
    stick = "".join(f"  {x[1:]}\n" for x in lines.splitlines() if x.startswith("@"))
    rest = "".join(f"{x}\n" for x in lines.splitlines() if not x.startswith("@"))
    return f"job: x\nnew:\n  cavity: geometry/new.step\n{stick}{rest}"


@pytest.mark.parametrize("name", CASES)
def test_refuses(name: str, make_job) -> None:
    lines, code, key, do = CASES[name]
    with pytest.raises(InputError) as caught:
        load_job(make_job(job_with(lines)))
    (problem,) = caught.value.problems
    assert (problem.code, problem.where.partition("  ")[2]) == (code, key)
    assert do in problem.do


SOUND = {
    "a fill from the dipstick": "@dipstick: {" + STICK + ", full: 180 mm, low: 190 mm}",
    "a requirement of the stock pan without one": "oil: {fill: 4 L}\n"
    "requirements: {hold_left: stock, capacity: stock}",
    "a speed at a curve's very end in other words": "oil: {fill: 4 L}\nengine: "
    "{rpm: 628.3185307179586 rad/s, flow: [{rpm: 6000 rpm, flow: 4 L/min}]}",
    "curves that meet at the top": "oil: {fill: 4 L}\nengine: {flow: [{rpm: 0 rpm, flow: 0 L/min}, "
    "{rpm: 6000 rpm, flow: 4 L/min}], retained: [{rpm: 6000 rpm, oil: 1 L}]}",
}


@pytest.mark.parametrize("name", SOUND)
def test_takes(name: str, make_job) -> None:
    folder: Path = make_job(job_with(SOUND[name]))
    assert load_job(folder).job.job == "x"
