# SPDX-License-Identifier: Apache-2.0
"""Bolt pitch of a flange against worked figures of [TEMA-RGP], from memory."""

import pytest

from sumpwright.errors import RangeError
from sumpwright.metal.flange_pitch import pitch_correction, pitch_most


def test_m8_in_ten_millimetres_with_a_soft_gasket() -> None:
    # 2 x 8 + 6 x 10 / 1.5 = 56 mm
    assert pitch_most(0.008, 0.010, 1.0) == pytest.approx(0.056, rel=1e-12)


def test_wide_bolts_raise_the_moment() -> None:
    # sqrt(70 / 26) = 1.6408
    assert pitch_correction(0.070, 0.008, 0.010) == pytest.approx(1.6408, abs=5e-5)
    assert pitch_correction(0.020, 0.008, 0.010) == 1.0


def test_refuses_no_bolt() -> None:
    with pytest.raises(RangeError):
        pitch_most(0.0, 0.010, 1.0)
