# SPDX-License-Identifier: Apache-2.0
"""Data tables say where they come from, and guards say what is wrong."""

from importlib.resources import files

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.oil.table import not_negative, positive, rows, within

TABLES = sorted(
    p.name for p in files("sumpwright.oil").joinpath("data").iterdir() if p.name.endswith(".csv")
)


def test_there_are_tables() -> None:
    assert {"sae_j300.csv", "astm_d2270.csv", "typical_oil.csv"} <= set(TABLES)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_states_its_source_on_the_first_line(name: str) -> None:
    text = files("sumpwright.oil").joinpath("data", name).read_text(encoding="utf-8")
    assert text.startswith("# Source: [")


@pytest.mark.parametrize("name", TABLES)
def test_every_row_of_a_table_is_full(name: str) -> None:
    table = rows(name.removesuffix(".csv"))
    assert len(table) > 5
    assert all(None not in row and None not in row.values() for row in table)


def test_within_shows_the_value_farthest_out_in_the_unit_asked_for() -> None:
    with pytest.raises(RangeError, match="depth 90 mm is outside 10 to 50 mm"):
        within([0.02, 0.09, 0.001], 0.01, 0.05, "depth", "mm", 1e3)
    with pytest.raises(RangeError, match="depth nan mm"):
        within([0.02, np.nan], 0.01, 0.05, "depth", "mm", 1e3)
    np.testing.assert_array_equal(within([0.01, 0.05], 0.01, 0.05, "depth", "mm"), [0.01, 0.05])


def test_signs_are_guarded() -> None:
    assert float(not_negative(0.0, "flow", "m^3/s")) == 0.0
    for value in (0.0, -1.0, np.nan, np.inf):
        with pytest.raises(RangeError, match="gravity must be above 0"):
            positive(value, "gravity", "m/s^2")
    for value in (-1.0, np.nan, np.inf):
        with pytest.raises(RangeError, match=r"flow must be 0 m\^3/s or more"):
            not_negative(value, "flow", "m^3/s")
