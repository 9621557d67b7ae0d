# SPDX-License-Identifier: Apache-2.0
"""Blocks and machines: fits by permutation, choice by money. [closed-form]"""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.metal.stock import SAW, Block, both_fit, cut_from, fits, held_by, to_buy

side = st.floats(0.01, 1.0)
sides = st.tuples(side, side, side)


@given(sides, sides)
def test_fits_where_any_way_of_turning_does(
    part: tuple[float, ...], block: tuple[float, ...]
) -> None:
    any_way = any(
        all(p <= b + 1e-9 for p, b in zip(turned, block, strict=True))
        for turned in permutations(part)
    )
    assert fits(part, block) == any_way


def test_two_parts_come_out_of_a_block_that_is_the_saw_s_cut_longer() -> None:
    part = (0.2, 0.1, 0.05)
    assert both_fit(part, part, (0.2, 0.1, 0.1 + SAW))
    assert not both_fit(part, part, (0.2, 0.1, 0.1 + 0.9 * SAW))


def test_takes_the_cheapest_and_not_the_same_block_twice() -> None:
    blocks = [
        Block("dear", (0.3, 0.2, 0.06), 90.0),
        Block("cheap", (0.3, 0.2, 0.07), 50.0),
    ]
    part = (0.29, 0.19, 0.05)
    cut = cut_from([part, part], blocks)
    assert sorted(cut.blocks) == [0, 1]  # type: ignore[type-var]
    assert cut.price == 140.0
    assert cut_from([part], blocks).blocks == (1,)


def test_both_halves_come_out_of_one_block_where_that_is_cheaper() -> None:
    blocks = [Block("tall", (0.3, 0.2, 0.12), 100.0), Block("flat", (0.3, 0.2, 0.06), 70.0),
              Block("flat", (0.3, 0.2, 0.06), 70.0)]  # fmt: skip
    part = (0.29, 0.19, 0.05)
    assert cut_from([part, part], blocks).blocks == (0, 0)


def test_says_what_has_to_be_bought_where_nothing_fits() -> None:
    part = (0.301, 0.19, 0.0502)
    cut = cut_from([part], [Block("short", (0.3, 0.2, 0.06), 10.0)])
    assert cut.blocks == (None,)
    assert to_buy(part) == pytest.approx((0.305, 0.19, 0.055), abs=1e-12)


@pytest.mark.parametrize(
    ("part", "fit", "turned"),
    [
        ((0.48, 0.28, 0.10), True, False),
        ((0.28, 0.48, 0.10), True, True),  # across the table
        ((0.49, 0.28, 0.10), False, False),  # the cutter's diameter is missing
        ((0.48, 0.28, 0.17), False, False),  # fixture, part and tool under the nose
    ],
)
def test_a_machine_holds_part_cutter_and_tool(
    part: tuple[float, float, float], fit: bool, turned: bool
) -> None:
    held = held_by(part, (0.50, 0.30, 0.30), cutter=0.02, fixture=0.04, tool=0.10, daylight=0.30)
    assert (held.fits, held.turned) == (fit, turned)


def test_a_part_higher_than_the_travel_does_not_fit_under_any_daylight() -> None:
    held = held_by(
        (0.1, 0.1, 0.31), (0.5, 0.3, 0.3), cutter=0.02, fixture=0.0, tool=0.1, daylight=2.0
    )
    assert not held.fits
