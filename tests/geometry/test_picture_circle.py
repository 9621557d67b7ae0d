# SPDX-License-Identifier: Apache-2.0
"""Circles in pictures that were drawn from known circles.

The tolerances are what this finder is good for: a tenth of a picture element on a clean scan, a
fifth on a blurred one; a noisy one says itself how bad it is. At 300 dpi a tenth is 0.008 mm.
"""

import numpy as np
import pytest

from sumpwright.geometry.picture_circle import measured_circle, picture_circles
from tests.geometry.picture import discs

RNG = np.random.default_rng(4)
ROWS = [
    (90.0 + 110.0 * i + RNG.uniform(), 90.0 + 110.0 * k + RNG.uniform())
    for i in range(6)
    for k in range(3)
]


@pytest.mark.parametrize(
    ("radius", "blur", "noise", "within"),
    [(9.0, 0.7, 0.02, 0.1), (14.0, 1.0, 0.05, 0.1), (22.0, 2.0, 0.02, 0.2), (38.0, 1.0, 0.02, 0.1)],
)
def test_finds_every_disc_to_a_part_of_an_element(radius, blur, noise, within) -> None:
    circles = [(x, y, radius) for x, y in ROWS]
    found = picture_circles(
        discs(420, 760, circles, blur=blur, noise=noise),
        smallest=0.6 * radius,
        largest=1.6 * radius,
    )
    assert len(found) == len(circles)
    for got, (x, y) in zip(found, sorted(ROWS), strict=True):
        off = min(np.hypot(got.circle.x - a, got.circle.y - b) for a, b in ROWS)
        assert off < within, (x, y)
        # a blurred edge that bends is steepest a little inside of it, by blur^2 / (2 radius)
        inward = (blur**2 + 1.0) / (2.0 * radius)
        assert got.circle.radius == pytest.approx(radius - 0.5 * inward, abs=within + 0.5 * inward)
        assert got.dark
        assert got.sure == "sure"


def test_a_noisy_picture_is_as_bad_as_its_circles_say() -> None:
    grey = discs(420, 760, [(x, y, 22.0) for x, y in ROWS], blur=2.0, noise=0.05)
    found = picture_circles(grey, smallest=14.0, largest=34.0)
    assert len(found) == len(ROWS)
    off = [
        min(
            (got.circle.x - x, got.circle.y - y)
            for x, y in ROWS
            if abs(got.circle.x - x) < 5 and abs(got.circle.y - y) < 5
        )
        for got in found
    ]
    seen = np.sqrt(np.mean(np.square(off)))
    said = np.mean([got.circle.spread for got in found])
    # 36 numbers: 12 % one sigma; `spread` is of the worse axis
    assert said == pytest.approx(seen, rel=0.4)
    assert np.abs(off).max() < 4.0 * said


def test_light_holes_are_found_as_well_as_dark_ones() -> None:
    grey = 1.0 - discs(200, 300, [(80.3, 70.6, 12.0), (200.7, 110.2, 12.0)])
    found = picture_circles(grey, smallest=8.0, largest=18.0)
    assert [(c.circle.x, c.circle.y) for c in found] == [
        pytest.approx((80.3, 70.6), abs=0.1),
        pytest.approx((200.7, 110.2), abs=0.1),
    ]
    assert not any(c.dark for c in found)


def test_squares_lines_and_other_sizes_are_no_holes() -> None:
    grey = discs(300, 400, [(80.0, 80.0, 12.0), (250.0, 90.0, 40.0)])
    grey[180:204, 60:84] = 0.15
    grey[240:246, 20:380] = 0.15
    found = picture_circles(grey, smallest=8.0, largest=18.0)
    assert len(found) == 1
    assert (found[0].circle.x, found[0].circle.y) == pytest.approx((80.0, 80.0), abs=0.1)


def test_a_hole_with_a_torn_edge_is_less_sure() -> None:
    grey = discs(120, 120, [(60.0, 60.0, 14.0)])
    grey[60:90, 44:60] = 0.15  # a quarter of the ring is gone
    torn = measured_circle(grey, 60.0, 60.0, 14.0, slack=4.0)
    assert torn is not None
    assert torn.sure != "sure"
    assert (torn.circle.x, torn.circle.y) == pytest.approx((60.0, 60.0), abs=0.3)


def test_plain_paper_has_none() -> None:
    assert picture_circles(discs(200, 300, []), smallest=8.0, largest=18.0) == ()
