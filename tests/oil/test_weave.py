# SPDX-License-Identifier: Apache-2.0
"""Woven screens against the published correlation and cases worked apart.

Source: [Armour-Cannon-1968], coefficients 8.61 and 0.52 as printed in its abstract.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.oil.weave import weave, woven_friction, woven_loss, woven_reynolds

MESH_16 = {"pitch": 25.4e-3 / 16.0, "wire": 0.4e-3}


def test_friction_factor_at_three_speeds() -> None:
    # R3.3: f(1, 10, 100)
    ours = woven_friction([1.0, 10.0, 100.0])
    np.testing.assert_allclose(ours, [9.1300, 1.3810, 0.6061], atol=5e-5)  # digits as given


def test_geometry_of_a_pickup_screen() -> None:
    # R3.3g: 16 wires an inch of 0.4 mm
    w = weave(**MESH_16)
    assert w.open_area == pytest.approx(0.5596, abs=5e-5)  # digits
    assert w.void_fraction == pytest.approx(0.7959, abs=5e-5)  # digits
    assert w.opening == pytest.approx(1.1875e-3, rel=1e-12)


@given(st.floats(1e-4, 5e-3), st.floats(0.05, 0.9))
def test_wire_surface_is_four_over_the_diameter_of_its_volume(pitch: float, ratio: float) -> None:
    # Round wire has 4/d of surface for each volume, whatever way it takes
    w = weave(pitch=pitch, wire=pitch * ratio)
    assert w.surface == pytest.approx(4.0 / (pitch * ratio) * (1.0 - w.void_fraction), rel=1e-9)


def test_hot_and_cold_losses_of_a_pickup_screen() -> None:
    # R3.3h: 10 mPa s and 830 kg/m^3 at 0.25 m/s
    hot = {"viscosity": 0.010 / 830.0, **MESH_16}
    re = float(woven_reynolds(0.25, **hot))
    assert re == pytest.approx(4.1955, abs=5e-5)  # digits
    assert float(woven_friction(re)) == pytest.approx(2.5722, abs=5e-5)  # digits
    assert float(woven_loss(0.25, density=830.0, **hot)) == pytest.approx(141.9, abs=0.05)  # digits
    # R3.3i: 2 Pa s and 880 kg/m^3 at 0.05 m/s, Re 0.004: creeping, below what was measured
    cold = woven_loss(0.05, viscosity=2.0 / 880.0, density=880.0, **MESH_16)
    assert float(cold) == pytest.approx(4529.8, abs=0.05)  # digits


@given(st.floats(0.1, 900.0), st.floats(1e-5, 1e-3))
def test_loss_is_the_friction_factor_over_the_screens_thickness(re: float, nu: float) -> None:
    w = weave(**MESH_16)
    speed = re * w.surface**2 * nu * w.opening
    known = (
        float(woven_friction(re)) * 850.0 * (speed / w.void_fraction) ** 2 * w.thickness / w.opening
    )
    ours = float(woven_loss(speed, viscosity=nu, density=850.0, **MESH_16))
    assert ours == pytest.approx(known, rel=1e-12)  # the printed form


def test_creeping_loss_goes_with_viscosity_and_speed() -> None:
    slow = float(woven_loss(1e-6, viscosity=1e-3, density=880.0, **MESH_16))
    assert float(woven_loss(2e-6, viscosity=1e-3, density=880.0, **MESH_16)) == pytest.approx(
        2.0 * slow, rel=1e-5
    )  # inertia is 0.06 Re of the whole, Re 2e-7 here
    assert float(woven_loss(0.0, viscosity=1e-3, density=880.0, **MESH_16)) == 0.0


def test_refuses_screens_and_flows_that_were_not_measured() -> None:
    oil = {"viscosity": 1e-5, "density": 850.0}
    with pytest.raises(RangeError, match=r"screen Reynolds number 0.05"):
        woven_friction(0.05)
    with pytest.raises(RangeError, match="screen Reynolds number"):
        woven_loss(60.0, **oil, **MESH_16)
    with pytest.raises(RangeError, match="void fraction of the screen"):
        woven_loss(0.1, **oil, pitch=2e-3, wire=0.1e-3)
    with pytest.raises(RangeError, match="leaves no opening"):
        woven_loss(0.1, **oil, pitch=1e-3, wire=1e-3)
    with pytest.raises(RangeError, match="wire diameter must be above 0 m"):
        weave(pitch=1e-3, wire=math.nan)
