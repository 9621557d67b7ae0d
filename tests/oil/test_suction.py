# SPDX-License-Identifier: Apache-2.0
"""The suction line as a whole: items against worked cases and a library, the root, refusals.

Sources: [White-2011] Bernoulli with losses; the fluids library for a line put together by hand;
10 inches of mercury of vacuum is 67.461 kPa as a published exam item has it.
"""

import math
from typing import Any

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.errors import RangeError, SolveError
from sumpwright.oil.atmosphere import isa_pressure
from sumpwright.oil.pipe import Bend, Tube, entry_coefficient
from sumpwright.oil.screen import PerforatedScreen, WovenScreen
from sumpwright.oil.suction import TEN_INCHES, SuctionLine, allowable_flow, suction_budget

L_MIN = 1e-3 / 60.0
G = 9.81
RIGHT = math.pi / 2.0
MESH = WovenScreen(pitch=25.4e-3 / 16.0, wire=0.4e-3, area=3e-3)
LINE = SuctionLine(tubes=(Tube(0.019, 0.35, bends=(Bend(RIGHT, 0.0285),)),), screen=MESH)
HOT = {"viscosity": 12e-6, "density": 820.0}
PLACE = {"rise": 0.12, "gravity": G, "ambient": 101325.0}


def test_a_column_at_rest_is_hydrostatic() -> None:
    budget = suction_budget(LINE, 0.0, **HOT, **PLACE)
    assert float(budget.inlet) == pytest.approx(101325.0 - 820.0 * G * 0.12, rel=1e-12)
    raised = suction_budget(LINE, 0.0, **HOT, **{**PLACE, "rise": -0.05, "gravity": 14.0})
    assert float(raised.inlet) == pytest.approx(101325.0 + 820.0 * 14.0 * 0.05, rel=1e-12)


def test_items_add_up_to_what_is_left() -> None:
    line = SuctionLine(
        (Tube(0.022, 0.2, (Bend(RIGHT, 0.03),)), Tube(0.018, 0.1), Tube(0.025, 0.05)), MESH, 0.1
    )
    b = suction_budget(line, 40 * L_MIN, viscosity=60e-6, density=850.0, **PLACE)
    lost = b.screen + b.mouth + b.friction + b.bends + b.steps + b.motion
    assert float(b.inlet) == pytest.approx(float(b.ambient + b.head - lost), rel=1e-14)
    assert min(map(float, (b.screen, b.mouth, b.friction, b.bends, b.steps, b.motion))) > 0.0
    assert float(b.speed) == pytest.approx(40 * L_MIN / (math.pi / 4 * 0.018**2), rel=1e-12)


def test_cold_line_of_the_worked_case() -> None:
    # R3.1c: 54710 Pa of friction at 15 L/min, 16 mm, 0.40 m, 1000 mm^2/s, with Hagenbach's
    # correction on top: a pump that needs 0.8 bar does not get it at sea level
    line = SuctionLine((Tube(0.016, 0.40),))
    b = suction_budget(line, 15 * L_MIN, viscosity=1000e-6, density=880.0, **PLACE)
    entry = float(entry_coefficient(b.reynolds, 25.0) * 0.5 * 880.0 * b.speed**2)
    assert float(b.friction) - entry == pytest.approx(54710.0, abs=5.0)  # four digits given
    assert 0.01 < entry / 54710.0 < 0.02
    assert float(b.inlet) < 80e3
    assert float(b.reynolds) == pytest.approx(19.894, abs=5e-4)  # digits
    assert math.isnan(float(b.face_speed))


def test_fast_line_is_the_one_a_library_makes() -> None:
    # Turbulent, long, no screen: the entry's share is nothing here
    flow, nu, rho = 6e-3, 1e-6, 998.0
    line = SuctionLine((Tube(0.04, 20.0, (Bend(RIGHT, 0.08),)), Tube(0.05, 1.0)))
    b = suction_budget(line, flow, viscosity=nu, density=rho, **PLACE)
    heads = []
    for bore, length in ((0.04, 20.0), (0.05, 1.0)):
        speed = flow / (math.pi / 4 * bore**2)
        f = fluids.friction_factor(Re=speed * bore / nu, eD=0.0)
        heads.append((0.5 * rho * speed**2, f * length / bore, f))
    (p1, k1, f1), (p2, k2, _) = heads
    bend = fluids.bend_rounded(Di=0.04, angle=90.0, fd=f1, rc=0.08)
    lost = p1 * (fluids.entrance_sharp() + k1 + bend + fluids.diffuser_sharp(0.04, 0.05))
    lost += p2 * (k2 + 1.0)
    expected = 101325.0 - rho * G * 0.12 - lost
    assert float(b.inlet) == pytest.approx(expected, abs=1e-5 * lost)  # the joining rule


