# SPDX-License-Identifier: Apache-2.0
"""Compartments of boxes by hand, and of rough bodies and a pan against manifold3d's own cuts."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import manifold3d as m3
import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.cad import read_step
from sumpwright.geometry.cavity import with_crankcase
from sumpwright.geometry.compartment import Compartments, compartments, oil_room
from sumpwright.geometry.compartment_watch import openings_above, ways_to_pickup
from sumpwright.geometry.edge import is_closed, welded
from sumpwright.geometry.link import Link
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Door, Opening, Panel, rectangle
from tests.geometry.bodies import box, prism, random_rotation, random_up, star

L, W, H = 0.4, 0.3, 0.1
BOX = box([0, 0, 0], [L, W, H])
EXACT = 1e-9  # relative: polygons are rounded to 1e-11 m, 1e-10 of the sides here
T = 0.002  # thickness


def wall_x(name: str, x: float, **more: object) -> Panel:
    return Panel(name, [x, 0, 0], [1, 0, 0], **more)  # type: ignore[arg-type]


def wall_y(name: str, y: float, **more: object) -> Panel:
    return Panel(name, [0, y, 0], [0, 1, 0], **more)  # type: ignore[arg-type]


def tray(name: str, z: float, **more: object) -> Panel:
    return Panel(name, [0, 0, z], [0, 0, 1], **more)  # type: ignore[arg-type]


def hole(name: str, along: float, up: float, width: float, height: float) -> Opening:
    return Opening(name, rectangle([along, up], width=width, height=height))


def sound(cavity: Mesh, found: Compartments) -> Compartments:
    """What must hold for every answer."""
    total = found.volumes.sum() + found.panel_volume + found.solid_volume
    assert total == pytest.approx(cavity.volume, rel=1e-9)
    for body in found.bodies:
        assert body.volume > 0.0
        assert is_closed(welded(body))
    for link in found.links:
        assert link.behind != link.ahead
        check_link(link)
    return found


def check_link(link: Link) -> None:
    """A link's figures are those of its polygon."""
    turn = np.cross(link.polygon - link.centroid, np.roll(link.polygon, -1, 0) - link.centroid)
    vector = 0.5 * turn.sum(axis=0)
    if link.kind != "gap":
        # 2e-12 m2: polygons are rounded to 1e-11 m all round
        np.testing.assert_allclose(vector, link.area * link.normal, rtol=1e-9, atol=2e-12)
    off = (link.polygon - link.centroid) @ link.normal
    np.testing.assert_allclose(off, 0.0, atol=1e-12)
    assert link.lowest[2] <= link.centroid[2] + 1e-12 <= link.highest[2] + 2e-12


def ways(found: Compartments) -> set[tuple[str, str, str, str, str]]:
    n = found.names
    return {(n[k.behind], n[k.ahead], k.panel, k.kind, k.opening) for k in found.links}


def test_without_panels_the_cavity_is_one_compartment() -> None:
    found = sound(BOX, compartments(BOX, []))
    assert (found.names, found.links, found.notes) == (("A",), (), ())
    assert found.volumes == pytest.approx([L * W * H], rel=1e-12)


def test_a_bare_wall_halves_a_box_and_leaves_no_way() -> None:
    found = sound(BOX, compartments(BOX, [wall_x("wall", 0.1, thickness=T)]))
    assert found.volumes == pytest.approx([(0.1 - T / 2) * W * H, (0.3 - T / 2) * W * H], rel=1e-12)
    assert found.panel_volume == pytest.approx(T * W * H, rel=1e-12)
    assert found.hints == ("rear", "front")
    assert [n.kind for n in found.notes] == ["no way out", "no way out"]


def test_a_window_leads_through_and_gives_its_metal_back() -> None:
    opening = hole("w", 0.15, 0.03, 0.05, 0.02)
    found = sound(BOX, compartments(BOX, [wall_x("wall", 0.1, thickness=T, openings=(opening,))]))
    (link,) = found.links
    assert ways(found) == {("A", "B", "wall", "window", "w")}
    assert link.area == pytest.approx(0.05 * 0.02, rel=EXACT)
    np.testing.assert_allclose(link.centroid, [0.1, 0.15, 0.03], atol=1e-11)
    assert (link.lowest[2], link.highest[2]) == pytest.approx((0.02, 0.04), abs=1e-11)
    assert found.panel_volume == pytest.approx(T * (W * H - 0.05 * 0.02), rel=EXACT)
    assert found.notes == ()


def test_a_gap_runs_along_the_wall_and_is_not_metal() -> None:
    gap = 0.001
    found = sound(BOX, compartments(BOX, [wall_x("wall", 0.1, thickness=T, gap=gap)]))
    (link,) = found.links
    assert link.kind == "gap"
    assert link.gap_length == pytest.approx(2 * (W + H), rel=EXACT)
    assert link.area == pytest.approx(gap * 2 * (W + H), rel=EXACT)
    metal = T * (W - 2 * gap) * (H - 2 * gap)
    assert found.panel_volume == pytest.approx(metal, rel=EXACT)


