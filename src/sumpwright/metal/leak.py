# SPDX-License-Identifier: Apache-2.0
"""Leak test by pressure decay: air lost from a closed body, told from how its pressure falls.

Air is an ideal gas here. Standard volume is what air fills at 0 degC and 101 325 Pa.
"""

from sumpwright.errors import RangeError

STANDARD_PRESSURE = 101_325.0
"""Pa, the standard atmosphere, exact by definition [SI-BROCHURE]."""
STANDARD_TEMPERATURE = 273.15
"""K"""


def decay_leak(
    volume: float,
    time: float,
    *,
    before: float,
    after: float,
    warm_before: float,
    warm_after: float,
) -> float:
    r"""Air that leaks out, as standard volume [m^3/s]; negative where the reading says it gained.

    .. math:: Q = \frac{V}{t} \frac{T_0}{p_0}
        \left(\frac{p_1}{T_1} - \frac{p_2}{T_2}\right)

    Parameters
    ----------
    volume : float [m^3]
        V, of the body with hose and gauge.
    time : float [s]
        t, between the two readings.
    before : float [Pa]
        p1, absolute.
    after : float [Pa]
        p2, absolute.
    warm_before : float [K]
        T1, of the air inside.
    warm_after : float [K]
        T2, of the air inside.

    Returns
    -------
    leak : float [m^3/s]

    Raises
    ------
    RangeError
        If volume, time, a pressure or a temperature is not positive.

    Source
    ------
    [closed-form]: what an ideal gas loses, p V = n R T at both readings.
    """
    if min(volume, time, before, after, warm_before, warm_after) <= 0.0:
        raise RangeError("volume, time, absolute pressures and temperatures must be over zero")
    lost = before / warm_before - after / warm_after
    return volume / time * STANDARD_TEMPERATURE / STANDARD_PRESSURE * lost


def decay_drop(leak: float, volume: float, time: float, warm: float) -> float:
    r"""By how much the pressure falls while that leaks, temperature steady [Pa].

    .. math:: \Delta p = Q \frac{p_0 T}{T_0} \frac{t}{V}

    Parameters
    ----------
    leak : float [m^3/s]
        Q, standard volume of air.
    volume : float [m^3]
        V, of the body with hose and gauge.
    time : float [s]
        t, between the two readings.
    warm : float [K]
        T, of the air inside.

    Returns
    -------
    drop : float [Pa]

    Raises
    ------
    RangeError
        If volume, time or temperature is not positive.

    Source
    ------
    [closed-form]: the same, turned round.
    """
    if min(volume, time, warm) <= 0.0:
        raise RangeError("volume, time and temperature must be over zero")
    return leak * STANDARD_PRESSURE * warm / STANDARD_TEMPERATURE * time / volume


def drift_drop(pressure: float, warm: float, change: float) -> float:
    r"""By how much the pressure falls because the air cools: a leak that is none [Pa].

    .. math:: \Delta p = p \, \Delta T / T

    Parameters
    ----------
    pressure : float [Pa]
        p, absolute.
    warm : float [K]
        T, of the air inside.
    change : float [K]
        By which it cools.

    Returns
    -------
    drop : float [Pa]

    Raises
    ------
    RangeError
        If pressure or temperature is not positive.

    Source
    ------
    [closed-form]: an ideal gas shut in.
    """
    if min(pressure, warm) <= 0.0:
        raise RangeError("absolute pressure and temperature must be over zero")
    return pressure * change / warm
