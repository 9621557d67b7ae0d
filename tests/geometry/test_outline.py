# SPDX-License-Identifier: Apache-2.0
"""The outermost points against scipy's hull (the qhull library)."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from sumpwright.geometry.outline import outermost


def test_a_square_with_points_on_its_sides_has_four_corners() -> None:
    points = [[0, 0], [1, 0], [2, 0], [2, 2], [0, 2], [1, 1], [0, 1], [0, 0]]
    corners = np.array(points)[outermost(points)]
    np.testing.assert_array_equal(corners, [[0, 0], [2, 0], [2, 2], [0, 2]])


def test_one_point_and_a_line_are_their_own_ends() -> None:
    assert outermost([[3.0, 4.0]]).tolist() == [0]
    assert sorted(outermost([[1.0, 1.0], [0.0, 0.0], [2.0, 2.0]]).tolist()) == [1, 2]


@given(st.integers(0, 2**31), st.integers(4, 60))
def test_reaches_as_far_as_the_hull_of_another_library(seed: int, count: int) -> None:
    rng = np.random.default_rng(seed)
    points = rng.normal(size=(count, 2))
    ways = rng.normal(size=(20, 2))
    ours, theirs = points[outermost(points)], points[ConvexHull(points).vertices]
    assert len(ours) == len(theirs)
    np.testing.assert_array_equal((ways @ ours.T).max(axis=1), (ways @ theirs.T).max(axis=1))
