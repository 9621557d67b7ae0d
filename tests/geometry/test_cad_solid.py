# SPDX-License-Identifier: Apache-2.0
"""Solids of the CAD kernel against closed forms."""

import math

import numpy as np
import pytest

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_measure import bounds, volume
from sumpwright.geometry.cad_solid import box, common, fused, less, moved, prism, rod
from sumpwright.geometry.profile import circle_profile, rounded_profile

EXACT = 1e-9  # relative: what the kernel integrates over planes, cylinders and spheres


def test_a_prism_is_its_plan_times_its_height() -> None:
    plan = rounded_profile([[0, 0], [0.1, 0], [0.1, 0.06], [0, 0.06]], [0.01] * 4)
    assert volume(prism(plan, -0.02, 0.01)) == pytest.approx(plan.area * 0.03, rel=EXACT)


def test_a_rod_is_a_cylinder_whichever_way_it_lies() -> None:
    made = rod([0.01, 0.02, 0.03], [0.04, -0.02, 0.03], 0.004)
    assert volume(made) == pytest.approx(math.pi * 0.004**2 * 0.05, rel=EXACT)


def test_joined_boxes_count_their_overlap_once() -> None:
    made = fused([box([0, 0, 0], [0.1, 0.1, 0.1]), box([0.05, 0, 0], [0.2, 0.1, 0.1])])
    assert volume(made) == pytest.approx(0.2 * 0.1 * 0.1, rel=EXACT)


def test_a_drilled_box_lacks_the_drill() -> None:
    drill = prism(circle_profile([0.05, 0.05], 0.01), -0.01, 0.11)
    made = less(box([0, 0, 0], [0.1, 0.1, 0.1]), [drill])
    assert volume(made) == pytest.approx(1e-3 - math.pi * 0.01**2 * 0.1, rel=EXACT)


def test_two_crossed_rods_share_the_body_of_two_cylinders() -> None:
    # 16 r^3 / 3: Steinmetz's solid, from memory
    one, two = (rod([-0.1, 0, 0], [0.1, 0, 0], 0.02), rod([0, -0.1, 0], [0, 0.1, 0], 0.02))
    assert volume(common(one, two)) == pytest.approx(16.0 * 0.02**3 / 3.0, rel=1e-6)


def test_bodies_apart_share_nothing() -> None:
    assert common(box([0, 0, 0], [1, 1, 1]), box([2, 2, 2], [3, 3, 3])) is None


def test_bodies_apart_are_not_one() -> None:
    with pytest.raises(SolveError, match="one solid was wanted and 2 came"):
        fused([box([0, 0, 0], [1, 1, 1]), box([2, 2, 2], [3, 3, 3])])


def test_a_moved_box_lies_where_it_was_turned_and_moved() -> None:
    quarter = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    made = moved(box([0, 0, 0], [0.2, 0.1, 0.05]), quarter, [1.0, 0.0, -0.5])
    np.testing.assert_allclose(
        bounds(made), [[0.9, 0.0, -0.5], [1.0, 0.2, -0.45]], atol=2e-7
    )  # the kernel's own edge tolerance is 1e-7 m
