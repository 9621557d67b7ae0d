# SPDX-License-Identifier: Apache-2.0
"""Leak test by pressure decay. Ideal gas.

The pan is closed and filled with air a little over the atmosphere's pressure; what the pressure
falls by tells what it loses.
"""

import math

from sumpwright.errors import RangeError

STANDARD_PRESSURE = 101_325.0
STANDARD_TEMPERATURE = 273.15
"""Of a standard cubic metre: DIN 1343 normal state, 0 degC and 101.325 kPa (from memory)."""
MOST_GAUGE = 30e3
"""Pa; a pan is no pressure vessel. Common practice, no source: 0.1 to 0.3 bar and a guard."""


def leak_rate(
    volume: float,
    *,
    start: float,
    end: float,
    start_temperature: float,
    end_temperature: float,
    time: float,
) -> float:
    r"""Air lost, as a flow in the standard state.

    .. math:: Q = \frac{V}{t} \left( \frac{p_1}{T_1} - \frac{p_2}{T_2} \right) \frac{T_n}{p_n}

    Parameters
    ----------
    volume : float [m^3]
        Of the closed pan with hose and gauge, V.
    start : float [Pa]
        Absolute pressure at first, p1.
    end : float [Pa]
        Absolute pressure after `time`, p2.
    start_temperature : float [K]
        Of the air in the pan at first, T1.
    end_temperature : float [K]
        After `time`, T2.
    time : float [s]
        Between both readings, t.

    Returns
    -------
    rate : float [m^3/s]
        Negative where the air warmed by more than it lost.

    Raises
    ------
    RangeError
        Where a volume, pressure, temperature or time is not positive.

    Source
    ------
    Ideal gas law. Checked by tests/metal/test_leak_test.py.
    """
    given = (volume, start, end, start_temperature, end_temperature, time)
    if not all(math.isfinite(v) and v > 0.0 for v in given):
        raise RangeError("a leak rate needs volume, pressures, temperatures and time over 0")
    lost = start / start_temperature - end / end_temperature
    return volume / time * lost * STANDARD_TEMPERATURE / STANDARD_PRESSURE


def pressure_drop(volume: float, *, rate: float, time: float, temperature: float) -> float:
    """By how much the pressure falls at one temperature: `leak_rate` the other way round.

    Parameters
    ----------
    volume : float [m^3]
        Of the closed pan with hose and gauge.
    rate : float [m^3/s]
        Air lost, in the standard state.
    time : float [s]
        Between both readings.
    temperature : float [K]
        Of the air, throughout.

    Returns
    -------
    drop : float [Pa]

    Raises
    ------
    RangeError
        Where volume, time or temperature is not positive.
    """
    if not all(math.isfinite(v) and v > 0.0 for v in (volume, time, temperature)):
        raise RangeError("a pressure drop needs volume, time and temperature over 0")
    return rate * time / volume * STANDARD_PRESSURE * temperature / STANDARD_TEMPERATURE