def test_a_gap_says_which_pieces_of_wall_it_runs_along() -> None:
    wall = wall_x("wall", 0.1, thickness=T, gap=0.001)
    (link,) = compartments(BOX, [wall]).links
    assert link.edge is not None
    runs = link.edge[:, 1] - link.edge[:, 0]
    assert np.linalg.norm(runs, axis=1).sum() == pytest.approx(link.gap_length, rel=1e-12)
    points = link.edge.reshape(-1, 3)
    np.testing.assert_allclose(points[:, 0], 0.1, atol=1e-11)
    on_wall = np.isclose(points[:, 1], [[0.0], [W]], atol=1e-11).any(axis=0)
    on_wall |= np.isclose(points[:, 2], [[0.0], [H]], atol=1e-11).any(axis=0)
    assert on_wall.all()


def test_a_panel_with_a_gap_outside_the_cavity_leaves_all_its_room() -> None:
    # nothing is left of it within the gap; an empty shape once emptied the whole pan
    beside = wall_x("beside", 2.0 * L, thickness=T, gap=1e-3)
    found = sound(BOX, compartments(BOX, [beside]))
    assert [n.kind for n in found.notes] == ["outside"]
    assert oil_room(BOX, [beside]).volume == pytest.approx(BOX.volume, rel=EXACT)


def test_the_room_for_oil_is_that_of_all_compartments_together() -> None:
    window = (hole("w", 0.15, 0.05, 0.02, 0.02),)
    panels = [wall_x("x", 0.2, thickness=T, openings=window), wall_y("y", 0.2, thickness=T)]
    solid = box([0.05, 0.05, 0.02], [0.3, 0.08, 0.04])
    room = oil_room(BOX, panels, [solid])
    parts = sound(BOX, compartments(BOX, panels, [solid]))
    assert is_closed(room)
    assert room.volume == pytest.approx(parts.volumes.sum(), rel=EXACT)
    # one body of oil: the window joins what the walls part
    assert oil_room(BOX, []).volume == pytest.approx(BOX.volume, rel=1e-12)
    with pytest.raises(RangeError, match="two panels are named 'x'"):
        oil_room(BOX, [panels[0], panels[0]])


def test_a_weir_leaves_the_way_over_it_open() -> None:
    weir = wall_x("weir", 0.25, outline=[[0, 0], [W, 0], [W, 0.06], [0, 0.04]], gap=0.001)
    found = sound(BOX, compartments(BOX, [weir]))
    over, gap = sorted(found.links, key=lambda k: k.kind, reverse=True)
    assert (over.kind, gap.kind) == ("open", "gap")
    assert over.area == pytest.approx(W * (0.06 + 0.04) / 2, rel=EXACT)
    assert over.lowest[2] == pytest.approx(0.04, abs=1e-11)
    assert over.highest[2] == pytest.approx(H, abs=1e-11)
    # a trapezium's centroid height over its lower end: moments of rectangle and triangle by hand
    rectangle_part, triangle_part = W * 0.04, W * 0.02 / 2
    z = (rectangle_part * 0.08 + triangle_part * (0.04 + 0.02 * 2 / 3)) / (W * 0.05)
    assert over.centroid[2] == pytest.approx(z, rel=EXACT)
    # the slanted top leaves the wall 1 mm further in, where the edge is looked for
    assert gap.gap_length == pytest.approx(W + 0.04 + 0.06, abs=2 * 0.001 * 0.02 / 0.3)


def test_a_weir_that_covers_too_little_is_a_rib() -> None:
    def low(share: float) -> Panel:
        return wall_x("weir", 0.25, outline=[[0, 0], [W, 0], [W, share * H], [0, share * H]],
                      thickness=T)  # fmt: skip

    assert len(compartments(BOX, [low(0.26)]).bodies) == 2
    found = sound(BOX, compartments(BOX, [low(0.24)]))
    assert found.volumes == pytest.approx([BOX.volume - T * W * 0.24 * H], rel=EXACT)
    (note,) = found.notes
    assert (note.kind, note.panel) == ("parts nothing", "weir")
    assert "covers 24 % of the face" in note.text
    assert len(compartments(BOX, [low(0.24)], least_share=0.2).bodies) == 2


def test_an_egg_crate_has_four_cells_and_crossings_are_counted_once() -> None:
    slot = hole("w", 0.07, 0.02, 0.04, 0.02)
    panels = [wall_x("x", 0.1, thickness=T, openings=(slot,)), wall_y("y", 0.2, thickness=T)]
    found = sound(BOX, compartments(BOX, panels))
    sizes = [(0.099 * 0.199), (0.099 * 0.099), (0.299 * 0.199), (0.299 * 0.099)]
    solid = np.array(sizes) * H + [T / 2 * 0.04 * 0.02, 0, T / 2 * 0.04 * 0.02, 0]
    assert found.volumes == pytest.approx(solid, rel=EXACT)
    assert found.hints == ("rear right", "rear left", "front right", "front left")
    assert ways(found) == {("A", "C", "x", "window", "w")}
    assert [n.compartment for n in found.notes if n.kind == "no way out"] == ["B", "D"]


