# SPDX-License-Identifier: Apache-2.0
"""Axes, signs and the two frames, said once. Picture: docs/axes.svg.

Car frame, ISO 8855: x forward, y left, z up, z = 0 on the ground. Right-hand rotations: positive
roll lowers the right side, positive pitch lowers the nose, positive yaw turns left.

Engine frame: same axes for an in-line installation; x = 0 at the rear face of the block, y = 0 on
the crank centreline, z = 0 at the pan rail. `Pose` takes one to the other; its roll and pitch are
the engine's own, after the yaw: in a transverse engine pitch lowers the engine's front end, which
is a side of the car, and roll lowers a side of the engine, which is the car's nose or tail.

Accelerations are the body's, in car axes: a left-hand turn accelerates the car toward +y and the
oil goes to -y. Directions are angles from +x toward +y: 0 accelerate, 90 left turn, 180 brake,
270 right turn.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

STANDARD_GRAVITY = 9.80665
"""m/s^2; ISO 80000-3, exact by convention."""

Vectors = NDArray[np.float64]


@dataclass(frozen=True)
class Pose:
    """Where the engine sits in the car: origin of the engine frame [m] and angles [rad]."""

    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    roll: float = 0.0
    pitch: float = 0.0
    yaw: float = 0.0

    @cached_property
    def rotation(self) -> Vectors:
        """(3, 3) matrix taking engine-frame vectors to the car frame."""
        return rotation_zyx(self.roll, self.pitch, self.yaw)

    @cached_property
    def quarter_turn(self) -> Vectors:
        """(3, 3) matrix of the quarter turn about the vertical that is nearest to the yaw."""
        quarter = 0.5 * np.pi
        return np.round(rotation_zyx(0.0, 0.0, quarter * np.round(self.yaw / quarter)))

    @property
    def origin(self) -> Vectors:
        """(3,) engine-frame origin in the car frame [m]."""
        return np.array([self.x, self.y, self.z])

    def to_car(self, points: ArrayLike) -> Vectors:
        """Engine-frame `points` (..., 3) [m] in the car frame [m]."""
        return np.asarray(points, dtype=float) @ self.rotation.T + self.origin

    def to_engine(self, points: ArrayLike) -> Vectors:
        """Car-frame `points` (..., 3) [m] in the engine frame [m]."""
        return (np.asarray(points, dtype=float) - self.origin) @ self.rotation

    def direction_to_engine(self, vectors: ArrayLike) -> Vectors:
        """Car-frame `vectors` (..., 3) turned, not moved, into the engine frame."""
        return np.asarray(vectors, dtype=float) @ self.rotation


def rotation_zyx(roll: float, pitch: float, yaw: float) -> Vectors:
    """Rotation matrix of yaw about z, then pitch about y', then roll about x''.

    Parameters
    ----------
    roll : float [rad]
        Positive lowers the right side.
    pitch : float [rad]
        Positive lowers the nose.
    yaw : float [rad]
        Positive turns left.

    Returns
    -------
    rotation : (3, 3) [-]
        Takes vectors of the turned frame to the fixed one.

    Source
    ------
    [ISO-8855] axis systems and angles.
    """
    cr, sr, cp, sp, cy, sy = (f(a) for a in (roll, pitch, yaw) for f in (np.cos, np.sin))
    about_x = np.array([[1.0, 0.0, 0.0], [0.0, cr, -sr], [0.0, sr, cr]])
    about_y = np.array([[cp, 0.0, sp], [0.0, 1.0, 0.0], [-sp, 0.0, cp]])
    about_z = np.array([[cy, -sy, 0.0], [sy, cy, 0.0], [0.0, 0.0, 1.0]])
    return np.asarray(about_z @ about_y @ about_x)


def effective_gravity(accel_g: ArrayLike) -> Vectors:
    """Gravity as the oil feels it, in g.

    Parameters
    ----------
    accel_g : (..., 3) [g]
        The body's acceleration in ISO 8855 axes.

    Returns
    -------
    gravity : (..., 3) [g]
        (0, 0, -1) minus the acceleration.
    """
    return np.asarray(np.array([0.0, 0.0, -1.0]) - np.asarray(accel_g, dtype=float))


def turning_accel(direction: ArrayLike, magnitude: ArrayLike) -> Vectors:
    """Level-road acceleration of a magnitude in a direction.

    Parameters
    ----------
    direction : (...) [rad]
        From +x toward +y: 0 accelerate, pi/2 left turn, pi brake, 3 pi/2 right turn.
    magnitude : (...) [g]
        Of the body's acceleration.

    Returns
    -------
    accel_g : (..., 3) [g]
    """
    angle, size = np.broadcast_arrays(np.asarray(direction, float), np.asarray(magnitude, float))
    return np.stack([size * np.cos(angle), size * np.sin(angle), np.zeros_like(size)], axis=-1)


def slope_gravity(direction: ArrayLike, slope: ArrayLike) -> Vectors:
    """Gravity in car axes of a car standing on a slope, in g.

    Parameters
    ----------
    direction : (...) [rad]
        The side of the car that points uphill, from +x toward +y: 0 nose uphill, pi/2 left side.
    slope : (...) [rad]
        Angle of the ground.

    Returns
    -------
    gravity : (..., 3) [g]
        Of length 1, leaning away from the uphill side.
    """
    angle, tilt = np.broadcast_arrays(np.asarray(direction, float), np.asarray(slope, float))
    side = np.sin(tilt)
    return np.stack([-side * np.cos(angle), -side * np.sin(angle), -np.cos(tilt)], axis=-1)


def up_of(gravity: ArrayLike) -> Vectors:
    """Unit vectors against `gravity`: the normal of a surface at rest in it.

    Parameters
    ----------
    gravity : (..., 3) [any]
        Must not be zero.

    Returns
    -------
    up : (..., 3) [-]
    """
    field = np.asarray(gravity, dtype=float)
    return np.asarray(-field / np.linalg.norm(field, axis=-1, keepdims=True))
