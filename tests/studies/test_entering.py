# SPDX-License-Identifier: Apache-2.0
"""From rest into a steady acceleration, in a half-full box: statics by hand, slosh by the book.

The surface of a half-full box goes through its middle at any tilt. With the rim of the pickup
30 mm under that and 20 mm wide to either side, a turn of a g uncovers it where 20 a = 30: at 1.5 g.
"""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.oil.network import run
from sumpwright.studies.entering import Entry, entry_at
from sumpwright.vehicle.manoeuvre import JERK
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.box_job import box_mesh
from tests.studies.motion_job import ENGINE, PICKUP, THICK, MotionJob, motion_parts

LEFT, BRAKE, RIGHT = 0.5 * np.pi, np.pi, 1.5 * np.pi
RPM = np.pi / 30.0


def entry(folder: Path, job: MotionJob, rpm: float = 0.0, **bodies: object) -> Entry:
    loaded, read, made = motion_parts(folder, job, **bodies)  # type: ignore[arg-type]
    return entry_at(loaded, read, made, rpm * RPM, loaded.job.oil.hot)


def test_thick_oil_uncovers_where_statics_say(tmp_path: Path) -> None:
    """A trickle of a pump: 0.006 L/min, whose draw-down of 0.7 mm is taken off by hand."""
    flow = "[{rpm: 1000 rpm, flow: 0.006 L/min}, {rpm: 6000 rpm, flow: 0.006 L/min}]"
    job = MotionJob(viscosity=THICK, more=f"engine: {{rpm: 6000 rpm, flow: {flow}}}\n")
    slow = entry(tmp_path, job, 3000.0)
    assert slow.flow == pytest.approx(1e-7, rel=1e-9)
    # what the pump lifted meanwhile is 1e-7 m3/s for 1.5 s: nothing
    drawdown = 0.6884 * (1e-14 / STANDARD_GRAVITY) ** 0.2  # [Lubin-Springer-1967], R2.3a
    for g, held in ((1.40, True), (1.56, False)):
        cover = (30e-3 - 20e-3 * g) / np.hypot(1.0, g) - drawdown / np.hypot(1.0, g) ** 0.2
        assert (cover > 0.0) == held
        found = slow.time_to_air(LEFT, g * STANDARD_GRAVITY, 30.0)
        assert np.isinf(found) == held
        # thick oil does not overshoot; the acceleration is all there after g/JERK
        assert held or found > g * STANDARD_GRAVITY / JERK


def test_thin_oil_overshoots_as_an_oscillator_whose_load_rises_over_a_while(
    tmp_path: Path,
) -> None:
    """1 + |sin(w t/2) / (w t/2)| of the static tilt undamped: Biggs, Introduction to Structural
    Dynamics (1964), from memory; w^2 = g k tanh(k h), k = pi/L: [Abramson-1966].
    """
    begun = entry(tmp_path, MotionJob())
    g = 0.02
    rise = g * STANDARD_GRAVITY / JERK
    forcing = begun.forcing(LEFT, g * STANDARD_GRAVITY, 4.0)
    course, _ = run(begun.ready.net, forcing, begun.start.state, np.linspace(0.0, 1.5, 301))
    k = np.pi / 0.2
    omega = np.sqrt(STANDARD_GRAVITY * k * np.tanh(k * 0.05))
    half = 0.5 * omega * rise
    tilt = course.normal[:, 0, 1] / course.normal[:, 0, 2] / g
    # hot oil in such a box has 0.5 to 2 % of critical damping (R5.4c: 1.2 %); pi times that is lost
    over = abs(np.sin(half) / half)
    assert 1.0 + over * np.exp(-0.02 * np.pi) < tilt.max() < 1.0 + over * np.exp(-0.005 * np.pi)
    # half a period after the middle of the rise; sampled every 5 ms
    crest = course.time[int(tilt.argmax())]
    assert crest == pytest.approx(0.5 * rise + np.pi / omega, abs=0.005)


def test_a_pickup_that_lies_dry_at_rest_has_no_time_at_all(tmp_path: Path) -> None:
    dry = entry(tmp_path, MotionJob(fill="1 L", more=ENGINE), 6000.0)  # 17 mm deep, mouth at 20
    assert dry.time_to_air(LEFT, 1.0, 8.0) == 0.0


def test_says_how_far_its_numbers_can_be_trusted(tmp_path: Path) -> None:
    walled = MotionJob(fill="4 L", pan=f"  baffles:\n{WALL}{DOOR}", more=ENGINE)
    went = entry(tmp_path, walled, 3000.0).into(LEFT, 3.0, 8.0)
    assert went.mass < 1e-12  # the promise is 1e-9
    assert 0.0 < went.worst_level <= 2e-4
    assert went.steps > 20