def test_a_window_across_another_panel_leads_to_both_its_sides() -> None:
    across = hole("w", 0.2, 0.05, 0.1, 0.02)
    found = sound(BOX, compartments(BOX, [wall_x("x", 0.1, openings=(across,)), wall_y("y", 0.22)]))
    areas = {(found.names[k.behind], found.names[k.ahead]): k.area for k in found.links}
    assert areas == {
        ("A", "C"): pytest.approx(0.07 * 0.02, rel=EXACT),
        ("B", "D"): pytest.approx(0.03 * 0.02, rel=EXACT),
    }


def test_a_window_drawn_a_hair_over_another_panel_does_not_lead_there() -> None:
    over = hole("w", 0.1701, 0.05, 0.1, 0.02)  # ends 0.1 mm past the panel at y = 0.22
    found = sound(BOX, compartments(BOX, [wall_x("x", 0.1, openings=(over,)), wall_y("y", 0.22)]))
    assert ways(found) == {("A", "C", "x", "window", "w")}


def test_oil_space_that_two_thick_panels_fill_is_no_compartment() -> None:
    window = (hole("w", 0.15, 0.05, 0.02, 0.02),)
    panels = [wall_x("one", 0.2, thickness=T, openings=window), wall_x("two", 0.2005, thickness=T)]
    found = sound(BOX, compartments(BOX, panels))
    assert len(found.bodies) == 2
    assert found.links == ()
    assert "leads nowhere" in {n.kind for n in found.notes}


def test_a_panel_that_ends_on_another_parts_one_side_only() -> None:
    end = wall_x("end", 0.1, outline=rectangle([0.1, H / 2], width=0.2, height=H), thickness=T)
    found = sound(BOX, compartments(BOX, [end, wall_y("y", 0.2, thickness=T)]))
    expected = [0.099 * 0.199 * H, 0.299 * 0.199 * H, 0.4 * 0.099 * H]
    assert sorted(found.volumes) == pytest.approx(sorted(expected), rel=EXACT)
    assert {n.kind for n in found.notes} == {"no way out"}


def pickup_box(slack: float = 0.0, side: int = -1) -> list[Panel]:
    """Four panels 60 mm high round x 0.2 to 0.3, y 0.1 to 0.2; `slack` as hands draw them."""
    sheet = rectangle([0.0, 0.03], width=0.1 + slack, height=0.06)
    door = Opening("flap", rectangle([0.0, 0.02], width=0.04, height=0.02), Door(2, side))
    return [
        Panel("front", [0.3, 0.15, 0], [1, 0, 0], sheet, openings=(door,)),
        Panel("rear", [0.2, 0.15, 0], [1, 0, 0], sheet),
        Panel("left", [0.25, 0.2, 0], [0, 1, 0], sheet),
        Panel("right", [0.25, 0.1, 0], [0, 1, 0], sheet),
    ]


@pytest.mark.parametrize("slack", [0.0, 0.0004, -0.0004])
def test_a_box_round_the_pickup_is_a_compartment_open_at_the_top(slack: float) -> None:
    found = sound(BOX, compartments(BOX, pickup_box(slack)))
    assert sorted(found.volumes) == pytest.approx([0.1 * 0.1 * H, 0.11 * H], rel=EXACT)
    over = [k for k in found.links if k.kind == "open"]
    assert [k.panel for k in over] == ["front", "left", "rear", "right"]
    # hand slack of 0.4 mm each end: what is open over the edge is still the whole width
    assert [k.area for k in over] == pytest.approx([0.1 * 0.04] * 4, rel=EXACT)
    assert [k.lowest[2] for k in over] == pytest.approx([0.06] * 4, abs=1e-11)
    assert {n.kind for n in found.notes} == ({"slit"} if slack < 0 else set())


def test_a_rib_elsewhere_does_not_open_the_box() -> None:
    shelf = tray("shelf", 0.062, outline=rectangle([0.02, 0.02], width=0.04, height=0.04))
    found = sound(BOX, compartments(BOX, [*pickup_box(), shelf]))
    assert sorted(found.volumes) == pytest.approx([0.1 * 0.1 * H, 0.11 * H], rel=EXACT)
    assert [n.panel for n in found.notes] == ["shelf"]


@pytest.mark.parametrize("height", [0.03, 0.0595, 0.06, 0.062, 0.08])
def test_a_tray_elsewhere_does_not_open_the_box(height: float) -> None:
    """Its plane passes over or through the box; the tray itself ends on a wall in the rear."""
    short = rectangle([0.05, 0.15], width=0.1, height=W)
    end = wall_x("end", 0.1, outline=rectangle([0.15, height / 2], width=W, height=height))
    more = [tray("tray", height, outline=short), end]
    found = sound(BOX, compartments(BOX, [*pickup_box(), *more]))
    rear = 0.1 * W * height
    sizes = [0.1 * 0.1 * H, rear, 0.11 * H - rear]
    assert sorted(found.volumes) == pytest.approx(sorted(sizes), rel=EXACT)


