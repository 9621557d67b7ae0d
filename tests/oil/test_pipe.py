# SPDX-License-Identifier: Apache-2.0
"""Tube friction against worked values, a reference library and published entry losses.

Sources: [White-2011] 64/Re; [Colebrook-1939] through the fluids library; [Shah-London-1978] and
[Shapiro-1954] for the entry (from memory); flow and speed of a 3/4 inch pipe as hydraulics
guides print them.
"""

import math

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.pipe import (
    Tube,
    bore_for_speed,
    entry_coefficient,
    friction_factor,
    friction_loss,
    mean_speed,
    reynolds_number,
)

L_MIN = 1e-3 / 60.0
CST = 1e-6


def test_speed_and_bore_of_a_common_pickup_tube() -> None:
    # R3.4a, R3.4b: 40 L/min in 19 mm; bore for 1.2 m/s
    assert float(mean_speed(40 * L_MIN, 0.019)) == pytest.approx(2.3513, abs=5e-5)  # digits
    assert float(bore_for_speed(40 * L_MIN, 1.2)) * 1e3 == pytest.approx(26.596, abs=5e-4)  # digits


def test_speed_is_the_one_printed_in_a_hydraulics_guide() -> None:
    # Printed: 0.824 in at 4 ft/s carries 6.6 US gal/min (R3.4)
    flow = 6.6 * 231.0 * 0.0254**3 / 60.0
    feet = float(mean_speed(flow, 0.824 * 0.0254)) / 0.3048
    assert feet == pytest.approx(4.0, rel=0.008)  # 6.6 carries two digits


@pytest.mark.parametrize(
    ("litres", "bore", "length", "nu", "rho", "reynolds", "loss", "digit"),
    [
        (30.0, 0.019, 0.35, 60.0, 850.0, 558.4, 2790.3, 0.05),  # R3.1a
        (15.0, 0.016, 0.40, 1000.0, 880.0, 19.894, 54710.0, 5.0),  # R3.1c, a cold start
    ],
)
def test_laminar_losses_as_worked_apart(
    litres: float,
    bore: float,
    length: float,
    nu: float,
    rho: float,
    reynolds: float,
    loss: float,
    digit: float,
) -> None:
    flow = litres * L_MIN
    assert float(reynolds_number(flow, bore, nu * CST)) == pytest.approx(reynolds, rel=1e-4)  # dig.
    ours = friction_loss(Tube(bore, length), flow, viscosity=nu * CST, density=rho)
    assert float(ours) == pytest.approx(loss, abs=digit)  # half of the last digit given


@pytest.mark.parametrize("rough", [0.0, 1e-5, 1e-3, 0.05])
def test_friction_is_the_reference_librarys_on_both_sides(rough: float) -> None:
    slow = np.geomspace(1e-3, 2300.0, 40)
    np.testing.assert_allclose(friction_factor(slow, rough), 64.0 / slow, rtol=1e-14)  # same form
    fast = np.geomspace(4000.0, 1e8, 60)
    known = [fluids.friction_factor(Re=re, eD=rough) for re in fast]  # exact Colebrook
    # The joining rule leaves (16/40)^12 / 12 = 1.4e-6 at Re 4000 in a smooth tube
    np.testing.assert_allclose(friction_factor(fast, rough), known, rtol=2e-6)  # joining rule


def test_friction_of_a_textbook_case() -> None:
    # The library's documented value for Re 1e5, roughness 1e-4, after the Moody chart
    ours = float(friction_factor(1e5, 1e-4))
    assert ours == pytest.approx(0.01851386607747165, rel=1e-9)  # joining rule negligible there


@given(
    st.floats(1e-6, 1.5),
    st.floats(1.0001, 2.0),
    st.floats(0.02, 100.0),
    st.floats(0.0, 0.05),
    st.booleans(),
)
def test_loss_rises_with_flow_through_the_transition(
    start: float, more: float, bores: float, rough: float, entry: bool
) -> None:
    tube = Tube(0.02, 0.02 * bores, roughness=0.02 * rough)
    flow = np.array([start, start * more]) * 8000.0 * math.pi / 4.0 * 0.02 * 10 * CST
    low, high = friction_loss(tube, flow, viscosity=10 * CST, density=850.0, entry=entry)
    # At the least as the flow itself: nothing in a straight tube falls below Stokes' rule
    assert high >= low * more * (1.0 - 1e-12)


