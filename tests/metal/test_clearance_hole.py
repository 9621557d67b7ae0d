# SPDX-License-Identifier: Apache-2.0
"""Clearance holes and position tolerances against the standards' own tables and formulas."""

import pytest

from sumpwright.errors import RangeError
from sumpwright.metal.clearance_hole import (
    bolt_diameter,
    clearance_hole,
    fixed_tolerance,
    floating_tolerance,
    position_error,
    screw_through,
)
from sumpwright.metal.thread import thread

# [ISO-273] fine, medium, coarse, mm, read in a public table
TABLE = {
    "M2": (2.2, 2.4, 2.6),
    "M2.5": (2.7, 2.9, 3.1),
    "M3": (3.2, 3.4, 3.6),
    "M4": (4.3, 4.5, 4.8),
    "M5": (5.3, 5.5, 5.8),
    "M6": (6.4, 6.6, 7.0),
    "M8": (8.4, 9.0, 10.0),
    "M10": (10.5, 11.0, 12.0),
    "M12": (13.0, 13.5, 14.5),
}


@pytest.mark.parametrize("name", TABLE)
def test_holes_are_those_of_the_table(name: str) -> None:
    found = [1e3 * clearance_hole(name, fit) for fit in ("fine", "medium", "coarse")]
    assert found == pytest.approx(TABLE[name], rel=1e-12)


@pytest.mark.parametrize("name", ["M3", "M4", "M5", "M6", "M8"])
def test_the_table_of_threads_has_the_same_medium_hole(name: str) -> None:
    assert clearance_hole(name, "medium") == thread(name).clearance
    assert bolt_diameter(name) == thread(name).diameter


@pytest.mark.parametrize("name", TABLE)
def test_every_hole_of_a_row_is_that_screw_s(name: str) -> None:
    assert {screw_through(1e-3 * hole) for hole in TABLE[name]} == {name}


@pytest.mark.parametrize("hole", [2.1e-3, 2.65e-3, 15e-3])
def test_a_hole_between_two_rows_is_no_screw_s(hole: float) -> None:
    with pytest.raises(RangeError, match="no screw's clearance hole"):
        screw_through(hole)


def test_floating_fasteners_share_all_the_clearance() -> None:
    # [ASME-Y14.5] appendix B, H = F + T: M8 in 9.0 leaves 1.0
    assert floating_tolerance(9.0e-3, bolt_diameter("M8")) == pytest.approx(1.0e-3, rel=1e-9)


def test_fixed_fasteners_part_it() -> None:
    # [ASME-Y14.5] appendix B, H = F + T1 + T2: M6 in 6.6 leaves 0.3 each; a thread within 0.2
    # leaves 0.4
    assert fixed_tolerance(6.6e-3, bolt_diameter("M6")) == pytest.approx(0.3e-3, rel=1e-9)
    assert fixed_tolerance(6.6e-3, 6e-3, 0.2e-3) == pytest.approx(0.4e-3, rel=1e-9)


def test_position_counts_twice_the_distance() -> None:
    # [ASME-Y14.5]: 0.12 and 0.09 off make a position of 0.3
    assert position_error([[0.12e-3, 0.09e-3]]) == pytest.approx([0.3e-3], rel=1e-12)


def test_refuses_what_the_table_lacks() -> None:
    with pytest.raises(RangeError, match="no clearance hole for 'M7'"):
        clearance_hole("M7", "medium")
    with pytest.raises(RangeError, match="no fit is called 'loose'"):
        clearance_hole("M6", "loose")
