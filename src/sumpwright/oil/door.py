# SPDX-License-Identifier: Apache-2.0
r"""One-way trap doors: what turns them, where they rest, what they leave open.

A door is a flat plate on a hinge line. At angle 0 it lies on its seat in the panel; it swings out
to `swing`, never back through the seat, and stops at `stop`. Pool 1 is behind it, pool 2 is where
it swings to. Moments that open are positive.

*Still oil.* Either face is pressed by its own pool as if that were still, each at its own height,
so buoyancy comes of itself and levels may stand anywhere, at any effective gravity. The whole
difference of level is put on the plate at every angle. Flow past an open door eats up part of it,
so a door in a stream stands less open than this says, and for a door ajar it is the upper bound;
the network takes that part off.
A door larger than its window is taken as pressed over all of it.

How fast it follows: door_motion.py.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import not_negative, positive, within

Floats = NDArray[np.float64]

PLATE_DRAG = 1.17
"""Drag number of a square plate across a stream, from memory; 2 for a very long one."""
STEPS = 90
"""Angles that `static_angle` looks at for the first change of sign: a degree each to a right
angle."""


@dataclass(frozen=True, eq=False)
class Door:
    """A hinged plate, all in SI and in the pan's frame."""

    hinge: Floats
    """(3,) [m] middle of the hinge line."""
    reach: Floats
    """(3,) [-] from the hinge to the free edge, shut."""
    swing: Floats
    """(3,) [-] square to the panel, to the side it opens to."""
    width: float
    """[m] along the hinge."""
    length: float
    """[m] from the hinge to the free edge."""
    thickness: float
    """[m]"""
    mass: float
    """[kg]"""
    stop: float
    """[rad] largest angle of opening."""
    preload: float = 0.0
    """[N m] moment of a spring that shuts it, at angle 0."""
    rate: float = 0.0
    """[N m/rad] by which that moment grows."""
    damping: float = 0.0
    """[N m s] of the bearing."""
    drag: float = PLATE_DRAG
    """[-] drag number of the plate."""

    def __post_init__(self) -> None:
        for size in (self.width, self.length, self.thickness):
            positive(size, "a door's size", "m")
        positive(self.mass, "door mass", "kg")
        positive(self.stop, "stop angle", "rad")
        within(self.stop, 0.0, math.pi, "stop angle", "deg", 180.0 / math.pi)
        for value in (self.preload, self.rate, self.damping, self.drag):
            not_negative(value, "a door's spring, damping or drag", "(SI)")
        pair = np.array([self.reach, self.swing], dtype=float)
        if not np.allclose(pair @ pair.T, np.eye(2), rtol=0.0, atol=1e-6):
            raise RangeError("a door's reach and swing must be unit vectors square to each other")

    @cached_property
    def row(self) -> Floats:
        """(21,) the same, in the order that the compiled kernels take."""
        along = np.cross(self.reach, self.swing)
        plate = (self.width, self.length, self.thickness, self.mass, self.preload)
        rest = (self.rate, self.stop, self.damping, self.drag)
        return np.concatenate([self.hinge, along, self.reach, self.swing, plate, rest])


def door_torque(
    door: Door,
    angle: float,
    *,
    head_1: float,
    head_2: float,
    gravity: ArrayLike,
    density: float,
) -> float:
    r"""Moment about the hinge that opens a door at rest, before seat and stop.

    .. math:: M = \int (p_1 - p_2) s \, dA + m \, \frac{L}{2} \, \mathbf{g} \cdot \mathbf{n}
              - M_0 - k \theta, \quad p_i = \rho g \max(H_i - z, 0)

    Parameters
    ----------
    door : Door [-]
        The plate.
    angle : float [rad]
        theta, of opening, 0 to the stop.
    head_1 : float [m]
        H_1, height of the surface behind the door, x . up; minus infinity where it is dry.
    head_2 : float [m]
        H_2, in front.
    gravity : (3,) [m/s^2]
        Effective, pointing down; a door can be held shut or thrown open by it alone.
    density : float [kg/m^3]
        rho, of the oil.

    Returns
    -------
    moment : float [N m]

    Raises
    ------
    RangeError
        If the angle is outside 0 to the stop or the density not positive.

    Source
    ------
    [closed-form] statics, exact for plane surfaces. Checked by tests/oil/test_door.py.
    """
    from sumpwright.oil.door_kernel import door_moments

    return float(door_moments(*checked(door, angle, head_1, head_2, gravity, density))[0])