def test_a_roof_over_a_weir_makes_a_room_of_it() -> None:
    roof = tray("roof", 0.06, outline=rectangle([0.1, 0.15], width=0.2, height=W))
    weir = wall_x("weir", 0.2, outline=rectangle([0.15, 0.02], width=W, height=0.04))
    found = sound(BOX, compartments(BOX, [roof, weir]))
    room = 0.2 * W * 0.06
    assert sorted(found.volumes) == pytest.approx([room, BOX.volume - room], rel=EXACT)
    (slot,) = found.links
    assert (slot.panel, slot.area) == ("weir", pytest.approx(W * 0.02, rel=EXACT))


def test_a_tray_with_slots() -> None:
    slots = tuple(hole(f"slot {k}", 0.05 + 0.1 * k, 0.15, 0.01, 0.2) for k in range(4))
    found = sound(BOX, compartments(BOX, [tray("tray", 0.07, thickness=T, openings=slots)]))
    assert found.hints == ("lower", "upper")
    assert [k.opening for k in found.links] == [f"slot {k}" for k in range(4)]
    assert [k.area for k in found.links] == pytest.approx([0.01 * 0.2] * 4, rel=EXACT)
    assert found.panel_volume == pytest.approx(T * (L * W - 4 * 0.01 * 0.2), rel=EXACT)
    low, high = found.volumes
    assert low == pytest.approx(0.07 * L * W - found.panel_volume / 2, rel=EXACT)
    assert high == pytest.approx(0.03 * L * W - found.panel_volume / 2, rel=EXACT)


def test_a_tilted_panel_cuts_a_wedge() -> None:
    # through x = 0.1 at the floor, 45 degrees: from x = 0.1 to 0.2 at the top
    panel = Panel("tilt", [0.1, 0, 0], [1, 0, -1], thickness=T)
    found = sound(BOX, compartments(BOX, [panel]))
    metal = T * np.sqrt(2) * H * W
    assert found.panel_volume == pytest.approx(metal, rel=EXACT)
    assert found.volumes[0] == pytest.approx((0.1 * H + H * H / 2) * W - metal / 2, rel=EXACT)


def test_two_panels_on_one_plane_share_its_ways() -> None:
    low = rectangle([0.15, 0.02], width=W, height=0.04)
    high = rectangle([0.15, 0.08], width=W, height=0.04)
    panels = [wall_x("low", 0.2, outline=low), wall_x("high", 0.2, outline=high)]
    found = sound(BOX, compartments(BOX, panels))
    (between,) = found.links
    assert between.area == pytest.approx(W * 0.02, rel=EXACT)
    assert (between.lowest[2], between.highest[2]) == pytest.approx((0.04, 0.06), abs=1e-11)
    turned = [panels[0], Panel("high", [0.2, 0, 0], [-1, 0, 0], high * [-1, 1])]
    again = sound(BOX, compartments(BOX, turned))
    assert again.links[0].area == pytest.approx(W * 0.02, rel=EXACT)
    both = compartments(BOX, [*panels, wall_x("mid", 0.2, outline=low + 0.01)])
    assert [n.kind for n in both.notes if n.kind == "overlap"] == ["overlap"]


def test_a_link_goes_along_its_own_panels_normal() -> None:
    slot = hole("w", -0.15, 0.03, 0.05, 0.02)
    found = sound(BOX, compartments(BOX, [Panel("p", [0.1, 0, 0], [-1, 0, 0], openings=(slot,))]))
    (link,) = found.links
    assert (found.names[link.behind], found.names[link.ahead]) == ("B", "A")


def test_a_solid_displaces_and_shortens_a_gap() -> None:
    pipe = box([0.05, 0.1, 0.04], [0.15, 0.12, 0.06])
    drowned = box([0.2, 0.1, 0.04], [0.25, 0.15, 0.06])  # touches nothing: a void in the oil
    wall = wall_x("wall", 0.1, gap=0.001, openings=(hole("w", 0.11, 0.05, 0.05, 0.05),))
    found = sound(BOX, compartments(BOX, [wall], [pipe, drowned]))
    assert found.solid_volume == pytest.approx(pipe.volume + drowned.volume, rel=1e-12)
    assert found.volumes[0] == pytest.approx(0.1 * W * H - pipe.volume / 2, rel=1e-12)
    by_kind = {k.kind: k for k in found.links}
    assert by_kind["window"].area == pytest.approx(0.05 * 0.05 - 0.02 * 0.02, rel=EXACT)
    # the pipe stands inside the window, so the panel has no edge along it
    assert by_kind["gap"].gap_length == pytest.approx(2 * (W + H), rel=EXACT)
    solid_wall = replace(wall, openings=())
    (gap,) = compartments(BOX, [solid_wall], [pipe, drowned]).links
    assert gap.gap_length == pytest.approx(2 * (W + H) + 4 * 0.02, rel=EXACT)


