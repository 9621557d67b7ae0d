# SPDX-License-Identifier: Apache-2.0
"""From the job's numbers to the kernel's, and each wrong number at its own key."""

import math
from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.pan_form import PanForm
from sumpwright.job.load import load_job
from sumpwright.studies.shape_form import pan_form, tapping_bore
from tests.studies.shape_job import shape_job


def form(folder: Path, *changes: tuple[str, str]) -> PanForm:
    """The new pan in numbers."""
    return pan_form(load_job(shape_job(folder, *changes)), "new")


def problem(folder: Path, *changes: tuple[str, str]) -> tuple[str, str, str]:
    """Code, place and what was found of the one thing that is wrong."""
    with pytest.raises(InputError) as caught:
        form(folder, *changes)
    (found,) = caught.value.problems
    return found.code, found.where.split("  ")[1], found.found


OUTLINE = "outline: [{at: [0 mm, 0 mm]}, {at: [100 mm, 0 mm]}, {at: [100 mm, 80 mm]%s}]"
BOX = "box: [0 mm, 300 mm, -100 mm, 100 mm]"


def test_each_side_of_a_box_has_its_own_draft(tmp_path: Path) -> None:
    more = ("depth: 100 mm", "drafts: [1 deg, 2 deg, 3 deg, 4 deg], depth: 100 mm")
    made = form(tmp_path, more).zones[0]
    plan = made.plan(-0.05).points
    lean = 0.05 * np.tan(np.radians([1, 2, 3, 4]))
    expected = [lean[0], 0.3 - lean[1], -0.1 + lean[2], 0.1 - lean[3]]
    found = [plan[:, 0].min(), plan[:, 0].max(), plan[:, 1].min(), plan[:, 1].max()]
    np.testing.assert_allclose(found, expected, rtol=1e-12)


@pytest.mark.parametrize("turned", [False, True])
def test_a_corners_draft_is_of_the_side_that_leads_to_it(tmp_path: Path, turned: bool) -> None:
    corners = ["{at: [0 mm, 0 mm]}", "{at: [100 mm, 0 mm], draft: 10 deg}", "{at: [0 mm, 80 mm]}"]
    if turned:  # the same outline clockwise: now the side is that to the corner at 0
        corners = [
            "{at: [0 mm, 80 mm]}",
            "{at: [100 mm, 0 mm]}",
            "{at: [0 mm, 0 mm], draft: 10 deg}",
        ]
    made = form(tmp_path, (BOX, f"outline: [{', '.join(corners)}]")).zones[0]
    plan = made.plan(-0.05).points
    assert plan[:, 1].min() == pytest.approx(0.05 * math.tan(math.radians(10.0)), rel=1e-12)
    assert plan[:, 0].min() == pytest.approx(0.0, abs=1e-15)


def test_an_arc_goes_through_its_point(tmp_path: Path) -> None:
    arc = OUTLINE % ", through: [120 mm, 40 mm]"
    made = form(tmp_path, (BOX, arc)).zones[0]
    corners = made.outline.polygon(1e-7)
    assert np.linalg.norm(corners - [0.12, 0.04], axis=1).min() < 1e-3  # between two of its chords
    assert corners[:, 0].max() == pytest.approx(0.12, abs=1e-6)


def test_depth_is_to_the_lowest_of_a_sloping_floor(tmp_path: Path) -> None:
    sloped = ("depth: 100 mm", "depth: 100 mm, slope: [10 %, 0 %]")
    made = form(tmp_path, sloped).zones[0]
    heights = made.floor.at(np.array([[0.0, 0.0], [0.3, 0.0]]))
    np.testing.assert_allclose(heights, [-0.1, -0.07], rtol=1e-12)


def test_bolt_holes_are_clearance_holes(tmp_path: Path) -> None:
    made = form(tmp_path)
    assert 2.0 * made.holes[0].radius == pytest.approx(6.6e-3)  # ISO 273 medium, M6


def test_a_hole_to_be_tapped_is_the_thread_less_its_pitch() -> None:
    assert tapping_bore("M14x1.5") == pytest.approx(12.5e-3)  # tap drill table, from memory
    assert tapping_bore("M10x1") == pytest.approx(9.0e-3)


BOW = (
    "outline: [{at: [0 mm, 0 mm]}, {at: [90 mm, 90 mm]}, {at: [90 mm, 0 mm]}, {at: [0 mm, 90 mm]}]"
)


