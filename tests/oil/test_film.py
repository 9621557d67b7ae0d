# SPDX-License-Identifier: Apache-2.0
"""film_depth_upstream against the slope it adds up, and against closed forms of its limits.

Sources: [Huppert-1982] and [Bird-2002] for the slope of a film; a general ODE solver for the sum.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sumpwright.errors import RangeError
from sumpwright.oil.drawdown import film_head_gradient
from sumpwright.oil.film import HALF_RING, RING, film_depth_upstream

L_MIN = 1e-3 / 60.0
G = 9.80665
POOL = {"radius": 0.025, "far_radius": 0.15, "gravity": G}


@pytest.mark.parametrize("nu", [15e-6, 1e-3, 2e-2])
@pytest.mark.parametrize("angle", [RING, HALF_RING])
def test_is_what_an_ode_solver_makes_of_the_slope(nu: float, angle: float) -> None:
    flow, start = 10 * L_MIN, 0.015

    def slope(r: float, h: np.ndarray) -> np.ndarray:
        width = flow / (angle * r)
        return film_head_gradient(flow_per_width=width, viscosity=nu, depth=h, gravity=G)

    walked = solve_ivp(slope, (0.025, 0.15), [start], rtol=1e-10, atol=1e-14)
    found = film_depth_upstream(flow, viscosity=nu, depth=start, angle=angle, **POOL)
    assert float(found) == pytest.approx(walked.y[0, -1], rel=1e-8)  # the solver's tolerance


def test_a_narrow_ring_is_a_straight_channel() -> None:
    # r2/r1 -> 1: h2^4 = h1^4 + 12 nu q L / g with q the flow per width
    flow, nu, run = 5 * L_MIN, 5e-3, 1e-4
    found = film_depth_upstream(
        flow, viscosity=nu, depth=0.01, radius=1.0, far_radius=1.0 + run, gravity=G
    )
    straight = (0.01**4 + 12.0 * nu * flow / RING * run / G) ** 0.25
    assert float(found) - 0.01 == pytest.approx(straight - 0.01, rel=run)  # ln(1 + x) is x - x^2/2


def test_far_from_a_mouth_that_is_all_but_dry_only_the_flow_counts() -> None:
    found = film_depth_upstream(10 * L_MIN, viscosity=5e-3, depth=1e-6, **POOL)
    alone = (12.0 * 5e-3 * 10 * L_MIN / (G * RING) * math.log(6.0)) ** 0.25
    assert float(found) == pytest.approx(alone, rel=1e-12)


@given(st.floats(1e-5, 2e-2), st.floats(0.0, 1e-3), st.floats(0.002, 0.1))
def test_needs_more_for_thicker_oil_and_more_flow_and_never_less_than_at_the_mouth(
    nu: float, flow: float, depth: float
) -> None:
    def found(**more: float) -> float:
        given_ = {"viscosity": nu, "flow": flow, "depth": depth, **POOL, **more}
        return float(film_depth_upstream(**given_))

    assert found() >= depth * (1.0 - 1e-15)
    assert found(viscosity=2 * nu) >= found()
    assert found(flow=2 * flow) >= found()
    assert found(angle=HALF_RING) == pytest.approx(found(flow=2 * flow), rel=1e-12)


def test_refuses_what_is_no_pool() -> None:
    with pytest.raises(RangeError, match=r"the far radius must be 0\.025 m or more, got 0\.02 m"):
        film_depth_upstream(1e-4, viscosity=1e-3, depth=0.01, **{**POOL, "far_radius": 0.02})
    with pytest.raises(RangeError, match=r"a ring has at most 6\.28319 rad, got 7 rad"):
        film_depth_upstream(1e-4, viscosity=1e-3, depth=0.01, angle=7.0, **POOL)
    with pytest.raises(RangeError, match="depth must be above 0 m"):
        film_depth_upstream(1e-4, viscosity=1e-3, depth=0.0, **POOL)
