# SPDX-License-Identifier: Apache-2.0
"""Pressure decay against the ideal gas law counted in moles with scipy's gas constant, and against
the definition of a standard cubic centimetre."""

import math

import pytest
from scipy.constants import R, atm, zero_Celsius

from sumpwright.errors import RangeError
from sumpwright.metal.leak_test import leak_rate, pressure_drop


def test_is_the_amount_of_gas_lost_in_the_standard_state() -> None:
    volume, time = 5.2e-3, 120.0
    first, last = 121_000.0 * volume / (R * 294.0), 120_400.0 * volume / (R * 293.2)
    wanted = (first - last) / time * R * zero_Celsius / atm
    found = leak_rate(
        volume, start=121_000.0, end=120_400.0, start_temperature=294.0, end_temperature=293.2,
        time=time,
    )  # fmt: skip
    assert found == pytest.approx(wanted, rel=1e-12)  # rounding


def test_a_litre_that_loses_a_millibar_in_a_minute_loses_nearly_a_cubic_centimetre() -> None:
    # 1000 cm^3 x 0.1 kPa / 101.325 kPa in the standard state's own temperature: 0.98692 cm^3
    found = leak_rate(
        1e-3, start=110_000.0, end=109_900.0, start_temperature=273.15, end_temperature=273.15,
        time=60.0,
    )  # fmt: skip
    assert found * 60e6 == pytest.approx(0.98692, abs=5e-6)  # five digits printed


def test_air_that_only_cools_loses_nothing() -> None:
    found = leak_rate(
        5e-3, start=120_000.0, end=120_000.0 * 292.0 / 295.0, start_temperature=295.0,
        end_temperature=292.0, time=300.0,
    )  # fmt: skip
    assert abs(found) < 1e-18


def test_the_drop_is_the_rate_the_other_way_round() -> None:
    drop = pressure_drop(6e-3, rate=1.6e-7, time=180.0, temperature=295.0)
    again = leak_rate(
        6e-3, start=115_000.0, end=115_000.0 - drop, start_temperature=295.0,
        end_temperature=295.0, time=180.0,
    )  # fmt: skip
    assert again == pytest.approx(1.6e-7, rel=1e-9)  # 115 kPa less a few Pa cancels digits


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_refuses_what_no_test_has(bad: float) -> None:
    with pytest.raises(RangeError, match="over 0"):
        pressure_drop(bad, rate=1e-7, time=60.0, temperature=293.0)
    with pytest.raises(RangeError, match="over 0"):
        leak_rate(
            1e-3, start=1e5, end=bad, start_temperature=293.0, end_temperature=293.0, time=1.0
        )
