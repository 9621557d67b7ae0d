# SPDX-License-Identifier: Apache-2.0
"""The leak test by pressure decay against the gas law and published conversions of leak rates."""

import numpy as np
import pytest
from scipy import constants

from sumpwright.errors import RangeError
from sumpwright.metal.leak import (
    STANDARD_PRESSURE,
    STANDARD_TEMPERATURE,
    decay_drop,
    decay_leak,
    drift_drop,
)
from sumpwright.metal.leak_limit import AIR_VISCOSITY, air_for_oil

CM3_MIN = 1e-6 / 60.0


def test_the_standard_state_is_that_of_the_reference_library() -> None:
    assert constants.atm == STANDARD_PRESSURE
    assert constants.zero_Celsius == STANDARD_TEMPERATURE


def test_lost_moles_are_those_of_the_gas_law() -> None:
    # n = p V / (R T) at both readings, R of scipy's CODATA table; V0 = n R T0 / p0
    volume, time, p1, p2, t1, t2 = 5.2e-3, 300.0, 116_000.0, 115_700.0, 295.0, 294.6
    moles = volume / constants.R * (p1 / t1 - p2 / t2)
    expected = moles * constants.R * constants.zero_Celsius / constants.atm / time
    found = decay_leak(volume, time, before=p1, after=p2, warm_before=t1, warm_after=t2)
    assert found == pytest.approx(expected, rel=1e-9)  # rounding of the difference


def test_a_pascal_litre_a_second_is_592_standard_cubic_centimetres_a_minute_per_pascal_m3() -> None:
    # published conversion of leak rates: 1 Pa m^3/s = 592 sccm (at 0 degC), 9.87 atm cm^3/s
    at_0 = constants.zero_Celsius
    leak = decay_leak(1.0, 1.0, before=1e5, after=1e5 - 1.0, warm_before=at_0, warm_after=at_0)
    assert leak / CM3_MIN == pytest.approx(592.0, abs=0.5)  # digits printed
    assert leak / 1e-6 == pytest.approx(9.87, abs=0.005)  # digits printed


def test_cooling_alone_is_no_leak_once_it_is_allowed_for() -> None:
    warm, cool, before = 296.0, 295.5, 115_000.0
    after = before - drift_drop(before, warm, warm - cool)
    found = decay_leak(5e-3, 60.0, before=before, after=after, warm_before=warm, warm_after=cool)
    assert found == pytest.approx(0.0, abs=1e-18)


def test_the_drop_is_the_leak_turned_round() -> None:
    drop = decay_drop(2.0 * CM3_MIN, 5e-3, 300.0, 293.15)
    again = decay_leak(
        5e-3, 300.0, before=115e3, after=115e3 - drop, warm_before=293.15, warm_after=293.15
    )
    assert again == pytest.approx(2.0 * CM3_MIN, rel=1e-9)


def test_air_stands_for_oil_as_two_integrated_pipes_do() -> None:
    # Hagen-Poiseuille in a pipe, the gas integrated along it: the pipe itself falls out
    radius, length, mu, warm = 10e-6, 3e-3, 0.0117, 293.15
    way = np.pi * radius**4 / (8.0 * length)
    oil = way / mu * 800.0
    p1, p2 = 116_325.0, 101_325.0
    pressures = np.linspace(p2, p1, 20_001)
    molar = np.trapezoid(pressures / (constants.R * warm), pressures) * way / AIR_VISCOSITY
    expected = molar * constants.R * constants.zero_Celsius / constants.atm
    found = air_for_oil(oil, oil_viscosity=mu, head=800.0, inside=p1, outside=p2, warm=warm)
    assert found == pytest.approx(expected, rel=1e-9)  # the integrand is a straight line


@pytest.mark.parametrize("wrong", [{"before": 0.0}, {"warm_after": -1.0}])
def test_refuses_what_is_not_absolute(wrong: dict[str, float]) -> None:
    given = {"before": 1e5, "after": 1e5, "warm_before": 293.0, "warm_after": 293.0, **wrong}
    with pytest.raises(RangeError):
        decay_leak(1e-3, 1.0, **given)
