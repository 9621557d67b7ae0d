# SPDX-License-Identifier: Apache-2.0
"""Every kind of manoeuvre, as it stands in a job, against what the theory of motion says of it."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.job.manoeuvre_kind import KINDS
from sumpwright.studies.chosen import chosen
from sumpwright.studies.manoeuvre import motion_of
from sumpwright.vehicle.motion import Motion
from tests.studies.drive_job import drive_job

G = 9.80665
KMH = 1.0 / 3.6
DIGITS = 1e-9  # relative: rounding of some thousand nodes

CASES = {
    "circle": "radius: 30 m, speed: 54 km/h, laps: 2, turn: right",
    "figure-eight": "radius: 15 m, accel: 1.0 g, laps: 2",
    "slalom": "cone_spacing: 18 m, offset: 1 m, speed: 40 km/h, cones: 4",
    "brake": "speed: 90 km/h, decel: 0.8 g, end_speed: 36 km/h",
    "brake-and-turn": "speed: 90 km/h, turn_speed: 36 km/h, decel: 0.9 g, accel: 0.7 g, turn: left",
    "launch": "speed: 20 m/s, accel: 0.5 g, start_speed: 5 m/s, rest: 4 s",
    "hill": "uphill: left, slope: 20 deg, duration: 5 s",
    "bank": "radius: 50 m, bank: 15 deg, speed: 15 m/s, duration: 4 s",
    "kerb": "accel: 1.5 g, pulse: 0.12 s, rebound: 0.3 s",
    "skidpad": "radius: 30 m, stages: [0.4 g, 0.45 g, 0.5 g], hold: 6 s, ease: 0.5 m/s^2",
    "trace": "file: log.csv",
}


def motion(folder: Path, kind: str, keys: str = "") -> Motion:
    rows = [f"{0.02 * i:.2f},0,{0.5 * math.sin(0.04 * i):.6f}\n" for i in range(500)]
    (folder / "log.csv").write_text("time,ax,ay\n" + "".join(rows))
    loaded = drive_job(folder, f"{{name: it, kind: {kind}, {keys or CASES[kind]}}}")
    choice = chosen(loaded, "it", {})
    return motion_of(choice.section, choice.log).motion


def within(driven: Motion, name: str) -> np.ndarray:
    """Accelerations in the named span [g]."""
    (span,) = [s for s in driven.spans if s.name == name]
    return driven.accel_g[(driven.time > span.start) & (driven.time < span.end)]


@pytest.mark.parametrize("kind", KINDS)
def test_no_kind_ever_steps(kind: str, tmp_path: Path) -> None:
    driven = motion(tmp_path, kind)
    most = {"kerb": 500.0, "hill": 5.0, "trace": 100.0}.get(kind, 30.0)  # the limits as documented
    assert driven.peak_jerk <= most * (1.0 + DIGITS)
    assert np.abs(driven.accel).max() > 0.0


def test_circle_is_v_squared_over_r_for_its_laps(tmp_path: Path) -> None:
    # [ISO-4138]: 15 m/s on 30 m is 7.5 m/s^2; two laps take 4 pi 30/15 s
    driven = motion(tmp_path, "circle")
    steady = within(driven, "steady")
    np.testing.assert_allclose(steady[:, 1] * G, -(15.0**2) / 30.0, rtol=DIGITS)
    (span,) = driven.spans
    assert span.end - span.start == pytest.approx(8.0 * math.pi, rel=DIGITS)


def test_figure_eight_goes_to_both_sides_at_the_speed_of_its_g(tmp_path: Path) -> None:
    driven = motion(tmp_path, "figure-eight")
    assert driven.speed is not None
    np.testing.assert_allclose(driven.speed, math.sqrt(G * 15.0), rtol=DIGITS)  # v = sqrt(a R)
    assert (driven.accel_g[:, 1].min(), driven.accel_g[:, 1].max()) == pytest.approx((-1.0, 1.0))
    turns = np.count_nonzero(np.diff(np.sign(driven.accel[np.abs(driven.accel[:, 1]) > 1.0, 1])))
    assert turns == 3  # left, right, left, right


def test_slalom_passes_four_cones_at_its_speed(tmp_path: Path) -> None:
    driven = motion(tmp_path, "slalom")
    assert driven.speed is not None
    assert driven.curvature is not None
    np.testing.assert_allclose(driven.speed, 40.0 * KMH, rtol=DIGITS)
    # For a small weave y = c sin(pi x/d) the curvature at a cone is c (pi/d)^2, and its heading's
    # swing of c pi/d = 0.17 rad changes that by its square, 3 %, at most.
    bend = np.abs(driven.curvature).max()
    assert bend == pytest.approx((math.pi / 18.0) ** 2, rel=0.03)
    np.testing.assert_allclose(driven.accel[:, 1], driven.curvature * (40.0 * KMH) ** 2)


def test_braking_takes_the_time_of_a_trapezoid(tmp_path: Path) -> None:
    driven = motion(tmp_path, "brake")
    assert driven.speed is not None
    (span,) = driven.spans
    # T = dv/a + a/j: 15 m/s at 0.8 g and 30 m/s^3
    assert span.end - span.start == pytest.approx(15.0 / (0.8 * G) + 0.8 * G / 30.0, rel=DIGITS)
    assert driven.accel_g[:, 0].min() == pytest.approx(-0.8, rel=DIGITS)
    assert driven.speed[-1] == pytest.approx(36.0 * KMH, rel=DIGITS)


def test_braking_into_a_turn_ends_on_the_radius_of_its_speed_and_g(tmp_path: Path) -> None:
    driven = motion(tmp_path, "brake-and-turn")
    assert driven.curvature is not None
    assert 1.0 / driven.curvature.max() == pytest.approx(10.0**2 / (0.7 * G), rel=1e-6)  # v^2/a
    np.testing.assert_allclose(within(driven, "turn")[:, 1], 0.7, rtol=DIGITS)
    release = within(driven, "release")
    ellipse = (release[:, 0] / 0.9) ** 2 + (release[:, 1] / 0.7) ** 2
    np.testing.assert_allclose(ellipse, 1.0, rtol=DIGITS)


def test_launch_gains_its_speed_and_rests(tmp_path: Path) -> None:
    driven = motion(tmp_path, "launch")
    (span,) = driven.spans
    gained = np.trapezoid(driven.accel[:, 0], driven.time)
    assert gained == pytest.approx(15.0, rel=DIGITS)
    assert driven.duration - span.end == pytest.approx(4.0, rel=DIGITS)


@pytest.mark.parametrize(
    ("uphill", "lean"),
    [("nose", (1, 0)), ("tail", (-1, 0)), ("left", (0, 1)), ("right", (0, -1)), ("90 deg", (0, 1))],
)
def test_hill_leans_gravity_by_its_angle_away_from_uphill(
    uphill: str, lean: tuple[int, int], tmp_path: Path
) -> None:
    driven = motion(tmp_path, "hill", f"uphill: {uphill}, slope: 20 deg, duration: 5 s")
    felt = np.array([0.0, 0.0, -1.0]) - within(driven, "slope")
    # gravity stays 1 g: its part along the ground, sin 20 deg, points downhill
    sine, cosine = math.sin(math.radians(20.0)), math.cos(math.radians(20.0))
    expected = [-sine * lean[0], -sine * lean[1], -cosine]
    np.testing.assert_allclose(felt, np.tile(expected, (len(felt), 1)), atol=1e-12)  # rounding


def test_bank_takes_its_part_of_the_turn(tmp_path: Path) -> None:
    steady = within(motion(tmp_path, "bank"), "steady")
    # along the road: v^2/R cos b - g sin b
    level, bank = 15.0**2 / 50.0, math.radians(15.0)
    side = level * math.cos(bank) - G * math.sin(bank)
    np.testing.assert_allclose(steady[:, 1] * G, side, rtol=DIGITS)


def test_kerb_is_half_a_sine_upward_and_its_speed_is_taken_off_again(tmp_path: Path) -> None:
    driven = motion(tmp_path, "kerb")
    assert driven.accel_g[:, 2].max() == pytest.approx(1.5, rel=DIGITS)
    up = np.maximum(driven.accel[:, 2], 0.0)
    # half a sine gains 2 a T/pi; n straight lines in its place x/tan x of that, x = pi/2n
    x = math.pi / (2.0 * (np.count_nonzero(up) + 1))
    gained = np.trapezoid(up, driven.time)
    assert gained == pytest.approx(2.0 * 1.5 * G * 0.12 / math.pi * x / math.tan(x), rel=DIGITS)
    left = np.trapezoid(driven.accel[:, 2], driven.time)
    assert left == pytest.approx(0.0, abs=1e-3 * gained)  # fewer lines on the way back, x^2/3 less


def test_skidpad_holds_each_stage_left_and_then_right(tmp_path: Path) -> None:
    driven = motion(tmp_path, "skidpad")
    names = [span.name for span in driven.spans]
    assert names == [f"{way} {i}" for way in ("left", "right") for i in (1, 2, 3)]
    for way, sign in (("left", 1.0), ("right", -1.0)):
        for i, g in enumerate((0.4, 0.45, 0.5), 1):
            np.testing.assert_allclose(within(driven, f"{way} {i}")[:, 1], sign * g, rtol=1e-6)
    only = motion(tmp_path, "skidpad", CASES["skidpad"] + ", both: false")
    assert [span.name for span in only.spans] == names[:3]


def test_trace_is_the_log_in_g(tmp_path: Path) -> None:
    driven = motion(tmp_path, "trace")
    middle = (driven.time > 1.0) & (driven.time < 8.0)
    swing = 2.0  # rad/s of the logged sine
    # the filter leaves exp(-(w sigma)^2/2) of it, sigma = sqrt(ln 2)/(2 pi 5 Hz)
    left = math.exp(-0.5 * (swing * math.sqrt(math.log(2.0)) / (10.0 * math.pi)) ** 2)
    expected = 0.5 * left * np.sin(swing * driven.time)
    # straight lines between nodes and rows 20 ms apart cut (w dt)^2/8 off
    np.testing.assert_allclose(driven.accel_g[middle, 1], expected[middle], atol=0.5 * 2e-4)


def test_turn_right_is_turn_left_in_a_mirror(tmp_path: Path) -> None:
    for kind in ("circle", "figure-eight", "slalom", "brake-and-turn", "bank"):
        keys = CASES[kind].replace(", turn: right", "").replace(", turn: left", "")
        left, plain, right = (
            motion(tmp_path, kind, keys + turn) for turn in (", turn: left", "", ", turn: right")
        )
        np.testing.assert_array_equal(left.accel, plain.accel)
        np.testing.assert_array_equal(right.accel, left.mirrored().accel)


def test_keys_that_are_given_reach_the_motion(tmp_path: Path) -> None:
    plain = motion(tmp_path, "brake")
    slow = motion(tmp_path, "brake", CASES["brake"] + ", run_up: 3 s, rest: 7 s, jerk: 10 m/s^3")
    assert slow.spans[0].start == pytest.approx(3.0, rel=DIGITS)
    assert slow.duration - slow.spans[0].end == pytest.approx(7.0, rel=DIGITS)
    assert slow.peak_jerk == pytest.approx(10.0, rel=DIGITS)
    assert plain.peak_jerk == pytest.approx(30.0, rel=DIGITS)
