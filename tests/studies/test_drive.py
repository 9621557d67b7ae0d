# SPDX-License-Identifier: Apache-2.0
"""A drive of box pans: two tanks by the textbook, statics at the end, and what is answered."""

import json
from pathlib import Path

import numpy as np
import pytest

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.studies.asked import Asked
from sumpwright.studies.drive import MOST_SAMPLES, SAMPLE, drive, sample_times
from sumpwright.studies.motion_result import DriveResult
from sumpwright.vehicle.motion import Motion
from tests.studies.baffled_job import DOOR, WALL
from tests.studies.box_job import box_job, box_mesh
from tests.studies.motion_job import ENGINE, THICK, MotionJob, motion_folder

STAND = {"uphill": "nose", "slope": "0 deg", "duration": "2 s"}
LEFT = {"radius": "30 m", "accel": "0.5 g", "duration": "15 s"}
G = STANDARD_GRAVITY

TWO_TANKS = """\
job: two tanks
new:
  cavity: {file: geometry/cavity.stl, unit: mm}
  baffles:
    - name: wall
      at: [400 mm, 0 mm, 0 mm]
      normal: [1, 0, 0]
      thickness: 1 mm
      openings:
        - {name: slot, centre: [0 mm, -290 mm], width: 20 mm, height: 20 mm, discharge: 0.61}
oil:
  fill: 18 L
  cold: 20 degC
  hot: 20 degC
  viscosity: [{at: 20 degC, value: 2.1 mm^2/s}, {at: 100 degC, value: 2 mm^2/s}]
"""
"""600 x 200 x 300 mm with a wall at 400 mm: 0.0799 and 0.0399 m^2, and a sharp hole of 4 cm^2."""


def two_tanks(folder: Path) -> Path:
    return box_job(folder, TWO_TANKS, cavity=box_mesh((0.0, -0.1, -0.3), (0.6, 0.1, 0.0)))


def levelled(time: np.ndarray, head: float) -> np.ndarray:
    """Head [m] left after a time: t = 2 A1 A2/(A1 + A2) (sqrt H1 - sqrt H2)/(Cd a sqrt(2 g)).

    [White-2011], Cengel & Cimbala: two tanks and an orifice under oil on both sides.
    """
    a1, a2 = 0.0799, 0.0399
    rate = 0.61 * 4e-4 * np.sqrt(2.0 * G) * (a1 + a2) / (2.0 * a1 * a2)
    return np.asarray(np.maximum(np.sqrt(head) - rate * time, 0.0) ** 2)


def test_two_tanks_level_out_in_the_time_of_the_textbook(tmp_path: Path) -> None:
    asked = Asked("hill", {**STAND, "duration": "20 s"}, start=(("A", 16e-3), ("B", 4e-3)))
    result = drive(two_tanks(tmp_path), asked)
    rear, front = result.compartments
    time = np.array(result.time_s)
    found = np.array(rear.surface_height_m) - np.array(front.surface_height_m)
    head = found[0]
    assert head == pytest.approx(16e-3 / 0.0799 - 4e-3 / 0.0399, abs=3e-5)  # the hole's own metal
    wanted = levelled(time, head)
    # oil of 2.1 mm2/s loses 12 pi / Re more than a sharp edge: 0.5 % of the head at 1 m/s, and the
    # sharp edge's v to the end; steps may be 0.2 mm off
    np.testing.assert_allclose(found, wanted, atol=4e-4)
    assert (found >= wanted - 5e-5).all()  # never faster
    level = np.interp(0.01, found[::-1], time[::-1])
    exact = np.interp(0.01, wanted[::-1], time[::-1])
    assert level == pytest.approx(exact, rel=0.01)
    assert result.summary.mass_error < 1e-12  # the promise is 1e-9
    assert rear.volume_m3[-1] / 0.0799 == pytest.approx(front.volume_m3[-1] / 0.0399, abs=3e-5)


def test_it_runs_without_pickup_pump_and_engine(tmp_path: Path) -> None:
    result = drive(two_tanks(tmp_path), Asked("hill", STAND))
    n = len(result.time_s)
    assert result.pickup.compartment is None
    assert result.pickup.cover_m == result.pickup.air_fraction == (None,) * n
    assert result.pump.flow_m3_s == (0.0,) * n
    assert result.pump.inlet_pa == result.pump.pressure_pa == result.rpm == (None,) * n
    assert result.retained_m3 == (0.0,) * n
    summary = result.summary
    assert (summary.first_air_s, summary.least_cover_m, summary.least_inlet_pa) == (None,) * 3
    assert (summary.aerated_s, summary.longest_dry_s, summary.air_drawn_m3) == (0.0, 0.0, 0.0)
    assert "Nothing says how fast the engine turns: it draws no oil." in result.assumptions
    states = {r.id.split(".")[0]: (r.state, r.reason) for r in result.requirements}
    assert states == {"dry_spell": ("not judged", "needs `new.pickup`")}


