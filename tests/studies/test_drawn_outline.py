# SPDX-License-Identifier: Apache-2.0
"""Outlines of the job against closed forms: a slot's half circle, and roundings beside it."""

import math

import pytest

from sumpwright.errors import RangeError
from sumpwright.job.profile import Corner
from sumpwright.studies.drawn_outline import drawn_profile, rounded_outline


def corners(*, radius: float | None = None) -> tuple[Corner, ...]:
    """A box of 100 x 40 mm whose right end is half a circle."""
    return (
        Corner.model_construct(at=(0.0, 0.0), radius=radius, through=None),
        Corner.model_construct(at=(0.1, 0.0), radius=None, through=None),
        Corner.model_construct(at=(0.1, 0.04), radius=None, through=(0.12, 0.02)),
        Corner.model_construct(at=(0.0, 0.04), radius=radius, through=None),
    )


def test_an_arc_goes_through_its_point() -> None:
    found = drawn_profile(corners())
    assert found.area == pytest.approx(0.1 * 0.04 + 0.5 * math.pi * 0.02**2, rel=1e-12)
    assert found.length == pytest.approx(0.24 + math.pi * 0.02, rel=1e-12)


def test_a_radius_where_a_line_meets_an_arc_is_kept() -> None:
    """[closed-form] A quarter disc; its corner of 10 mm touches the side where a circle does that
    touches one of 50 mm from within: sqrt(40^2 - 10^2) along it."""
    quarter = (
        Corner.model_construct(at=(0.0, 0.0), radius=None, through=None),
        Corner.model_construct(at=(0.05, 0.0), radius=0.01, through=None),
        Corner.model_construct(
            at=(0.0, 0.05), radius=None, through=(0.05 * math.sqrt(0.5), 0.05 * math.sqrt(0.5))
        ),
    )
    found = rounded_outline(quarter, 0.0)
    assert found.points[1] == pytest.approx((math.sqrt(0.04**2 - 0.01**2), 0.0), abs=1e-15)


def test_two_corners_at_one_place_are_named() -> None:
    twice = (*corners(), Corner.model_construct(at=(0.0, 0.0), radius=None, through=None))
    with pytest.raises(RangeError, match="corners 5 and 1 lie at the same place"):
        rounded_outline(twice, 0.01)


@pytest.mark.parametrize(("own", "usual"), [(None, 0.01), (0.01, 0.003)])
def test_corners_are_rounded_by_their_own_radius_and_a_smooth_arc_s_ends_stay(
    own: float | None, usual: float
) -> None:
    found = rounded_outline(corners(radius=own), usual)
    lost = 2.0 * (1.0 - math.pi / 4.0) * 0.01**2
    wanted = 0.1 * 0.04 + 0.5 * math.pi * 0.02**2 - lost
    assert found.area == pytest.approx(wanted, rel=1e-12)


def test_three_points_in_a_line_are_no_arc() -> None:
    flat = (*corners()[:2], Corner.model_construct(at=(0.1, 0.04), through=(0.1, 0.02)))
    with pytest.raises(RangeError, match="the arc to corner 3 has its three points in a line"):
        drawn_profile(flat)
