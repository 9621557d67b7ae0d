# SPDX-License-Identifier: Apache-2.0
"""How a pattern grows against the block's: worked by hand from handbook expansions.

[Metals-Handbook], from memory: aluminium 23.6e-6, steel 12.0e-6, grey iron 10.8e-6 per kelvin.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.metal.thermal_growth import growth_apart, pattern_growth


def test_aluminium_on_steel_over_400_mm_and_100_k() -> None:
    # (23.6 - 12.0)e-6 * 400 mm * 100 K
    assert growth_apart("aluminium", "steel", 0.4, 100.0) == pytest.approx(0.464e-3, rel=1e-9)


def test_an_aluminium_pan_on_an_iron_block_over_450_mm_and_100_k() -> None:
    # (23.6 - 10.8)e-6 * 450 mm * 100 K, half of it to either side of the middle
    assert growth_apart("aluminium", "grey iron", 0.45, 100.0) == pytest.approx(0.576e-3, rel=1e-9)
    moved = pattern_growth([[0.0, 0.0], [0.45, 0.0]], "aluminium", "grey iron", 100.0)
    np.testing.assert_allclose(moved, [[-0.288e-3, 0.0], [0.288e-3, 0.0]], rtol=1e-9)


@given(st.floats(-1, 1), st.floats(-1, 1), st.floats(1.0, 150.0))
def test_where_the_pattern_lies_does_not_matter(x, y, rise) -> None:
    holes = np.array([[0.0, 0.0], [0.4, 0.0], [0.4, 0.17], [0.1, 0.17]])
    here = pattern_growth(holes, "aluminium", "grey iron", rise)
    there = pattern_growth(holes + np.array([x, y]), "aluminium", "grey iron", rise)
    np.testing.assert_allclose(here, there, atol=1e-15)
    assert np.abs(here).max() == pytest.approx(0.2 * 12.8e-6 * rise, rel=1e-9)


def test_like_metals_do_not_part_and_no_hole_does_not_move() -> None:
    same = pattern_growth([[0.0, 0.0], [0.4, 0.1]], "aluminium", "aluminium 6061-T6", 100.0)
    np.testing.assert_array_equal(same, np.zeros((2, 2)))
    assert pattern_growth(np.zeros((0, 2)), "aluminium", "grey iron", 100.0).shape == (0, 2)
