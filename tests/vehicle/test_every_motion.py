# SPDX-License-Identifier: Apache-2.0
"""What must hold for every manoeuvre: no step, one energy, and a path that is really driven."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import cumulative_simpson, cumulative_trapezoid

from sumpwright.vehicle.leg import ACCEL_STEP, LONGEST_STEP
from sumpwright.vehicle.motion import Motion
from tests.vehicle.motions import EVERY, ON_THE_LEVEL, Builder

every = pytest.mark.parametrize("build", EVERY.values(), ids=EVERY.keys())
on_the_level = pytest.mark.parametrize("build", ON_THE_LEVEL.values(), ids=ON_THE_LEVEL.keys())


def known(motion: Motion) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    assert motion.speed is not None
    assert motion.distance is not None
    assert motion.curvature is not None
    return motion.speed, motion.distance, motion.curvature


@every
@given(jerk=st.floats(25.0, 200.0))
def test_jerk_is_never_above_its_limit(build: Builder, jerk: float) -> None:
    assert build(jerk).peak_jerk <= jerk * (1.0 + 1e-9)  # rounding


@every
def test_nothing_steps_and_nodes_are_close(build: Builder) -> None:
    motion = build(40.0)
    assert np.abs(np.diff(motion.accel, axis=0)).max() <= ACCEL_STEP * (1.0 + 1e-9)  # rounding
    if motion.speed is not None:
        assert np.diff(motion.time).max() <= LONGEST_STEP * (1.0 + 1e-9)  # rounding


@every
def test_begins_and_ends_without_a_turn_or_a_push(build: Builder) -> None:
    motion = build(40.0)
    np.testing.assert_allclose(motion.accel[0], 0.0, atol=1e-12)  # rounding
    if build is not EVERY["hill"]:
        np.testing.assert_allclose(motion.accel[-1], 0.0, atol=1e-9)  # rounding


@every
def test_its_mirror_image_turns_the_other_way(build: Builder) -> None:
    motion = build(40.0)
    mirror = motion.mirrored()
    np.testing.assert_array_equal(mirror.accel, motion.accel * [1.0, -1.0, 1.0])
    np.testing.assert_array_equal(mirror.mirrored().accel, motion.accel)
    if motion.curvature is not None and mirror.curvature is not None:
        np.testing.assert_array_equal(mirror.curvature, -motion.curvature)


@on_the_level
def test_speed_is_the_integral_of_forward_acceleration(build: Builder) -> None:
    motion = build(40.0)
    speed, _, _ = known(motion)
    forward = motion.accel[:, 0]
    gained = 0.5 * (forward[1:] + forward[:-1]) * np.diff(motion.time)  # exact: straight lines
    np.testing.assert_allclose(np.diff(speed), gained, atol=1e-12)  # rounding
    assert speed.min() >= 0.0


@on_the_level
def test_work_done_is_the_change_of_kinetic_energy(build: Builder) -> None:
    motion = build(40.0)
    speed, distance, _ = known(motion)
    force = motion.accel[:, 0]
    work = float(np.sum(0.5 * (force[1:] + force[:-1]) * np.diff(distance)))
    # per mass; trapezium over steps in which force changes by ACCEL_STEP at most
    assert work == pytest.approx(0.5 * (speed[-1] ** 2 - speed[0] ** 2), rel=1e-4, abs=1e-9)


@on_the_level
def test_distance_is_the_integral_of_speed(build: Builder) -> None:
    motion = build(40.0)
    speed, distance, _ = known(motion)
    summed = cumulative_simpson(speed, x=motion.time, initial=0.0)
    # Simpson's rule across the corners of acceleration: jerk dt^3/12 a corner
    np.testing.assert_allclose(distance, summed, atol=40.0 * LONGEST_STEP**3 / 12.0)


@on_the_level
def test_curvature_and_speed_make_the_sideways_acceleration(build: Builder) -> None:
    motion = build(40.0)
    speed, _, curvature = known(motion)
    np.testing.assert_allclose(curvature * speed**2, motion.accel[:, 1], atol=1e-12)  # rounding


@on_the_level
def test_dead_reckoning_by_the_accelerometers_drives_the_path(build: Builder) -> None:
    # As an inertial navigator would, from the accelerations alone: turn them by the heading into
    # the ground's axes and integrate; the speed must come out, along the heading.
    motion = build(40.0)
    speed, distance, _ = known(motion)
    nodes = np.linspace(0.0, len(motion.time) - 1.0, 16 * (len(motion.time) - 1) + 1)
    t = np.interp(nodes, np.arange(len(motion.time)), motion.time)
    ahead, aside, _ = motion.at(np.minimum(t, motion.duration)).T
    along = speed[0] + cumulative_trapezoid(ahead, t, initial=0.0)
    yaw_rate = np.divide(aside, along, out=np.zeros_like(t), where=along > 1e-6)
    heading = cumulative_trapezoid(yaw_rate, t, initial=0.0)
    c, s = np.cos(heading), np.sin(heading)
    east = speed[0] + cumulative_trapezoid(c * ahead - s * aside, t, initial=0.0)
    north = cumulative_trapezoid(s * ahead + c * aside, t, initial=0.0)
    # trapezium rule over steps of 3 ms: 3e-3^2/12 of 1 g times the square of a yaw rate of 1 rad/s
    np.testing.assert_allclose(east, along * c, atol=1e-4)
    np.testing.assert_allclose(north, along * s, atol=1e-4)
    np.testing.assert_allclose(along[::16], speed, atol=1e-9)  # straight lines: rounding
    assert np.trapezoid(np.hypot(east, north), t) == pytest.approx(distance[-1], rel=1e-5)
