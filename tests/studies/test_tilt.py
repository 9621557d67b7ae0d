# SPDX-License-Identifier: Apache-2.0
"""The tilted oil against the static hold, and against boxes worked by hand.

Source: liquid in a box under a steady acceleration (hydrostatics, in any handbook of fluid
mechanics): the surface is square to effective gravity, and while the floor stays wet and the lid
dry the depth over the middle of each box is its volume over its floor.
"""

import json
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.job.load import load_job
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.compartment import parted
from sumpwright.studies.hold import hold
from sumpwright.studies.tilt import Tilt, TiltReady, tilt, tilt_ready
from tests.studies.baffled_job import PICKUP, WALL, T, baffled, parted_job
from tests.studies.box_job import JOB, box_job

ROUNDING = 1e-12  # m; two ways to the same exact level
OIL = 3e-3
BACK, FRONT = 0.1 - T / 2, 0.2 - T / 2  # m; the lengths that the wall leaves of 0.3 m
WIDTH, FLOOR = 0.2, -0.1
DEPTH = OIL / (WIDTH * (BACK + FRONT))
MIDDLE = {"back": BACK / 2, "front": 0.3 - FRONT / 2}  # m, x of each compartment
FLOW = "\nengine:\n  flow: [{rpm: 0 rpm, flow: 0 L/min}, {rpm: 6000 rpm, flow: 40 L/min}]\n"


def prepared(folder: Path) -> TiltReady:
    found, bodies = parted_job(folder)
    return tilt_ready(load_job(folder).job, bodies, found)


@pytest.fixture(scope="module")
def walled(tmp_path_factory: pytest.TempPathFactory) -> TiltReady:
    return prepared(baffled(tmp_path_factory.mktemp("walled"), WALL, PICKUP))


def heights(found: Tilt) -> list[float]:
    return [s.height_m for s in found.surfaces]


def middles(made: TiltReady) -> list[float]:
    """x of the middle of each compartment, told apart by how much they hold."""
    small = [body.volume < 3e-3 for body in made.bodies]
    return [MIDDLE["back" if k else "front"] for k in small]


def test_settled_has_the_cover_of_the_static_hold_at_every_point_of_its_grid(
    tmp_path: Path,
) -> None:
    folder = baffled(tmp_path, WALL, PICKUP)
    text = (folder / "job.yaml").read_text("utf-8")
    (folder / "job.yaml").write_text(text + FLOW, "utf-8")
    loaded = load_job(folder)
    bodies = read_bodies(loaded)
    held = hold(loaded.job, bodies)
    made = tilt_ready(loaded.job, bodies, parted(loaded.job, bodies))
    assert held is not None
    assert held.flow_m3_s > 0.0  # else the draw-down would not be in it
    for row in range(0, 72, 7):
        angle = np.radians(held.directions_deg[row])
        for column in range(0, 33, 4):
            g = held.magnitudes_g[column]
            found = tilt(made, g * np.cos(angle), g * np.sin(angle))
            assert found.cover_m == pytest.approx(held.cover_m[row][column], abs=ROUNDING)
            assert found.covered == (held.cover_m[row][column] >= 0.0)
    at_rest = tilt(made, 0.0, 0.0)
    assert at_rest.drawdown_m == pytest.approx(held.drawdown_at_rest_m, rel=1e-12)


def test_settled_uncovers_at_the_hold_limit(walled: TiltReady, tmp_path: Path) -> None:
    loaded = load_job(baffled(tmp_path, WALL, PICKUP))
    held = hold(loaded.job, read_bodies(loaded))
    assert held is not None
    for limit, x, y in ((held.accelerate_g, 1, 0), (held.left_g, 0, 1), (held.right_g, 0, -1)):
        assert 0.0 < limit < 1.6
        before, after = (tilt(walled, x * g, y * g) for g in (limit - 1e-3, limit + 1e-3))
        assert (before.covered, after.covered) == (True, False)


def test_settled_is_one_plane_through_the_whole_box(walled: TiltReady) -> None:
    ax = 0.2  # floors wet, lid dry
    found = tilt(walled, ax, 0.0)
    area = np.array([BACK, FRONT]) * WIDTH
    mean = float(area @ [MIDDLE["back"], MIDDLE["front"]]) / area.sum()
    height = (FLOOR + DEPTH + ax * mean) / np.hypot(1.0, ax)
    assert heights(found) == pytest.approx([height, height], abs=ROUNDING)
    assert found.up == pytest.approx(np.array([ax, 0.0, 1.0]) / np.hypot(1.0, ax), abs=1e-15)


def test_sudden_tilts_what_each_compartment_has_about_its_own_middle(walled: TiltReady) -> None:
    ax, ay = 0.2, -0.2  # floors wet, lid dry
    found = tilt(walled, ax, ay, "sudden")
    by_hand = [(FLOOR + DEPTH + ax * x) / np.sqrt(1 + ax**2 + ay**2) for x in middles(walled)]
    assert heights(found) == pytest.approx(by_hand, abs=ROUNDING)
    rest = tilt(walled, 0.0, 0.0, "settled")
    assert [s.volume_m3 for s in found.surfaces] == [s.volume_m3 for s in rest.surfaces]


@pytest.mark.parametrize("mode", ["settled", "sudden"])
def test_no_oil_is_won_or_lost(walled: TiltReady, mode: str) -> None:
    for ax, ay in ((0.0, 0.0), (1.2, 0.0), (-0.9, 0.4), (0.0, 2.9)):
        found = tilt(walled, ax, ay, mode)  # type: ignore[arg-type]
        assert sum(s.volume_m3 for s in found.surfaces) == pytest.approx(OIL, rel=1e-12)


def test_in_a_left_turn_the_oil_climbs_the_right_wall(walled: TiltReady) -> None:
    x, y, z = tilt(walled, 0.0, 0.5).up
    assert (x, y > 0.0, z > 0.0) == (0.0, True, True)  # up leans left: the surface rises rightward


def test_without_a_pickup_there_is_oil_but_no_cover(tmp_path: Path) -> None:
    found = tilt(prepared(box_job(tmp_path, JOB)), 0.0, 0.4)
    assert (found.cover_m, found.drawdown_m, found.covered) == (None, None, None)
    assert [s.volume_m3 for s in found.surfaces] == pytest.approx([OIL], rel=1e-12)
    assert json.loads(json.dumps(found.as_json()))["surfaces"][0]["height_m"] == heights(found)[0]


def test_what_is_no_acceleration_is_refused_in_a_sentence(walled: TiltReady) -> None:
    for ax in (float("nan"), float("inf"), 3.01):
        with pytest.raises(RangeError, match="a tilt needs 0 to 3 g, got"):
            tilt(walled, ax, 0.0)
    with pytest.raises(RangeError, match="settled or sudden, got 'upside down'"):
        tilt(walled, 0.0, 0.0, "upside down")  # type: ignore[arg-type]
