# SPDX-License-Identifier: Apache-2.0
"""General tolerances against the tables of ISO 2768-1 and ISO 2768-2, both from memory."""

import pytest

from sumpwright.errors import RangeError
from sumpwright.metal.tolerance import general_flatness, general_tolerance


@pytest.mark.parametrize(
    ("size", "grade", "wanted"),
    [(6, "m", 0.1), (6.1, "m", 0.2), (30, "m", 0.2), (120, "m", 0.3), (400, "m", 0.5),
     (420, "m", 0.8), (100, "f", 0.15), (100, "c", 0.8), (0.5, "m", 0.1)],
)  # fmt: skip
def test_sizes(size: float, grade, wanted: float) -> None:
    assert general_tolerance(1e-3 * size, grade) == pytest.approx(1e-3 * wanted, rel=1e-12)


@pytest.mark.parametrize(("length", "grade", "wanted"), [(420, "K", 0.6), (200, "H", 0.2)])
def test_flatness(length: float, grade, wanted: float) -> None:
    assert general_flatness(1e-3 * length, grade) == pytest.approx(1e-3 * wanted, rel=1e-12)


@pytest.mark.parametrize("size", [0.0, 0.4e-3, 1.2])
def test_says_where_the_table_ends(size: float) -> None:
    with pytest.raises(RangeError, match="no general tolerance"):
        general_tolerance(size)
