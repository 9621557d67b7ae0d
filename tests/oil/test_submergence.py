# SPDX-License-Identifier: Apache-2.0
"""Submergence formulas against the US form of the standard and values worked apart.

Sources: [ANSI-HI-9.8]; the rest from memory, as each check says. Froude number against a general
fluid-mechanics library.
"""

import math

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.submergence import (
    DAMPED_BELOW,
    GORDON_EVEN,
    GORDON_UNEVEN,
    inlet_froude,
    submergence_gordon,
    submergence_hi_9_8,
    submergence_knauss,
    submergence_ratio,
    submergence_reddy_pickford,
    viscosity_parameter,
)

L_MIN = 1e-3 / 60.0
G = 9.81  # m/s^2, as the checks were worked
INCH, US_GPM = 0.0254, 3.785411784e-3 / 60.0
WIDE = (70.0 * L_MIN, 0.060)  # the case that all the other formulas were worked for


@pytest.mark.parametrize(
    ("diameter", "litres", "froude", "mm"),
    [(0.040, 40.0, 0.8469, 117.9), (0.060, 40.0, 0.3073, 102.4), (0.060, 70.0, 0.5378, 134.2)],
)
def test_matches_the_values_worked_for_pickups(
    diameter: float, litres: float, froude: float, mm: float
) -> None:
    flow = litres * L_MIN
    assert float(inlet_froude(flow, diameter, G)) == pytest.approx(froude, abs=5e-5)  # digits
    assert float(submergence_hi_9_8(flow, diameter, G)) * 1e3 == pytest.approx(mm, abs=0.05)


def test_matches_the_us_form_of_the_standard() -> None:
    # S = D + 0.574 Q / D^1.5 in inch and US gal/min (from memory): 10 in, 1000 gpm -> 28.151 in
    ours = float(submergence_hi_9_8(1000.0 * US_GPM, 10.0 * INCH, 9.80665)) / INCH
    assert ours == pytest.approx(28.151, rel=1e-3)  # 0.574 has three digits


@given(st.floats(1e-5, 1e-2), st.floats(0.01, 0.3), st.floats(1.0, 30.0))
def test_froude_number_is_the_librarys(flow: float, diameter: float, gravity: float) -> None:
    speed = flow / (math.pi * diameter**2 / 4.0)
    expected = fluids.Froude(V=speed, L=diameter, g=gravity)
    assert float(inlet_froude(flow, diameter, gravity)) == pytest.approx(expected, rel=1e-12)


def test_a_pickup_at_rest_asks_for_its_own_diameter() -> None:
    assert float(submergence_hi_9_8(0.0, 0.05, G)) == 0.05


def test_ratio_is_cover_over_what_is_asked_and_goes_below_zero() -> None:
    cover = np.array([0.1342, 0.0671, -0.01])
    ratio = submergence_ratio(cover=cover, diameter=0.060, flow=70.0 * L_MIN, gravity=G)
    np.testing.assert_allclose(ratio[:2], [1.0, 0.5], rtol=5e-4)  # four digits of 134.2
    assert ratio[2] < 0.0


@pytest.mark.parametrize(
    ("value", "mm"),
    [
        (submergence_gordon(*WIDE, GORDON_EVEN), 55.084),
        (submergence_gordon(*WIDE, GORDON_UNEVEN), 73.277),
        (submergence_reddy_pickford(*WIDE, G), 92.270),
        (submergence_knauss(*WIDE, G), 94.539),
    ],
    ids=["gordon-even", "gordon-uneven", "reddy-pickford", "knauss"],
)
def test_other_formulas_give_the_values_worked_apart(value: float, mm: float) -> None:
    # All from memory: formulas and coefficients were not read in their sources.
    assert float(value) * 1e3 == pytest.approx(mm, abs=1e-3)  # digits as given


def test_viscosity_damps_vortices_even_in_hot_oil() -> None:
    hot = float(viscosity_parameter(0.060, 12e-6, G))
    assert hot == pytest.approx(3836.0, abs=0.5)  # worked apart, from memory; digits as given
    assert hot < DAMPED_BELOW / 10.0


def test_refuses_inlets_that_make_no_sense() -> None:
    with pytest.raises(RangeError, match="inlet diameter must be above 0 m"):
        submergence_hi_9_8(1e-3, 0.0, G)
    with pytest.raises(RangeError, match=r"effective gravity must be above 0"):
        submergence_reddy_pickford(1e-3, 0.05, -1.0)
    with pytest.raises(RangeError, match=r"flow must be 0 m\^3/s or more"):
        submergence_knauss(np.nan, 0.05, G)
