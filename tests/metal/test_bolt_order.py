# SPDX-License-Identifier: Apache-2.0
"""The order of bolts: every hole once, from the middle outward, crosswise."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.metal.bolt_order import bolt_order

RING = [[x, y] for y in (0.0, 0.2) for x in (0.0, 0.1, 0.2, 0.3, 0.4)]
PLACE = st.tuples(st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))


def test_starts_in_the_middle_goes_across_and_ends_in_the_corners() -> None:
    # common practice, no source: middle pair first, corners last
    order = bolt_order(RING)
    assert {order[0], order[1]} == {2, 7}
    assert {*order[-4:]} == {0, 4, 5, 9}
    assert order[-4:] == (0, 9, 4, 5)


@given(st.lists(PLACE, max_size=24))
def test_every_hole_has_its_turn_once(holes: list[tuple[float, float]]) -> None:
    assert sorted(bolt_order(np.array(holes).reshape(-1, 2))) == list(range(len(holes)))


def test_moving_the_pattern_changes_no_order() -> None:
    assert bolt_order(np.add(RING, [3.0, -2.0])) == bolt_order(RING)
