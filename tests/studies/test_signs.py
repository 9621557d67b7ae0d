# SPDX-License-Identifier: Apache-2.0
"""Which way the oil goes, through job files: left, right, brake, accelerate, slopes, pose, yaw.

Source: ISO 8855 axes and angles (from memory), and what anybody sees in a tray of water carried in
a car. A pickup near one wall of a shallow box uncovers first when the oil leaves that wall.
"""

from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from sumpwright.studies.check import check
from sumpwright.studies.result import CheckResult, PanHold
from tests.studies.box_job import JOB, box_job, box_mesh

# a square box, so that only the pickup's place tells the ways apart: 240 x 240 mm, 40 mm of oil
SQUARE = box_mesh((-0.12, -0.12, -0.1), (0.12, 0.12, 0.0))
SHALLOW = JOB.replace("3 L", "2.304 L")
PLACES = {"front": (80, 0), "rear": (-80, 0), "left": (0, 80), "right": (0, -80)}
TALL = "engine: {crankcase_height: 1 m}\n"
GRID = 0.05 / 2**13  # g; two brackets of the study


def result_of(folder: Path, place: str, pose: str = "") -> CheckResult:
    x, y = PLACES.get(place, (0, 0))
    pickup = f"  pickup: {{centre: [{x} mm, {y} mm, -90 mm], diameter: 10 mm}}\noil:\n"
    text = SHALLOW.replace("oil:\n", pickup) + TALL
    return check(box_job(folder, text + (f"pose: {{{pose}}}\n" if pose else ""), cavity=SQUARE))


def hold_of(folder: Path, place: str, pose: str = "") -> PanHold:
    hold = result_of(folder, place, pose).hold
    assert hold is not None
    return hold


# the wall where the pickup is -> the manoeuvre that takes the oil away from it
@pytest.mark.parametrize(
    ("place", "bad", "good"),
    [
        ("left", "left", "right"),  # in a left turn everything slides to the right
        ("right", "right", "left"),
        ("rear", "brake", "accelerate"),  # under brakes everything slides forward
        ("front", "accelerate", "brake"),
    ],
)
def test_oil_goes_where_a_passenger_leans(tmp_path: Path, place: str, bad: str, good: str) -> None:
    hold = hold_of(tmp_path, place)
    limits = {way: getattr(hold, f"{way}_g") for way in ("left", "right", "brake", "accelerate")}
    assert min(limits, key=lambda way: limits[way]) == bad
    assert max(limits, key=lambda way: limits[way]) == good
    assert limits[bad] == pytest.approx(wedge_limit(), abs=GRID)


def wedge_limit() -> float:
    """Of the box dry at one wall: sqrt(2 h L / a) is wetted; the rim is 10 mm up, 205 mm in."""
    return float(brentq(lambda a: a * (np.sqrt(2 * 0.04 * 0.24 / a) - 0.205) - 0.01, 0.334, 0.4))


@pytest.mark.parametrize(
    ("place", "bad", "good"),
    [
        ("front", "up", "down"),  # nose uphill, the oil runs to the tail
        ("rear", "down", "up"),
        ("left", "left", "right"),  # left side uphill, the oil runs to the right
        ("right", "right", "left"),
    ],
)
def test_oil_runs_downhill(tmp_path: Path, place: str, bad: str, good: str) -> None:
    hold = hold_of(tmp_path, place)
    slopes = {side: getattr(hold, f"slope_{side}_deg") for side in ("up", "down", "left", "right")}
    assert min(slopes, key=lambda side: slopes[side]) == bad
    assert max(slopes, key=lambda side: slopes[side]) == good


@pytest.mark.parametrize(
    ("pose", "deep"),
    [
        ("pitch: -6 deg", "rear"),  # nose up
        ("pitch: 6 deg", "front"),  # nose down
        ("roll: 6 deg", "right"),  # right side down
        ("roll: -6 deg", "left"),
        ("yaw: 90 deg, pitch: 6 deg", "front"),  # pitch is the engine's own: its front goes down
        ("yaw: 90 deg, roll: 6 deg", "right"),
    ],
)
def test_oil_at_rest_lies_at_the_low_end_of_the_engine(
    tmp_path: Path, pose: str, deep: str
) -> None:
    cover = {p: hold_of(tmp_path / p, p, pose).cover_at_rest_m for p in PLACES}
    assert max(cover, key=lambda p: cover[p]) == deep
    # the surface falls by tan 6 deg over the 160 mm between two pickups, seen along up
    fall = 0.16 * np.sin(np.radians(6.0))
    other = {"rear": "front", "front": "rear", "left": "right", "right": "left"}[deep]
    assert cover[deep] - cover[other] == pytest.approx(fall, abs=1e-12)


