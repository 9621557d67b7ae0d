# SPDX-License-Identifier: Apache-2.0
"""Keys of printed pieces: pegs where there is room, with their wall; steps, and nothing lost."""

import math

import numpy as np
import pytest
from manifold3d import Manifold

from sumpwright.metal.print_section import pieces_of
from sumpwright.metal.print_section_joint import (
    SKIN,
    STEP_DEEP,
    Joint,
    joints_of,
    keyed,
    rod_of,
)
from sumpwright.metal.print_section_lay import laid, lying

ROOM = [220.0, 220.0, 250.0]
CLEAR = 0.2


def solid_joints() -> tuple[list, list[Joint]]:  # type: ignore[type-arg]
    pieces = pieces_of(Manifold.cube((400, 100, 50)), ROOM, [])
    return pieces, joints_of(pieces, CLEAR)


def thin_ring() -> Manifold:
    """A box without floor or roof, 3 mm walls, too high for the printer."""
    return Manifold.cube((150, 100, 400)) - Manifold.cube((144, 94, 402)).translate((3, 3, -1))


def test_a_solid_section_takes_four_of_the_thickest_pegs_well_inside() -> None:
    _, (joint,) = solid_joints()
    assert (joint.kind, joint.radius, joint.axis) == ("pegs", 4.0, 0)
    assert joint.area == pytest.approx(100 * 50)
    assert 2 <= len(joint.spots) <= 4
    for y, z in joint.spots:  # in the section's coordinates: the next axes in turn
        clear = joint.radius + CLEAR + SKIN
        assert clear - 1e-6 <= y <= 100 - clear + 1e-6
        assert clear - 1e-6 <= z <= 50 - clear + 1e-6


def test_holes_take_what_their_formula_says() -> None:
    pieces, (joint,) = solid_joints()
    bodies = keyed(pieces, [joint], CLEAR)
    # [closed-form] 48 sides in a circle of radius R: 24 R^2 sin(2 pi / 48) of area
    area = 24.0 * (joint.radius + CLEAR) ** 2 * math.sin(math.pi / 24.0)
    for piece, body in zip(pieces, bodies, strict=True):
        taken = piece.body.volume() - body.volume()
        assert taken == pytest.approx(len(joint.spots) * area * joint.depth, rel=1e-6)


def test_a_peg_goes_in_with_its_clearance_all_round() -> None:
    pieces, (joint,) = solid_joints()
    low, high = keyed(pieces, [joint], CLEAR)
    ends = [joint.place(joint.spots[0], way * (joint.depth - CLEAR)) for way in (-1.0, 1.0)]
    peg = rod_of(ends[0], ends[1], joint.radius)
    assert (peg ^ (low + high)).volume() == pytest.approx(0.0, abs=1e-9)
    # sides of 48 come nearer than the circle by 0.2 % of the radius
    assert peg.min_gap(low, 5.0) == pytest.approx(CLEAR, abs=0.01)


def test_a_wall_too_thin_for_pegs_gets_a_step() -> None:
    pieces = pieces_of(thin_ring(), ROOM, [])
    (joint,) = joints_of(pieces, CLEAR)
    assert (joint.kind, joint.axis) == ("step", 2)
    low, high = keyed(pieces, [joint], CLEAR)
    assert low.bounding_box()[5] == pytest.approx(joint.at + STEP_DEEP)
    assert (low ^ high).volume() == pytest.approx(0.0, abs=1e-9)
    # what the one gains the other loses, and the clearance round it
    whole = thin_ring().volume()
    lost = whole - low.volume() - high.volume()
    each = 2.0 * CLEAR * STEP_DEEP * 3.0 + (12.0 + 2.0 * CLEAR) * CLEAR * 3.0
    assert 0.0 < lost <= len(joint.spots) * 2.0 * each


def test_a_hair_of_a_section_stays_a_butt() -> None:
    foil = Manifold.cube((400, 30, 0.4))
    (joint,) = joints_of(pieces_of(foil, ROOM, []), CLEAR)
    assert (joint.kind, joint.spots) == ("butt", ())


def test_pegs_of_crossing_cuts_do_not_meet() -> None:
    pieces = pieces_of(Manifold.cube((400, 400, 30)), ROOM, [])
    joints = joints_of(pieces, CLEAR)
    assert len(pieces) == len(joints) == 4
    pegs = [
        rod_of(j.place(s, -j.depth), j.place(s, j.depth), j.radius + CLEAR)
        for j in joints
        for s in j.spots
    ]
    apart = [a.min_gap(b, 50.0) for k, a in enumerate(pegs) for b in pegs[:k]]
    assert min(apart) >= SKIN - 1e-6


def test_a_piece_lies_on_its_widest_cut() -> None:
    pieces = pieces_of(Manifold.cube((400, 300, 100)), ROOM, [])
    joints = joints_of(pieces, CLEAR)
    bodies = keyed(pieces, joints, CLEAR)
    for number, (piece, body) in enumerate(zip(pieces, bodies, strict=True)):
        lies = lying(number, piece, joints, np.array(ROOM), None)
        widest = max((j for j in joints if number in (j.low, j.high)), key=lambda j: j.area)
        assert lies.on == "cut"
        assert lies.face is not None
        assert (lies.face.axis, lies.face.at) == (widest.axis, widest.at)
        assert np.linalg.det(lies.turn) == pytest.approx(1.0)
        mesh = laid(body, lies.turn, 1.01)
        low = (mesh.corners[:, :, 2] < 1e-9).all(axis=1)
        down = -mesh.area_vectors[low][:, 2].sum()
        holes = 24.0 * (widest.radius + CLEAR) ** 2 * math.sin(math.pi / 24.0) * len(widest.spots)
        assert down == pytest.approx(1.01**2 * 1e-6 * (widest.area - holes), rel=1e-5)
        assert mesh.volume == pytest.approx(1.01**3 * 1e-9 * body.volume(), rel=1e-5)


def test_a_piece_with_a_step_lies_elsewhere() -> None:
    pieces = pieces_of(thin_ring(), ROOM, [])
    joints = joints_of(pieces, CLEAR)
    low = lying(0, pieces[0], joints, np.array(ROOM), 400.0)
    high = lying(1, pieces[1], joints, np.array(ROOM), 400.0)
    assert low.on == "none of its cuts"
    assert high.face is not None
    assert (high.on, high.face.axis) == ("cut", 2)


def test_a_pan_in_one_piece_lies_on_its_rail() -> None:
    (piece,) = pieces_of(Manifold.cube((100, 100, 50)), ROOM, [])
    found = lying(0, piece, [], np.array(ROOM), 50.0)
    assert found.on == "rail"
    np.testing.assert_allclose(found.turn[2], [0.0, 0.0, -1.0])
