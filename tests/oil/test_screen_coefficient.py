# SPDX-License-Identifier: Apache-2.0
"""Screen coefficients against tabulated and worked values.

Sources: [Blevins-1984] as the fluids library documents it; [Idelchik-1986] and [Brundrett-1993],
both from memory.
"""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.oil.screen_coefficient import (
    round_edge_coefficient,
    square_edge_coefficient,
    wire_coefficient_brundrett,
    wire_coefficient_idelchik,
)
from sumpwright.oil.weave import weave, woven_loss


def test_handbook_tables() -> None:
    # R3.3a, R3.3b: round wires (0.5, 100), (0.35, 50); R3.3c: square edges
    ours = round_edge_coefficient([0.5, 0.35], [100.0, 50.0])
    np.testing.assert_allclose(ours, [2.10, 6.375], atol=5e-4)  # digits as given
    assert float(square_edge_coefficient(0.5)) == pytest.approx(3.80, abs=0.005)  # digits
    assert square_edge_coefficient([[0.5, 1.0]]).tolist() == [[3.8, 0.0]]


def test_wire_in_fast_flow() -> None:
    # R3.3d, from memory
    assert float(wire_coefficient_idelchik(0.5)) == pytest.approx(1.6500, abs=5e-5)  # digits


def test_wire_from_slow_to_fast_flow() -> None:
    # R3.3e, from memory and in doubt
    ours = wire_coefficient_brundrett(0.5, [5.0, 50.0, 500.0])
    np.testing.assert_allclose(ours, [7.7074, 2.2520, 1.4658], atol=5e-5)  # digits


@pytest.mark.parametrize(
    ("speed", "mu", "rho", "spread"), [(0.25, 0.010, 830.0, 1.4), (0.05, 2.0, 880.0, 2.3)]
)
def test_the_sources_disagree_as_much_as_is_said(
    speed: float, mu: float, rho: float, spread: float
) -> None:
    pitch, wire = 25.4e-3 / 16.0, 0.4e-3
    one = float(woven_loss(speed, viscosity=mu / rho, density=rho, pitch=pitch, wire=wire))
    heads = wire_coefficient_brundrett(
        weave(pitch=pitch, wire=wire).open_area, speed * wire * rho / mu
    )
    assert one / float(heads * 0.5 * rho * speed**2) == pytest.approx(spread, abs=0.05)  # digits


def test_refuses_what_a_table_does_not_hold() -> None:
    with pytest.raises(RangeError, match="screen Reynolds number 10"):
        round_edge_coefficient(0.5, 10.0)
    with pytest.raises(RangeError, match=r"open area of the screen 0.9"):
        round_edge_coefficient(0.9, 100.0)
    with pytest.raises(RangeError, match=r"open area of the screen 0.001"):
        square_edge_coefficient(0.001)
    with pytest.raises(RangeError, match=r"open area of the screen 1.2"):
        wire_coefficient_idelchik(1.2)
    with pytest.raises(RangeError, match="wire Reynolds number 0 "):
        wire_coefficient_brundrett(0.5, 0.0)