@pytest.mark.parametrize("g", [0.5, 1.2])
def test_thick_oil_ends_square_to_gravity_as_statics_say(tmp_path: Path, g: float) -> None:
    """A half-full box at any tilt: the surface leans with tan g and goes through the middle."""
    folder = motion_folder(tmp_path, MotionJob(viscosity=THICK))
    result = drive(folder, Asked("circle", {**LEFT, "accel": f"{g} g"}))
    at = int(np.flatnonzero(np.array(result.accel_g)[:, 1] > g - 1e-9)[-1])  # the turn's end
    (only,) = result.compartments
    size = np.hypot(1.0, g)
    assert result.accel_g[at] == pytest.approx((0.0, g, 0.0), abs=1e-9)
    assert only.tilt[at] == pytest.approx((0.0, g / size, 1.0 / size), abs=2e-3)
    # told over the compartment's middle, (150, 0, -50) mm: the surface is in it
    assert only.surface_height_m[at] == pytest.approx(-0.05 / size, abs=2e-4)  # the table's limit
    # rim 30 mm under that, 20 mm to the side from which the oil goes
    cover = result.pickup.cover_m[at]
    assert cover == pytest.approx((0.03 - 0.02 * g) / size, abs=3e-4)
    assert result.summary.largest_g == pytest.approx(g, abs=1e-6)


def test_at_rest_levels_and_cover_are_as_worked_by_hand(tmp_path: Path) -> None:
    job = MotionJob(fill="4.2 L", more=ENGINE)
    result = drive(motion_folder(tmp_path, job), Asked("hill", {**STAND, "rpm": "6000 rpm"}))
    (only,) = result.compartments
    assert (only.name, only.capacity_m3) == ("A", pytest.approx(6e-3, rel=1e-9))
    # 3.6 L of 60 L a metre: 60 mm deep, 40 under the rail, 40 over the mouth
    np.testing.assert_allclose(only.surface_height_m, -0.04, atol=2e-4)  # the table's limit
    drawdown = 0.6884 * ((36e-3 / 60) ** 2 / G) ** 0.2  # R2.3a
    np.testing.assert_allclose(np.array(result.pickup.cover_m, float), 0.04 - drawdown, atol=2e-4)
    assert result.pickup.air_fraction == (0.0,) * len(result.time_s)
    np.testing.assert_allclose(result.pump.flow_m3_s, 6e-4, rtol=1e-12)
    np.testing.assert_allclose(np.array(result.rpm, float), 6000.0, rtol=1e-12)
    assert result.summary.most_retained_m3 == pytest.approx(0.6e-3, rel=1e-6)


def test_a_mirrored_pan_and_turn_give_the_mirrored_answer(tmp_path: Path) -> None:
    drove: list[DriveResult] = []
    for hand, turn in ((1, "left"), (-1, "right")):
        wall = (WALL + DOOR).replace("[30 mm, -80 mm]", f"[{hand * 30} mm, -80 mm]")
        job = MotionJob(
            pickup=f"  pickup: {{centre: [200 mm, {hand * 40} mm, -80 mm], diameter: 40 mm}}\n",
            pan=f"  baffles:\n{wall}",
            more=ENGINE,
        )
        folder = motion_folder(tmp_path / turn, job)
        asked = Asked("circle", {**LEFT, "turn": turn, "duration": "4 s", "rpm": "3000 rpm"})
        drove.append(drive(folder, asked))
    one, other = drove
    assert one.time_s == other.time_s
    for a, b in zip(one.compartments, other.compartments, strict=True):
        # tables are not mirrored to the last digit, nor are the steps that are chosen
        np.testing.assert_allclose(a.volume_m3, b.volume_m3, atol=2e-6)
        np.testing.assert_allclose(a.tilt, np.array(b.tilt) * [1, -1, 1], atol=2e-3)
    np.testing.assert_allclose(
        np.array(one.pickup.cover_m, float), np.array(other.pickup.cover_m, float), atol=4e-4
    )
    assert one.summary.first_air_s == pytest.approx(other.summary.first_air_s, rel=0.01)


