# SPDX-License-Identifier: Apache-2.0
"""Welds: shrinkage by [Blodgett-1966], from memory, worked by hand; grooves by [closed-form]."""

import math

import pytest

from sumpwright.errors import RangeError
from sumpwright.metal.weld import (
    REINFORCED,
    Groove,
    deposit,
    fillet_leg,
    longitudinal_shrinkage,
    pull,
    round_length,
    transverse_shrinkage,
)


def test_a_butt_weld_draws_together_as_worked_by_hand() -> None:
    # 0.2 x 16 / 6 + 0.05 x 1 = 0.5333 + 0.05 mm; printed 0.5833
    assert transverse_shrinkage(16e-6, 6e-3, 1e-3) == pytest.approx(0.5833e-3, abs=5e-8)


def test_a_weld_shortens_as_worked_by_hand() -> None:
    # 0.025 x 400 x 20 / 600; printed 0.3333
    assert longitudinal_shrinkage(0.4, 20e-6, 600e-6) == pytest.approx(0.3333e-3, abs=5e-8)


def test_a_groove_of_ninety_degrees_is_as_deep_as_each_side_is_long() -> None:
    groove = Groove(depth=2e-3, angle=0.5 * math.pi, gap=1e-3)
    assert groove.leg == pytest.approx(2e-3, rel=1e-12)
    assert groove.section == pytest.approx(4e-6 + 2e-6, rel=1e-12)
    assert deposit(groove, 0.5) == pytest.approx(REINFORCED * 3e-6, rel=1e-12)


def test_aluminium_pulls_half_as_much_again_to_twice_as_much() -> None:
    assert pull("aluminium") == (1.5, 2.0)  # from memory
    assert pull("steel") == (1.0, 1.0)


def test_refuses_what_it_knows_nothing_of() -> None:
    with pytest.raises(RangeError, match="no shrinkage is known of grey iron"):
        pull("grey iron")
    with pytest.raises(RangeError, match="a plate needs a thickness"):
        transverse_shrinkage(1e-6, 0.0, 0.0)
    with pytest.raises(RangeError, match="metal to hold against it"):
        longitudinal_shrinkage(1.0, 1e-6, 0.0)


def test_a_weld_round_a_boss_is_its_circle() -> None:
    # 22/7 is larger than pi by less than 0.05 %
    assert round_length(0.007) == pytest.approx(0.022, rel=5e-4)


def test_a_fillet_is_as_long_in_the_leg_as_the_thinner_part_is_thick() -> None:
    # [common-practice]
    assert fillet_leg(0.003, 0.001) == fillet_leg(0.001, 0.003) == 0.001
