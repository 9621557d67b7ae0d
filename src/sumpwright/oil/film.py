# SPDX-License-Identifier: Apache-2.0
"""How deep thick oil must stand round a pickup so that it still runs to it fast enough.

The slope that drawdown.py asks of a film, added up along the way in to the mouth. Lubrication
theory: no inertia, a wide and shallow pool on a level floor. Cold oil is where it matters.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import not_negative, positive

RING = 2.0 * math.pi
"""rad; oil comes from all round the mouth."""
HALF_RING = math.pi
"""rad; oil comes from half of it: a mouth at a wall."""


def film_depth_upstream(
    flow: ArrayLike,
    *,
    viscosity: ArrayLike,
    depth: ArrayLike,
    radius: float,
    far_radius: ArrayLike,
    gravity: ArrayLike,
    angle: float = RING,
) -> NDArray[np.float64]:
    r"""Depth that oil needs far from a mouth so that it runs in to it at a given depth.

    .. math:: \frac{dh}{dr} = \frac{3 \nu}{g h^3} \frac{Q}{\varphi r} \quad\Rightarrow\quad
       h_2^4 = h_1^4 + \frac{12 \nu Q}{g \varphi} \ln\frac{r_2}{r_1}

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q, what the pump draws.
    viscosity : (...) [m^2/s]
        nu, kinematic.
    depth : (...) [m]
        h_1, over the floor at the mouth.
    radius : float [m]
        r_1, of the mouth.
    far_radius : (...) [m]
        r_2, where the oil comes from; not below ``radius``.
    gravity : (...) [m/s^2]
        g, local effective gravity, square to the floor.
    angle : float [rad]
        phi, of the ring that oil comes from: `RING` or `HALF_RING`.

    Returns
    -------
    depth : (...) [m]
        h_2. Its excess over h_1 is the film head.

    Raises
    ------
    RangeError
        If the flow is negative, another value not positive, the far radius below the near one, or
        the angle over 2 pi.

    Source
    ------
    [Huppert-1982] the flow of an axisymmetric film, here steady and inward. Checked by
    tests/oil/test_film.py.
    """
    near = float(positive(radius, "radius", "m"))
    far = positive(far_radius, "far radius", "m")
    if (far < near).any():
        raise RangeError(f"the far radius must be {near:.6g} m or more, got {far.min():.6g} m")
    phi = float(positive(angle, "angle", "rad"))
    if phi > RING * (1.0 + 1e-12):
        raise RangeError(f"a ring has at most {RING:.6g} rad, got {phi:.6g} rad")
    q, nu = not_negative(flow, "flow", "m^3/s"), positive(viscosity, "viscosity", "m^2/s")
    h, g = positive(depth, "depth", "m"), positive(gravity, "effective gravity", "m/s^2")
    return np.asarray((h**4 + 12.0 * nu * q / (g * phi) * np.log(far / near)) ** 0.25)
