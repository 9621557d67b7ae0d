# SPDX-License-Identifier: Apache-2.0
"""Sizes in the job's units: 25.4 mm to the inch and 28.349523125 g to the ounce, both exact."""

import pytest

from sumpwright.studies.size_words import in_units, nominal, sizes, sizes_to_buy, small_mass

INCH = 0.0254


@pytest.mark.parametrize(
    ("value", "metric", "us"),
    [
        (2.50012e-3, "2.5 mm", "0.0984 in"),
        (0.0598 * INCH, "1.519 mm", "0.0598 in"),
        (0.04 * INCH, "1.016 mm", "0.04 in"),
        (48 * INCH, "1219.2 mm", "48 in"),
        (0.02, "20 mm", "0.7874 in"),
    ],
)
def test_a_nominal_size_has_no_noughts_at_its_end(value: float, metric: str, us: str) -> None:
    assert (nominal(value, "metric"), nominal(value, "us")) == (metric, us)


def test_sides_share_one_unit() -> None:
    block = (0.46, 0.34, 2.0 * INCH)
    assert sizes(block, "metric") == "460 x 340 x 50.8 mm"
    assert sizes(block, "us") == "18.11 x 13.386 x 2 in"
    assert sizes(block[1:], "metric", 0) == "340.0 x 50.8 mm"
    assert sizes(block[1:], "us", 0) == "13.386 x 2.000 in"
    assert sizes(block[1:], "us", -1) == "13.39 x 2.00 in"


def test_stock_to_buy_is_never_smaller_than_the_part() -> None:
    part = (0.056, 0.0304, 0.1 * INCH)
    assert sizes_to_buy(part, "metric") == "56 x 31 x 3 mm"
    assert sizes_to_buy(part, "us") == "2.3 x 1.2 x 0.1 in"


def test_a_light_part_does_not_weigh_nothing() -> None:
    said = [small_mass(kg, units) for kg in (2.4e-4, 0.0524) for units in ("metric", "us")]
    assert said == ["0.2 g", "0.01 oz", "52 g", "1.85 oz"]


def test_the_core_s_millimetres_become_the_job_s() -> None:
    words = "straight from -5 to 12.7 mm there, near 25.4, -50.8 mm (along, up), 3 of 1e+03 mm"
    assert in_units(words, "metric") == words
    assert in_units(words, "us") == (
        "straight from -0.1969 to 0.5 in there, near 1, -2 in (along, up), 3 of 39.3701 in"
    )
    assert in_units("8 mm^3 in 3 pieces", "us") == "8 mm^3 in 3 pieces"
