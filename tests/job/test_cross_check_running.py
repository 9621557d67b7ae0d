# SPDX-License-Identifier: Apache-2.0
"""Pump, returns and driveline whose values contradict one another."""

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job

FLOW = "flow: [{rpm: 800 rpm, flow: 6 L/min}, {rpm: 7000 rpm, flow: 45 L/min}]"
READ = "reading: {pressure: 300 kPa, rpm: 3000 rpm, at: 90 degC}"
OIL = "displacement: 12 cc"
LINE = {
    "gears": "[3, 2]", "final_drive": "4", "tyre_radius": "30 cm", "shift_up": "6000 rpm",
    "shift_down": "2000 rpm",
}  # fmt: skip


def line_with(**changes: str) -> str:
    pairs = ", ".join(f"{k}: {v}" for k, v in {**LINE, **changes}.items())
    return f"driveline: {{{pairs}}}"


CASES = {
    "a flow twice": (
        f"engine: {{{FLOW}, pump: {{{OIL}}}}}", "JOB-141", "engine.pump.displacement",
        "what the pump draws once", "delete one of the two",
    ),
    "a pump that draws nobody knows what": (
        f"engine: {{pump: {{{READ}}}}}", "JOB-141", "engine.pump.displacement",
        "the curve `engine.flow`", "add `displacement:`",
    ),
    "a drive ratio beside a curve": (
        f"engine: {{{FLOW}, pump: {{drive_ratio: 0.5}}}}", "JOB-141", "engine.pump.drive_ratio",
        "no such key where `engine.flow`", "delete it",
    ),
    "an efficiency beside a curve": (
        f"engine: {{{FLOW}, pump: {{efficiency: 90 %}}}}", "JOB-141", "engine.pump.efficiency",
        "no such key where `engine.flow`", "delete it",
    ),
    "a relief pressure without a reading": (
        f"engine: {{pump: {{{OIL}, relief: 4 bar}}}}", "JOB-142", "engine.pump.relief",
        "`reading`, one oil pressure", "add `reading:",
    ),
    "a way for the relief valve's oil and no valve": (
        f"engine: {{pump: {{{OIL}, relief_to: inlet}}}}", "JOB-142", "engine.pump.relief_to",
        "`relief`, the pressure", "add `relief:`",
    ),
    "a reading with the relief valve open": (
        f"engine: {{pump: {{{OIL}, relief: 3 bar, {READ}}}}}",
        "JOB-142", "engine.pump.reading.pressure", "less than `relief`, 3 bar", "still shut",
    ),
    "oil that does not come home": (
        "engine: {returns: [{name: a, at: [0 m, 0 m, 0 m], share: 60 %}, "
        "{name: b, at: [0 m, 0 m, 0 m], share: 39 %}]}",
        "JOB-143", "engine.returns", "100 % in all", "change the shares",
    ),
    "two returns of one name": (
        "engine: {returns: [{name: a, at: [0 m, 0 m, 0 m], share: 60 %}, "
        "{name: a, at: [0 m, 0 m, 0 m], share: 40 %}]}",
        "JOB-136", "engine.returns.1.name", "a name of its own", "give each",
    ),
    "a cold curve that turns back": (
        "engine: {retained_cold: [{rpm: 800 rpm, oil: 1 L}, {rpm: 700 rpm, oil: 1 L}]}",
        "JOB-132", "engine.retained_cold.1.rpm", "more than the entry before it", "rising speed",
    ),
    "gears that do not fall": (
        line_with(gears="[3, 2, 2]"), "JOB-144", "driveline.gears.2", "less than the gear before",
        "falling order",
    ),
    "a shift up that calls for one down": (
        line_with(shift_down="4000 rpm"), "JOB-144", "driveline.shift_down",
        "less than 4000 rpm, the engine speed after the shift up to gear 2", "lower it",
    ),
    "a shift down over the shift up": (
        line_with(shift_down="6000 rpm"), "JOB-144", "driveline.shift_up",
        "more than `shift_down`, 6000 rpm", "rise in that order",
    ),
    "an idle over the shift down": (
        line_with(idle="2100 rpm"), "JOB-144", "driveline.shift_down",
        "not less than `idle`, 2100 rpm", "rise in that order",
    ),
    "a limit under the shift up": (
        line_with(limit="5900 rpm"), "JOB-144", "driveline.limit",
        "not less than `shift_up`, 6000 rpm", "rise in that order",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_refuses(name: str, make_job, small) -> None:
    lines, code, key, needed, do = CASES[name]
    with pytest.raises(InputError) as caught:
        load_job(make_job(f"{small}{lines}\n"))
    (problem,) = caught.value.problems
    assert (problem.code, problem.where.partition("  ")[2]) == (code, key)
    assert needed in problem.needed
    assert do in problem.do


def test_says_what_the_shares_make(make_job, small) -> None:
    lines, *_ = CASES["oil that does not come home"]
    with pytest.raises(InputError) as caught:
        load_job(make_job(f"{small}{lines}\n"))
    assert caught.value.problems[0].found == "shares that make 99.0 %"


SOUND = {
    "a reading beside a curve": f"engine: {{{FLOW}, pump: {{relief: 4 bar, {READ}}}}}",
    "three thirds as they are typed": "engine: {returns: ["
    + ", ".join(f"{{name: {n}, at: [0 m, 0 m, 0 m], share: 33.3 %}}" for n in "abc")
    + "]}",
    "a shift down at idle and a limit at the shift up": line_with(
        idle="2000 rpm", limit="6000 rpm"
    ),
    "one gear": line_with(gears="[3]", shift_down="5900 rpm"),
}


@pytest.mark.parametrize("name", SOUND)
def test_takes(name: str, make_job, small) -> None:
    assert load_job(make_job(f"{small}{SOUND[name]}\n")).job.job == "Bench engine"