@pytest.mark.parametrize(
    ("yaw", "place", "bad"),
    [
        # engine turned left: its front is at the car's left, its left side at the car's tail
        (90, "front", "left"),
        (90, "rear", "right"),
        (90, "left", "brake"),
        (90, "right", "accelerate"),
        # turned right: its front is at the car's right, its left side at the car's nose
        (-90, "front", "right"),
        (-90, "left", "accelerate"),
        (180, "front", "brake"),
        (180, "left", "right"),
    ],
)
def test_a_transverse_engine_meets_turns_endwise(
    tmp_path: Path, yaw: int, place: str, bad: str
) -> None:
    hold = hold_of(tmp_path, place, f"yaw: {yaw} deg")
    limits = {way: getattr(hold, f"{way}_g") for way in ("left", "right", "brake", "accelerate")}
    assert min(limits, key=lambda way: limits[way]) == bad


def test_a_static_roll_adds_to_a_turn_as_an_angle(tmp_path: Path) -> None:
    # without flow only the surface's angle to the engine counts: atan a + roll, for a roll that
    # lowers the right, where a left turn throws the oil
    level = np.degrees(np.arctan(hold_of(tmp_path / "a", "left").left_g))
    rolled = np.degrees(np.arctan(hold_of(tmp_path / "b", "left", "roll: 4 deg").left_g))
    counter = np.degrees(np.arctan(hold_of(tmp_path / "c", "left", "roll: -4 deg").left_g))
    assert rolled == pytest.approx(level - 4.0, abs=1e-3)
    assert counter == pytest.approx(level + 4.0, abs=1e-3)


def test_a_static_pitch_adds_to_braking_as_an_angle(tmp_path: Path) -> None:
    # nose down by 4 deg helps the oil forward, away from a pickup at the rear
    level = np.degrees(np.arctan(hold_of(tmp_path / "a", "rear").brake_g))
    dived = np.degrees(np.arctan(hold_of(tmp_path / "b", "rear", "pitch: 4 deg").brake_g))
    squat = np.degrees(np.arctan(hold_of(tmp_path / "c", "rear", "pitch: -4 deg").brake_g))
    assert dived == pytest.approx(level - 4.0, abs=1e-3)
    assert squat == pytest.approx(level + 4.0, abs=1e-3)


def test_a_slope_and_a_pose_add_as_angles(tmp_path: Path) -> None:
    level = hold_of(tmp_path / "a", "front").slope_up_deg
    assert hold_of(tmp_path / "b", "front", "pitch: -5 deg").slope_up_deg == pytest.approx(
        level - 5.0, abs=1e-3
    )


def test_pitch_lowers_the_end_of_the_engine_that_hits_the_ground(tmp_path: Path) -> None:
    outside = "  outside: {file: geometry/cavity.stl, unit: mm}\noil:\n"
    text = JOB.replace("oil:\n", outside)
    for pose, x_sign, y_sign in (("pitch: 5 deg", 1, 0), ("roll: 5 deg", 0, -1)):
        job = box_job(
            tmp_path / pose[:4], text + f"pose: {{height: 300 mm, {pose}}}\n", cavity=SQUARE
        )
        room = check(job).clearance
        assert room is not None
        x, y, z = room.lowest_point_m
        assert np.sign(x) == x_sign or not x_sign
        assert np.sign(y) == y_sign or not y_sign
        corner = 0.12 * np.sin(np.radians(5)) + 0.1 * np.cos(np.radians(5))
        assert z == pytest.approx(0.3 - corner, abs=1e-12)


def test_torque_roll_turns_about_the_crank_and_not_about_the_rail(tmp_path: Path) -> None:
    # crank 60 mm over the rail: right side down moves the pan's floor to the left
    outside = "  outside: {file: geometry/cavity.stl, unit: mm}\noil:\n"
    more = """\
engine: {crank_sweep: {height: 60 mm, radius: 40 mm, front: 100 mm, rear: -100 mm}}
pose: {height: 300 mm}
movement: [{name: torque, roll: 5 deg}]
obstacles: [{name: wall, file: geometry/wall.stl, unit: mm}]
"""
    wall = box_mesh((-0.5, 0.2, 0.0), (0.5, 0.25, 0.6))  # in the car, at the left
    folder = box_job(tmp_path, JOB.replace("oil:\n", outside) + more, cavity=SQUARE, wall=wall)
    room = check(folder).clearance
    assert room is not None
    s, c = np.sin(np.radians(5.0)), np.cos(np.radians(5.0))
    # a floor corner, 120 left and 160 below the crank, goes to 120 c + 160 s: positive roll takes
    # what hangs below to the left
    assert room.obstacles[0].worst.case == "torque"
    assert room.obstacles[0].worst.gap_m == pytest.approx(0.2 - 0.12 * c - 0.16 * s, abs=1e-9)
    assert room.ground_m == pytest.approx(0.36 - 0.16 * c - 0.12 * s, abs=1e-12)
