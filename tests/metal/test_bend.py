# SPDX-License-Identifier: Apache-2.0
"""Lengths of bends against DIN 6935 and the neutral fibre's arc.

Sources: [DIN-6935], formulas as transcribed from a public page (first range read, the other two
from memory), digits worked by hand from them; [Machinerys-Handbook], from memory.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.metal.bend import (
    allowance,
    allowance_handbook,
    compensation_din,
    correction_din,
    deduction,
    legs_for,
    setback,
    strip_k,
)
from sumpwright.metal.bend_table import least_radius, table_k

MM = 1e-3
SQUARE = math.radians(90.0)


@pytest.mark.parametrize(
    ("r", "s", "k", "v"),
    # four printed digits each
    [
        (3, 2, 0.7380, -4.1283),
        (2, 2, 0.65, -3.8374),
        (6, 2, 0.8886, -5.1795),
        (12, 2, 1.0, -7.5796),
    ],
)
def test_a_square_bend_by_din(r: float, s: float, k: float, v: float) -> None:
    assert correction_din(r / s) == pytest.approx(k, abs=5e-5)
    assert compensation_din(SQUARE, r * MM, s * MM) / MM == pytest.approx(v, abs=5e-5)


def test_an_open_bend_by_din_counts_to_the_crossing_of_the_outer_faces() -> None:
    opened = math.radians(120.0)
    assert compensation_din(opened, 3 * MM, 2 * MM) / MM == pytest.approx(-1.8590, abs=5e-5)


def test_the_three_ranges_of_din_meet_where_they_should() -> None:
    r, s = 3 * MM, 2 * MM
    below, above = (compensation_din(math.radians(b), r, s) for b in (90.0, 90.001))
    assert below == pytest.approx(above, abs=1e-6)  # tan 45 deg is 1: no step
    # a fold of under 15 deg is left out, by hand: 0.2618 (3 + 0.738) - 10 tan 7.5 deg = -0.338 mm
    assert compensation_din(math.radians(165.01), r, s) == 0.0
    assert compensation_din(math.radians(165.0), r, s) / MM == pytest.approx(-0.338, abs=5e-4)


def test_the_neutral_fibre_s_arc_by_hand() -> None:
    # pi/2 (3 + 0.44 * 2) = 6.0947; 2 (3 + 2) - 6.0947 = 3.9053
    assert allowance(SQUARE, 3 * MM, 2 * MM, 0.44) / MM == pytest.approx(6.0947, abs=5e-5)
    assert deduction(SQUARE, 3 * MM, 2 * MM, 0.44) / MM == pytest.approx(3.9053, abs=5e-5)


@given(st.floats(0.2, 8.0), st.floats(0.5, 4.0), st.floats(20.0, 90.0))
def test_din_and_k_are_the_same_rule(ratio: float, s: float, turned: float) -> None:
    angle, r = math.radians(turned), ratio * s * MM
    v = compensation_din(math.pi - angle, r, s * MM)
    assert v == pytest.approx(-deduction(angle, r, s * MM, 0.5 * correction_din(ratio)), abs=1e-12)


def test_the_machinist_s_rule_lies_by_the_table() -> None:
    # [Machinerys-Handbook], from memory: 0.64 t + 1.57 r for aluminium, 2 mm round 3 mm: 5.99 mm
    rule = allowance_handbook(3 * MM, 2 * MM, "half-hard")
    assert rule / MM == pytest.approx(5.99, abs=1e-9)
    ours = allowance(SQUARE, 3 * MM, 2 * MM, table_k("aluminium 5052-H32", 1.5).value)
    assert ours == pytest.approx(rule, abs=0.05 * MM)  # the rules differ by that at this ratio


@given(st.floats(0.2, 0.6), st.floats(30.0, 150.0), st.floats(0.0, 8.0), st.floats(0.5, 4.0))
def test_a_strip_gives_back_the_k_it_was_bent_with(k, turned, r, t) -> None:
    angle = math.radians(turned)
    legs = legs_for(k, angle, r * MM, t * MM, 0.1)
    assert strip_k(angle, r * MM, t * MM, 0.1, legs) == pytest.approx(k, abs=1e-9)


def test_a_strip_that_grew_is_refused() -> None:
    with pytest.raises(RangeError, match=r"the strip gives K = 2\.\d+; sheet bends"):
        strip_k(SQUARE, 1 * MM, 1 * MM, 0.1, 0.0989)


def test_steel_bends_by_din_and_aluminium_by_the_table() -> None:
    assert table_k("steel", 1.0).value == pytest.approx(0.325)
    assert table_k("steel", 1.0).source == "DIN 6935"
    assert table_k("aluminium 5052-H32", 2.0).value == pytest.approx(0.425)  # between 0.40 and 0.45
    assert table_k("steel", 0.0).source == "table"  # tighter than the standard goes


@pytest.mark.parametrize(
    ("name", "inch", "times"),
    # [AA-Bend] as read: 1/64, 1/32, 1/16, 1/8, 3/16, 1/4, 3/8, 1/2 in
    [("aluminium 5052-H32", i, x) for i, x in zip(
        (1 / 64, 1 / 32, 1 / 16, 1 / 8, 3 / 16, 1 / 4, 3 / 8, 1 / 2),
        (0, 0, 1, 1.5, 1.5, 1.5, 1.5, 2), strict=True)]
    + [("aluminium 6061-T6", i, x) for i, x in zip(
        (1 / 64, 1 / 32, 1 / 16, 1 / 8, 3 / 16, 1 / 4, 3 / 8, 1 / 2),
        (1, 1, 1.5, 2.5, 3, 3.5, 4.5, 5), strict=True)],
)  # fmt: skip
def test_the_least_radius_as_listed(name: str, inch: float, times: float) -> None:
    assert least_radius(name, inch * 25.4 * MM) == pytest.approx(times * inch * 25.4 * MM)


def test_says_when_no_least_radius_is_known() -> None:
    assert least_radius("aluminium 5052-H32", 25 * MM) is None


def test_refuses_what_has_no_legs() -> None:
    with pytest.raises(RangeError, match="turns by 0 to 180 deg, not 180 deg"):
        setback(math.pi, 1 * MM, 1 * MM)
    with pytest.raises(RangeError, match=r"at least 0\.2, got 0\.1"):
        correction_din(0.1)
    with pytest.raises(RangeError, match="0 to 180 deg, not 190 deg"):
        compensation_din(math.radians(190.0), 1 * MM, 1 * MM)