def static_angle(
    door: Door, *, head_1: float, head_2: float, gravity: ArrayLike, density: float
) -> float:
    """Angle at which a door comes to rest when it opens slowly from its seat.

    Where more than one angle would do it is the first; a door thrown open may rest farther out.

    Parameters
    ----------
    door : Door [-]
        The plate.
    head_1 : float [m]
        Height of the surface behind the door.
    head_2 : float [m]
        In front.
    gravity : (3,) [m/s^2]
        Effective, pointing down.
    density : float [kg/m^3]
        Of the oil.

    Returns
    -------
    angle : float [rad]
        0 on the seat, `door.stop` on the stop.

    Raises
    ------
    RangeError
        If the density is not positive.

    Source
    ------
    [closed-form] statics. Checked by tests/oil/test_door.py.
    """
    from sumpwright.oil.door_kernel import door_moments

    row, _, h1, h2, pull, rho = checked(door, 0.0, head_1, head_2, gravity, density)
    low = 0.0
    for high in np.linspace(0.0, door.stop, STEPS + 1):
        if door_moments(row, high, h1, h2, pull, rho)[0] <= 0.0:
            break
        low = float(high)
    else:
        return door.stop
    while high - low > 1e-12:
        middle = (low + high) / 2.0
        if door_moments(row, middle, h1, h2, pull, rho)[0] > 0.0:
            low = middle
        else:
            high = middle
    return float(high)


def open_area(door: Door, angle: ArrayLike) -> Floats:
    r"""Area that a door leaves open, as that of one opening.

    The oil passes the window (width times length) and then the curtain: the rectangle from the
    free edge to the sill, and a triangle at either side. Two openings in line cost the sum of
    their heads:

    .. math:: A_c = 2 L W \sin\frac{\theta}{2} + L^2 \sin\theta, \quad
              A = (A_c^{-2} + A_w^{-2})^{-1/2}

    Beyond a right angle the triangles count as at it.

    Parameters
    ----------
    door : Door [-]
        The plate.
    angle : (...) [rad]
        theta, of opening.

    Returns
    -------
    area : (...) [m^2]
        0 shut; about nine tenths of the window at a right angle.

    Raises
    ------
    RangeError
        If an angle is outside 0 to the stop.

    Source
    ------
    [closed-form] for the areas; two openings in line is [common-practice]. Checked by
    tests/oil/test_door.py.
    """
    from sumpwright.oil.door_kernel import open_area_of

    angles = _angle(door, angle)
    found = [open_area_of(door.row, theta)[0] for theta in angles.ravel()]
    return np.asarray(found, dtype=float).reshape(angles.shape)


def checked(
    door: Door, angle: float, head_1: float, head_2: float, gravity: ArrayLike, density: float
) -> tuple[Floats, float, float, float, Floats, float]:
    """What the compiled kernels take, once it makes sense.

    Parameters
    ----------
    door : Door [-]
        The plate.
    angle : float [rad]
        Of opening.
    head_1 : float [m]
        Height of the surface behind the door.
    head_2 : float [m]
        In front.
    gravity : (3,) [m/s^2]
        Effective.
    density : float [kg/m^3]
        Of the oil.

    Returns
    -------
    row, angle, head_1, head_2, gravity, density : as the arguments [SI]

    Raises
    ------
    RangeError
        If the angle is outside 0 to the stop, the density not positive or a number missing.
    """
    rho = float(positive(density, "density", "kg/m^3"))
    pull = np.asarray(gravity, dtype=float)
    if pull.shape != (3,) or not np.isfinite(pull).all():
        raise RangeError("effective gravity needs 3 finite numbers")
    if np.isnan(head_1) or np.isnan(head_2):
        raise RangeError("a surface's height is not a number")
    return door.row, float(_angle(door, angle)), float(head_1), float(head_2), pull, rho


def _angle(door: Door, angle: ArrayLike) -> Floats:
    """The angles as an array, once all of them lie between seat and stop."""
    return within(angle, 0.0, door.stop, "angle of a door", "deg", 180.0 / math.pi)
