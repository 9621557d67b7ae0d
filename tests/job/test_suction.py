# SPDX-License-Identifier: Apache-2.0
"""The suction line of the job file."""

import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job

CASES = {
    "a screen of both kinds": (
        "pitch: 1.6 mm, wire: 0.4 mm, hole: 2 mm, open_area: 40 %, thickness: 1 mm", "describe",
    ),
    "a screen of neither": ("", "describe the screen"),
    "half a woven screen": ("pitch: 1.6 mm", "woven wire"),
    "half a perforated screen": ("hole: 2 mm, thickness: 1 mm", "a sheet with holes"),
}  # fmt: skip


def job_with(screen: str) -> str:
    return (
        "job: x\nnew:\n  cavity: geometry/new.step\n  suction:\n"
        f"    screen: {{{screen}, area: 20 cm^2}}\n".replace("{, ", "{")
        + "    tubes: [{bore: 19 mm, length: 22 cm}]\n    pump_inlet: [0 m, 0 m, 0 m]\n"
        "oil: {fill: 4 L}\n"
    )


def test_reads_a_line_in_si(make_job, moving) -> None:
    suction = load_job(make_job(moving)).job.new.suction
    assert (suction.edge_radius, suction.pump_inlet) == (0.003, (0.3, 0.02, 0.06))
    assert suction.screen.woven
    assert suction.screen.area == pytest.approx(0.002, rel=1e-15)  # rounding of the conversion
    (tube,) = suction.tubes
    assert (tube.bore, tube.length, tube.roughness) == (0.019, 0.22, 0.0)
    assert tube.bends[0].angle == pytest.approx(1.5707963267948966, rel=1e-15)


def test_reads_a_perforated_screen(make_job) -> None:
    text = job_with("hole: 2 mm, open_area: 40 %, thickness: 1 mm")
    screen = load_job(make_job(text)).job.new.suction.screen
    assert not screen.woven
    assert screen.open_area == pytest.approx(0.4, rel=1e-15)  # rounding of the conversion


@pytest.mark.parametrize("name", CASES)
def test_refuses(name: str, make_job) -> None:
    screen, do = CASES[name]
    with pytest.raises(InputError) as caught:
        load_job(make_job(job_with(screen)))
    (problem,) = caught.value.problems
    assert problem.code == "JOB-108"
    assert problem.where.endswith("new.suction.screen")
    assert problem.needed == "`pitch` and `wire`, or `hole`, `open_area` and `thickness`"
    assert do in problem.do


def test_asks_for_at_least_one_tube(make_job) -> None:
    text = job_with("pitch: 1.6 mm, wire: 0.4 mm").replace("[{bore: 19 mm, length: 22 cm}]", "[]")
    with pytest.raises(InputError) as caught:
        load_job(make_job(text))
    (problem,) = caught.value.problems
    assert (problem.code, problem.do) == ("JOB-106", "give 1 entry")
    assert problem.needed.startswith("at least 1 entry: ")


def test_asks_for_a_share_in_percent(make_job) -> None:
    text = job_with("hole: 2 mm, open_area: 0.4, thickness: 1 mm")
    with pytest.raises(InputError) as caught:
        load_job(make_job(text))
    (problem,) = caught.value.problems
    assert (problem.code, problem.needed) == ("JOB-101", "5 % to 80 %")
    assert problem.do == "write it in percent, as in '5 %'"
