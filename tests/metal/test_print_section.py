# SPDX-License-Identifier: Apache-2.0
"""Cuts for a printer: nothing lost, everything fits, no hole and no wall cut along."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from sumpwright.errors import RangeError
from sumpwright.metal.print_section import (
    BESIDE_HOLE,
    SLIVER,
    Hole,
    cuts_along,
    fits,
    pieces_of,
    section_of,
    upright_holes,
)


def block(x: float, y: float, z: float) -> Manifold:
    return Manifold.cube((x, y, z))


def test_what_fits_on_any_side_is_not_cut() -> None:
    (piece,) = pieces_of(block(100, 240, 50), [250, 110, 60], [])
    assert piece.faces == []


def test_a_long_block_becomes_the_fewest_pieces() -> None:
    pieces = pieces_of(block(400, 100, 50), [220, 220, 250], [])
    assert len(pieces) == 2
    (face,) = pieces[0].faces
    assert (face.axis, face.side) == (0, 1)
    assert 400 - 250 <= face.at <= 250


@given(
    # long one way, whichever: long every way is a thousand pieces, which show no more
    st.tuples(st.floats(40, 600), st.floats(40, 200), st.floats(40, 200)).flatmap(st.permutations),
    st.tuples(*[st.floats(60, 250)] * 3),
)
def test_pieces_fit_and_together_are_the_body(
    size: list[float], room: tuple[float, float, float]
) -> None:
    body = block(*size)
    pieces = pieces_of(body, room, [])
    assert all(fits(p.size, np.array(room)) for p in pieces)
    assert sum(p.body.volume() for p in pieces) == pytest.approx(body.volume(), rel=1e-9)


def test_a_cut_keeps_off_bolt_holes() -> None:
    holes = [Hole(200.0, y, 3.3) for y in (10.0, 90.0)]
    (at,) = cuts_along(block(400, 100, 50), 0, (0.0, 400.0), 220.0, holes)
    assert abs(at - 200.0) >= 3.3 + BESIDE_HOLE
    # along y the same holes stand at 10 and 90 mm
    (at,) = cuts_along(block(400, 100, 50), 1, (0.0, 100.0), 60.0, holes)
    assert abs(at - 50.0) < 1.0


def test_a_cut_leaves_no_sliver_of_a_wall_that_runs_along_it() -> None:
    tray = block(400, 100, 5) + Manifold.cube((3, 100, 50)).translate((199, 0, 0))
    (at,) = cuts_along(tray, 0, (0.0, 400.0), 220.0, [])
    assert at <= 199 - SLIVER or at >= 202 + SLIVER


def test_holes_of_the_rail_are_found_and_square_windows_are_not() -> None:
    plate = block(200, 100, 8)
    for x in (20.0, 180.0):
        plate -= Manifold.cylinder(20, 3.3, 3.3, 64).translate((x, 50, -5))
    plate -= Manifold.cube((8, 8, 20)).translate((100, 50, -5))
    found = sorted(upright_holes(plate, 1.0), key=lambda h: h.x)
    np.testing.assert_allclose([[h.x, h.y, h.radius] for h in found],
                               [[20, 50, 3.3], [180, 50, 3.3]], atol=0.01)  # fmt: skip


@pytest.mark.parametrize(("axis", "at"), [(0, 15.0), (1, 20.0), (2, 5.0)])
def test_a_section_lies_in_the_next_two_axes(axis: int, at: float) -> None:
    # from the origin to 60, 100 and 20 mm
    body = block(60, 100, 20)
    sides = [100 * 20.0, 20 * 60.0, 60 * 100.0]
    section = section_of(body, axis, at)
    assert section.area() == pytest.approx(sides[axis])
    low = np.asarray(section.bounds()).reshape(2, 2)
    expected = np.roll([60.0, 100.0, 20.0], -(axis + 1))[:2]
    np.testing.assert_allclose(low[1], expected, atol=1e-6)


def test_refuses_a_printer_smaller_than_a_piece() -> None:
    with pytest.raises(
        RangeError, match="at least 30 mm each way for a piece as drawn, and not 20 mm"
    ):
        pieces_of(block(400, 100, 50), [220, 20, 250], [])
