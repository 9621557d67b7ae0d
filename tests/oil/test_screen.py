# SPDX-License-Identifier: Apache-2.0
"""Perforated sheet at its two ends, and either screen at a flow.

Sources: [Dagan-1982] and Sampson's exact creeping flow through a hole, q = r^3 dp / (3 mu);
[Blevins-1984] through the fluids library.
"""

import math

import fluids.filters
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.screen import PerforatedScreen, WovenScreen, perforated_loss, screen_loss
from sumpwright.oil.weave import woven_loss

SHEET = {"hole": 1.5e-3, "open_area": 0.4, "thickness": 0.8e-3}


def test_creeping_loss_of_a_thin_sheet_is_sampsons() -> None:
    speed, mu, rho, r = 1e-7, 2.0, 880.0, 0.75e-3
    sheet = {**SHEET, "thickness": 0.0}
    ours = float(perforated_loss(speed, viscosity=mu / rho, density=rho, **sheet))
    through_one = speed * math.pi * r**2 / 0.4
    assert ours == pytest.approx(3.0 * mu * through_one / r**3, rel=1e-6)  # inertia 1e-7 of it


def test_creeping_loss_of_a_thick_hole_adds_the_tubes() -> None:
    speed, mu, rho, r = 1e-7, 2.0, 880.0, 0.75e-3
    extra = [
        float(
            perforated_loss(speed, viscosity=mu / rho, density=rho, **{**SHEET, "thickness": thick})
        )
        for thick in (0.0, 0.8e-3)
    ]
    through_one = speed * math.pi * r**2 / 0.4
    poiseuille = 8.0 * mu * 0.8e-3 * through_one / (math.pi * r**4)
    assert extra[1] - extra[0] == pytest.approx(poiseuille, rel=1e-6)  # rounding of the difference


def test_fast_loss_is_the_handbooks() -> None:
    ours = float(perforated_loss(1.0, viscosity=1e-12, density=850.0, **SHEET))
    known = fluids.filters.square_edge_screen(0.4) * 0.5 * 850.0
    assert ours == pytest.approx(known, rel=1e-6)  # viscosity 1e-7 of it
    assert fluids.filters.square_edge_screen(0.5) == pytest.approx(3.80)  # R3.3, as tabulated


@given(st.floats(1e-9, 2.0), st.floats(1.0001, 2.0), st.floats(1e-6, 1e-2))
def test_loss_rises_with_flow(speed: float, more: float, nu: float) -> None:
    low, high = perforated_loss([speed, speed * more], viscosity=nu, density=850.0, **SHEET)
    assert high >= low * more * (1.0 - 1e-12)


def test_a_screen_of_either_kind_at_a_flow() -> None:
    flow = np.array([0.0, 10.0, 40.0]) / 6e4
    oil = {"viscosity": np.array([1e-5, 1e-3])[:, None], "density": 860.0}
    mesh = WovenScreen(pitch=1.5875e-3, wire=0.4e-3, area=3e-3)
    loss = screen_loss(mesh, flow, **oil)
    assert loss.shape == (2, 3)
    np.testing.assert_array_equal(
        loss, woven_loss(flow / 3e-3, pitch=1.5875e-3, wire=0.4e-3, **oil)
    )
    sheet = PerforatedScreen(area=3e-3, **SHEET)
    np.testing.assert_array_equal(
        screen_loss(sheet, flow, **oil), perforated_loss(flow / 3e-3, **SHEET, **oil)
    )


def test_refuses_sheets_that_the_sources_do_not_cover() -> None:
    oil = {"viscosity": 1e-5, "density": 850.0}
    with pytest.raises(RangeError, match=r"open area of the screen 0.9"):
        perforated_loss(0.1, **oil, **{**SHEET, "open_area": 0.9})
    with pytest.raises(RangeError, match="sheet over hole"):
        perforated_loss(0.1, **oil, **{**SHEET, "thickness": 2e-3})
    with pytest.raises(RangeError, match=r"screen area must be above 0 m\^2"):
        screen_loss(WovenScreen(1.6e-3, 0.4e-3, 0.0), 1e-4, **oil)