@pytest.mark.parametrize(
    ("change", "code", "place", "words"),
    [
        ((BOX, BOW), "SHAP-502", "zones.0", "well: an outline that crosses itself at x 45.0 mm"),
        ((BOX, "box: [10 mm, 10 mm, -100 mm, 100 mm]"), "SHAP-502", "zones.0",
         "well: a box without length or width"),
        ((BOX, OUTLINE % ", through: [100 mm, 40 mm]"), "SHAP-502", "zones.0", "points in a line"),
        (("depth: 100 mm", "depth: 8 mm"), "SHAP-504", "zones.0", "a floor radius of 10 mm"),
        (("corner_radius: 10 mm", "corner_radius: 101 mm\n    floor_radius: 5 mm"),
         "SHAP-504", "zones.0", "need 202 mm of a side of 200 mm"),
        (("depth: 100 mm", "draft: 50 deg, depth: 100 mm"), "SHAP-505", "zones.0", "used up"),
        (("depth: 100 mm", "depth: 100 mm, slope: [50 %, 0 %]"),
         "SHAP-503", "zones.0", "a floor 50.0 mm over the rail"),
        (("    corner_radius", "    relief: {}\n    corner_radius"),
         "SHAP-512", "relief", "room for crank and rods, and no sweep in numbers"),
    ],
)  # fmt: skip
def test_each_wrong_number_is_named(
    tmp_path: Path, change: tuple[str, str], code: str, place: str, words: str
) -> None:
    found = problem(tmp_path, change)
    assert found[:2] == (code, f"new.shape.{place}")
    assert words in found[2]


def test_a_job_without_a_rail_has_no_flange(tmp_path: Path) -> None:
    text = (shape_job(tmp_path) / "job.yaml").read_text(encoding="utf-8")
    start, end = text.index("rail:"), text.index("oil:")
    (tmp_path / "job.yaml").write_text(text[:start] + text[end:], encoding="utf-8")
    with pytest.raises(InputError, match=r"\[SHAP-507\]"):
        pan_form(load_job(tmp_path), "new")


def test_an_edge_that_crosses_itself_is_said(tmp_path: Path) -> None:
    crossed = ("    - at: [320 mm, -120 mm]\n    - at: [320 mm, 120 mm]\n",
               "    - at: [320 mm, 120 mm]\n    - at: [320 mm, -120 mm]\n")  # fmt: skip
    found = problem(tmp_path, crossed)
    assert found[:2] == ("SHAP-507", "rail.outline")
    assert found[2].startswith("an edge that crosses itself at x 150.0 mm, y ")


BOWED = [
    ("    - at: [320 mm, -120 mm]\n", "    - {at: [320 mm, -120 mm]%s}\n"),
    ("    - at: [320 mm, 120 mm]\n", "    - {at: [320 mm, 120 mm], through: [340 mm, 0 mm]%s}\n"),
]


@pytest.mark.parametrize(("own", "rounded"), [(", radius: 0 mm", 2), ("", 4)])
def test_an_edge_with_an_arc_is_round_at_every_corner_but_where_told(
    tmp_path: Path, own: str, rounded: int
) -> None:
    edge = form(tmp_path, *((old, new % own) for old, new in BOWED)).edge
    # 340 mm by 240 mm; 240 mm chord, 20 mm high: radius (120^2 + 20^2) / 40 = 370 mm
    half = math.asin(120.0 / 370.0)
    segment = 370.0**2 * (half - math.sin(half) * math.cos(half))
    lost = 2.0 * (1.0 - 0.25 * math.pi) * 20.0**2
    if rounded == 4:
        lost += 2.0 * _cut_off(370.0, 120.0, 20.0)
    assert 1e6 * edge.area == pytest.approx(340.0 * 240.0 + segment - lost, rel=1e-12)


def _cut_off(big: float, out: float, small: float) -> float:
    """What a rounding takes of the corner between a circle and a line `out` from its middle.

    From that middle: the circle's sector and a triangle hold the corner, less a triangle and the
    rounding's own sector.
    """
    y = out - small
    x = math.sqrt((big - small) ** 2 - y * y)  # where the rounding's middle lies
    tip, touch = math.atan2(y, x), math.asin(out / big)
    corner = math.sqrt(big * big - out * out)
    whole = 0.5 * big * big * (touch - tip) + 0.5 * out * (corner - x)
    return whole - 0.5 * x * small - 0.5 * small * small * (0.5 * math.pi - tip)
