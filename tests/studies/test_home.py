# SPDX-License-Identifier: Apache-2.0
"""Where oil comes home: drops counted by hand over a box with a wall across it."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.studies.home import DIRECTIONS, SIDE
from tests.studies.baffled_job import WALL
from tests.studies.motion_job import MotionJob, motion_parts

MIDDLE = DIRECTIONS // 2
WALLED = f"  baffles:\n{WALL}      gap: 0.5 mm\n"


def shares(folder: Path, more: str = "") -> np.ndarray:
    _, _, made = motion_parts(folder, MotionJob(pan=WALLED, more=more))
    assert made.net.landing.side == SIDE
    return made.net.landing.shares


def returns(*entries: str) -> str:
    return "engine:\n  returns:\n" + "".join(f"    - {{{entry}}}\n" for entry in entries)


def test_oil_drizzles_evenly_where_the_job_names_no_returns(tmp_path: Path) -> None:
    found = shares(tmp_path)
    # of nine rows of drops 33.3 mm apart, three fall behind the wall at 100 mm
    assert found[MIDDLE, MIDDLE] == pytest.approx([1 / 3, 2 / 3], rel=1e-12)
    np.testing.assert_allclose(found.sum(axis=-1), 1.0, rtol=1e-12)


def test_each_return_has_its_share_and_falls_where_it_is(tmp_path: Path) -> None:
    found = shares(tmp_path, returns(
        "name: rear, at: [50 mm, 0 mm, 20 mm], share: 30 %, spread: 5 mm",
        "name: front, at: [200 mm, 0 mm, 20 mm], share: 70 %, spread: 0 mm",
    ))  # fmt: skip
    assert found[MIDDLE, MIDDLE] == pytest.approx([0.3, 0.7], rel=1e-12)


def test_under_braking_oil_falls_forward_over_the_wall(tmp_path: Path) -> None:
    found = shares(tmp_path, returns("name: rear, at: [80 mm, 0 mm, 20 mm], share: 100 %"))
    # braking, up leans to the rear: a lean of tan 1 carries it 20 mm forward by the rail, at 100 mm
    lean = np.linspace(-SIDE, SIDE, DIRECTIONS)[:MIDDLE]
    ahead = 0.02 * np.tan(2.0 * np.arctan(-lean))  # stereographic: half the tilt
    front = found[:MIDDLE, MIDDLE, 1]
    assert (front[ahead > 0.045] == 1.0).all()  # 20 mm to the wall, and 20 mm of spread beside
    assert (front[ahead < 0.0] == 0.0).all()
    assert found[MIDDLE, MIDDLE] == pytest.approx([1.0, 0.0])
    assert (np.diff(front) <= 1e-12).all()


def test_a_return_that_hangs_beside_the_pan_drips_into_the_largest_compartment(
    tmp_path: Path,
) -> None:
    found = shares(tmp_path, returns("name: out, at: [900 mm, 0 mm, 20 mm], share: 100 %"))
    assert found[MIDDLE, MIDDLE] == pytest.approx([0.0, 1.0])
