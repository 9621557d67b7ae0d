# SPDX-License-Identifier: Apache-2.0
"""Holes in order round a flange, also where its edge bends inward."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.geometry.ring_order import ring_order

L_SHAPE = np.array(
    [
        [0, 0],
        [1, 0],
        [2, 0],
        [3, 0],
        [3, 1],
        [2, 1],
        [1, 1],
        [1, 2],
        [1, 3],
        [0, 3],
        [0, 2],
        [0, 1],
    ],
    dtype=float,
)


@given(st.permutations(range(12)))
def test_an_l_of_holes_keeps_its_neighbours(mixed) -> None:
    # every step of the true way round is 1, and no way round 12 points of a unit grid is shorter
    p = L_SHAPE[list(mixed)]
    tour = p[ring_order(p)]
    assert np.allclose(np.linalg.norm(tour - np.roll(tour, 1, axis=0), axis=1), 1.0)
    x, y = tour.T
    assert float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) > 0.0


@given(st.integers(0, 9))
def test_starts_at_the_first_and_has_each_once(n) -> None:
    p = np.random.default_rng(n).uniform(0, 1, (n, 2))
    order = ring_order(p)
    assert sorted(order) == list(range(n))
    assert n == 0 or order[0] == 0
