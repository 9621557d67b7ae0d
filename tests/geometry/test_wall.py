# SPDX-License-Identifier: Apache-2.0
"""The cavity left inside an outside by an even wall, against closed forms."""

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.cavity import rail_opening_area
from sumpwright.geometry.edge import is_closed
from sumpwright.geometry.inside import SkinTree
from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.plane_cut import cap_of_top
from sumpwright.geometry.wall import flange_thickness, from_outside
from tests.geometry.bodies import box, icosphere, prism, prismoid, regular_outline, upright

WALL = 0.004
ARC = (1.0 - np.pi / 4.0) * WALL**2
"""What a round of radius WALL leaves of its square corner."""


def test_box_less_its_wall() -> None:
    cavity = from_outside(box([0, 0, -0.1], [0.4, 0.2, 0.0]), WALL)
    assert cavity.volume == pytest.approx(0.392 * 0.192 * 0.096, rel=1e-9)
    assert rail_opening_area(cavity) == pytest.approx(0.392 * 0.192, rel=1e-9)
    assert is_closed(cavity)


def test_tapered_pan_less_its_wall() -> None:
    # Each tapered side moves in by wall / cos(taper) along the level, the floor up by the wall
    bottom, top, depth = np.array([0.24, 0.14]), np.array([0.3, 0.2]), 0.08
    outside = prismoid(tuple(bottom), tuple(top), depth).moved(np.eye(3), [0, 0, -depth])
    taper = 0.03 / depth
    inward = 2 * WALL * np.sqrt(1 + taper**2)
    floor, rail = bottom + 2 * WALL * taper - inward, top - inward
    middle = (floor + rail) / 2
    volume = (depth - WALL) * (floor.prod() + 4 * middle.prod() + rail.prod()) / 6
    assert from_outside(outside, WALL).volume == pytest.approx(volume, rel=1e-9)


def test_pan_that_widens_below_the_rail_less_its_wall() -> None:
    # The rail edge is re-entrant once the skin goes on straight up: at the rail the wall is square
    # to that, below it square to the side, with a round of radius WALL between
    outside = prism([[-0.15, -0.08], [0.15, -0.08], [0.12, 0.0], [-0.12, 0.0]], 0.2)
    t = np.arctan2(0.03, 0.08)
    cos, sin = np.cos(t), np.sin(t)
    foot = -WALL * sin  # where round and offset side meet: x = 0.12 - WALL cos t
    side = 0.12 - WALL * cos + np.array([0.0, np.tan(t) * (0.08 - WALL + foot)])
    below = (side[0] + side[1]) * (0.08 - WALL + foot)
    sector = 0.5 * WALL**2 * (t + sin * cos)  # of the disc round the rail edge, between the levels
    section = below + 2 * (0.12 * -foot - sector)
    volume = section * (0.2 - 2 * WALL)
    short = 2 * 0.5 * WALL**2 * (t - 3 * np.sin(t / 3)) * (0.2 - 2 * WALL)  # three chords a side
    cavity = from_outside(outside, WALL)
    assert cavity.volume == pytest.approx(volume + short, rel=1e-9)
    assert short < 2e-5 * volume


def test_faceted_cylinder_less_its_wall() -> None:
    sides, depth = 48, 0.1
    outside = upright(prism(regular_outline(sides, 0.1), depth)).moved(np.eye(3), [0, 0, -depth])
    outside = outside if outside.volume > 0 else outside.flipped()
    inner = 0.1 * np.cos(np.pi / sides) - WALL
    volume = sides * inner**2 * np.tan(np.pi / sides) * (outside.bounds[1, 2] + depth - WALL)
    cavity = from_outside(outside, WALL, outside.bounds[1, 2])
    # solids of the boolean library are snapped within a nanometre or so: 1e-9 m x 0.1 m^2 of skin
    assert cavity.volume == pytest.approx(volume, abs=1e-9 * 0.1)


def test_an_inside_corner_gets_a_round_of_the_wall() -> None:
    # L-shaped in plan: the one re-entrant corner is rounded, the five others stay sharp
    outline = [[0, 0], [0.3, 0], [0.3, 0.1], [0.1, 0.1], [0.1, 0.3], [0, 0.3]]
    outside = prism(outline, 0.1).moved([[1, 0, 0], [0, 0, -1], [0, 1, 0]], [0, 0, 0])
    top = outside.bounds[1, 2]
    plan = (0.3 - 2 * WALL) * (0.1 - 2 * WALL) + (0.1 - 2 * WALL) * 0.2 + ARC
    cavity = from_outside(outside, WALL, top)
    # nine chords of 10 degrees for the quarter circle
    short = 0.5 * WALL**2 * (np.pi / 2 - 9 * np.sin(np.pi / 18))
    assert cavity.volume == pytest.approx((plan + short) * (0.1 - WALL), rel=1e-9)