def test_the_transition_has_no_step_and_no_kink() -> None:
    re = np.linspace(2200.0, 4200.0, 20001)
    loss = friction_factor(re) * re**2
    slope = np.diff(loss) / np.diff(re)
    assert (slope > 0.0).all()
    assert np.abs(np.diff(slope)).max() < 0.02 * slope.max()  # a kink would be a jump of slope


def test_entry_loss_ends_in_the_published_band() -> None:
    # Hagenbach's correction: 1.2 to 1.33 by various authors (from memory)
    assert 1.2 <= float(entry_coefficient(1.0, 1000.0)) <= 1.33
    assert float(entry_coefficient(0.0, 10.0)) == 1.25
    # Its length 0.06 Re d (from memory) is where the last tenth remains
    assert 0.9 < float(entry_coefficient(500.0, 0.06 * 500.0)) / 1.25 < 1.0


def test_entry_loss_begins_as_the_boundary_layers() -> None:
    # [Shapiro-1954] 13.74 sqrt(x+), from memory, the developed 64 x+ included
    ratio, re = 0.2, 2000.0
    whole = float(entry_coefficient(re, ratio)) + 64.0 * ratio / re
    assert whole == pytest.approx(
        13.74 * math.sqrt(ratio / re), rel=0.005
    )  # 3.44 against 3.435, and x+ not yet zero


def test_entry_adds_its_velocity_heads_to_a_laminar_tube() -> None:
    tube, flow = Tube(0.019, 0.35), 30 * L_MIN
    plain = friction_loss(tube, flow, viscosity=60 * CST, density=850.0)
    entered = friction_loss(tube, flow, viscosity=60 * CST, density=850.0, entry=True)
    heads = (entered - plain) / (0.5 * 850.0 * mean_speed(flow, 0.019) ** 2)
    re = reynolds_number(flow, 0.019, 60 * CST)
    assert float(heads) == pytest.approx(float(entry_coefficient(re, 0.35 / 0.019)), rel=1e-12)


def test_works_over_temperatures_and_flows_and_at_rest() -> None:
    nu, flow = np.array([10.0, 100.0, 1000.0])[:, None] * CST, np.array([0.0, 10.0, 40.0]) * L_MIN
    loss = friction_loss(Tube(0.019, 0.35), flow, viscosity=nu, density=860.0, entry=True)
    assert loss.shape == (3, 3)
    assert (loss[:, 0] == 0.0).all()
    assert (np.diff(loss, axis=0)[:, 1:] > 0.0).all()
    no_length = friction_loss(Tube(0.019, 0.0), flow, viscosity=nu, density=860.0, entry=True)
    assert (no_length == 0.0).all()


def test_refuses_what_the_friction_chart_does_not_cover() -> None:
    with pytest.raises(RangeError, match="Reynolds number must be above 0"):
        friction_factor(0.0)
    with pytest.raises(RangeError, match="Reynolds number 2e\\+08"):
        friction_factor(2e8)
    with pytest.raises(RangeError, match=r"roughness over bore 0.06"):
        friction_factor(1e4, 0.06)
    with pytest.raises(RangeError, match="outside 0 to 2300"):
        entry_coefficient(2400.0, 10.0)
    with pytest.raises(RangeError, match="bore must be above 0 m"):
        mean_speed(1e-3, 0.0)
    with pytest.raises(RangeError, match="flow must be 0"):
        friction_loss(Tube(0.019, 0.35), -1e-4, viscosity=1e-5, density=850.0)
    with pytest.raises(RangeError, match="length must be 0 m or more"):
        friction_loss(Tube(0.019, -0.35), 1e-4, viscosity=1e-5, density=850.0)
