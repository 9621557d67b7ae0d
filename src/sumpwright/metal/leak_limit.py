# SPDX-License-Identifier: Apache-2.0
"""What leak of air in a test stands for a leak of oil in use: one narrow way, laminar in both."""

from sumpwright.errors import RangeError
from sumpwright.metal.leak import STANDARD_PRESSURE, STANDARD_TEMPERATURE

AIR_VISCOSITY = 1.82e-5
"""Pa s, of dry air at 20 degC, from memory; 1 % more at 25 degC."""


def air_for_oil(
    oil: float,
    *,
    oil_viscosity: float,
    head: float,
    inside: float,
    outside: float,
    warm: float,
    air_viscosity: float = AIR_VISCOSITY,
) -> float:
    r"""Air that leaks in the test where that much oil leaks in use, as standard volume [m^3/s].

    Both flow laminar through the same narrow way: oil :math:`Q = C \Delta p / \mu_o`, air by its
    mean density, :math:`p_0 Q_0 T / T_0 = C (p_1^2 - p_2^2) / (2 \mu_a)`. C falls out.

    Parameters
    ----------
    oil : float [m^3/s]
        Q, that leaks in use.
    oil_viscosity : float [Pa s]
        Dynamic, in use.
    head : float [Pa]
        Of the oil over the leak in use.
    inside : float [Pa]
        p1, absolute, in the test.
    outside : float [Pa]
        p2, absolute, in the test.
    warm : float [K]
        T, of the air.
    air_viscosity : float [Pa s]
        Dynamic.

    Returns
    -------
    air : float [m^3/s]

    Raises
    ------
    RangeError
        If something is not positive, or the pressure inside is not over the one outside.

    Source
    ------
    [closed-form]: laminar flow through a narrow way (Hagen and Poiseuille), isothermal gas. Leaks
    so fine that the oil's surface tension closes them pass more air than this says.
    """
    if min(oil, oil_viscosity, head, outside, warm, air_viscosity) <= 0.0 or inside <= outside:
        raise RangeError("every value must be over zero, and the pressure inside over the outside")
    way = oil * oil_viscosity / head
    flow = way * (inside**2 - outside**2) / (2.0 * air_viscosity)
    return flow / STANDARD_PRESSURE * STANDARD_TEMPERATURE / warm
