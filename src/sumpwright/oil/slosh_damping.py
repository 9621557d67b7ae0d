# SPDX-License-Identifier: Apache-2.0
"""How fast a swing of the oil dies down: friction at walls and floor, in the bulk, at a baffle.

All as a share of critical damping. The wall formulas are for a boundary layer that is thin
beside the oil; thick cold oil is outside them and they refuse. Dirt on a free surface can double
the damping of clean liquid.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.slosh_mode import box_frequency
from sumpwright.oil.table import not_negative, positive, within

Floats = NDArray[np.float64]

THICKEST_LAYER = 0.2
"""Boundary layer over the smallest of length, breadth and depth; ours: the formula's own error is
about this share."""


def box_wall_damping(
    *,
    length: ArrayLike,
    breadth: ArrayLike,
    depth: ArrayLike,
    viscosity: ArrayLike,
    gravity: ArrayLike,
) -> Floats:
    r"""Damping of a box's slowest wave by friction at its walls and floor.

    The boundary layer's loss and no more; measured tanks damp up to half as much again, so this
    is on the careful side.

    .. math:: \zeta = \sqrt{\frac{\nu}{2 \omega}} \left[\frac{1}{B} + \frac{1}{L} +
       \frac{k (1 - 2 h/L)}{\sinh(2 k h)}\right], \quad k = \pi / L

    Parameters
    ----------
    length : (...) [m]
        L, along the wave.
    breadth : (...) [m]
        B, across it.
    depth : (...) [m]
        h, of the oil.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    damping : (...) [-]
        Share of critical.

    Raises
    ------
    RangeError
        If a value is not positive, or the boundary layer sqrt(2 nu/omega) is over a fifth of the
        smallest of length, breadth and depth.

    Source
    ------
    [Keulegan-1959], [Case-Parkinson-1957]; the form is derived again from their boundary layer,
    not read. Checked by tests/oil/test_slosh_damping.py.
    """
    span, b = positive(length, "length", "m"), positive(breadth, "breadth", "m")
    h, nu = positive(depth, "depth", "m"), positive(viscosity, "viscosity", "m^2/s")
    w = box_frequency(length=span, depth=h, gravity=gravity)
    _refuse_thick_layer(np.sqrt(2.0 * nu / w), np.minimum(np.minimum(span, b), h))
    k = math.pi / span
    # x / sinh(x) without overflow in deep oil
    floor = (1.0 - 2.0 * h / span) * 2.0 * k * np.exp(-2.0 * k * h) / -np.expm1(-4.0 * k * h)
    return np.asarray(np.sqrt(nu / (2.0 * w)) * (1.0 / b + 1.0 / span + floor))


def box_bulk_damping(
    *, length: ArrayLike, depth: ArrayLike, viscosity: ArrayLike, gravity: ArrayLike
) -> Floats:
    r"""Damping of a box's slowest wave by the oil's own shearing, away from walls; comes on top.

    .. math:: \zeta = 2 \nu k^2 / \omega, \quad k = \pi / L

    Parameters
    ----------
    length : (...) [m]
        L, along the wave.
    depth : (...) [m]
        h, of the oil.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    damping : (...) [-]
        Share of critical.

    Raises
    ------
    RangeError
        If a value is not positive.

    Source
    ------
    [Lamb-1932] articles 348 and 349. Checked by tests/oil/test_slosh_damping.py.
    """
    k = math.pi / positive(length, "length", "m")
    w = box_frequency(length=length, depth=depth, gravity=gravity)
    return np.asarray(2.0 * positive(viscosity, "viscosity", "m^2/s") * k**2 / w)


def cylinder_damping(
    *, radius: ArrayLike, depth: ArrayLike, viscosity: ArrayLike, gravity: ArrayLike
) -> Floats:
    r"""Damping of the slowest side-to-side wave in an upright cylinder.

    Measured, so dirt and edges are in it: 1.0 to 1.6 times what the boundary layer alone takes
    between depths of 0.3 and 2 radii (0.557 for 0.79 in deep liquid).

    .. math:: \zeta = 0.79 \sqrt{\frac{\nu}{\sqrt{g R^3}}} \left[1 + \frac{0.318}{\sinh(1.84 h/R)}
       \left(1 + \frac{1 - h/R}{\cosh(1.84 h/R)}\right)\right]

    Parameters
    ----------
    radius : (...) [m]
        R.
    depth : (...) [m]
        h, of the oil along the axis.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    damping : (...) [-]
        Share of critical.

    Raises
    ------
    RangeError
        If a value is not positive, or the boundary layer is over a fifth of radius or depth.

    Source
    ------
    [Mikishev-Dorozhkin-1961], in [Dodge-2000]; both from memory. Checked by
    tests/oil/test_slosh_damping.py.
    """
    r, h = positive(radius, "radius", "m"), positive(depth, "depth", "m")
    nu, g = positive(viscosity, "viscosity", "m^2/s"), positive(gravity, "gravity", "m/s^2")
    x = 1.84 * h / r
    w = np.sqrt(1.84 * g / r * np.tanh(x))
    _refuse_thick_layer(np.sqrt(2.0 * nu / w), np.minimum(r, h))
    x = np.minimum(x, 300.0)  # sinh has nothing left to add long before it overflows
    shallow = 0.318 / np.sinh(x) * (1.0 + (1.0 - h / r) / np.cosh(x))
    return np.asarray(0.79 * np.sqrt(nu / np.sqrt(g * r**3)) * (1.0 + shallow))


def ring_baffle_damping(
    *, radius: ArrayLike, width: ArrayLike, submergence: ArrayLike, amplitude: ArrayLike
) -> Floats:
    r"""Damping by a flat ring round the wall of an upright cylinder.

    .. math:: \zeta = 2.83 e^{-4.60 d/R} a^{3/2} \sqrt{\eta/R}, \quad a = W (2R - W) / R^2

    It sheds vortices, so a larger wave is damped more. No such formula was found for the straight
    baffles of a pan; this one shows the size of the effect.

    Parameters
    ----------
    radius : (...) [m]
        R, of the cylinder.
    width : (...) [m]
        W, of the ring.
    submergence : (...) [m]
        d, of the ring below the still surface, 0 to 0.3 R.
    amplitude : (...) [m]
        eta, of the wave at the wall.

    Returns
    -------
    damping : (...) [-]
        Share of critical.

    Raises
    ------
    RangeError
        If the ring takes a quarter of the surface or more, lies deeper than 0.3 R, or a value has
        the wrong sign.

    Source
    ------
    [Miles-1958], in [NASA-SP-8031]. Checked by tests/oil/test_slosh_damping.py.
    """
    r, w = positive(radius, "radius", "m"), positive(width, "width", "m")
    a = w * (2.0 * r - w) / r**2
    if ((a >= 0.25) | (w > r)).any():
        raise RangeError(f"a ring must take under 0.25 of the surface, got {a.max():.6g}")
    depth = within(np.asarray(submergence, float) / r, 0.0, 0.3, "submergence over radius", "")
    wave = not_negative(amplitude, "amplitude", "m") / r
    return np.asarray(2.83 * np.exp(-4.60 * depth) * a**1.5 * np.sqrt(wave))


def decay_time(*, frequency: ArrayLike, damping: ArrayLike, left: float) -> Floats:
    r"""Time until a swing has died down to a share of itself.

    .. math:: t = -\ln(s) / (\zeta \omega)

    Parameters
    ----------
    frequency : (...) [rad/s]
        omega.
    damping : (...) [-]
        zeta, share of critical, below 1.
    left : float [-]
        s, such as 0.05.

    Returns
    -------
    time : (...) [s]

    Raises
    ------
    RangeError
        If the damping is not above 0 and below 1, or the share not between 0 and 1.

    Source
    ------
    Definition of damping. Checked by tests/oil/test_slosh_damping.py.
    """
    zeta, w = positive(damping, "damping", ""), positive(frequency, "frequency", "rad/s")
    if (zeta >= 1.0).any() or not 0.0 < left < 1.0:
        raise RangeError(f"a swing needs damping below 1 and a share in 0 to 1, got {left:.6g}")
    return np.asarray(-math.log(left) / (zeta * w))


def _refuse_thick_layer(layer: Floats, size: Floats) -> None:
    """RangeError where the boundary layer is no longer thin beside the oil."""
    share = layer / size
    if (share > THICKEST_LAYER).any():
        raise RangeError(
            f"the oil is too thick for a thin boundary layer: its layer is {share.max():.3g} of "
            f"the smallest size, over {THICKEST_LAYER}"
        )
