# SPDX-License-Identifier: Apache-2.0
"""A long series is drawn short without losing a peak, a gap or a spell."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.report.series import near_joined, numbers, spells, thinned, unbroken

COLUMNS = 40


@given(st.integers(0, 2**32 - 1), st.integers(200, 3000), st.booleans())
def test_every_column_keeps_its_least_and_its_most(seed: int, count: int, gaps: bool) -> None:
    draw = np.random.default_rng(seed)
    time = np.sort(draw.uniform(0.0, 60.0, count))
    values = draw.normal(size=count)
    if gaps:
        values[draw.uniform(size=count) < 0.2] = np.nan
    t, _ = thinned(time, values, COLUMNS)
    assert len(t) <= 5 * COLUMNS
    assert (t[0], t[-1]) == (time[0], time[-1])
    assert set(t.tolist()) <= set(time.tolist())
    column = np.minimum((time - time[0]) / (time[-1] - time[0]) * COLUMNS, COLUMNS - 1).astype(int)
    kept = np.isin(time, t)
    for k in np.unique(column):
        whole, few = values[column == k], values[(column == k) & kept]
        if not np.isnan(whole).all():
            assert np.nanmax(few) == np.nanmax(whole)
            assert np.nanmin(few) == np.nanmin(whole)
        assert np.isnan(whole).any() == np.isnan(few).any()


def test_a_short_series_is_left_as_it_is() -> None:
    time, values = np.linspace(0.0, 1.0, 4 * COLUMNS), np.arange(4.0 * COLUMNS)
    t, v = thinned(time, values, COLUMNS)
    assert t is time
    assert v is values


def test_one_sample_of_air_in_a_million_is_still_drawn() -> None:
    values = np.zeros(1_000_000)
    values[654_321] = 0.7
    _, v = thinned(np.arange(1e6), values, 700)
    assert v.max() == 0.7


def test_a_line_stops_at_a_gap_and_goes_on_after_it() -> None:
    pieces = unbroken(np.arange(6.0), numbers([None, 1.0, 2.0, None, None, 5.0]))
    assert [p.tolist() for p in pieces] == [[[1.0, 1.0], [2.0, 2.0]], [[5.0, 5.0]]]


def test_a_spell_lasts_until_the_first_time_after_it() -> None:
    time = [0.0, 1.0, 2.0, 3.0, 4.0]
    assert spells(time, [0, 1, 1, 0, 1]) == [(1.0, 3.0), (4.0, 4.0)]
    assert spells(time, [1, 1, 1, 1, 1]) == [(0.0, 4.0)]
    assert spells(time, [0, 0, 0, 0, 0]) == []


def test_spells_too_near_to_be_told_apart_become_one_and_none_is_too_short_to_see() -> None:
    found = near_joined([(1.0, 1.0), (1.05, 1.1), (3.0, 3.0)], 0.1)
    assert found == [(1.0, pytest.approx(1.15)), (3.0, pytest.approx(3.1))]
