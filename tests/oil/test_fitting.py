# SPDX-License-Identifier: Apache-2.0
"""Mouth, bends and changes of bore against a reference library and its documented values.

Sources: [Rennels-2012], [Hooper-1981] and [Hooper-1988] through the fluids library.
"""

import math

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.fitting import bend_coefficient, bend_loss, entrance_coefficient, step_loss
from sumpwright.oil.pipe import Bend, Tube, friction_factor, mean_speed

RIGHT = math.pi / 2.0
OIL = {"viscosity": 60e-6, "density": 850.0}


def test_entrance_values_as_printed() -> None:
    # R3.2: sharp 0.57, bellmouth 0.03 to 0.05 (0.05 from r/d 0.5, later than other handbooks);
    # the classical 0.5 for a sharp edge is an older value
    assert entrance_coefficient() == pytest.approx(0.57, abs=0.005)  # printed digits
    assert entrance_coefficient(1.0) == pytest.approx(0.03, abs=0.0005)  # as the library documents
    # [Rennels-2012] diagram 9.2, r/d 0.235: 0.0984, as the library documents
    assert entrance_coefficient(0.235) == pytest.approx(0.09839534618360923, rel=1e-12)


def test_bend_of_a_pickup_tube() -> None:
    # R3.2c: 90 degrees, r/d 1.5, f 0.064
    ours = float(bend_coefficient(0.064, angle=RIGHT, radius_ratio=1.5))
    assert ours == pytest.approx(0.6207, abs=5e-5)  # digits as given


@given(st.floats(0.005, 20.0), st.floats(0.01, math.pi), st.floats(0.5, 20.0))
def test_bend_is_the_reference_librarys(friction: float, angle: float, ratio: float) -> None:
    ours = float(bend_coefficient(friction, angle=angle, radius_ratio=ratio))
    known = fluids.bend_rounded(Di=1.0, angle=math.degrees(angle), fd=friction, rc=ratio)
    assert ours == pytest.approx(known, rel=1e-12)  # same formula


def test_bend_loss_is_its_coefficient_at_the_tubes_friction() -> None:
    tube, flow = Tube(0.019, 0.3, roughness=2e-5), np.array([1e-4, 5e-4, 3e-3])
    ours = bend_loss(tube, Bend(RIGHT, 0.0285), flow, **OIL)
    speed = mean_speed(flow, 0.019)
    friction = friction_factor(speed * 0.019 / OIL["viscosity"], 2e-5 / 0.019)
    heads = bend_coefficient(friction, angle=RIGHT, radius_ratio=1.5)
    np.testing.assert_allclose(ours, heads * 0.5 * 850.0 * speed**2, rtol=1e-12)
    assert float(bend_loss(tube, Bend(RIGHT, 0.0285), 0.0, **OIL)) == 0.0


def test_the_two_constant_rule_asks_more_of_a_laminar_bend() -> None:
    # What the docstring says of the spread: [Hooper-1981] 90 degrees, r/d 1.5, bore 19 mm
    name = "Elbow, 90°, Long-radius (R/D = 1.5), All types"
    re = np.geomspace(20.0, 1000.0, 9)
    other = np.array([fluids.Hooper2K(Di=0.019 / 0.0254, Re=x, name=name) for x in re])
    ratio = other / bend_coefficient(64.0 / re, angle=RIGHT, radius_ratio=1.5)
    assert ratio.min() == pytest.approx(1.4, abs=0.1)
    assert ratio.max() == pytest.approx(2.1, abs=0.1)


def heads(bore_from: float, bore_to: float, nu: float, flow: float = 5e-4) -> float:
    loss = step_loss(bore_from=bore_from, bore_to=bore_to, flow=flow, viscosity=nu, density=850.0)
    return float(loss / (0.5 * 850.0 * mean_speed(flow, min(bore_from, bore_to)) ** 2))


@pytest.mark.parametrize("beta", [0.2, 0.4, 0.8, 0.99])
def test_changes_of_bore_in_fast_flow_are_the_reference_librarys(beta: float) -> None:
    wide, tight, thin = 0.03, 0.03 * beta, 1e-14  # so thin that viscosity is out of it
    narrower = fluids.contraction_sharp(Di1=wide, Di2=tight)
    assert heads(wide, tight, thin) == pytest.approx(narrower, rel=1e-7)
    wider = fluids.diffuser_sharp(Di1=tight, Di2=wide)
    assert heads(tight, wide, thin) == pytest.approx(wider, rel=1e-12)
    assert heads(wide, wide, 1e-4) == 0.0


def test_a_contraction_in_cold_oil_has_the_laminar_rules_viscous_part() -> None:
    wide, tight, flow = 0.03, 0.015, 5e-4
    thick, thicker = 1e-3, 4e-3
    ours = heads(wide, tight, thicker) - heads(wide, tight, thick)
    known = [
        fluids.contraction_sharp(
            Di1=wide, Di2=tight, Re=float(mean_speed(flow, wide)) * wide / nu, method="Hooper"
        )
        for nu in (thick, thicker)
    ]
    assert ours == pytest.approx(known[1] - known[0], rel=1e-9)  # same term


def test_refuses_bends_and_bores_that_cannot_be() -> None:
    with pytest.raises(RangeError, match=r"bend radius over bore 0.4"):
        bend_coefficient(0.03, angle=RIGHT, radius_ratio=0.4)
    with pytest.raises(RangeError, match=r"a bend turns above 0 to 3.14159 rad, got 4"):
        bend_coefficient(0.03, angle=4.0, radius_ratio=1.5)
    with pytest.raises(RangeError, match=r"edge radius over bore -0.1"):
        entrance_coefficient(-0.1)
    with pytest.raises(RangeError, match="bore must be above 0 m"):
        heads(0.0, 0.02, 1e-5)