def ring() -> Mesh:
    """A square ring 0.3 m wide round a post 0.1 m wide, 0.1 m high."""
    outer, post = box([0, 0, 0], [0.3, 0.3, H]), box([0.1, 0.1, -1], [0.2, 0.2, 1])
    a, b = (m3.Manifold(m3.Mesh64(x.vertices.copy(), x.faces.astype(np.uint64)))
            for x in (outer, post))  # fmt: skip
    raw = (a - b).to_mesh64()
    return Mesh(np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts).astype(int))


def test_oil_that_gets_round_a_panel_is_one_compartment() -> None:
    near = rectangle([0.05, H / 2], width=0.1, height=H)
    one = sound(ring(), compartments(ring(), [wall_x("near", 0.15, outline=near)]))
    assert len(one.bodies) == 1
    assert ["oil gets round it" in n.text for n in one.notes] == [True]
    far = Panel("far", [0.15, 0.2, 0], [1, 0, 0], near)
    two = sound(ring(), compartments(ring(), [wall_x("near", 0.15, outline=near), far]))
    assert two.volumes == pytest.approx([0.04 * H, 0.04 * H], rel=1e-12)


def test_wells_that_touch_along_their_ridge_are_two() -> None:
    # floor like a W, the tray on the ridge: 2 wells below, 1 room above
    wells = prism([(0, 0.04), (0.1, 0), (0.2, 0.04), (0.3, 0), (0.4, 0.04), (0.4, H), (0, H)], W)
    found = sound(wells, compartments(wells, [tray("tray", 0.04)]))
    well = 0.2 * 0.04 / 2 * W
    assert sorted(found.volumes) == pytest.approx([well, well, L * 0.06 * W], rel=1e-12)


def test_a_tray_level_with_a_ledge() -> None:
    stepped = prism([(0, 0.04), (0.2, 0.04), (0.2, 0), (0.4, 0), (0.4, H), (0, H)], W)
    found = sound(stepped, compartments(stepped, [tray("tray", 0.04, gap=0.001)]))
    assert sorted(found.volumes) == pytest.approx([0.2 * 0.04 * W, L * 0.06 * W], rel=1e-12)
    (gap,) = found.links
    assert gap.gap_length == pytest.approx(2 * (0.2 + W), rel=EXACT)


def test_panels_that_do_nothing_are_named() -> None:
    small = rectangle([0.15, 0.05], width=0.1, height=0.06)
    window = hole("w", 0.15, 0.05, 0.01, 0.01)
    panels = [
        wall_x("far off", 1.0),
        wall_x("on the wall", L),
        wall_x("loose", 0.2, outline=small),
        Panel("beside", [0.3, 1.0, 0], [1, 0, 0], small, openings=(window,)),
    ]  # fmt: skip
    found = sound(BOX, compartments(BOX, panels, least_share=0.1))
    kinds = {(n.panel, n.kind) for n in found.notes}
    assert kinds == {
        ("far off", "outside"),
        ("beside", "outside"),
        ("on the wall", "parts nothing"),
        ("loose", "loose"),
    }
    (round_it,) = found.links
    assert round_it.area == pytest.approx(W * H - 0.1 * 0.06, rel=EXACT)


def test_a_shelf_between_panels_is_not_loose() -> None:
    shelf = Panel("shelf", [0.25, 0.15, 0.03], [0, 0, 1], rectangle([0, 0], width=0.1, height=0.1))
    found = sound(BOX, compartments(BOX, [*pickup_box(), shelf]))
    assert sorted(found.volumes) == pytest.approx([3e-4, 7e-4, 0.11 * H], rel=EXACT)
    assert "loose" not in {n.kind for n in found.notes}


def test_openings_that_are_clipped_or_lead_nowhere_are_named() -> None:
    half = hole("half", W, 0.05, 0.1, 0.02)
    rib = wall_x("rib", 0.3, outline=rectangle([0.15, 0.01], width=W, height=0.02),
                 openings=(hole("idle", 0.15, 0.01, 0.01, 0.01),))  # fmt: skip
    found = sound(BOX, compartments(BOX, [wall_x("wall", 0.1, openings=(half,)), rib]))
    kinds = {(n.panel, n.opening, n.kind) for n in found.notes}
    assert kinds == {
        ("wall", "half", "clipped"),
        ("rib", "", "parts nothing"),
        ("rib", "idle", "leads nowhere"),
    }
    assert any("50 % of it lies outside" in n.text for n in found.notes)


