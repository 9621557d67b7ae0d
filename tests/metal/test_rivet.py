# SPDX-License-Identifier: Apache-2.0
"""Blind rivets by their hole, against [ISO-15979]'s sizes, from memory."""

import pytest

from sumpwright.errors import RangeError
from sumpwright.metal.rivet import rivet_for


@pytest.mark.parametrize(
    ("hole", "rivet"), [(2.5, 2.4), (3.1, 3.0), (3.3, 3.2), (3.4, 3.2), (4.1, 4.0), (4.9, 4.8)]
)
def test_a_hole_of_the_table_gets_its_own_rivet(hole: float, rivet: float) -> None:
    found = rivet_for(1e-3 * hole)
    assert 1e3 * found.diameter == pytest.approx(rivet)
    # a drill 0.1 to 0.2 mm over the rivet, as a public table says
    assert 1e3 * (found.least - found.diameter) == pytest.approx(0.1)
    assert 1e3 * (found.most - found.diameter) == pytest.approx(0.2)


def test_a_hole_between_two_rows_is_opened_for_the_next() -> None:
    found = rivet_for(2.4e-3)
    assert 1e3 * found.diameter == pytest.approx(2.4)
    assert found.least > 2.4e-3


@pytest.mark.parametrize("hole", [1.6e-3, 4.4e-3, 5.5e-3, 7e-3])
def test_a_hole_far_from_any_rivet_s_is_refused(hole: float) -> None:
    with pytest.raises(RangeError, match="no blind rivet"):
        rivet_for(hole)
