# SPDX-License-Identifier: Apache-2.0
"""Standard air pressure against the standard's value and a library. Source: [ISO-2533]."""

import fluids
import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.oil.atmosphere import isa_pressure

EARTH = 6356766.0  # m, radius that the standard turns geometric into geopotential heights with


def test_pressure_at_a_mountain_track() -> None:
    # R9.6a: 1500 m
    assert float(isa_pressure(1500.0)) == pytest.approx(84556.0, abs=0.5)  # printed digits


def test_pressure_is_the_reference_librarys() -> None:
    h = np.linspace(-600.0, 10900.0, 24)
    known = [fluids.ATMOSPHERE_1976(EARTH * x / (EARTH - x)).P for x in h]
    np.testing.assert_allclose(isa_pressure(h), known, rtol=2e-6)  # its gas constant, 7 digits


def test_refuses_heights_above_the_layer() -> None:
    with pytest.raises(RangeError, match="altitude 12000 m is outside -2000 to 11000 m"):
        isa_pressure(12000.0)
