# SPDX-License-Identifier: Apache-2.0
"""How deep oil must stand over a pickup before it draws air, and whether oil can get there.

Gravity is always the local effective one, the length of (gravity minus the car's acceleration),
and depths are along it. Without swirl and without viscosity: swirl raises the depth, and cold
oil adds the film head.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import not_negative, positive, within

FLOOR = 2.0 * math.pi
"""sr; oil comes from half of all directions: hole in a floor, or a mouth near one. The careful
choice for a downward mouth."""
FREE = 4.0 * math.pi
"""sr; oil comes from all round: a mouth far from floor and walls."""
CORNER = math.pi
"""sr; oil comes from a quarter: a mouth in the corner of floor and wall."""
LUBIN_SPRINGER = 0.69  # as printed; the derivation below gives 0.6884


def critical_submergence(
    flow: ArrayLike, gravity: ArrayLike, solid_angle: ArrayLike
) -> NDArray[np.float64]:
    r"""Depth over a pickup at which its flow pulls the surface down into it.

    A sink that draws from a solid angle lowers the surface above it; below this depth no still
    surface exists. Doubling the flow raises it by only a third, 2^0.4.

    .. math:: H = 1.25 (2/\Omega^2)^{1/5} (Q^2/g)^{1/5}

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q, what the pump draws.
    gravity : (...) [m/s^2]
        g, local effective gravity.
    solid_angle : (...) [sr]
        Omega, the directions that oil comes from: `FLOOR`, `FREE`, `CORNER` or between.

    Returns
    -------
    depth : (...) [m]
        H, from the mouth to the undisturbed surface, along effective gravity.

    Raises
    ------
    RangeError
        If the flow is negative, gravity not positive or the angle outside 0 to 4 pi.

    Source
    ------
    [Lubin-Springer-1967] for the floor, with the coefficient derived; [Craya-1949] and
    [Gariel-1949] for the side. Checked by tests/oil/test_drawdown.py.
    """
    positive(solid_angle, "solid angle", "sr")
    omega = within(solid_angle, 0.0, FREE * (1.0 + 1e-12), "solid angle", "sr")
    q = not_negative(flow, "flow", "m^3/s")
    g = positive(gravity, "effective gravity", "m/s^2")
    return np.asarray(1.25 * (2.0 / omega**2) ** 0.2 * (q**2 / g) ** 0.2)


def critical_submergence_lubin_springer(
    flow: ArrayLike, gravity: ArrayLike, density_ratio: ArrayLike = 0.0
) -> NDArray[np.float64]:
    r"""Depth over a drain in a floor at which a lighter fluid above begins to be drawn in.

    .. math:: h_c = 0.69 [Q^2 / (g (1 - \rho_2/\rho_1))]^{1/5}

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    gravity : (...) [m/s^2]
        g, local effective gravity.
    density_ratio : (...) [-]
        Fluid above over fluid below, 0 for air over oil, below 1.

    Returns
    -------
    depth : (...) [m]
        Holds where it is larger than the drain's radius and the liquid was still at first.

    Raises
    ------
    RangeError
        If the flow is negative, gravity not positive or the ratio outside 0 to under 1.

    Source
    ------
    [Lubin-Springer-1967]. Checked by tests/oil/test_drawdown.py.
    """
    ratio = not_negative(density_ratio, "density ratio", "(no unit)")
    if (ratio >= 1.0).any():
        raise RangeError(f"density ratio must be below 1, got {ratio.max():.6g}")
    q = not_negative(flow, "flow", "m^3/s")
    g = positive(gravity, "effective gravity", "m/s^2")
    return np.asarray(LUBIN_SPRINGER * (q**2 / (g * (1.0 - ratio))) ** 0.2)


def critical_submergence_slot(flow_per_width: ArrayLike, gravity: ArrayLike) -> NDArray[np.float64]:
    r"""Depth over a long slot in a floor at which its flow pulls the surface down into it.

    .. math:: H = 1.5 [q^2 / (g \pi^2)]^{1/3}

    Parameters
    ----------
    flow_per_width : (...) [m^2/s]
        q, flow per length of slot.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    depth : (...) [m]

    Raises
    ------
    RangeError
        If the flow is negative or gravity not positive.

    Source
    ------
    [Craya-1949] for the method, coefficient derived. Checked by tests/oil/test_drawdown.py.
    """
    return np.asarray(1.5 * critical_depth(flow_per_width, gravity) / math.pi ** (2.0 / 3.0))


def critical_depth(flow_per_width: ArrayLike, gravity: ArrayLike) -> NDArray[np.float64]:
    r"""Depth of a stream that runs just as fast as its own surface waves.

    .. math:: y_c = (q^2/g)^{1/3}

    Parameters
    ----------
    flow_per_width : (...) [m^2/s]
        q.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    depth : (...) [m]

    Raises
    ------
    RangeError
        If the flow is negative or gravity not positive.

    Source
    ------
    [Chow-1959] critical flow. Checked by tests/oil/test_drawdown.py.
    """
    q = not_negative(flow_per_width, "flow per width", "m^2/s")
    return np.asarray(np.cbrt(q**2 / positive(gravity, "effective gravity", "m/s^2")))


def gap_head(flow: ArrayLike, width: ArrayLike, gravity: ArrayLike) -> NDArray[np.float64]:
    """Depth of still oil upstream that feeds a flow through an open gap, at the least.

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    width : (...) [m]
        Of the gap.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    head : (...) [m]
        1.5 times the critical depth. Without friction: cold oil needs the film head on top.

    Raises
    ------
    RangeError
        If the flow is negative, or width or gravity not positive.

    Source
    ------
    [Chow-1959] critical flow. Checked by tests/oil/test_drawdown.py.
    """
    q = not_negative(flow, "flow", "m^3/s") / positive(width, "width", "m")
    return np.asarray(1.5 * critical_depth(q, gravity))


def rim_head(flow: ArrayLike, diameter: ArrayLike, gravity: ArrayLike) -> NDArray[np.float64]:
    r"""Depth of still oil outside a round rim that feeds a flow in over it, at the least.

    .. math:: Q = (2/3)^{3/2} \sqrt{g} \, \pi D H^{3/2}

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    diameter : (...) [m]
        D, of the rim.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    head : (...) [m]
        H. Without friction: cold oil needs the film head on top.

    Raises
    ------
    RangeError
        If the flow is negative, or diameter or gravity not positive.

    Source
    ------
    [Chow-1959] critical flow. Checked by tests/oil/test_drawdown.py.
    """
    return gap_head(flow, math.pi * positive(diameter, "diameter", "m"), gravity)


def film_head_gradient(
    *, flow_per_width: ArrayLike, viscosity: ArrayLike, depth: ArrayLike, gravity: ArrayLike
) -> NDArray[np.float64]:
    r"""Slope that the surface of a slow, thick film needs to keep flowing.

    .. math:: dh/dx = 3 \nu q / (g h^3)

    Parameters
    ----------
    flow_per_width : (...) [m^2/s]
        q.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    depth : (...) [m]
        h, of the film.
    gravity : (...) [m/s^2]
        g, local effective gravity.

    Returns
    -------
    slope : (...) [-]
        Fall of the surface per length; 1 is a film down a vertical wall.

    Raises
    ------
    RangeError
        If the flow is negative, or viscosity, depth or gravity not positive.

    Source
    ------
    [Bird-2002] falling film. Checked by tests/oil/test_drawdown.py.
    """
    q = not_negative(flow_per_width, "flow per width", "m^2/s")
    nu = positive(viscosity, "viscosity", "m^2/s")
    g = positive(gravity, "effective gravity", "m/s^2")
    return np.asarray(3.0 * nu * q / (g * positive(depth, "depth", "m") ** 3))
