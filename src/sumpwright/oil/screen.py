# SPDX-License-Identifier: Apache-2.0
"""Pressure that a pickup screen takes: woven wire and perforated sheet, hot and cold.

The two used for a suction line are here; each holds from creeping cold oil to fast hot oil in
one expression. Other published coefficients stand in screen_coefficient.py for comparison.
Clean screens: what a screen has caught comes on top.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.table import not_negative, positive, within
from sumpwright.oil.weave import woven_loss

Floats = NDArray[np.float64]

THICKEST = 1.0  # sheet over hole; beyond, a hole is a tube with a loss of its own at speed


@dataclass(frozen=True)
class WovenScreen:
    """Plain square weave of round wire."""

    pitch: float
    """From wire to wire [m]; 25.4 mm over the mesh count."""
    wire: float
    """Diameter of the wire [m]."""
    area: float
    """Whole face that oil goes through, wires included [m^2]."""


@dataclass(frozen=True)
class PerforatedScreen:
    """Sheet with round, square-edged holes."""

    hole: float
    """Diameter of a hole [m]."""
    open_area: float
    """Holes over whole face [-]."""
    thickness: float
    """Of the sheet [m]."""
    area: float
    """Whole face that oil goes through [m^2]."""


Screen = WovenScreen | PerforatedScreen


def perforated_loss(
    speed: ArrayLike,
    *,
    viscosity: ArrayLike,
    density: ArrayLike,
    hole: float,
    open_area: float,
    thickness: float,
) -> Floats:
    r"""Pressure that a perforated sheet takes.

    .. math:: \Delta p = \frac{\mu q}{r^3} \left(3 + \frac{8 t}{\pi r}\right) +
       K(\alpha) \frac{\rho U^2}{2}, \quad q = U \pi r^2 / \alpha

    The first term is creeping flow through each hole, the second the loss at speed; their sum
    (ours, no source) has the right ends and no step between. Holes that stand close help each
    other in creeping flow, which is left out: the sum is on the careful side.

    Parameters
    ----------
    speed : (...) [m/s]
        U, flow over the whole face.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    density : (...) [kg/m^3]
        rho.
    hole : float [m]
        2 r, diameter of a hole.
    open_area : float [-]
        alpha, holes over whole face, 0.05 to 0.8.
    thickness : float [m]
        t, of the sheet, up to one hole diameter.

    Returns
    -------
    loss : (...) [Pa]

    Raises
    ------
    RangeError
        Outside those ranges, or if a value has the wrong sign.

    Source
    ------
    [Dagan-1982] creeping; [Blevins-1984] through [FLUIDS] at speed. Checked by
    tests/oil/test_screen.py.
    """
    from fluids.filters import square_edge_screen

    u, rho = not_negative(speed, "face speed", "m/s"), positive(density, "density", "kg/m^3")
    nu, d = positive(viscosity, "viscosity", "m^2/s"), float(positive(hole, "hole", "m"))
    alpha = float(within(open_area, 0.05, 0.8, "open area of the screen", ""))
    t = float(within(thickness / d, 0.0, THICKEST, "sheet over hole", ""))
    creeping = math.pi * rho * nu / alpha * (3.0 + 16.0 * t / math.pi) / (0.5 * d)
    return np.asarray(u * (creeping + 0.5 * rho * float(square_edge_screen(alpha)) * u))


def screen_loss(
    screen: Screen, flow: ArrayLike, *, viscosity: ArrayLike, density: ArrayLike
) -> Floats:
    """Pressure that a screen of either kind takes at a flow.

    Parameters
    ----------
    screen : Screen [m, m^2]
    flow : (...) [m^3/s]
        Through its whole face.
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
        As `woven_loss` or `perforated_loss`.

    Source
    ------
    As `woven_loss` or `perforated_loss`. Checked by tests/oil/test_screen.py.
    """
    face = not_negative(flow, "flow", "m^3/s") / positive(screen.area, "screen area", "m^2")
    if isinstance(screen, WovenScreen):
        return woven_loss(
            face, viscosity=viscosity, density=density, pitch=screen.pitch, wire=screen.wire
        )
    return perforated_loss(
        face,
        viscosity=viscosity,
        density=density,
        hole=screen.hole,
        open_area=screen.open_area,
        thickness=screen.thickness,
    )
