# SPDX-License-Identifier: Apache-2.0
"""Sheets that meet, and what is cut so that they go together. Closed forms; bodies held exactly."""

import math

import numpy as np
import pytest
from shapely import Polygon, box

from sumpwright.errors import RangeError
from sumpwright.geometry.panel import Panel
from sumpwright.metal.fold import Face
from sumpwright.metal.fold_clash import shared_by
from sumpwright.metal.fold_piece import face_solid
from sumpwright.metal.join import seam_of
from sumpwright.metal.join_cut import cut_back, half_lap, tongued

MM = 1e-3
ACROSS = Panel("across", np.zeros(3), np.array([1.0, 0.0, 0.0]), None, 1 * MM)
ALONG = Panel("along", np.zeros(3), np.array([0.0, 1.0, 0.0]), None, 2 * MM)
WALL = box(-0.05, 0.0, 0.05, 0.06)  # both planes: across runs to y, along to -x


def solid(panel: Panel, region: Polygon):
    turn = np.column_stack([*panel.basis, panel.normal])
    return face_solid(Face(region, turn, panel.point), panel.thickness)


def test_two_that_cross_are_slit_half_way_each() -> None:
    seam = seam_of(ACROSS, WALL, ALONG, WALL)
    assert (seam.kind, seam.stands_in) == ("cross", True)
    assert seam.length == pytest.approx(0.06)
    assert shared_by([solid(ACROSS, WALL)], [solid(ALONG, WALL)]) is not None
    done = half_lap(seam, WALL, WALL, first_from_below=True, clearance=0.1 * MM)
    # the slit: half the height and its clearance, by the other's thickness and clearance
    assert WALL.area - done.first.area == pytest.approx(0.0301 * 2.2 * MM)
    assert WALL.area - done.second.area == pytest.approx(0.0301 * 1.2 * MM)
    assert shared_by([solid(ACROSS, done.first)], [solid(ALONG, done.second)]) is None


def test_a_leaning_sheet_has_a_wider_slit() -> None:
    lean = math.radians(60.0)
    other = Panel(
        "lean", np.zeros(3), np.array([math.cos(lean), math.sin(lean), 0.0]), None, 2 * MM
    )
    seam = seam_of(ACROSS, WALL, other, WALL)
    done = half_lap(seam, WALL, WALL, first_from_below=True, clearance=0.1 * MM)
    wide = (2 * MM + 1 * MM * 0.5) / math.sin(lean) + 0.2 * MM
    assert WALL.area - done.first.area == pytest.approx(0.0301 * wide)
    assert shared_by([solid(ACROSS, done.first)], [solid(other, done.second)]) is None


def test_one_that_ends_is_cut_back_to_the_face() -> None:
    ending = box(-0.05, 0.0, 0.0, 0.06)  # ends in the middle of the other's sheet
    seam = seam_of(ACROSS, WALL, ALONG, ending)
    assert (seam.kind, seam.stands_in) == ("second ends", True)
    done = cut_back(seam, WALL, ending)
    assert done.first is WALL
    assert done.second.bounds[2] == pytest.approx(-0.5 * MM)
    assert shared_by([solid(ACROSS, done.first)], [solid(ALONG, done.second)]) is None


def test_tongues_go_through_slots() -> None:
    ending = box(-0.05, 0.0, 0.0, 0.06)
    seam = seam_of(ACROSS, WALL, ALONG, ending)
    done = tongued(seam, WALL, ending, count=2, width=0.01, clearance=0.1 * MM)
    assert done.second.bounds[2] == pytest.approx(0.5 * MM)  # flush with the far face
    assert len(done.first.interiors) == 2
    assert WALL.area - done.first.area == pytest.approx(2 * 10.2 * MM * 2.2 * MM)
    assert shared_by([solid(ACROSS, done.first)], [solid(ALONG, done.second)]) is None


def test_two_that_end_in_a_corner_meet_face_to_edge() -> None:
    one, other = box(-0.05, 0.0, 0.0, 0.06), box(0.0, 0.0, 0.05, 0.06)
    seam = seam_of(ACROSS, one, ALONG, other)
    assert seam.kind == "second ends"
    done = cut_back(seam, one, other)
    assert shared_by([solid(ACROSS, done.first)], [solid(ALONG, done.second)]) is None


def test_what_does_not_meet_has_no_seam() -> None:
    assert seam_of(ACROSS, WALL, ALONG, box(0.01, 0.0, 0.05, 0.06)) is None
    assert seam_of(ACROSS, WALL, ACROSS, WALL) is None


def test_one_that_only_comes_near_can_be_joined_but_stands_in_nothing() -> None:
    seam = seam_of(ACROSS, WALL, ALONG, box(-0.05, 0.0, -0.9 * MM, 0.06))
    assert (seam.kind, seam.stands_in) == ("second ends", False)


def test_refuses_a_slot_through_a_window() -> None:
    ending = box(-0.05, 0.0, 0.0, 0.06)
    drilled = WALL.difference(box(0.5 * MM, 0.028, 3 * MM, 0.032))
    seam = seam_of(ACROSS, drilled, ALONG, ending)
    with pytest.raises(RangeError, match=r"a slot in 'across' near -?0, 30 mm .* through a window"):
        tongued(seam, drilled, ending, count=1, width=0.01, clearance=0.1 * MM)


def test_refuses_a_half_lap_over_a_window() -> None:
    windowed = WALL.difference(box(-0.01, 0.01, 0.01, 0.02))
    seam = seam_of(ACROSS, windowed, ALONG, WALL)
    with pytest.raises(RangeError, match="they cross in 2 places; a half-lap has one"):
        half_lap(seam, windowed, WALL, first_from_below=True, clearance=0.1 * MM)


def test_refuses_more_tongues_than_there_is_room_for() -> None:
    ending = box(-0.05, 0.0, 0.0, 0.06)
    seam = seam_of(ACROSS, WALL, ALONG, ending)
    with pytest.raises(RangeError, match="9 tongues of 10 mm need more than the 60 mm"):
        tongued(seam, WALL, ending, count=9, width=0.01, clearance=0.1 * MM)
