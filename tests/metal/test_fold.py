# SPDX-License-Identifier: Apache-2.0
"""Flat patterns folded back, against closed forms of circles and planes."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import polygon_profile
from sumpwright.metal.bend import deduction
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern
from sumpwright.metal.fold import folded
from sumpwright.metal.fold_clash import clash, part_solids

MM = 1e-3
SQUARE = math.radians(90.0)


def strip(*bends: FlatBend, length: float = 0.08, width: float = 0.02) -> FlatPattern:
    corners = [[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]]
    return FlatPattern(polygon_profile(corners), (), 0.001, bends)


def bend(x: float, angle: float, *, up: bool = True, radius: float = 0.001, width: float = 0.02):
    # what turns lies on the left of the line: toward larger x
    line = [[x, width], [x, 0.0]]
    return FlatBend(f"at {x}", np.array(line), angle, radius, up, 0.4, "table", 0.001)


@given(st.floats(10.0, 150.0), st.floats(0.0, 4.0), st.booleans())
def test_legs_come_out_as_long_as_the_deduction_says(turned: float, r: float, up: bool) -> None:
    angle, x = math.radians(turned), 0.03
    pattern = strip(bend(x, angle, up=up, radius=r * MM))
    body = folded(pattern)
    sign = 1.0 if up else -1.0
    outer = -0.5 * MM * sign  # the face away from where it bends
    tip, start = body.placed([[0.08, 0.01], [0.0, 0.01]], outer)
    way = np.array([math.cos(angle), sign * math.sin(angle)])
    # crossing of the outer faces: along the first leg to where the second's line meets it
    rise = (tip[2] - outer) / way[1]
    crossing = tip[0] - rise * way[0]
    legs = (crossing - start[0]) + rise
    assert legs == pytest.approx(0.08 + deduction(angle, r * MM, MM, 0.4), abs=1e-12)


def test_a_half_closed_bend_keeps_the_neutral_fibre_s_length() -> None:
    body = folded(strip(bend(0.03, SQUARE)), [0.5])
    fibre = 0.4 * MM  # from the inner face, which is the upper one
    x = np.linspace(0.0, 0.08, 4001)
    path = body.placed(np.stack([x, np.full_like(x, 0.01)], axis=1), 0.5 * MM - fibre)
    assert np.linalg.norm(np.diff(path, axis=0), axis=1).sum() == pytest.approx(0.08, abs=1e-8)


def test_bends_follow_one_another() -> None:
    # two square bends the same way: the last leg points back
    body = folded(strip(bend(0.03, SQUARE), bend(0.05, SQUARE)))
    a, b = body.placed([[0.07, 0.01], [0.08, 0.01]])
    np.testing.assert_allclose(b - a, [-0.01, 0.0, 0.0], atol=1e-15)


def test_one_up_and_one_down_make_a_step() -> None:
    body = folded(strip(bend(0.03, SQUARE), bend(0.05, SQUARE, up=False)))
    a, b = body.placed([[0.07, 0.01], [0.08, 0.01]])
    np.testing.assert_allclose(b - a, [0.01, 0.0, 0.0], atol=1e-15)


def test_refuses_a_bend_that_parts_nothing() -> None:
    with pytest.raises(RangeError, match=r"bend 'at 0\.03' does not part the sheet"):
        folded(strip(bend(0.03, SQUARE, width=0.01)))


def test_a_channel_folds_and_a_closed_box_runs_into_itself() -> None:
    assert clash(strip(bend(0.03, SQUARE), bend(0.05, SQUARE))) is None
    curl = strip(*(bend(x, SQUARE) for x in (0.02, 0.03, 0.04, 0.05)), length=0.075)
    # the tail behind the third bend is longer than the leg before it: it comes down on the first
    found = clash(curl)
    assert found is not None
    assert found.volume > 1e-9


def test_thick_pieces_weigh_what_the_flat_does_less_what_touching_takes() -> None:
    pattern = strip(bend(0.03, SQUARE))
    solids = part_solids(folded(pattern))
    volume = sum(s.volume() for s in solids) * 1e-9
    # r + t/2 over r + K t makes the bend's own metal grow by 0.1 t x 90 deg; shaving takes a share
    assert volume == pytest.approx(pattern.area * MM, rel=0.05)
