# SPDX-License-Identifier: Apache-2.0
"""Falling drops in boxes with panels, by hand."""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.compartment import compartments
from sumpwright.geometry.fall import landing_shares, stereographic_ups
from sumpwright.geometry.panel import Opening, Panel, rectangle
from tests.geometry.bodies import box

UP = [0.0, 0.0, 1.0]
BOX = box([0.0, 0.0, 0.0], [0.4, 0.2, 0.1])
HALF_LOW = Panel("half", [0.2, 0, 0], [1, 0, 0], [[0, 0], [0.2, 0], [0.2, 0.05], [0, 0.05]])


def ramp(forward: float) -> list[float]:
    """Up when drops drift forward by `forward` for each unit they fall."""
    size = np.hypot(forward, 1.0)
    return [-forward / size, 0.0, 1.0 / size]


def test_drops_stay_in_the_compartment_they_start_in_when_they_fall_straight() -> None:
    parted = compartments(BOX, [Panel("wall", [0.2, 0, 0], [1, 0, 0])])
    points = [[0.05, 0.1, 0.09], [0.3, 0.1, 0.09], [0.35, 0.1, 0.09], [0.39, 0.1, 0.09]]
    np.testing.assert_allclose(landing_shares(parted, points, UP), [0.25, 0.75])


@pytest.mark.parametrize(("forward", "share"), [(0.0, [1, 0]), (1.1, [0, 1]), (0.9, [1, 0])])
def test_a_drop_drifts_over_a_low_panel_but_not_through_it(
    forward: float, share: list[float]
) -> None:
    """From 40 mm behind a 50 mm panel, 90 mm up: it clears the edge above 1 along for 1 down."""
    parted = compartments(BOX, [HALF_LOW])
    found = landing_shares(parted, [[0.16, 0.1, 0.09]], ramp(forward))
    # at 0.9 it meets the panel's back at 46 mm: it stays behind
    np.testing.assert_allclose(found, share)


def test_a_tray_holds_what_misses_its_slot() -> None:
    slot = Opening("slot", rectangle([0.1, 0.0], width=0.1, height=0.2))
    tray = Panel("tray", [0.0, 0.1, 0.06], [0, 0, 1], thickness=0.002, openings=(slot,))
    parted = compartments(BOX, [tray])
    lower = int(np.argmin([body.bounds[0, 2] for body in parted.bodies]))
    points = [[0.1, 0.1, 0.09], [0.12, 0.1, 0.09], [0.3, 0.1, 0.09], [0.02, 0.1, 0.09]]
    assert landing_shares(parted, points, UP)[lower] == 0.5


@pytest.mark.parametrize("hand", [1.0, -1.0])
def test_a_drop_stays_where_it_lands_close_behind_a_window(hand: float) -> None:
    """Through a window from 4 to 40 mm up, on to the floor 8 mm behind it, either way."""
    hole = Opening("hole", rectangle([hand * 0.1, 0.022], width=0.1, height=0.036))
    wall = Panel("wall", [0.2, 0, 0], [hand, 0, 0], thickness=0.0015, openings=(hole,))
    parted = compartments(BOX, [wall])
    front = int(np.argmax([body.bounds[0, 0] for body in parted.bodies]))
    found = landing_shares(parted, [[0.15, 0.1, 0.058]], ramp(1.0))
    assert found[front] == 1.0


def test_nothing_comes_down_from_beside_the_pan() -> None:
    parted = compartments(BOX, [HALF_LOW])
    assert np.isnan(landing_shares(parted, [[1.0, 0.1, 0.3]], UP)).all()


def test_a_drop_from_over_the_rail_falls_in() -> None:
    parted = compartments(BOX, [HALF_LOW])
    np.testing.assert_allclose(landing_shares(parted, [[0.3, 0.1, 0.3]], UP), [0, 1])


def test_directions_of_the_grid_are_unit_and_reach_the_tilt_asked_for() -> None:
    ups = stereographic_ups(5, np.tan(np.radians(30.0)))
    np.testing.assert_allclose(np.linalg.norm(ups, axis=-1), 1.0, rtol=1e-15)
    np.testing.assert_allclose(ups[2, 2], UP, atol=1e-16)
    np.testing.assert_allclose(ups[4, 2], [np.sin(np.radians(60)), 0, 0.5], atol=1e-15)


def test_refuses_to_let_oil_fall_from_nowhere() -> None:
    with pytest.raises(RangeError, match="at least 1 place"):
        landing_shares(compartments(BOX, [HALF_LOW]), np.zeros((0, 3)), UP)
