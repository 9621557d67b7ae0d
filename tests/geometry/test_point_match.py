# SPDX-License-Identifier: Apache-2.0
"""Which point is which: after a turn, a flip, strangers among them and some missing."""

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.geometry.point_match import point_match

# no symmetry: the middle holes of the two sides are not opposite
RAIL = 1e-3 * np.array(
    [[9, -86.5], [70, -86.5], [140, -86.5], [215, -86.5], [300, -86.5], [411, -86.5],
     [411, 0], [411, 86.5], [320, 86.5], [240, 86.5], [150, 86.5], [60, 86.5], [9, 86.5], [9, 10]]
)  # fmt: skip


def laid(points, by, flip, shift):
    c, s = math.cos(by), math.sin(by)
    return (points * [1.0, flip]) @ np.array([[c, s], [-s, c]]) + shift


@given(
    st.integers(0, 999),
    st.floats(-math.pi, math.pi),
    st.sampled_from([1.0, -1.0]),
    st.permutations(range(14)),
)
def test_finds_each_again_however_they_lie(seed, by, flip, mixed) -> None:
    noise = np.random.default_rng(seed).normal(0, 1e-4, RAIL.shape)
    found = laid(RAIL + noise, by, flip, (0.4, -0.2))[list(mixed)]
    match = point_match(RAIL, found, reach=2e-3)
    assert match is not None
    assert [mixed[k] for k in match.found] == list(match.design) == list(range(14))
    assert match.mirrored == (flip < 0)
    assert match.others == 0


@given(st.integers(0, 999))
def test_leaves_strangers_and_missing_ones_out(seed) -> None:
    rng = np.random.default_rng(seed)
    strangers = rng.uniform([0.15, -0.05], [0.25, 0.05], (4, 2))  # well inside the opening
    found = np.vstack([laid(RAIL[:11], 0.3, 1.0, (0, 0)), laid(strangers, 0.3, 1.0, (0, 0))])
    match = point_match(RAIL, found, reach=2e-3)
    assert match is not None
    assert list(match.design) == list(match.found) == list(range(11))


def test_says_that_a_symmetric_pattern_lies_more_than_one_way() -> None:
    box = np.array([[0, 0], [0.2, 0], [0.4, 0], [0.4, 0.15], [0.2, 0.15], [0, 0.15]])
    match = point_match(box, laid(box, 0.2, 1.0, (0, 0)), reach=2e-3)
    assert match is not None
    assert match.others == 3  # half a turn, and both turned over


def test_nothing_comes_of_points_that_are_another_pattern() -> None:
    other = 1e-3 * np.array([[0, 0], [13, 0], [0, 29], [31, 17]])
    assert point_match(RAIL, other, reach=1e-3) is None
    assert point_match(RAIL, RAIL[:2], reach=1e-3) is None
