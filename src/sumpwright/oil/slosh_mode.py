# SPDX-License-Identifier: Apache-2.0
r"""How oil swings to and fro in a box or an upright cylinder: frequency and the mass that moves.

Small waves, no viscosity. In a corner the surface is level across *effective* gravity, so that is
the gravity here, and depth and length are those of the tilted oil. Only waves with an odd number
of half-waves move the oil's centre, so only those answer to the car's acceleration.

Long waves of some height behave otherwise than these formulas say: above a depth of 0.3368
lengths the frequency falls with height, below it rises, and pans (0.1 to 0.3) grow travelling
bores near resonance that run up higher than any linear wave ([Tadjbakhsh-1960], from memory).
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import positive

Floats = NDArray[np.float64]

HARDENS_BELOW = 0.3368  # depth over length; see above


def box_frequency(
    *, length: ArrayLike, depth: ArrayLike, gravity: ArrayLike, half_waves: int = 1
) -> Floats:
    r"""Angular frequency of free waves along a box.

    .. math:: \omega_n^2 = g k \tanh(k h), \quad k = n \pi / L

    Parameters
    ----------
    length : (...) [m]
        L, of the box along the wave.
    depth : (...) [m]
        h, of the oil along effective gravity.
    gravity : (...) [m/s^2]
        g, local effective gravity.
    half_waves : int [-]
        n; 1 is the slowest, odd ones move the centre.

    Returns
    -------
    frequency : (...) [rad/s]

    Raises
    ------
    RangeError
        If a value is not positive or there is no half-wave.

    Source
    ------
    [Abramson-1966] chapter 2. Checked by tests/oil/test_slosh_mode.py.
    """
    k = _count(half_waves) * math.pi / positive(length, "length", "m")
    g, h = positive(gravity, "effective gravity", "m/s^2"), positive(depth, "depth", "m")
    return np.asarray(np.sqrt(g * k * np.tanh(k * h)))


def box_mass_ratio(*, length: ArrayLike, depth: ArrayLike, half_waves: int = 1) -> Floats:
    r"""Share of the oil in a box that swings as a pendulum would.

    .. math:: m_n / m = \frac{8}{n^3 \pi^3} \frac{L}{h} \tanh(n \pi h / L)

    Parameters
    ----------
    length : (...) [m]
        L, of the box along the wave.
    depth : (...) [m]
        h, of the oil.
    half_waves : int [-]
        n, odd.

    Returns
    -------
    ratio : (...) [-]
        The rest moves with the box. Over all odd n the shares add up to at most 1.

    Raises
    ------
    RangeError
        If a length is not positive, or n is even: such waves do not move the oil's centre.

    Source
    ------
    [Graham-Rodriguez-1952], [Dodge-2000] chapter 3. Checked by tests/oil/test_slosh_mode.py.
    """
    n = _count(half_waves)
    if n % 2 == 0:
        raise RangeError(f"waves with an even number of half-waves move no mass, got {n}")
    span = positive(length, "length", "m") / positive(depth, "depth", "m")
    return np.asarray(8.0 / (n * math.pi) ** 3 * span * np.tanh(n * math.pi / span))


def cylinder_frequency(
    *, radius: ArrayLike, depth: ArrayLike, gravity: ArrayLike, circle: int = 1
) -> Floats:
    r"""Angular frequency of waves from side to side in an upright cylinder.

    .. math:: \omega_n^2 = (g \xi_n / R) \tanh(\xi_n h / R), \quad J_1'(\xi_n) = 0

    Parameters
    ----------
    radius : (...) [m]
        R.
    depth : (...) [m]
        h, of the oil along the axis.
    gravity : (...) [m/s^2]
        g, local effective gravity.
    circle : int [-]
        n; 1 is the slowest.

    Returns
    -------
    frequency : (...) [rad/s]

    Raises
    ------
    RangeError
        If a value is not positive.

    Source
    ------
    [Abramson-1966] chapter 2. Checked by tests/oil/test_slosh_mode.py.
    """
    r, g = positive(radius, "radius", "m"), positive(gravity, "effective gravity", "m/s^2")
    xi = _root(circle)
    return np.asarray(np.sqrt(g * xi / r * np.tanh(xi * positive(depth, "depth", "m") / r)))


def cylinder_mass_ratio(*, radius: ArrayLike, depth: ArrayLike, circle: int = 1) -> Floats:
    r"""Share of the oil in an upright cylinder that swings as a pendulum would.

    .. math:: m_n / m = \frac{2 R}{\xi_n (\xi_n^2 - 1) h} \tanh(\xi_n h / R)

    Parameters
    ----------
    radius : (...) [m]
        R.
    depth : (...) [m]
        h, of the oil along the axis.
    circle : int [-]
        n; 1 is the slowest, for which handbooks print R / (2.2 h).

    Returns
    -------
    ratio : (...) [-]

    Raises
    ------
    RangeError
        If a value is not positive.

    Source
    ------
    [Dodge-2000] chapter 3. Checked by tests/oil/test_slosh_mode.py.
    """
    span = positive(radius, "radius", "m") / positive(depth, "depth", "m")
    xi = _root(circle)
    return np.asarray(2.0 / (xi * (xi**2 - 1.0)) * span * np.tanh(xi / span))


def pendulum_length(frequency: ArrayLike, gravity: ArrayLike) -> Floats:
    r"""Length of the pendulum that swings as a wave does.

    .. math:: l = g / \omega^2

    Parameters
    ----------
    frequency : (...) [rad/s]
        omega, of the wave.
    gravity : (...) [m/s^2]
        g, local effective gravity. The length does not depend on it.

    Returns
    -------
    length : (...) [m]

    Raises
    ------
    RangeError
        If a value is not positive.

    Source
    ------
    [Graham-Rodriguez-1952]. Checked by tests/oil/test_slosh_mode.py.
    """
    w = positive(frequency, "frequency", "rad/s")
    return np.asarray(positive(gravity, "effective gravity", "m/s^2") / w**2)


def _count(number: int) -> int:
    """The number of a mode, once it is one."""
    if number != int(number) or number < 1:
        raise RangeError(f"modes count from 1, got {number}")
    return int(number)


def _root(circle: int) -> float:
    """The n-th zero of the slope of Bessel's function of order one."""
    from scipy.special import jnp_zeros

    return float(jnp_zeros(1, _count(circle))[-1])
