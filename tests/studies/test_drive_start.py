# SPDX-License-Identifier: Apache-2.0
"""Where the oil is when a drive begins: settled, as typed, or refused."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.oil.density import expansion
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.studies.asked import Asked, driven
from sumpwright.studies.drive import driven_run
from sumpwright.studies.drive_start import fill_at, started, started_again
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.motion_job import ENGINE, MotionJob, motion_parts

G = 9.80665
LEVEL = Asked("hill", {"uphill": "nose", "slope": "0 deg", "duration": "1 s"})
T, L, W = 0.002, 0.3, 0.2
PARTED = MotionJob(pan=f"  baffles:\n{WALL}{DOOR}")


def run_from(folder: Path, job: MotionJob, start: tuple[tuple[str, float], ...] | None = None):
    loaded, bodies, made = motion_parts(folder, job)
    return driven_run(loaded, bodies, made, driven(loaded, LEVEL), "working", start)


def test_a_settled_start_is_one_level_as_worked_by_hand(tmp_path: Path) -> None:
    done = run_from(tmp_path, PARTED)
    # as in test_compartment: half of the hole's metal on either side stands in the oil
    depth = (3e-3 - T * 0.04 * 0.02) / ((L - T) * W)
    rear = (0.1 - T / 2) * W * depth + T * 0.04 * 0.02 / 2
    assert done.start.state[:2] == pytest.approx([rear, 3e-3 - rear], abs=1e-9)  # settled: 1e-9
    assert done.start.oil == pytest.approx(3e-3, rel=1e-12)
    assert not done.start.typed


def test_hot_oil_takes_more_room(tmp_path: Path) -> None:
    job = MotionJob(oil="cold: 20 degC, hot: 100 degC, density_15: 850 kg/m^3")
    loaded, bodies, _ = motion_parts(tmp_path, job)
    grown = float(expansion(850.0, t_from=293.15, t_to=373.15))
    assert fill_at(loaded, bodies, 373.15) == pytest.approx(3e-3 * grown, rel=1e-12)
    assert fill_at(loaded, bodies, 293.15) == pytest.approx(3e-3, rel=1e-12)


def test_what_the_engine_holds_up_is_not_in_the_pan(tmp_path: Path) -> None:
    done = run_from(tmp_path, MotionJob(fill="4 L", more=ENGINE))
    # 0.6 L at 6000 rpm comes home as fast as the pump lifts it: 36 L/min over 1/s
    assert done.start.state[1] == pytest.approx(0.6e-3, rel=1e-9)
    assert done.start.state[0] == pytest.approx(3.4e-3, rel=1e-9)
    assert done.start.state[2] == 0.0  # air drawn


def test_oil_goes_where_it_is_typed_and_the_rest_is_dry(tmp_path: Path) -> None:
    done = run_from(tmp_path, PARTED, (("B", 1.25e-3),))
    assert done.start.state[:2].tolist() == [0.0, 1.25e-3]
    assert (done.start.oil, done.start.typed) == (1.25e-3, True)
    assert done.course.volume[0].tolist() == [0.0, 1.25e-3]


def test_compartments_that_are_not_there_and_too_much_oil_are_said_at_once(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        run_from(tmp_path, PARTED, (("A", 2.5e-3), ("pocket", 1e-3), ("B", 1e-3)))
    unknown, much = caught.value.problems
    assert (unknown.code, unknown.where) == ("DRIVE-503", "--start")
    assert unknown.found == "a compartment pocket"
    assert unknown.needed == "one of A, B"
    assert unknown.do == "see which is which with `sumpwright compartments JOB`"
    assert (much.code, much.where) == ("DRIVE-504", "--start")
    assert much.found == "2.50 L in compartment A"
    assert much.needed == "no more than 1.98 L, which fills it"  # 99 x 200 x 100 mm and the hole


def test_oil_that_does_not_fit_is_left_out_and_said(tmp_path: Path) -> None:
    done = run_from(tmp_path, MotionJob(fill="6.5 L"))
    assert done.start.state[0] == pytest.approx(6e-3, rel=1e-9)
    assert done.start.left_out == pytest.approx(0.5e-3, rel=1e-9)


def test_a_drawn_fill_settles_again_and_a_typed_one_is_scaled(tmp_path: Path) -> None:
    loaded, bodies, made = motion_parts(tmp_path, PARTED)
    level = forcing_of([0.0, 1.0], [[0.0, 0.0, G]] * 2)
    begun = started(loaded, bodies, made, level, 0.0, 293.15, None)
    more = started_again(made, level, begun, 1.02, 0.0)
    depth = (3.06e-3 - T * 0.04 * 0.02) / ((L - T) * W)
    rear = (0.1 - T / 2) * W * depth + T * 0.04 * 0.02 / 2
    assert more.oil == pytest.approx(3.06e-3, rel=1e-12)
    # until_still stops where levels still creep by 0.2 mm/s at the most
    assert more.state[0] == pytest.approx(rear, abs=0.02 * 1e-3)
    typed = started(loaded, bodies, made, level, 0.0, 293.15, (("A", 1e-3), ("B", 2e-3)))
    np.testing.assert_allclose(
        started_again(made, level, typed, 1.1, 0.0).state[:2], [1.1e-3, 2.2e-3], rtol=1e-12
    )