def _flanged() -> Mesh:
    """A box 400 x 200 x 100 mm with a flange 8 mm thick and 20 mm wide, as one skin."""
    from manifold3d import Manifold

    body = Manifold.cube((0.4, 0.2, 0.1)).translate((0, 0, -0.1))
    rail = Manifold.cube((0.44, 0.24, 0.008)).translate((-0.02, -0.02, -0.008))
    raw = (body + rail).to_mesh64()
    return Mesh(np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts, dtype=np.int64))


def test_a_flange_is_measured_and_counts_as_solid() -> None:
    outside = _flanged()
    flange = flange_thickness(outside)
    assert flange == pytest.approx(0.008, rel=1e-12)
    cavity = from_outside(outside, WALL, flange=flange)
    assert cavity.volume == pytest.approx(0.392 * 0.192 * 0.096, rel=1e-9)
    assert cavity.bounds[1, 2] == pytest.approx(0.0, abs=1e-15)
    assert is_closed(cavity)


def test_a_flange_left_out_counts_oil_above_its_ledge() -> None:
    # why the flange must be given: the ledge of 4 mm over it reads as 51 mL here
    ledge = 0.004 * (0.432 * 0.232 - 0.392 * 0.192) - ARC * 2 * (0.392 + 0.192)
    cavity = from_outside(_flanged(), WALL)
    assert cavity.volume > 0.392 * 0.192 * 0.096 + 0.9 * ledge


def test_a_pan_without_a_flange_has_none() -> None:
    assert flange_thickness(box([0, 0, -0.1], [0.4, 0.2, 0.0])) == 0.0


def test_a_post_that_stands_free_in_the_cavity_stays_out_of_it() -> None:
    # a void inside the outside's metal, with a wall round it: 20 mm cube of air, WALL all round
    void = box([0.1, 0.1, -0.06], [0.12, 0.12, -0.04]).flipped()
    cavity = from_outside(joined([box([0, 0, -0.1], [0.4, 0.2, 0.0]), void]), WALL)
    solid = 0.02**3 + 6 * 0.02**2 * WALL + 3 * np.pi * WALL**2 * 0.02 + 4 / 3 * np.pi * WALL**3
    room = 0.392 * 0.192 * 0.096
    # Steiner's formula for a box grown by a ball; chords of the rounds fall short by 1 mm^3 a bit
    assert cavity.volume == pytest.approx(room - solid, abs=0.02 * (solid - 0.02**3))
    assert cavity.volume >= room - solid


def test_no_point_of_the_cavity_is_nearer_than_the_wall() -> None:
    v = icosphere(3).vertices
    squarish = np.sign(v) * np.sqrt(np.abs(v)) * [0.25, 0.15, 0.08]
    outside = Mesh(squarish, icosphere(3).faces)
    cavity = from_outside(outside, 0.003)
    assert is_closed(cavity)
    skin = outside.faces[(outside.corners[:, :, 2] < 0).any(axis=1)]
    distance, _ = SkinTree(Mesh(outside.vertices, skin)).nearest(cavity.vertices)
    assert distance.min() > 0.003 * (1 - 0.004)  # chords of re-entrant rounds, as documented
    sides = cavity.faces[~cap_of_top(cavity, 1e-9)]
    middles, _ = SkinTree(Mesh(outside.vertices, skin)).nearest(cavity.vertices[np.unique(sides)])
    assert np.median(middles) < 0.003 * 1.05  # corners of facets lie a little further in


def test_a_pocket_that_the_wall_cuts_off_is_left_solid() -> None:
    # Two wells joined by a neck 6 mm wide: a 4 mm wall fills the neck; the second well is 20 mm
    # below the rail, so no oil can come to it
    outline = [
        [0, -0.1], [0.1, -0.1], [0.1, -0.053], [0.15, -0.053], [0.15, -0.1], [0.25, -0.1],
        [0.25, -0.02], [0.15, -0.02], [0.15, -0.047], [0.1, -0.047], [0.1, 0.0], [0, 0.0],
    ]  # fmt: skip
    cavity = from_outside(prism(outline, 0.2), WALL)
    # what stays of the neck is the notch between the rounds about its corners, 3 mm off its axis
    notch = 2 * 0.003 * WALL - 0.003 * np.sqrt(WALL**2 - 0.003**2) - WALL**2 * np.arcsin(0.75)
    chords = 0.004 * WALL  # rounds fall short by this at most, as documented
    assert cavity.bounds[1, 0] == pytest.approx(0.1 - np.sqrt(WALL**2 - 0.003**2), abs=2 * chords)
    volume = (0.092 * 0.096 + notch) * 0.192
    assert cavity.volume == pytest.approx(volume, abs=chords * 0.006 * 0.192)


def test_refuses_a_wall_that_fills_the_pan() -> None:
    with pytest.raises(InputError, match="GEO-256"):
        from_outside(box([0, 0, -0.1], [0.4, 0.2, 0.0]), 0.11)


def test_refuses_an_outside_below_the_rail() -> None:
    with pytest.raises(InputError, match="GEO-253"):
        from_outside(box([0, 0, -0.1], [0.4, 0.2, -0.01]), WALL)