def test_height_costs_what_the_air_above_weighs() -> None:
    # R9.6a: 84.556 kPa at 1500 m
    sea, hill = (
        suction_budget(LINE, 40 * L_MIN, **HOT, **{**PLACE, "ambient": isa_pressure(h)}).inlet
        for h in (0.0, 1500.0)
    )
    assert float(sea - hill) == pytest.approx(101325.0 - 84556.0, abs=0.5)  # printed digits


def test_vacuum_limit_is_the_published_one() -> None:
    assert pytest.approx(67461.0, abs=0.5) == TEN_INCHES  # R3.4, printed digits


@settings(max_examples=30)  # each is some hundred budgets
@given(st.floats(5e-6, 5e-3), st.floats(40e3, 99e3), st.floats(0.3, 30.0), st.floats(0.012, 0.03))
def test_the_allowable_flow_is_where_the_budget_meets_the_need(
    nu: float, needed: float, gravity: float, bore: float
) -> None:
    line = SuctionLine((Tube(bore, 0.3, (Bend(RIGHT, 1.5 * bore),)),), MESH)
    state: dict[str, Any] = {"viscosity": nu, "density": 850.0, "gravity": gravity}
    state |= {"rise": 0.05, "ambient": 101325.0}
    flow = float(allowable_flow(line, needed=needed, **state))
    assert float(suction_budget(line, flow, **state).inlet) >= needed
    more = float(suction_budget(line, flow * (1 + 1e-9), **state).inlet)
    assert more < needed + 1e-9 * 101325.0  # rounding of the pressures


def test_allowable_flow_over_temperature_and_need() -> None:
    nu = np.geomspace(8e-6, 5e-3, 12)
    need = np.array([[80e3], [70e3]])
    flow = allowable_flow(LINE, needed=need, viscosity=nu, density=850.0, **PLACE)
    assert flow.shape == (2, 12)
    assert (np.diff(flow, axis=1) < 0.0).all()  # thicker oil, less flow
    assert (flow[1] > flow[0]).all()
    at_need = suction_budget(LINE, flow, viscosity=nu, density=850.0, **PLACE).inlet
    np.testing.assert_allclose(at_need, np.broadcast_to(need, at_need.shape), rtol=1e-9)


def test_cold_allowable_flow_is_poiseuilles() -> None:
    # Long thin tube, very thick oil: Q = pi d^4 dp / (128 mu L)
    line, mu = SuctionLine((Tube(0.01, 5.0),)), 880.0 * 0.05
    state = {**PLACE, "rise": 0.0}
    flow = allowable_flow(line, needed=80e3, viscosity=0.05, density=880.0, **state)
    known = math.pi * 0.01**4 * (101325.0 - 80e3) / (128.0 * mu * 5.0)
    assert float(flow) == pytest.approx(known, rel=1e-5)  # speed's share is Re / 64 heads of 500


def test_says_when_no_flow_will_do() -> None:
    with pytest.raises(SolveError, match=r"with the pump at rest it is 1966.54 Pa short"):
        allowable_flow(LINE, needed=101325.0 - 1000.0, viscosity=1e-5, density=840.0,
                       **{**PLACE, "rise": 0.36})  # fmt: skip
    just = 101325.0 - 820.0 * G * 0.12
    assert float(allowable_flow(LINE, needed=just, **HOT, **PLACE)) == 0.0


def test_a_table_over_temperature_and_flow() -> None:
    oil = {"viscosity": np.array([1e-5, 1e-3])[:, None], "density": np.array([[820.0], [880.0]])}
    line = SuctionLine(LINE.tubes, PerforatedScreen(1.5e-3, 0.4, 0.8e-3, 3e-3))
    b = suction_budget(line, np.array([0.0, 20.0, 40.0]) * L_MIN, **oil, **PLACE)
    assert {getattr(b, name).shape for name in vars(b)} == {(2, 3)}
    assert (np.diff(b.inlet, axis=1) < 0.0).all()


def test_refuses_a_line_without_a_tube_and_air_without_pressure() -> None:
    with pytest.raises(RangeError, match="at least 1 tube"):
        suction_budget(SuctionLine(()), 1e-4, **HOT, **PLACE)
    with pytest.raises(RangeError, match="crankcase pressure must be above 0 Pa"):
        suction_budget(LINE, 1e-4, **HOT, **{**PLACE, "ambient": 0.0})
