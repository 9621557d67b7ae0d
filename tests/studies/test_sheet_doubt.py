# SPDX-License-Identifier: Apache-2.0
"""Places in the words about sheet parts."""

from sumpwright.studies.sheet_doubt import place_in_flat


def test_a_place_that_rounds_to_nothing_has_no_sign() -> None:
    assert place_in_flat(-1e-6, 0.015) == "0, 15 mm (along, up)"
    assert place_in_flat(-0.0407, -1e-9) == "-41, 0 mm (along, up)"
