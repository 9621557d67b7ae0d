# SPDX-License-Identifier: Apache-2.0
"""Pressure that the mouth, the bends and the changes of bore of a suction tube take."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.pipe import Bend, Tube, mean_speed, resistance, reynolds_number
from sumpwright.oil.table import positive, within

Floats = NDArray[np.float64]

TIGHTEST = 0.5  # centre-line radius over bore, a square inner corner; [Rennels-2012]
LAMINAR_STEP = 160.0  # [Hooper-1988] viscous term of a contraction, on the wider bore's Re


def entrance_coefficient(radius_ratio: float = 0.0) -> float:
    """Velocity heads lost where oil turns into a tube's mouth that is flush with its housing.

    Parameters
    ----------
    radius_ratio : float [-]
        Radius of the mouth's edge over the bore, 0 (sharp, 0.57) to 1 (bellmouth, 0.03).

    Returns
    -------
    coefficient : float [-]
        On the tube's speed. The older handbook value for a sharp edge is 0.5; a thin tube that
        stands into the housing loses 0.8 to 1.0 (from memory) and is not this.

    Raises
    ------
    RangeError
        If the ratio is outside 0 to 1.

    Source
    ------
    [Rennels-2012] through [FLUIDS]. Checked by tests/oil/test_fitting.py.
    """
    from fluids.fittings import entrance_rounded

    ratio = float(within(radius_ratio, 0.0, 1.0, "edge radius over bore", ""))
    return float(entrance_rounded(Di=1.0, rc=ratio, method="Rennels"))


def bend_coefficient(friction: ArrayLike, *, angle: float, radius_ratio: float) -> Floats:
    r"""Velocity heads lost in a round bend, the friction along it included.

    .. math:: K = f \alpha \frac{r}{d} + (0.10 + 2.4 f) \sin\frac{\alpha}{2} +
       \frac{6.6 f (\sqrt{\sin(\alpha/2)} + \sin(\alpha/2))}{(r/d)^{4\alpha/\pi}}

    Made from turbulent data; with the laminar f it is the only form that is smooth through the
    transition. Hooper's two-constant rule asks 1.4 to 2.1 times as much between Re 20 and 1000.

    Parameters
    ----------
    friction : (...) [-]
        f, Darcy friction factor of the straight tube.
    angle : float [rad]
        alpha, above 0 to pi.
    radius_ratio : float [-]
        r/d, centre-line radius over bore, 0.5 or more.

    Returns
    -------
    coefficient : (...) [-]
        K.

    Raises
    ------
    RangeError
        Outside those ranges, or a friction that is not positive.

    Source
    ------
    [Rennels-2012]. Checked by tests/oil/test_fitting.py.
    """
    f = positive(friction, "friction factor", "")
    per_friction, fixed = _bend(angle, radius_ratio)
    return np.asarray(f * per_friction + fixed)


def bend_loss(
    tube: Tube, bend: Bend, flow: ArrayLike, *, viscosity: ArrayLike, density: ArrayLike
) -> Floats:
    """Pressure that one bend of a tube takes, the friction along it included.

    Parameters
    ----------
    tube : Tube [m]
        That is bent.
    bend : Bend [rad, m]
    flow : (...) [m^3/s]
    viscosity : (...) [m^2/s]
        nu, kinematic.
    density : (...) [kg/m^3]
        rho.

    Returns
    -------
    loss : (...) [Pa]

    Raises
    ------
    RangeError
        Outside the ranges of `bend_coefficient`, or if a value has the wrong sign.

    Source
    ------
    [Rennels-2012]. Checked by tests/oil/test_fitting.py.
    """
    d = float(positive(tube.bore, "bore", "m"))
    rho, nu = positive(density, "density", "kg/m^3"), positive(viscosity, "viscosity", "m^2/s")
    v, re = mean_speed(flow, d), reynolds_number(flow, d, nu)
    per_friction, fixed = _bend(bend.angle, bend.radius / d)
    shear = resistance(re, tube.roughness / d) * nu * v / d
    return np.asarray(0.5 * rho * (per_friction * shear + fixed * v**2))


def step_loss(
    *,
    bore_from: float,
    bore_to: float,
    flow: ArrayLike,
    viscosity: ArrayLike,
    density: ArrayLike,
) -> Floats:
    r"""Pressure that a sudden change of bore takes, the exchange with speed left out.

    Wider: Borda and Carnot's :math:`(1 - \beta^2)^2` on the faster side. Narrower:

    .. math:: K = 0.0696 (1 - \beta^5) \lambda^2 + (\lambda - 1)^2 + (1 - \beta^4) 160/Re_1,
       \quad \lambda = 1 + 0.622 (1 - 0.215 \beta^2 - 0.785 \beta^5)

    on the faster side, beta the smaller bore over the larger. The source of the first two terms
    is turbulent; the third is the viscous term of a laminar rule, added to them so that cold oil
    is covered and the loss has no step (our sum, no source).

    Parameters
    ----------
    bore_from : float [m]
        Upstream.
    bore_to : float [m]
        Downstream.
    flow : (...) [m^3/s]
    viscosity : (...) [m^2/s]
        nu, kinematic.
    density : (...) [kg/m^3]
        rho.

    Returns
    -------
    loss : (...) [Pa]
        Zero where the bores are equal.

    Raises
    ------
    RangeError
        If the flow is negative or another value not positive.

    Source
    ------
    [Rennels-2012], [Hooper-1988]. Checked by tests/oil/test_fitting.py.
    """
    first, second = (float(positive(d, "bore", "m")) for d in (bore_from, bore_to))
    rho, nu = positive(density, "density", "kg/m^3"), positive(viscosity, "viscosity", "m^2/s")
    fast, beta = mean_speed(flow, min(first, second)), min(first, second) / max(first, second)
    if second >= first:
        return np.asarray((1.0 - beta**2) ** 2 * 0.5 * rho * fast**2 + 0.0 * nu)
    swell = 1.0 + 0.622 * (1.0 - 0.215 * beta**2 - 0.785 * beta**5)
    fixed = 0.0696 * (1.0 - beta**5) * swell**2 + (swell - 1.0) ** 2
    slow = mean_speed(flow, first)
    # V2^2 / Re1 without Re1, which is zero at rest: Re1 = V1 d1 / nu and V1 = beta^2 V2
    viscous = LAMINAR_STEP * (1.0 - beta**4) * nu / first * slow / beta**4
    return np.asarray(0.5 * rho * (fixed * fast**2 + viscous))


def _bend(angle: float, radius_ratio: float) -> tuple[float, float]:
    """What a bend's coefficient has for each unit of friction, and without any."""
    if not 0.0 < angle <= math.pi * (1.0 + 1e-12):
        raise RangeError(f"a bend turns above 0 to {math.pi:.6g} rad, got {angle:.6g}")
    ratio = float(within(radius_ratio, TIGHTEST, math.inf, "bend radius over bore", ""))
    half = math.sin(0.5 * angle)
    separation = 6.6 * (math.sqrt(half) + half) / ratio ** (4.0 * angle / math.pi)
    return angle * ratio + 2.4 * half + separation, 0.10 * half
