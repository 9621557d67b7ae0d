# SPDX-License-Identifier: Apache-2.0
"""Tabs laid out flat and folded back. Closed forms; limits are common practice, no source."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from sumpwright.errors import RangeError
from sumpwright.metal.bend import deduction
from sumpwright.metal.flat_pattern_check import doubts
from sumpwright.metal.flat_pattern_edge import straight_edge
from sumpwright.metal.flat_pattern_tab import TabSpec, developed, seated
from sumpwright.metal.fold import folded
from sumpwright.metal.fold_clash import clash

MM = 1e-3
SHEET = Polygon([(0.0, 0.0), (0.1, 0.0), (0.1, 0.05), (0.0, 0.06)])  # the top slopes
TAB = TabSpec(
    name="foot", edge="bottom", at=0.05, width=0.03, flange=0.012, up=True,
    angle=math.radians(90.0), radius=1 * MM, k=0.4, k_from="table", relief=1 * MM,
)  # fmt: skip


def pattern_of(*specs: TabSpec, sheet: Polygon = SHEET):
    tabs = [seated(sheet, spec, MM) for spec in specs]
    return developed(sheet, tabs, MM)


@pytest.mark.parametrize("side", ["bottom", "top", "start", "end"])
def test_finds_the_edge_that_is_meant(side: str) -> None:
    edge = straight_edge(SHEET, side, 0.03)
    assert (
        edge.out[0 if side in ("start", "end") else 1] * (1 if side in ("top", "end") else -1) > 0
    )


@given(
    st.floats(20.0, 140.0), st.floats(0.0, 3.0), st.booleans(), st.sampled_from(["bottom", "top"])
)
def test_a_folded_tab_is_where_it_was_asked_for(turned, radius, up, edge) -> None:
    angle = math.radians(turned)
    spec = replace(TAB, edge=edge, angle=angle, radius=radius * MM, up=up, flange=0.02)
    tab = seated(SHEET, spec, MM)
    pattern = developed(SHEET, [tab], MM)
    outer = -0.5 * MM if up else 0.5 * MM
    far = tab.bend.line.mean(axis=0) + tab.reach * tab.edge.out
    (tip,) = folded(pattern).placed([far - 1e-9 * tab.edge.out], outer)
    # from the edge of the flat sheet, on its outer face, the flange goes out at the bend's angle
    way = math.cos(angle) * np.append(tab.edge.out, 0.0)
    way[2] = math.sin(angle) * (1.0 if up else -1.0)
    wanted = np.append(tab.middle, outer) + spec.flange * way
    np.testing.assert_allclose(tip, wanted, atol=1e-8)


def test_what_is_no_tab_stays_the_panel() -> None:
    pattern = pattern_of(TAB, replace(TAB, name="head", edge="top", at=0.05, up=False))
    ring = folded(pattern).faces[0].polygon.exterior
    edge = SHEET.exterior
    for x, y in np.asarray(ring.coords):
        at = Point(x, y)
        beside = any(abs(x - 0.05) < 0.5 * w for w in (0.037,))  # a tab and its slits
        assert beside or edge.distance(at) < 1e-8


def test_the_flat_is_as_long_as_the_deduction_says() -> None:
    pattern = pattern_of(TAB)
    low, high = pattern.outline.polygon().min(axis=0)[1], 0.06
    assert high - low == pytest.approx(0.06 + 0.012 - deduction(TAB.angle, MM, MM, 0.4), abs=1e-9)


def test_slits_are_as_wide_as_asked_and_go_past_the_bend() -> None:
    pattern = pattern_of(TAB)
    # just outside the edge beside the tab there is air; under the slit's foot there is sheet
    assert not pattern.polygon.contains(Point(0.05 + 0.0155, 0.002))
    assert pattern.polygon.contains(Point(0.05 + 0.0155, 0.0027))
    line = LineString([(0.0, 0.001), (0.1, 0.001)]).intersection(pattern.polygon)
    assert 0.1 - line.length == pytest.approx(2 * MM, abs=1e-8)


def test_holes_sit_in_the_middle_of_the_flat_of_the_flange() -> None:
    pattern = pattern_of(replace(TAB, hole=3.2 * MM, holes=2))
    assert len(pattern.holes) == 2
    x = sorted(float(hole.points[:, 0].mean()) for hole in pattern.holes)
    np.testing.assert_allclose(x, [0.0425, 0.0575], atol=1e-12)


def test_says_where_the_edge_ends() -> None:
    with pytest.raises(
        RangeError, match="straight from 0 to 100 mm there; the tab reaches from 75"
    ):
        seated(SHEET, replace(TAB, at=0.09), MM)
    with pytest.raises(RangeError, match="the bottom runs from 0 to 100 mm, not to 200 mm"):
        seated(SHEET, replace(TAB, at=0.2), MM)


def test_says_when_a_flange_is_all_bend() -> None:
    with pytest.raises(RangeError, match="a flange of 2 mm is all bend"):
        seated(SHEET, replace(TAB, flange=2 * MM), MM)


def test_two_tabs_in_one_place_are_seen() -> None:
    assert pattern_of(TAB, replace(TAB, name="other", at=0.06)).overlaps
    assert not pattern_of(replace(TAB, at=0.02), replace(TAB, name="other", at=0.06)).overlaps


def test_a_tab_in_a_notch_would_lie_on_the_sheet() -> None:
    notched = SHEET.difference(Polygon([(0.03, -1.0), (0.07, -1.0), (0.07, 0.01), (0.03, 0.01)]))
    inner = replace(TAB, edge="bottom", at=0.05, width=0.02, flange=0.009)
    assert not pattern_of(inner, sheet=notched).overlaps
    # on the notch's side it is laid out across the notch into the sheet on the other side
    side = replace(TAB, edge="end", at=0.005, width=0.006, flange=0.045)
    left = Polygon([(0.0, 0.0), (0.03, 0.0), (0.03, 0.01), (0.04, 0.01), (0.04, 0.0), (0.1, 0.0),
                    (0.1, 0.05), (0.0, 0.05)])  # fmt: skip
    tab = seated(left, replace(side, edge="end", at=0.005), MM)
    assert tab.edge.start[0] == pytest.approx(0.1)  # the outermost edge, not the notch's


def test_flanges_of_two_edges_meet_in_the_corner() -> None:
    box = Polygon([(0.0, 0.0), (0.1, 0.0), (0.1, 0.06), (0.0, 0.06)])
    low = replace(TAB, width=0.1)
    right = replace(TAB, name="side", edge="end", at=0.03, width=0.06)
    found = clash(pattern_of(low, right, sheet=box))
    assert found is not None
    np.testing.assert_allclose(found.place[:2], [0.1, 0.0], atol=2 * MM)
    short = replace(right, width=0.052, at=0.034)
    assert clash(pattern_of(low, short, sheet=box)) is None


def test_warns_of_what_a_brake_does_badly() -> None:
    holed = SHEET.difference(Point(0.05, 0.006).buffer(0.0025))
    spec = replace(TAB, flange=3 * MM, radius=0.5 * MM)
    found = doubts(pattern_of(spec, sheet=holed), "steel", {"foot": spec.flange})
    assert {d.kind for d in found} == {"short", "radius", "near"}
    near = next(d for d in found if d.kind == "near")
    # hole's edge at 3.5 mm, the bend starts a setback of 1.5 mm in; 2 t + r wanted
    assert near.found == pytest.approx(2.0 * MM, abs=5e-5)
    assert near.needed == pytest.approx(2.5 * MM)
    good = replace(TAB, flange=12 * MM)
    assert doubts(pattern_of(good), "steel", {"foot": good.flange}) == ()
    along = doubts(pattern_of(good), "steel", {"foot": good.flange}, np.array([1.0, 0.0]))
    assert [d.kind for d in along] == ["grain"]