def test_a_door_that_empties_the_pickups_box_is_named() -> None:
    mouth = [0.25, 0.15, 0.02]
    inward = ways_to_pickup(compartments(BOX, pickup_box(side=-1)), mouth)
    assert inward == ()
    (note,) = ways_to_pickup(compartments(BOX, pickup_box(side=1)), mouth)
    assert (note.kind, note.panel, note.opening) == ("wrong way", "front", "flap")
    (nowhere,) = ways_to_pickup(compartments(BOX, []), [1.0, 0, 0])
    assert nowhere.kind == "cut off"


def test_oil_behind_doors_that_open_inward_only_is_cut_off() -> None:
    door = Opening("flap", rectangle([0.15, 0.02], width=0.04, height=0.02), Door(2, 1))
    parted = compartments(BOX, [wall_x("wall", 0.3, openings=(door,))])
    assert ways_to_pickup(parted, [0.35, 0.1, 0.01]) == ()
    notes = ways_to_pickup(parted, [0.1, 0.1, 0.01])
    assert [(n.kind, n.compartment or n.opening) for n in notes] == [
        ("wrong way", "flap"),
        ("cut off", "B"),
    ]


def test_windows_above_the_oil_are_named() -> None:
    parted = compartments(BOX, [wall_x("wall", 0.3, openings=(hole("w", 0.15, 0.05, 0.02, 0.02),))])
    assert openings_above(parted, [0, 0, 1], 0.041) == ()
    (note,) = openings_above(parted, [0, 0, 1], 0.03)
    assert note.text == "window 'w' of panel 'wall' starts 10 mm above the oil"


def test_refuses_what_cannot_be_used() -> None:
    with pytest.raises(RangeError, match="the cavity must be a closed body"):
        compartments(Mesh(BOX.vertices, BOX.faces[1:]), [])
    with pytest.raises(RangeError, match="displacing solid 2 must be a closed body"):
        compartments(BOX, [], [box([0, 0, 0], [0.1, 0.1, 0.1]), BOX.flipped()])
    crossed = rectangle([0, 0], width=1, height=1)[[0, 2, 1, 3]]
    with pytest.raises(RangeError, match="crosses itself"):
        compartments(BOX, [wall_x("p", 0.1, outline=crossed)])


def test_a_point_is_in_one_compartment() -> None:
    found = compartments(BOX, [wall_x("wall", 0.1, thickness=T)])
    assert [found.holding([x, 0.1, 0.05]) for x in (0.05, 0.1, 0.2, 0.5)] == [0, None, 1, None]


# ---- what must hold whatever the shape


def moved_panel(panel: Panel, turn: Callable[[np.ndarray], np.ndarray]) -> Panel:
    """The same sheet in a body that was turned or mirrored."""
    origin = turn(np.zeros((1, 3)))[0]
    new = Panel(panel.name, turn(panel.point[None])[0], turn(panel.normal[None])[0] - origin)

    def outline(flat: np.ndarray) -> np.ndarray:
        return new.flat(turn(panel.space(flat)))

    openings = [replace(o, outline=outline(o.outline)) for o in panel.openings]
    own = None if panel.outline is None else outline(panel.outline)
    return replace(new, outline=own, thickness=panel.thickness, gap=panel.gap,
                   openings=tuple(openings))  # fmt: skip


def fingerprint(found: Compartments) -> tuple[list[float], list[tuple[object, ...]]]:
    links = [(k.panel, k.kind, k.opening, round(k.area, 10), round(k.gap_length, 8))
             for k in found.links]  # fmt: skip
    return sorted(found.volumes), sorted(links)


def crowded() -> list[Panel]:
    thick = [replace(p, thickness=T, gap=0.001) for p in pickup_box()]
    slots = tuple(hole(f"s{k}", 0.05 + 0.1 * k, 0.15, 0.01, 0.2) for k in range(4))
    half = rectangle([0.15, 0.03], width=W, height=0.06)
    return [*thick, tray("tray", 0.08, thickness=T, openings=slots),
            wall_x("weir", 0.1, outline=half, thickness=T)]  # fmt: skip


@pytest.mark.parametrize("seed", range(10))
def test_turning_body_and_panels_together_changes_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rotation, shift = random_rotation(rng), rng.normal(size=3)
    turned = [moved_panel(p, lambda x: x @ rotation.T + shift) for p in crowded()]
    body = BOX.moved(rotation, shift)
    there, here = sound(body, compartments(body, turned)), compartments(BOX, crowded())
    volumes, links = fingerprint(there)
    assert volumes == pytest.approx(fingerprint(here)[0], rel=1e-8)  # 1e-11 m on panels 0.1 m wide
    for one, other in zip(links, fingerprint(here)[1], strict=True):
        assert one[:3] == other[:3]
        assert one[3:] == pytest.approx(other[3:], rel=1e-6)  # edges a rounding off the wall


