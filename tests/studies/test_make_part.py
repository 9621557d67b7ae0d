# SPDX-License-Identifier: Apache-2.0
"""Fasteners from the rail, and the order of its bolts."""

import pytest

from sumpwright.job.rail import Rail
from sumpwright.studies.make_fastener import bolt_length


@pytest.mark.parametrize(
    ("block", "bought", "engaged"),
    # M6 through 8 mm and a washer of 1.6 mm: 1.5 d in iron wants 18.6, 2 d in aluminium 21.6 mm
    [("grey iron", 0.020, 0.0104), ("aluminium", 0.025, 0.0154)],
)
def test_a_bolt_is_the_first_on_sale_that_holds(block: str, bought: float, engaged: float) -> None:
    rail = Rail.model_validate({"thread": "M6", "block": block})
    assert bolt_length(rail, 0.008) == pytest.approx((bought, engaged))
