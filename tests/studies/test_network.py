# SPDX-License-Identifier: Apache-2.0
"""From a job to its network: oil, doors in each state, and what is kept."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.job.load import load_job
from sumpwright.oil.density import density
from sumpwright.oil.viscosity import kinematic_viscosity, viscosity_line
from sumpwright.studies import network
from sumpwright.studies.asked import Asked
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.drive import drive
from sumpwright.studies.network import USUAL_VISCOSITY, at_temperature, fluid, ready
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.motion_job import MotionJob, motion_folder, motion_parts

WALLED = f"  baffles:\n{WALL}{DOOR}"
T, W, H = 0.002, 0.2, 0.1


def test_pools_are_the_compartments_with_their_middles_and_levers(tmp_path: Path) -> None:
    _, _, made = motion_parts(tmp_path, MotionJob(pan=WALLED))
    pools = made.net.pools
    give = 0.5 * T * 0.04 * 0.02
    assert pools.capacity == pytest.approx(
        [(0.1 - T / 2) * W * H + give, (0.2 - T / 2) * W * H + give], rel=1e-9
    )
    np.testing.assert_allclose(pools.middle[:, 1:], [[0.0, -0.05]] * 2, atol=1e-9)
    # half of the longer side, seen from above: 200 mm across, and 199 mm along with half the hole
    assert pools.lever == pytest.approx([0.1, 0.1], rel=0.01)
    assert made.level_error < 5e-4  # the promise; boxes do better
    assert made.reached.tolist() == [True, True]


def test_oil_is_as_dense_and_as_thick_as_its_temperature_makes_it(tmp_path: Path) -> None:
    two = "[{at: 40 degC, value: 96 mm^2/s}, {at: 100 degC, value: 14.4 mm^2/s}]"
    loaded, _, made = motion_parts(tmp_path, MotionJob(viscosity=two))
    line = viscosity_line(nu_1=96e-6, t_1=313.15, nu_2=14.4e-6, t_2=373.15)
    for t in (293.15, 353.15):
        rho, nu = fluid(loaded, t)
        assert rho == pytest.approx(float(density(850.0, t)), rel=1e-12)
        assert nu == pytest.approx(float(kinematic_viscosity(line, t)), rel=1e-12)
    assert fluid(loaded, 313.15).viscosity == pytest.approx(96e-6, rel=1e-9)
    assert at_temperature(made, loaded, 313.15).net.fluid.viscosity == pytest.approx(96e-6)


def test_oil_of_unknown_viscosity_is_the_usual_when_hot_and_refused_when_cold(
    tmp_path: Path,
) -> None:
    job = MotionJob(oil="cold: 5 degC, hot: 90 degC, density_15: 850 kg/m^3")
    folder = motion_folder(tmp_path, job)
    assert fluid(load_job(folder), 363.15).viscosity == USUAL_VISCOSITY
    with pytest.raises(InputError) as caught:
        drive(
            folder, Asked("hill", {"uphill": "nose", "slope": "5 deg", "duration": "1 s"}, "cold")
        )
    (problem,) = caught.value.problems
    assert problem.code == "JOB-161"
    assert problem.where == "job.yaml:5  oil"
    assert problem.found == "a drive with the oil at 5 degC, and an oil of no known viscosity"
    assert problem.needed == (
        "`grade` or `viscosity`; without them only hot oil can be taken as the usual"
    )
    assert problem.do == "add the oil's grade, such as 10W-40, or two points of its data sheet"


def test_doors_stuck_open_and_shut_are_windows_of_a_fixed_share(tmp_path: Path) -> None:
    job = MotionJob(pan=WALLED)
    working, opened, shut, none = (
        motion_parts(tmp_path, job, doors)[2].net  # type: ignore[arg-type]
        for doors in ("working", "stuck open", "stuck shut", "no baffles")
    )
    through, leak = 0, 1
    assert (working.ways.door[through], len(working.hatches.rows)) == (0, 1)
    for stuck in (opened, shut):
        assert (stuck.ways.door == -1).all()
        assert len(stuck.hatches.rows) == 0
        assert stuck.ways.share[leak] == 1.0
    # a 40 x 20 mm door at its stop of 70 deg: the curtain round it, in line with the hole
    curtain = 0.04 * 0.02 * 2.0 * math.sin(math.radians(35.0)) + 0.02**2 * math.sin(
        math.radians(70.0)
    )
    assert opened.ways.share[through] == pytest.approx(1.0 / math.hypot(1.0, 8e-4 / curtain))
    assert shut.ways.share[through] == 0.0
    assert (len(none.pools.capacity), len(none.ways.behind)) == (1, 0)


def test_tables_are_taken_from_the_cache_the_second_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, _, first = motion_parts(tmp_path, MotionJob(pan=WALLED))

    def never(*_: object) -> None:
        raise AssertionError("made again")

    monkeypatch.setattr(network, "level_table", never)
    monkeypatch.setattr(network, "swing_table", never)
    loaded = load_job(tmp_path)
    bodies = read_bodies(loaded)
    found = parted(loaded.job, bodies, folder=loaded.folder)
    again = ready(loaded, bodies, found, loaded.job.oil.hot)
    assert again.level_error == first.level_error
    np.testing.assert_array_equal(again.net.pools.levels.values, first.net.pools.levels.values)
    np.testing.assert_array_equal(again.net.pools.swings.values, first.net.pools.swings.values)


def test_a_compartment_with_no_way_out_stays_dry(tmp_path: Path) -> None:
    """A wall without gap or opening: what the fill would put behind it stands elsewhere."""
    more = "    - {name: second, at: [200 mm, 0 mm, 0 mm], normal: [1, 0, 0], thickness: 2 mm,\n"
    wall = more.replace("200 mm", "100 mm").replace("second", "first")
    window = (
        "       openings: [{name: hole, centre: [0 mm, -50 mm], width: 20 mm, height: 20 mm}]}\n"
    )
    pan = f"  baffles:\n{wall[:-2]}}}\n{more}{window}"
    _, _, made = motion_parts(tmp_path, MotionJob(pan=pan))
    assert made.reached.tolist() == [False, True, True]
