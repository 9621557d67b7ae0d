# SPDX-License-Identifier: Apache-2.0
"""How fast a trap door follows: inertia with the oil it takes along, what slows it, its stops.

Plate and oil turn against the bearing, thick oil and oil thrown aside. Oil squeezed out between
door and seat in the last degrees is left out, so real doors touch down later; and what goes along
is taken to change slowly with the angle. Seat and stop catch without a bounce: whoever steps a
door in time puts each step through `on_stops`, and the door opens one way only.
"""

from numpy.typing import ArrayLike

from sumpwright.oil.door import Door, checked
from sumpwright.oil.table import not_negative, positive, within


def door_inertia(door: Door, *, density: float, wet: float) -> float:
    r"""Moment of inertia about the hinge, of the plate and of the oil that goes along with it.

    .. math:: I = m \left(\frac{L^2}{3} + \frac{t^2}{12}\right) + \frac{9}{32} L^2 \,
              \frac{\pi}{4} \rho \frac{W^2 L^2}{\sqrt{W^2 + L^2}}
              \left(1 - 0.425 \frac{W L}{W^2 + L^2}\right)

    The oil's mass is a plate's that moves squarely in open liquid; 9/32 is exact for a very wide
    plate that turns about its edge (1/3 for a very narrow one). A panel round the door raises
    it, a surface close by lowers it: take it as right to half.

    Parameters
    ----------
    door : Door [-]
        The plate.
    density : float [kg/m^3]
        rho, of the oil.
    wet : float [-]
        Share of the door in oil, 0 to 1.

    Returns
    -------
    inertia : float [kg m^2]

    Raises
    ------
    RangeError
        If the density is not positive or the share not 0 to 1.

    Source
    ------
    [Pabst-1930] and [Newman-1977], from memory; the use for a hinged door is
    [common-practice]. Checked by tests/oil/test_door_motion.py.
    """
    from sumpwright.oil.door_kernel import door_inertia_of

    share = float(within(wet, 0.0, 1.0, "wet share", "(no unit)"))
    return float(door_inertia_of(door.row, float(positive(density, "density", "kg/m^3")), share))


def door_brake(door: Door, speed: float, *, density: float, viscosity: float, wet: float) -> float:
    r"""Moment that resists a door's turning.

    .. math:: M = \left[c + w \left(\frac{16 \rho \nu}{3 \pi a} W L^3
              + \frac{C}{8} \rho W L^4 |\omega|\right)\right] \omega, \quad
              a = \sqrt{W L / \pi}

    Bearing, thick oil (a disk of the door's area moved squarely, each strip at its own speed) and
    oil thrown aside (drag number of a plate, each strip at its own speed).

    Parameters
    ----------
    door : Door [-]
        The plate.
    speed : float [rad/s]
        omega, positive opens.
    density : float [kg/m^3]
        rho, of the oil.
    viscosity : float [m^2/s]
        nu, kinematic.
    wet : float [-]
        w, share of the door in oil, 0 to 1.

    Returns
    -------
    moment : float [N m]
        Of the speed's sign: it is taken off the torque.

    Raises
    ------
    RangeError
        If the density is not positive, the viscosity negative or the share not 0 to 1.

    Source
    ------
    [Happel-Brenner] for the disk and [Hoerner] for the plate, from memory; the use strip by strip
    is [common-practice]. Checked by tests/oil/test_door_motion.py.
    """
    from sumpwright.oil.door_kernel import door_brake_of

    rho = float(positive(density, "density", "kg/m^3"))
    nu = float(not_negative(viscosity, "viscosity", "m^2/s"))
    share = float(within(wet, 0.0, 1.0, "wet share", "(no unit)"))
    return float(door_brake_of(door.row, float(speed), rho, nu, share))


def door_acceleration(
    door: Door,
    angle: float,
    speed: float,
    *,
    head_1: float,
    head_2: float,
    gravity: ArrayLike,
    density: float,
    viscosity: float,
) -> float:
    r"""Angular acceleration of a door; zero where seat or stop holds it.

    .. math:: \dot\omega = (M_{still} - M_{brake}) / I

    Parameters
    ----------
    door : Door [-]
        The plate.
    angle : float [rad]
        theta, of opening, 0 to the stop.
    speed : float [rad/s]
        omega, positive opens.
    head_1 : float [m]
        H_1, height of the surface behind the door, x . up; minus infinity where it is dry.
    head_2 : float [m]
        H_2, in front.
    gravity : (3,) [m/s^2]
        Effective, pointing down.
    density : float [kg/m^3]
        rho, of the oil.
    viscosity : float [m^2/s]
        nu, kinematic.

    Returns
    -------
    acceleration : float [rad/s^2]

    Raises
    ------
    RangeError
        If the angle is outside 0 to the stop, the density not positive or the viscosity negative.

    Source
    ------
    [closed-form] with the moments of `door_torque`, `door_brake` and `door_inertia`. Checked by
    tests/oil/test_door_motion.py.
    """
    from sumpwright.oil.door_kernel import door_acceleration_of

    row, theta, h1, h2, pull, rho = checked(door, angle, head_1, head_2, gravity, density)
    nu = float(not_negative(viscosity, "viscosity", "m^2/s"))
    return float(door_acceleration_of(row, theta, float(speed), h1, h2, pull, rho, nu))


def on_stops(door: Door, angle: float, speed: float) -> tuple[float, float]:
    """Angle and speed once seat and stop have caught a door, without a bounce.

    Parameters
    ----------
    door : Door [-]
        The plate.
    angle : float [rad]
        As a step in time left it, perhaps past seat or stop.
    speed : float [rad/s]
        As a step in time left it.

    Returns
    -------
    angle, speed : float [rad], float [rad/s]

    Source
    ------
    [common-practice] Steel in oil hardly bounces. Checked by tests/oil/test_door_motion.py.
    """
    from sumpwright.oil.door_kernel import on_stops_of

    caught: tuple[float, float] = on_stops_of(door.row, float(angle), float(speed))
    return caught
