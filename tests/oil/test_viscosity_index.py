# SPDX-License-Identifier: Apache-2.0
"""Viscosity index against the standard's own worked examples.

Source: [ASTM-D2270] calculation examples of procedures A and B, from public copies of its text.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.viscosity_index import _reference, viscosity_at_40, viscosity_index

MM2_S = 1e-6


def test_matches_the_example_of_procedure_a() -> None:
    vi = float(viscosity_index(73.30 * MM2_S, nu_100=8.86 * MM2_S))
    assert vi == pytest.approx(92.43, abs=0.05)  # printed with table L, H; equations are 0.02 off


def test_matches_the_example_of_procedure_b() -> None:
    vi = float(viscosity_index(22.83 * MM2_S, nu_100=5.05 * MM2_S))
    assert vi == pytest.approx(156.37, abs=0.1)  # printed with H 28.97; the equation has 28.98


def test_matches_the_reference_oils_of_the_examples() -> None:
    low, high = _reference(np.array([8.86, 5.05]))
    assert low[0] == pytest.approx(119.94, abs=0.03)  # table 1; its equations differ by 0.02
    assert high == pytest.approx([69.48, 28.97], abs=0.015)  # table 1, last digit and a half


def test_matches_the_printed_equations_above_70() -> None:
    # L = 0.8353 Y^2 + 14.67 Y - 216, H = 0.1684 Y^2 + 11.85 Y - 97, at Y = 100
    low, high = _reference(np.array([100.0]))
    assert low[0] == pytest.approx(9604.0, rel=1e-4)  # coefficients printed to four digits
    assert high[0] == pytest.approx(2772.0, rel=1e-4)  # the same


def test_pieces_of_the_reference_oils_join() -> None:
    joins = np.array([3.8, 4.4, 5.0, 6.4, 7.0, 7.7, 9, 12, 15, 18, 22, 28, 40, 55, 70])
    for below, above in zip(_reference(joins * (1 - 1e-12)), _reference(joins), strict=True):
        np.testing.assert_allclose(above, below, rtol=2e-3)  # the standard's own steps, 0.18 % most


def test_is_100_for_the_reference_oil_by_definition() -> None:
    _, high = _reference(np.array([9.0]))
    assert float(viscosity_index(high[0] * MM2_S, nu_100=9.0 * MM2_S)) == pytest.approx(100.0)


@given(st.floats(2.0, 100.0), st.floats(0.0, 300.0))
def test_viscosity_at_40_turns_the_index_round(nu_100: float, index: float) -> None:
    nu_40 = viscosity_at_40(nu_100 * MM2_S, index)
    assert float(viscosity_index(nu_40, nu_100=nu_100 * MM2_S)) == pytest.approx(index, abs=1e-6)


def test_refuses_oils_the_standard_does_not_cover() -> None:
    with pytest.raises(RangeError, match=r"1.9 mm\^2/s is outside 2 to"):
        viscosity_index(8 * MM2_S, nu_100=1.9 * MM2_S)
    with pytest.raises(RangeError, match="viscosity index 401"):
        viscosity_at_40(9 * MM2_S, 401.0)
