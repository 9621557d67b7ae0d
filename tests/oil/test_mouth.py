# SPDX-License-Identifier: Apache-2.0
"""Air at a mouth: the draw-down formula turned round."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.drawdown import FLOOR, critical_submergence
from sumpwright.oil.mouth import air_fraction, air_fraction_of

FLOW, G = 40.0 / 60e3, 9.81


def air(high: float, low: float | None = None, flow: float = FLOW) -> float:
    return air_fraction(
        cover_of_highest=high,
        cover_of_lowest=high if low is None else low,
        flow=flow,
        gravity=G,
        solid_angle=FLOOR,
    )


def test_takes_air_just_under_the_published_draw_down_height() -> None:
    # Lubin & Springer 1967 by the derivation: 23.447 mm at 40 L/min with 0.69; 0.6884 is used
    height = float(critical_submergence(FLOW, G, FLOOR))
    assert height == pytest.approx(23.447e-3, rel=0.003)  # 0.69 against 0.6884
    assert air(height * (1 + 1e-9)) == 0.0
    assert air(height * (1 - 1e-6)) == pytest.approx(2.5e-6, rel=1e-4)  # slope of the 5/2 power


def test_draws_oil_alone_at_the_flow_whose_draw_down_height_is_the_cover() -> None:
    cover = 0.012
    oil = (1.0 - air(cover)) * FLOW
    assert float(critical_submergence(oil, G, FLOOR)) == pytest.approx(cover, rel=1e-12)


@pytest.mark.parametrize(("high", "low", "wanted"), [(-0.1, -0.1, 1.0), (0.5, 0.5, 0.0)])
def test_is_all_air_when_dry_and_none_when_deep(high: float, low: float, wanted: float) -> None:
    assert air(high, low) == wanted


def test_a_leaning_rim_half_in_deep_oil_draws_half_air() -> None:
    # eight points round: three deep, three dry, the two at the surface dry
    assert air(-1.0, 1.0) == pytest.approx(0.625, abs=1e-12)  # exact: 1/8 + 1/4 + 1/4


def test_draws_no_air_where_nothing_is_drawn() -> None:
    assert air(-0.1, flow=0.0) == 0.0


def test_refuses_a_negative_flow() -> None:
    with pytest.raises(RangeError, match="flow"):
        air(0.1, flow=-1e-3)


@given(st.floats(-0.05, 0.08), st.floats(0.0, 0.05), st.floats(1e-3, 0.05))
def test_the_slope_is_that_of_the_fraction(high: float, lean: float, needed: float) -> None:
    step = 1e-7
    here, slope = air_fraction_of(high, high + lean, needed)
    after = air_fraction_of(high + step, high + lean + step, needed)[0]
    before = air_fraction_of(high - step, high + lean - step, needed)[0]
    assert 0.0 <= here <= 1.0
    # the slope has a corner, 2.5 / needed high, where a point is just covered: half is seen
    between = (after - before) / (2 * step)
    np.testing.assert_allclose(between, slope, atol=1.3 / needed + 1e-6)
    assert slope <= 0.0
    assert not math.isnan(slope)
