# SPDX-License-Identifier: Apache-2.0
"""Density and expansion against the standard's constants and a handbook oil.

Sources: [API-MPMS-11.1] lubricating oils; [Incropera] table A.5, engine oil, unused.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.density import BASE, density, density_linear, expansion

HONEST = 0.0075  # the two formulas' own disagreement at 100 degC
temperatures = st.floats(223.15, 423.15)


def by_60_degf(rho_15: float, kelvin: float) -> float:
    """The standard's own route: base 60 degF, degrees Fahrenheit, density there by iteration."""

    def factor(rho_60: float, fahrenheit: float) -> float:
        strain = 0.34878 / rho_60 * (fahrenheit - 60.0)
        return float(np.exp(-strain * (1.0 + 0.8 * strain)))

    rho_60 = rho_15
    for _ in range(20):
        rho_60 = rho_15 / factor(rho_60, 59.0)
    return rho_60 * factor(rho_60, (kelvin - 273.15) * 1.8 + 32.0)


def test_expansion_coefficient_of_870() -> None:
    slope = (density(870.0, BASE - 0.5) - density(870.0, BASE + 0.5)) / 870.0
    assert float(slope) == pytest.approx(7.216e-4, abs=5e-8)  # digits as given


def test_870_at_100_degc() -> None:
    assert float(density(870.0, 373.15)) == pytest.approx(815.8, abs=0.05)  # digits as given


def test_870_at_100_degc_by_the_straight_line() -> None:
    assert float(density_linear(870.0, 373.15)) == pytest.approx(821.9, abs=0.05)  # digits as given


def test_the_two_formulas_are_three_quarters_of_a_percent_apart_hot() -> None:
    ratio = float(density_linear(870.0, 373.15) / density(870.0, 373.15))
    assert ratio - 1.0 == pytest.approx(0.0075, abs=5e-5)  # digits as given


@pytest.mark.parametrize("rho", [801.5, 870.0, 1160.0])
def test_base_of_15_degc_costs_2e_5_against_60_degf(rho: float) -> None:
    kelvins = np.linspace(223.15, 423.15, 21)
    ours = density(rho, kelvins)
    np.testing.assert_allclose(ours, [by_60_degf(rho, k) for k in kelvins], rtol=2e-5)  # as stated


def test_follows_the_handbook_oil_from_300_to_380_k() -> None:
    # rho 884.1 at 300 K and 836.0 at 380 K; rho_15 is taken so that the first one is met
    rho_15 = 884.1 + 0.6278 * (300.0 - BASE)
    assert float(density(rho_15, 300.0)) == pytest.approx(884.1, abs=0.1)  # linear step of 12 K
    assert float(density(rho_15, 380.0)) == pytest.approx(836.0, rel=HONEST)
    assert float(density_linear(rho_15, 380.0, 7.0e-4)) == pytest.approx(836.0, rel=HONEST)


def test_five_litres_at_20_are_about_5_28_at_100_degc() -> None:
    # 5.0 x (1 + 0.0007 x 80) = 5.28, with beta 7.0e-4 /K of the handbook's table
    by_line = 5.0 * float(density_linear(870.0, 293.15) / density_linear(870.0, 373.15))
    by_standard = 5.0 * float(expansion(870.0, t_from=293.15, t_to=373.15))
    assert by_line == pytest.approx(5.28, rel=HONEST)
    assert by_standard == pytest.approx(5.28, rel=HONEST)
    assert by_line < 5.28 < by_standard


def test_nothing_changes_at_15_degc() -> None:
    assert float(density(870.0, BASE)) == 870.0
    assert float(density_linear(870.0, BASE)) == 870.0


@given(st.floats(801.0, 1163.0), temperatures, temperatures)
def test_expansion_there_and_back_is_one(rho: float, first: float, second: float) -> None:
    there = expansion(rho, t_from=first, t_to=second)
    back = expansion(rho, t_from=second, t_to=first)
    assert float(there * back) == pytest.approx(1.0, rel=1e-12)  # rounding


@given(st.floats(801.0, 1163.0), temperatures, temperatures)
def test_hotter_oil_is_never_denser(rho: float, first: float, second: float) -> None:
    cold, hot = sorted((first, second))
    assert float(density(rho, hot)) <= float(density(rho, cold))
    assert float(density_linear(rho, hot)) <= float(density_linear(rho, cold))


@pytest.mark.parametrize("rho", [800.8, 1163.6, np.nan])
def test_refuses_densities_no_lubricating_oil_has(rho: float) -> None:
    with pytest.raises(RangeError, match=r"kg/m\^3 is outside 800.9 to 1163.5"):
        density(rho, 300.0)
    with pytest.raises(RangeError, match=r"is outside 800.9 to 1163.5"):
        density_linear(rho, 300.0)


def test_refuses_temperatures_and_coefficients_out_of_range() -> None:
    with pytest.raises(RangeError, match=r"temperature 433 K is outside 223.15 to 423.15 K"):
        density(870.0, [300.0, 433.0])
    with pytest.raises(RangeError, match=r"expansion coefficient 0\.02"):
        density_linear(870.0, 300.0, 0.02)
