# SPDX-License-Identifier: Apache-2.0
"""Many solids at once against what geometry gives, and against one by one."""

import math

import pytest

from sumpwright.errors import SolveError
from sumpwright.geometry.cad_many import fused_many, less_many
from sumpwright.geometry.cad_measure import area, volume
from sumpwright.geometry.cad_solid import box, less, rod

PLATE = ([0, 0, 0], [0.1, 0.06, 0.01])


def drills() -> list[object]:
    return [rod([x, 0.03, -0.001], [x, 0.03, 0.011], 0.004) for x in (0.02, 0.05, 0.08)]


def test_three_holes_are_drilled_in_one_go() -> None:
    drilled = less_many(box(*PLATE), drills())
    # [closed-form] each takes two discs of the faces and adds its wall
    assert volume(drilled) == pytest.approx(0.1 * 0.06 * 0.01 - 3 * math.pi * 4e-3**2 * 0.01)
    skin = 2 * (0.1 * 0.06 + 0.1 * 0.01 + 0.06 * 0.01)
    assert area(drilled) == pytest.approx(skin + 3 * math.pi * 8e-3 * (0.01 - 4e-3))
    assert volume(drilled) == pytest.approx(volume(less(box(*PLATE), drills())), rel=1e-12)


def test_nothing_to_cut_leaves_the_solid_as_it_is() -> None:
    plate = box(*PLATE)
    assert less_many(plate, []) is plate


def test_a_cut_into_two_is_refused() -> None:
    with pytest.raises(SolveError, match="2 came out of the CAD kernel"):
        less_many(box(*PLATE), [box([0.04, -1, -1], [0.06, 1, 1])])


def test_boxes_in_a_row_become_one_of_six_faces() -> None:
    from OCP.TopAbs import TopAbs_ShapeEnum as Kind

    from sumpwright.geometry.cad_measure import parts

    row = [box([0.1 * k, 0, 0], [0.1 * k + 0.12, 0.06, 0.01]) for k in range(3)]
    whole = fused_many(row)
    assert volume(whole) == pytest.approx(0.32 * 0.06 * 0.01, rel=1e-12)
    assert len(parts(whole, Kind.TopAbs_FACE)) == 6  # faces in one plane are one
    assert fused_many(row[:1]) is row[0]


def test_boxes_apart_are_no_one_solid() -> None:
    with pytest.raises(SolveError, match="2 came out of the CAD kernel"):
        fused_many([box(*PLATE), box([0.2, 0, 0], [0.3, 0.06, 0.01])])