def random_crate(rng: np.random.Generator) -> list[Panel]:
    """Panels on a coarse grid, so that planes, edges, walls and corners often coincide."""
    panels = []
    for k in range(rng.integers(2, 7)):
        normal = np.eye(3)[rng.integers(3)] * rng.choice([-1.0, 1.0])
        point = np.array([L, W, H]) * rng.integers(0, 11, 3) / 10
        width, height = 0.04 * rng.integers(1, 11), 0.02 * rng.integers(1, 11)
        outline = None if rng.random() < 0.4 else rectangle([0, 0], width=width, height=height)
        inner = rectangle([0, 0], width=0.02, height=0.01)
        panels.append(Panel(f"p{k}", point, normal, outline, rng.choice([0.0, T]),
                            rng.choice([0.0, 0.001]), (Opening("o", inner),)))  # fmt: skip
    return panels


@pytest.mark.parametrize("seed", range(25))
def test_crates_where_everything_coincides_are_sound_and_turn_with_the_body(seed: int) -> None:
    rng = np.random.default_rng(seed)
    panels, rotation = random_crate(rng), random_rotation(rng)
    here = sound(BOX, compartments(BOX, panels))
    body = BOX.moved(rotation, [0, 0, 0])
    turned = [moved_panel(p, lambda x: x @ rotation.T) for p in panels]
    there = sound(body, compartments(body, turned))
    # 1e-6: where a wall lies in a panel's plane, its section is taken 0.2 um to either side
    assert sorted(there.volumes) == pytest.approx(sorted(here.volumes), rel=1e-6)
    assert {k[2:] for k in ways(there)} == {k[2:] for k in ways(here)}


def test_a_mirrored_pan_has_mirrored_compartments() -> None:
    def mirror(x: np.ndarray) -> np.ndarray:
        return x * np.array([1.0, -1.0, 1.0])

    def swap(hint: str) -> str:
        return hint.replace("left", "L").replace("right", "left").replace("L", "right")

    body = Mesh(mirror(BOX.vertices), BOX.faces[:, ::-1])
    panels = [*crowded(), wall_y("long", 0.05, thickness=T)]
    here = sound(BOX, compartments(BOX, panels))
    there = sound(body, compartments(body, [moved_panel(p, mirror) for p in panels]))
    places = sorted(zip((swap(h) for h in there.hints), there.volumes.round(10), strict=True))
    assert places == sorted(zip(here.hints, here.volumes.round(10), strict=True))
    assert fingerprint(there)[1] == fingerprint(here)[1]


def test_the_order_of_panels_does_not_matter() -> None:
    panels = [*crowded(), wall_y("long", 0.05, thickness=T)]
    here = compartments(BOX, panels)
    for seed in range(5):
        again = compartments(BOX, [panels[k] for k in np.random.default_rng(seed).permutation(7)])
        assert np.array_equal(again.volumes, here.volumes)
        assert ways(again) == ways(here)
        assert all(np.array_equal(a.polygon, b.polygon)
                   for a, b in zip(again.links, here.links, strict=True))  # fmt: skip


def solid(mesh: Mesh) -> m3.Manifold:
    body = m3.Manifold(m3.Mesh64(mesh.vertices.copy(), mesh.faces.astype(np.uint64)))
    assert body.status() == m3.Error.NoError
    return body


def pieces_by_manifold(mesh: Mesh, panels: Sequence[Panel]) -> list[float]:
    """Volumes of what another library's cuts leave, one whole plane after the other."""
    parts = [solid(mesh)]
    for panel in panels:
        height = float(panel.normal @ panel.point)
        parts = [half for part in parts for half in part.split_by_plane(panel.normal, height)]
    return sorted(p.volume() for part in parts for p in part.decompose())


def section_by_manifold(mesh: Mesh, panel: Panel) -> float:
    axes = np.stack([*panel.basis, panel.normal])
    turned = solid(mesh.moved(axes, -axes @ panel.point))
    return float(turned.slice(0.0).area())


