# SPDX-License-Identifier: Apache-2.0
"""Pressure that a screen of plain square weave takes, from its pitch and wire."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import not_negative, positive, within

Floats = NDArray[np.float64]

VISCOUS, INERTIAL = 8.61, 0.52  # [Armour-Cannon-1968], as printed
FASTEST = 1000.0  # its Reynolds number
TIGHTEST, OPENEST = 0.35, 0.80  # void fraction; tested to 0.76, see `woven_loss`


@dataclass(frozen=True)
class Weave:
    """What follows from pitch and wire of a plain square weave."""

    opening: float
    """Clear width between wires, D [m]."""
    thickness: float
    """Two wires, B [m]."""
    open_area: float
    """Openings over whole face, seen from the front [-]."""
    void_fraction: float
    """Empty share of the screen's volume, epsilon [-]."""
    surface: float
    """Wire surface in the screen's volume, a [1/m]."""


def weave(*, pitch: float, wire: float) -> Weave:
    r"""Openings, void fraction and wire surface of a plain square weave.

    Each wire climbs over the next in a straight slope, so a cell of one pitch holds two lengths
    :math:`\sqrt{p^2 + d^2}`.

    Parameters
    ----------
    pitch : float [m]
        p, from wire to wire.
    wire : float [m]
        d, diameter of the wire, below the pitch.

    Returns
    -------
    weave : Weave [m, -, 1/m]

    Raises
    ------
    RangeError
        If a size is not positive or the wires leave no opening.

    Source
    ------
    [closed-form], with the crimp of [Armour-Cannon-1968]. Checked by tests/oil/test_weave.py.
    """
    p, d = float(positive(pitch, "pitch", "m")), float(positive(wire, "wire diameter", "m"))
    if d >= p:
        raise RangeError(f"wire of {d:.6g} m leaves no opening at a pitch of {p:.6g} m")
    run = math.hypot(p, d)
    return Weave(
        opening=p - d,
        thickness=2.0 * d,
        open_area=(1.0 - d / p) ** 2,
        void_fraction=1.0 - math.pi * d * run / (4.0 * p**2),
        surface=math.pi * run / p**2,
    )


def woven_friction(reynolds: ArrayLike) -> Floats:
    r"""Friction factor of a woven screen.

    .. math:: f = 8.61/Re + 0.52

    Parameters
    ----------
    reynolds : (...) [-]
        rho U / (a^2 mu D), 0.1 to 1000.

    Returns
    -------
    f : (...) [-]

    Raises
    ------
    RangeError
        Outside that range.

    Source
    ------
    [Armour-Cannon-1968]. Checked by tests/oil/test_weave.py.
    """
    re = within(reynolds, 0.1, FASTEST, "screen Reynolds number", "")
    return np.asarray(VISCOUS / re + INERTIAL)


def woven_reynolds(speed: ArrayLike, *, viscosity: ArrayLike, pitch: float, wire: float) -> Floats:
    r"""Reynolds number that the friction of a woven screen goes by.

    .. math:: Re = U / (a^2 \nu D)

    Parameters
    ----------
    speed : (...) [m/s]
        U, flow over the whole face.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    pitch : float [m]
        From wire to wire.
    wire : float [m]
        Diameter of the wire.

    Returns
    -------
    reynolds : (...) [-]

    Raises
    ------
    RangeError
        If the speed is negative, another value not positive, or there is no opening.

    Source
    ------
    [Armour-Cannon-1968]. Checked by tests/oil/test_weave.py.
    """
    w = weave(pitch=pitch, wire=wire)
    u, nu = not_negative(speed, "face speed", "m/s"), positive(viscosity, "viscosity", "m^2/s")
    return np.asarray(u / (w.surface**2 * nu * w.opening))


def woven_loss(
    speed: ArrayLike, *, viscosity: ArrayLike, density: ArrayLike, pitch: float, wire: float
) -> Floats:
    r"""Pressure that a plain square weave takes.

    .. math:: \Delta p = \left(\frac{8.61}{Re} + 0.52\right) \rho
       \left(\frac{U}{\epsilon}\right)^2 \frac{B}{D}

    Measured from Re 0.1. Below that the flow creeps, where loss goes with viscosity and speed as
    the first term does and the second is under 0.6 % of it: the range is left open downwards.
    Pickup screens are coarser than those measured (openings to 0.55 mm, void fraction 0.35 to
    0.76); the form has no length of its own, so openings are not limited, and void fractions are
    let to 0.80, where coarse meshes lie. Independent collections of such data scatter by 30 %.

    Parameters
    ----------
    speed : (...) [m/s]
        U, flow over the whole face.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    density : (...) [kg/m^3]
        rho.
    pitch : float [m]
        From wire to wire.
    wire : float [m]
        Diameter of the wire.

    Returns
    -------
    loss : (...) [Pa]

    Raises
    ------
    RangeError
        If Re is over 1000, the void fraction outside 0.35 to 0.80, or a value has the wrong sign.

    Source
    ------
    [Armour-Cannon-1968]; scatter [Azizi-2019]. Checked by tests/oil/test_weave.py.
    """
    w, rho = weave(pitch=pitch, wire=wire), positive(density, "density", "kg/m^3")
    within(w.void_fraction, TIGHTEST, OPENEST, "void fraction of the screen", "")
    re = woven_reynolds(speed, viscosity=viscosity, pitch=pitch, wire=wire)
    within(re, 0.0, FASTEST, "screen Reynolds number", "")
    u = np.asarray(speed, dtype=float)
    viscous = VISCOUS * w.surface**2 * w.opening * np.asarray(viscosity, dtype=float) * u
    return np.asarray(
        (viscous + INERTIAL * u**2) * rho * w.thickness / (w.void_fraction**2 * w.opening)
    )
