# SPDX-License-Identifier: Apache-2.0
"""Parts laid on sheets: nothing overlaps, nothing hangs over, nothing changes by itself."""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity, box

from sumpwright.metal.nest import Blank, nested

SIZE = (1.0, 0.5)


def placed(blanks, sheet):
    return [
        affinity.translate(
            affinity.rotate(blanks[at.blank].polygon, at.turn, origin=(0, 0), use_radians=True),
            *at.shift,
        )
        for at in sheet.laid
    ]


def test_fills_a_sheet_that_can_be_filled() -> None:
    # 4 by 2 of 235 x 235 with 10 between and around need 990 x 500
    blanks = [Blank("a", box(0, 0, 0.235, 0.235), 8)]
    nest = nested(blanks, SIZE, spacing=0.01, margin=0.01)
    assert len(nest.sheets) == 1
    assert len(nest.sheets[0].laid) == 8


def test_turns_a_part_that_fits_only_so() -> None:
    nest = nested([Blank("tall", box(0, 0, 0.3, 0.9))], SIZE, spacing=0.005, margin=0.01)
    assert nest.sheets[0].laid[0].turn in (0.5 * math.pi, 1.5 * math.pi)


def test_does_not_turn_a_part_across_its_grain() -> None:
    tall = Blank("tall", box(0, 0, 0.3, 0.9), grain=0.0)
    assert nested([tall], SIZE, spacing=0.005, margin=0.01).left_out == (0,)
    up = Blank("tall", box(0, 0, 0.3, 0.9), grain=0.5 * math.pi)
    assert nested([up], SIZE, spacing=0.005, margin=0.01).left_out == ()


def test_a_part_larger_than_the_sheet_is_left_out_and_the_rest_is_laid() -> None:
    blanks = [Blank("big", box(0, 0, 1.2, 0.2)), Blank("small", box(0, 0, 0.2, 0.2), 3)]
    nest = nested(blanks, SIZE, spacing=0.005, margin=0.01)
    assert nest.left_out == (0,)
    assert len(nest.sheets[0].laid) == 3


@example([(0.26171875, 0.25), (0.0625, 0.1875)], 0.0023949)  # a sharp tip came too near
@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.05, 0.4), st.floats(0.05, 0.4)), min_size=1, max_size=9),
    st.floats(0.0, 0.01),
)
def test_parts_keep_apart_and_on_the_sheet(sizes, spacing) -> None:
    blanks = [
        Blank(f"p{k}", Polygon([(0, 0), (w, 0), (w, 0.5 * h), (0.4 * w, 0.5 * h), (0, h)]))
        for k, (w, h) in enumerate(sizes)
    ]
    nest = nested(blanks, SIZE, spacing=spacing, margin=0.01)
    assert sum(len(s.laid) for s in nest.sheets) == len(blanks)
    for sheet in nest.sheets:
        parts = placed(blanks, sheet)
        room = box(0.01, 0.01, 0.99, 0.49).buffer(2e-7)
        for k, part in enumerate(parts):
            assert room.covers(part)
            for other in parts[:k]:
                # to the hair that parts just as far apart are let off by
                assert part.distance(other) >= spacing - 3e-6
                assert part.disjoint(other)
    assert nested(blanks, SIZE, spacing=spacing, margin=0.01) == nest


def test_a_small_part_lies_in_the_notch_of_a_large_one() -> None:
    notch = Polygon([(0, 0), (0.9, 0), (0.9, 0.45), (0.6, 0.45), (0.6, 0.1), (0.3, 0.1),
                     (0.3, 0.45), (0, 0.45)])  # fmt: skip
    blanks = [Blank("u", notch), Blank("in", box(0, 0, 0.2, 0.2))]
    nest = nested(blanks, SIZE, spacing=0.005, margin=0.01)
    assert len(nest.sheets) == 1
    np.testing.assert_allclose(sorted(at.blank for at in nest.sheets[0].laid), [0, 1])


def test_says_the_same_twice() -> None:
    blanks = [Blank("a", box(0, 0, 0.3, 0.2), 3), Blank("b", box(0, 0, 0.2, 0.3), 3)]
    one, two = (nested(blanks, SIZE, spacing=0.005, margin=0.01) for _ in range(2))
    assert one == two
    assert pytest.approx(6) == sum(len(s.laid) for s in one.sheets)
