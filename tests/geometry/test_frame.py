# SPDX-License-Identifier: Apache-2.0
"""Axes and signs, against the sentences of [ISO-8855] and scipy's rotations."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.geometry.frame import (
    Pose,
    effective_gravity,
    rotation_zyx,
    slope_gravity,
    turning_accel,
    up_of,
)

angles = st.floats(-3.1, 3.1)
NOSE, LEFT, TOP = np.eye(3)


def test_positive_roll_lowers_the_right_side() -> None:
    turn = rotation_zyx(0.1, 0.0, 0.0)
    assert (turn @ -LEFT)[2] < 0.0 < (turn @ LEFT)[2]
    np.testing.assert_array_equal(turn @ NOSE, NOSE)


def test_positive_pitch_lowers_the_nose() -> None:
    turn = rotation_zyx(0.0, 0.1, 0.0)
    assert (turn @ NOSE)[2] < 0.0
    np.testing.assert_array_equal(turn @ LEFT, LEFT)


def test_positive_yaw_turns_left() -> None:
    turn = rotation_zyx(0.0, 0.0, 0.1)
    assert (turn @ NOSE)[1] > 0.0
    np.testing.assert_array_equal(turn @ TOP, TOP)


@given(angles, angles, angles)
def test_rotation_is_yaw_then_pitch_then_roll(roll: float, pitch: float, yaw: float) -> None:
    from scipy.spatial.transform import Rotation

    theirs = Rotation.from_euler("ZYX", [yaw, pitch, roll]).as_matrix()
    np.testing.assert_allclose(rotation_zyx(roll, pitch, yaw), theirs, rtol=0.0, atol=1e-15)


@given(angles, angles, angles, st.integers(0, 1000))
def test_a_pose_there_and_back(roll: float, pitch: float, yaw: float, seed: int) -> None:
    pose = Pose(1.2, -0.3, 0.25, roll, pitch, yaw)
    points = np.random.default_rng(seed).normal(size=(5, 3))
    back = pose.to_engine(pose.to_car(points))
    np.testing.assert_allclose(back, points, rtol=0.0, atol=1e-14)  # roundings of some metres
    moved = pose.direction_to_engine(pose.to_car(points) - pose.origin)
    np.testing.assert_allclose(moved, points, rtol=0.0, atol=1e-14)


@pytest.mark.parametrize(
    ("yaw", "forward"),
    [(0.0, NOSE), (44.0, NOSE), (90.0, -LEFT), (-90.0, LEFT), (100.0, -LEFT), (180.0, -NOSE)],
)
def test_the_nearest_quarter_turn_says_where_the_cars_nose_is(
    yaw: float, forward: np.ndarray
) -> None:
    # 90 deg: the engine's front faces the car's left, so the car's nose is at the engine's right
    turn = Pose(yaw=np.deg2rad(yaw), roll=0.1).quarter_turn
    np.testing.assert_array_equal(turn[0], forward)
    np.testing.assert_array_equal(turn @ turn.T, np.eye(3))


def test_a_pose_puts_the_engines_origin_at_its_place() -> None:
    pose = Pose(1.2, -0.3, 0.25, 0.1, 0.05, 0.02)
    np.testing.assert_array_equal(pose.to_car([0.0, 0.0, 0.0]), [1.2, -0.3, 0.25])


def test_a_left_turn_sends_the_oil_right_and_braking_sends_it_forward() -> None:
    left, brake = turning_accel(np.deg2rad([90.0, 180.0]), 0.8)
    np.testing.assert_allclose(left, [0.0, 0.8, 0.0], atol=1e-16)
    np.testing.assert_allclose(effective_gravity(left), [0.0, -0.8, -1.0], atol=1e-16)
    np.testing.assert_allclose(effective_gravity(brake), [0.8, 0.0, -1.0], atol=1e-15)


def test_surface_tilts_by_the_ratio_of_accelerations() -> None:
    # tan(tilt) = a / g: hydrostatics; 45 degrees at 1 g
    up = up_of(effective_gravity(turning_accel(0.0, np.array([0.0, 1.0, 0.5]))))
    np.testing.assert_allclose(
        np.arccos(up[:, 2]), np.arctan([0.0, 1.0, 0.5]), atol=2e-8
    )  # arccos near 1
    np.testing.assert_allclose(np.linalg.norm(up, axis=1), 1.0, rtol=1e-15)
    assert up[1, 0] > 0.0  # accelerating forward, the surface faces forward: oil stands at the back


@pytest.mark.parametrize(
    ("side", "axis", "sign"), [(0, 0, -1), (90, 1, -1), (180, 0, 1), (270, 1, 1)]
)
def test_on_a_slope_gravity_leans_away_from_the_uphill_side(
    side: float, axis: int, sign: int
) -> None:
    field = slope_gravity(np.deg2rad(side), np.deg2rad(20.0))
    np.testing.assert_allclose(np.linalg.norm(field), 1.0, rtol=1e-15)
    np.testing.assert_allclose(field[axis], sign * np.sin(np.deg2rad(20.0)), rtol=1e-15)
    np.testing.assert_allclose(field[2], -np.cos(np.deg2rad(20.0)), rtol=1e-15)


def test_nose_uphill_is_the_gravity_of_a_car_pitched_up() -> None:
    nose_up = Pose(pitch=-0.3)  # positive pitch lowers the nose
    felt = nose_up.direction_to_engine([0.0, 0.0, -1.0])
    np.testing.assert_allclose(slope_gravity(0.0, 0.3), felt, rtol=0.0, atol=1e-16)
    left_up = Pose(roll=0.3)  # positive roll lowers the right side
    felt = left_up.direction_to_engine([0.0, 0.0, -1.0])
    np.testing.assert_allclose(slope_gravity(np.pi / 2, 0.3), felt, rtol=0.0, atol=1e-16)