@pytest.mark.parametrize("way", [LEFT, BRAKE + 0.6])
def test_a_mirrored_pan_holds_the_mirrored_turn(tmp_path: Path, way: float) -> None:
    """Pickup and door to the left and a left turn, against both to the right and a right turn."""
    times = []
    for hand in (1, -1):
        wall = (WALL + DOOR).replace("[30 mm, -80 mm]", f"[{hand * 30} mm, -80 mm]")
        job = MotionJob(
            pickup=PICKUP.replace("0 mm, -80 mm", f"{hand * 40} mm, -75 mm"),
            pan=f"  baffles:\n{wall}",
            more=ENGINE,
        )
        begun = entry(tmp_path / str(hand), job, 3000.0)
        times.append([begun.time_to_air(hand * way, a, 16.0) for a in (3.0, 6.0, 9.0, 12.0)])
    # tables are not mirrored to the last digit, nor are the steps; each may be 0.2 mm off
    np.testing.assert_allclose(times[0], times[1], rtol=0.01)
    assert np.isfinite(times[0]).any()


def test_a_pan_mirrored_in_itself_is_the_same_to_both_sides(tmp_path: Path) -> None:
    both = entry(tmp_path, MotionJob(more=ENGINE), 6000.0)
    for a in (4.0, 8.0, 12.0):
        left, right = both.time_to_air(LEFT, a, 16.0), both.time_to_air(RIGHT, a, 16.0)
        assert left == pytest.approx(right, rel=0.01)  # as above


def test_a_box_turned_in_its_frame_holds_as_before(tmp_path: Path) -> None:
    """An engine set across the car: the pan's own left is then the car's nose or tail."""
    turned = "pose: {height: 300 mm, x: 0 mm, y: 0 mm, roll: 0 deg, pitch: 0 deg, yaw: 90 deg}\n"
    pickup = PICKUP.replace("150 mm, 0 mm", "150 mm, 40 mm")
    along = entry(tmp_path / "along", MotionJob(pickup=pickup, more=ENGINE), 3000.0)
    across = entry(tmp_path / "across", MotionJob(pickup=pickup, more=ENGINE + turned), 3000.0)
    # yaw of 90 deg turns the engine's +y, where the pickup is, to the car's -x
    for a in (6.0, 9.0, 12.0):
        found = across.time_to_air(BRAKE, a, 16.0)
        assert found == pytest.approx(along.time_to_air(LEFT, a, 16.0), rel=1e-6)


def test_a_pocket_that_is_shut_off_is_pumped_out_in_its_volume_over_the_flow(
    tmp_path: Path,
) -> None:
    """All returns behind the wall: what stands over the mouth's draw-down lasts V/Q; R9."""
    wall = "    - {name: wall, at: [100 mm, 0 mm, 0 mm], normal: [1, 0, 0], thickness: 2 mm,\n"
    shut = MotionJob(
        fill="5 L",
        pan=f"  baffles:\n{wall}       gap: 0.05 mm}}\n",
        more=ENGINE + "  returns: [{name: rear, at: [50 mm, 0 mm, 10 mm], share: 100 %}]\n",
        oil="cold: 20 degC, hot: 20 degC, density_15: 850 kg/m^3",
        viscosity=THICK,
    )
    begun = entry(tmp_path, shut, 6000.0)
    area, flow = (0.3 - 0.101) * 0.2, 36e-3 / 60.0
    begun.start.state[:2] = [1.5e-3, area * 0.08]  # 80 mm deep over the pickup, by hand
    found = begun.time_to_air(LEFT, 1e-6, 60.0)
    drawdown = 0.6884 * (flow**2 / STANDARD_GRAVITY) ** 0.2
    # thick oil through 0.05 mm: nothing to speak of
    assert found == pytest.approx(area * (0.08 - 0.02 - drawdown) / flow, rel=0.01)


def test_bodies_may_be_other_than_boxes(tmp_path: Path) -> None:
    lump = box_mesh((0.02, -0.1, -0.1), (0.06, 0.1, -0.02))
    more = "  displacing:\n    - { name: lump, file: geometry/lump.stl, unit: mm }\n"
    begun = entry(tmp_path, MotionJob(pan=more, more=ENGINE), 1000.0, lump=lump)
    assert begun.start.oil == pytest.approx(3e-3, rel=1e-9)
    assert begun.time_to_air(LEFT, 2.0, 8.0) == np.inf
