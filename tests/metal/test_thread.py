# SPDX-License-Identifier: Apache-2.0
"""Threads of small screws. Sources: [ISO-261] pitches and [ISO-273] holes, from memory where the
table says so."""

import pytest

from sumpwright.errors import RangeError
from sumpwright.metal.clearance_hole import clearance_hole
from sumpwright.metal.thread import screw_length, thread


def test_m6_has_a_pitch_of_1_mm_and_is_tapped_from_5_mm() -> None:
    screw = thread("M6")
    assert (screw.pitch, screw.clearance) == pytest.approx((1e-3, 6.6e-3))
    assert screw.drill == pytest.approx(5e-3)  # ISO 2306 tabulates 5.0 mm for M6


@pytest.mark.parametrize(("name", "drill"), [("M3", 2.5), ("M4", 3.3), ("M5", 4.2), ("M8", 6.8)])
def test_the_hole_to_tap_is_the_drill_that_handbooks_list(name: str, drill: float) -> None:
    # ISO 2306 tap drills, from memory: rounded to a tenth, M8's 6.75 to 6.8
    assert thread(name).drill == pytest.approx(1e-3 * drill, abs=0.051e-3)


@pytest.mark.parametrize("name", ["M5", "M6", "M8"])
def test_both_tables_of_clearance_holes_agree(name: str) -> None:
    assert thread(name).clearance == pytest.approx(clearance_hole(name, "medium"))


def test_a_screw_is_the_longest_that_does_not_bottom_or_the_shortest_that_reaches() -> None:
    assert screw_length(0.0075) == pytest.approx(0.006)
    assert screw_length(0.0075, at_least=True) == pytest.approx(0.008)
    assert screw_length(0.008) == screw_length(0.008, at_least=True) == pytest.approx(0.008)


def test_refuses_a_thread_that_the_table_lacks() -> None:
    with pytest.raises(RangeError, match="no thread is called 'M7'; there are M3, M4"):
        thread("M7")
