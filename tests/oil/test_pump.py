# SPDX-License-Identifier: Apache-2.0
"""Pump flow, air and pressure against worked cases.

Sources: worked from definitions, Boyle's law and flow between parallel walls; 10 psi for each
1000 rpm is common practice, no source.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.pump import (
    Gallery,
    Pump,
    delivery,
    displaced_flow,
    oil_flow,
    pressure_wanted,
    relief_pressure,
    speed_of_flow,
    squeezed_air_fraction,
)

L_MIN = 1e-3 / 60.0
RPM = math.pi / 30.0
PUMP = Pump(displacement=12e-6)
READING = Gallery(pressure=300e3, flow=30 * L_MIN, viscosity=9e-6)


def test_flow_of_a_common_pump() -> None:
    # R9: 12 cc a turn at 6000 rpm, 0.95 -> 68.4 L/min
    flow = displaced_flow(PUMP, 6000 * RPM)
    assert float(flow) / L_MIN == pytest.approx(68.400, abs=5e-4)  # digits
    # A pump at half the crankshaft's speed moves half
    half = displaced_flow(Pump(12e-6, drive_ratio=0.5), [0.0, 6000 * RPM])
    np.testing.assert_allclose(half / L_MIN, [0.0, 34.2], rtol=1e-12)


@given(st.floats(1e-6, 1e-4), st.floats(0.3, 2.0), st.floats(0.5, 1.0), st.floats(0.0, 1200.0))
def test_speed_comes_back_from_flow(v: float, ratio: float, share: float, speed: float) -> None:
    pump = Pump(v, ratio, share)
    assert float(speed_of_flow(pump, displaced_flow(pump, speed))) == pytest.approx(
        speed, rel=1e-12
    )


def test_air_leaves_less_oil() -> None:
    np.testing.assert_allclose(oil_flow(60.0, [0.0, 0.25, 1.0]), [60.0, 45.0, 0.0])


def test_air_shrinks_under_pressure() -> None:
    # R11.7a: 8 % at 1 bar -> 1.7094 % at 5 bar
    ours = float(squeezed_air_fraction(0.08, pressure=1e5, new_pressure=5e5))
    assert ours * 100.0 == pytest.approx(1.7094, abs=5e-5)  # digits
    ends = squeezed_air_fraction([0.0, 1.0], pressure=1e5, new_pressure=5e5)
    assert ends.tolist() == [0.0, 1.0]


@given(st.floats(0.0, 1.0), st.floats(1e4, 1e6), st.floats(1e4, 1e6))
def test_air_comes_back_when_the_pressure_does(air: float, low: float, high: float) -> None:
    there = squeezed_air_fraction(air, pressure=low, new_pressure=high)
    back = float(squeezed_air_fraction(there, pressure=high, new_pressure=low))
    assert back == pytest.approx(air, rel=1e-9, abs=1e-12)


def test_pressure_goes_with_viscosity_below_the_relief() -> None:
    # R11.9a: 14 against 9 mm^2/s -> 1.5556
    thick, thin = (delivery(READING, 20 * L_MIN, nu * 1e-6).pressure for nu in (14.0, 9.0))
    assert float(thick / thin) == pytest.approx(1.5556, abs=5e-5)  # digits
    again = delivery(READING, 30 * L_MIN, 9e-6)
    assert float(again.pressure) == pytest.approx(300e3, rel=1e-12)  # the reading itself
    assert float(again.spilled) == 0.0


def test_relief_holds_the_pressure_and_spills_the_rest() -> None:
    engine = Gallery(300e3, 30 * L_MIN, 9e-6, relief=400e3)
    out = delivery(engine, np.array([0.0, 30.0, 40.0, 68.4]) * L_MIN, 9e-6)
    np.testing.assert_allclose(out.pressure, [0.0, 300e3, 400e3, 400e3], rtol=1e-12)
    np.testing.assert_allclose(out.to_engine / L_MIN, [0.0, 30.0, 40.0, 40.0], rtol=1e-12)
    np.testing.assert_allclose(out.spilled / L_MIN, [0.0, 0.0, 0.0, 28.4], rtol=1e-9, atol=1e-12)


def test_air_costs_pressure_only_once_the_relief_has_shut() -> None:
    engine = Gallery(300e3, 30 * L_MIN, 9e-6, relief=400e3)
    air = np.array([0.0, 0.2, 0.5, 1.0])
    out = delivery(engine, oil_flow(60 * L_MIN, air), 9e-6)
    np.testing.assert_allclose(out.pressure, [400e3, 400e3, 300e3, 0.0], rtol=1e-12)


def test_lift_of_a_relief_valve() -> None:
    # R11.6a: 60 N on 12 mm -> 530.5 kPa
    ours = float(relief_pressure(force=60.0, diameter=0.012))
    assert ours / 1e3 == pytest.approx(530.5, abs=0.05)  # digits


def test_rule_of_thumb_for_pressure() -> None:
    # R9: 6500 rpm -> 448.2 kPa; common practice, no source
    assert float(pressure_wanted(6500 * RPM)) / 1e3 == pytest.approx(448.2, abs=0.05)  # digits


def test_refuses_pumps_and_mixtures_that_cannot_be() -> None:
    with pytest.raises(RangeError, match=r"efficiency 1.1 "):
        displaced_flow(Pump(12e-6, efficiency=1.1), 100.0)
    with pytest.raises(RangeError, match="efficiency must be above 0"):
        displaced_flow(Pump(12e-6, efficiency=0.0), 100.0)
    with pytest.raises(RangeError, match="displacement must be above 0"):
        speed_of_flow(Pump(0.0), 1e-4)
    with pytest.raises(RangeError, match="engine speed must be 0 rad/s or more"):
        displaced_flow(PUMP, -1.0)
    with pytest.raises(RangeError, match=r"air fraction 1.2 "):
        oil_flow(1e-3, 1.2)
    with pytest.raises(RangeError, match="pressure must be above 0 Pa"):
        squeezed_air_fraction(0.1, pressure=0.0, new_pressure=1e5)
    with pytest.raises(RangeError, match="relief pressure must be above 0 Pa, got nan"):
        delivery(Gallery(3e5, 5e-4, 9e-6, relief=math.nan), 1e-4, 9e-6)
    with pytest.raises(RangeError, match="viscosity must be above 0"):
        delivery(Gallery(3e5, 5e-4, 0.0), 1e-4, 9e-6)
