# SPDX-License-Identifier: Apache-2.0
"""Words about prints, in the job's units: 25.4 mm to the inch, exact."""

import numpy as np
import pytest

from sumpwright.metal.print_section import Face
from sumpwright.metal.print_section_lay import Lying
from sumpwright.studies.prints_words import cut_words, lies_words

CUT = Lying("cut", np.eye(3), Face(0, 254.0, 1))


@pytest.mark.parametrize(
    ("units", "cut", "lies"),
    [
        ("metric", "y −0.2 mm", "cut at x 254.0 mm"),
        ("us", "y −0.008 in", "cut at x 10.000 in"),
    ],
)
def test_a_cut_is_where_the_job_s_units_have_it(units: str, cut: str, lies: str) -> None:
    assert cut_words(1, -0.0002, units) == cut
    assert lies_words(CUT, units) == lies
    assert lies_words(Lying("rail", np.eye(3)), units) == "rail"
