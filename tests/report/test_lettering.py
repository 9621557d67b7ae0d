# SPDX-License-Identifier: Apache-2.0
"""Labels keep off one another; words fit where they are put."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.report.axis import round_step, tick_text, ticks
from sumpwright.report.lettering import fitted, spread, text_width, wrapped


def test_labels_that_do_not_touch_stay_where_they_are() -> None:
    assert spread([10.0, 50.0], 20.0, 0.0, 100.0) == [10.0, 50.0]


def test_two_labels_on_one_spot_part_evenly() -> None:
    assert spread([50.0, 50.0], 20.0, 0.0, 100.0) == pytest.approx([40.0, 60.0])


def test_a_crowd_at_the_edge_is_pushed_inward() -> None:
    assert spread([99.0, 98.0, 97.0], 10.0, 0.0, 100.0) == pytest.approx([100.0, 90.0, 80.0])


@given(st.lists(st.floats(-20.0, 120.0), min_size=1, max_size=12), st.floats(1.0, 40.0))
def test_labels_are_apart_inside_and_in_order(places: list[float], apart: float) -> None:
    placed = spread(places, apart, 0.0, 100.0)
    least = min(apart, 100.0 / max(len(places) - 1, 1))
    rows = sorted(placed)
    assert all(b - a >= least - 1e-6 for a, b in pairwise(rows))  # rounding
    assert rows[0] >= -1e-6  # rounding
    assert rows[-1] <= 100.0 + 1e-6  # rounding
    order = sorted(range(len(places)), key=places.__getitem__)
    assert all(placed[a] <= placed[b] + 1e-6 for a, b in pairwise(order))


def test_letters_are_as_wide_as_the_font_says() -> None:
    # DejaVu Sans Condensed: the letter M is 1591 of 2048 units wide, from the font's own table
    assert text_width("M", 20.48) == pytest.approx(15.91, abs=0.15)  # the measure is at size 100


def test_words_are_broken_at_spaces_and_cut_only_where_they_must() -> None:
    lines = wrapped("6.2 mm to the crossmember", 14.0, 90.0)
    assert " ".join(lines) == "6.2 mm to the crossmember"
    assert all(text_width(line, 14.0) <= 90.0 for line in lines)
    assert fitted("short", 14.0, 90.0) == "short"
    cut = fitted("a very long name of a pan", 14.0, 90.0)
    assert cut.endswith("…")
    assert text_width(cut, 14.0) <= 90.0


@pytest.mark.parametrize(
    ("low", "high", "count", "expected"),
    [
        (0.0, 10.0, 5, [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]),
        (-172.0, 6.0, 7, [-150.0, -100.0, -50.0, 0.0]),
    ],
)
def test_ticks_are_round(low: float, high: float, count: int, expected: list[float]) -> None:
    assert ticks(low, high, count) == pytest.approx(expected)


def test_tick_texts_have_the_decimals_of_their_step() -> None:
    assert tick_text(-0.5, round_step(2.0, 4)) == "−0.5"
    assert tick_text(-0.0, 0.5) == "0.0"
    assert tick_text(150.0, 50.0) == "150"