@pytest.mark.parametrize("doors", ["working", "stuck open", "stuck shut", "no baffles"])
def test_doors_that_do_not_move_are_not_told(tmp_path: Path, doors: str) -> None:
    job = MotionJob(pan=f"  baffles:\n{WALL}{DOOR}", more=ENGINE)
    folder = motion_folder(tmp_path, job)
    result = drive(folder, Asked("circle", {**LEFT, "rpm": "3000 rpm"}, doors=doors))  # type: ignore[arg-type]
    assert result.doors_are == doors
    assert len(result.compartments) == (1 if doors == "no baffles" else 2)
    assert [door.name for door in result.doors] == (["wall, flap"] if doors == "working" else [])
    for door in result.doors:
        assert door.stop_deg == pytest.approx(70.0)
        assert min(door.angle_deg) >= 0.0
        assert max(door.angle_deg) <= 70.0 + 1e-9


def test_a_door_opens_its_own_way_only(tmp_path: Path) -> None:
    """Oil rushes back on braking's end: what is before the wall stays, but for the leak."""
    job = MotionJob(pan=f"  baffles:\n{WALL}{DOOR}", pickup="")
    folder = motion_folder(tmp_path, job)
    start = (("B", 3.5e-3),)
    result = drive(folder, Asked("hill", {**STAND, "duration": "5 s"}, start=start))
    rear, front = result.compartments
    assert max(result.doors[0].angle_deg) == 0.0
    # through a leak of 0.36 cm2 at most 0.61 a sqrt(2 g h) from 88 mm
    most = 0.61 * 3e-4 * 0.12 * np.sqrt(2 * G * 0.088) * result.time_s[-1]
    assert 0.0 < rear.volume_m3[-1] < most
    assert front.volume_m3[-1] == pytest.approx(3.5e-3 - rear.volume_m3[-1], rel=1e-12)


def test_the_answer_keeps_the_contract_as_json(tmp_path: Path) -> None:
    job = MotionJob(pan=f"  baffles:\n{WALL}{DOOR}", more=ENGINE)
    asked = Asked("circle", {**LEFT, "duration": "3 s", "rpm": "3000 rpm"})
    result = drive(motion_folder(tmp_path, job), asked)
    said = json.loads(json.dumps(result.as_json(), allow_nan=False))
    n = len(said["time_s"])
    assert n > 20
    assert (said["time_s"][0], said["time_s"][-1]) == (0.0, said["summary"]["duration_s"])
    assert (np.diff(said["time_s"]) > 0.0).all()
    assert np.shape(said["accel_g"]) == (n, 3)
    for series in (
        said["rpm"], said["pickup"]["cover_m"], said["pickup"]["air_fraction"],
        said["pump"]["flow_m3_s"], said["pump"]["inlet_pa"], said["retained_m3"],
    ):  # fmt: skip
        assert len(series) == n
    for part in said["compartments"]:
        assert set(part) >= {"name", "volume_m3", "surface_height_m", "tilt", "capacity_m3"}
        assert len(part["volume_m3"]) == len(part["surface_height_m"]) == n
    (door,) = said["doors"]
    assert (door["name"], len(door["angle_deg"])) == ("wall, flap", n)
    assert set(said["summary"]) >= {
        "first_air_s", "aerated_s", "longest_dry_s", "air_drawn_m3", "least_cover_m",
        "least_inlet_pa", "most_retained_m3", "mass_error", "duration_s", "largest_g",
    }  # fmt: skip
    assert said["summary"]["mass_error"] == said["error"]["mass"] < 1e-12
    assert said["error"]["worst_step_m"] <= said["error"]["tolerance_m"]
    whole = np.sum([part["volume_m3"] for part in said["compartments"]], axis=0)
    np.testing.assert_allclose(whole + said["retained_m3"], whole[0] + said["retained_m3"][0])


def test_keeps_a_sample_every_twentieth_of_a_second_and_not_too_many() -> None:
    def motion(seconds: float) -> Motion:
        return Motion(np.array([0.0, seconds]), np.zeros((2, 3)))

    assert np.diff(sample_times(motion(10.0))) == pytest.approx(SAMPLE)
    assert len(sample_times(motion(0.2))) == 21
    assert len(sample_times(motion(3600.0))) == MOST_SAMPLES + 1
    assert sample_times(motion(7.77))[-1] == 7.77


def test_says_what_it_is_doing(tmp_path: Path) -> None:
    said: list[tuple[str, float]] = []
    drive(two_tanks(tmp_path), Asked("hill", STAND), lambda *told: said.append(told))
    texts = list(dict.fromkeys(text for text, _ in said))
    assert texts[0] == "reading geometry"
    assert texts[-3:] == ["parting the pan by its baffles", "tabulating levels", "driving"]
    assert said[-1] == ("driving", 1.0)