@pytest.mark.parametrize("seed", range(12))
def test_random_planes_through_rough_bodies_cut_as_another_library_does(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rough = star(rng, 3).scaled(100.0)  # about 10 m: no piece is small enough to be a crumb
    everywhere = Opening("all", rectangle([0, 0], width=90, height=90))
    panels = [Panel(f"p{k}", rng.uniform(-4, 4, 3), random_up(rng), openings=(everywhere,))
              for k in range(4)]  # fmt: skip
    found = sound(rough, compartments(rough, panels, slit=1e-6))
    other = [v for v in pieces_by_manifold(rough, panels) if v > 1e-9]
    assert len(other) > 8
    assert sorted(found.volumes) == pytest.approx(other, rel=1e-6, abs=1e-12)
    for panel in panels:
        area = sum(k.area for k in found.links if k.panel == panel.name)
        assert area == pytest.approx(section_by_manifold(rough, panel), rel=1e-7)


EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "demo-b" / "geometry"


@pytest.fixture(scope="module")
def pan() -> Mesh:
    return with_crankcase(read_step(EXAMPLE / "new-cavity.step").mesh, 0.070)


def pan_panels() -> list[Panel]:
    def door(up: float, side: int) -> tuple[Opening, ...]:
        return (Opening("flap", rectangle([0, up], width=0.06, height=0.02), Door(2, side)),)

    def sheet(width: float) -> np.ndarray:
        return rectangle([0, 0.045], width=width, height=0.09)

    slots = tuple(hole(f"slot {k}", 0.05 + 0.05 * k, 0, 0.01, 0.1) for k in range(6))
    return [
        Panel("front", [0.23, 0, -0.124], [1, 0, 0], sheet(0.16), T, 0.001, door(0.025, -1)),
        Panel("rear", [0.10, 0, -0.124], [1, 0, 0], sheet(0.16), T, 0.001, door(0.025, 1)),
        Panel("left", [0.165, 0.08, -0.124], [0, 1, 0], sheet(0.13), T, 0.001, door(0.04, -1)),
        Panel("right", [0.165, -0.08, -0.124], [0, 1, 0], sheet(0.13), T, 0.001, door(0.04, 1)),
        tray("tray", -0.012, thickness=0.0015, openings=slots),
        Panel("mid", [0.32, 0, 0], [1, 0, 0.2], thickness=T),
    ]


def block(low: Sequence[float], high: Sequence[float]) -> m3.Manifold:
    return solid(box(low, high))


def slabs_by_manifold() -> m3.Manifold:
    """The material of `pan_panels` without gaps, drawn with boxes."""
    t = T / 2
    walls = [
        block([x - t, -0.08, -0.124], [x + t, 0.08, -0.034])
        - block([x - 1, -0.03, -0.109], [x + 1, 0.03, -0.089])
        for x in (0.23, 0.10)
    ] + [
        block([0.1, y - t, -0.124], [0.23, y + t, -0.034])
        - block([0.135, y - 1, -0.094], [0.195, y + 1, -0.074])
        for y in (0.08, -0.08)
    ]
    flat = block([-1, -1, -0.01275], [1, 1, -0.01125])
    for k in range(6):
        x = 0.05 + 0.05 * k
        flat -= block([x - 0.005, -0.05, -1], [x + 0.005, 0.05, 1])
    lean = np.arctan2(0.2, 1.0)  # the normal is +x turned up by this
    tilted = block([-t, -1, -1], [t, 1, 1]).rotate([0, -np.degrees(lean), 0])
    return m3.Manifold.batch_boolean([*walls, flat, tilted.translate([0.32, 0, 0])], m3.OpType.Add)


def test_a_real_pan_with_a_pickup_box_a_tray_and_a_tilted_baffle(pan: Mesh) -> None:
    found = sound(pan, compartments(pan, [replace(p, gap=0.0) for p in pan_panels()]))
    assert found.hints == ("lower rear", "lower rear", "upper rear", "lower front", "upper front")
    metal = slabs_by_manifold()
    assert found.panel_volume == pytest.approx((solid(pan) ^ metal).volume(), rel=1e-7)
    home = found.holding([0.162, 0, -0.115])
    assert home == 1
    inside = solid(pan) ^ block([0.1, -0.08, -1], [0.23, 0.08, -0.012])
    assert found.volumes[home] == pytest.approx((inside - metal).volume(), rel=1e-9)
    assert [n.kind for n in ways_to_pickup(found, [0.162, 0, -0.115])] == []
    assert {n.compartment for n in found.notes} == {"D", "E"}  # the tilted baffle has no window


def test_a_gap_in_a_real_pan_displaces_that_much_less(pan: Mesh) -> None:
    tight, loose = (
        sound(pan, compartments(pan, [replace(p, gap=g) for p in pan_panels()[:4]]))
        for g in (0.0, 0.001)
    )
    gaps = [k for k in loose.links if k.kind == "gap"]
    strip = T * sum(k.area for k in gaps)
    # 10 %: edges that end in the open, corners counted twice, and walls that are not square
    assert tight.panel_volume - loose.panel_volume == pytest.approx(strip, rel=0.1)


def test_a_wall_parts_the_pan_however_high_the_crankcase_goes_on() -> None:
    """65 mm of 100 mm up to the rail; with 200 mm of crankcase it would be under a quarter."""
    tall = box([0, 0, 0], [L, W, 0.3])
    wall = wall_x("wall", 0.2, outline=[[0, 0], [W, 0], [W, 0.065], [0, 0.065]])
    assert len(compartments(tall, [wall]).bodies) == 1
    parted = compartments(tall, [wall], ceiling=H)
    assert len(parted.bodies) == 2
    np.testing.assert_allclose(parted.volumes, L * W * 0.3 / 2, rtol=EXACT)


def test_a_rib_low_under_the_rail_is_still_one() -> None:
    rib = wall_x("rib", 0.2, outline=[[0, 0], [W, 0], [W, 0.02], [0, 0.02]])
    assert len(compartments(box([0, 0, 0], [L, W, 0.3]), [rib], ceiling=H).bodies) == 1
