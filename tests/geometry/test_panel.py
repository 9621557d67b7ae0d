# SPDX-License-Identifier: Apache-2.0
"""Panels: their plane's axes, and what makes one unusable. All by hand; no outside source."""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.panel import (
    Door,
    Opening,
    Panel,
    panel_problems,
    plane_basis,
    rectangle,
)
from tests.geometry.bodies import random_rotation, random_up

SQUARE = rectangle([0.0, 0.05], width=0.2, height=0.1)


def window(name: str, *, along: float, up: float, size: float = 0.02) -> Opening:
    return Opening(name, rectangle([along, up], width=size, height=size))


@pytest.mark.parametrize(
    ("normal", "along", "up"),
    [
        ([1, 0, 0], [0, 1, 0], [0, 0, 1]),
        ([-2, 0, 0], [0, -1, 0], [0, 0, 1]),
        ([0, 1, 0], [-1, 0, 0], [0, 0, 1]),
        ([0, 0, 1], [1, 0, 0], [0, 1, 0]),
        ([0, 0, -1], [-1, 0, 0], [0, 1, 0]),
        ([1, 0, 1], [0, 1, 0], [-(0.5**0.5), 0, 0.5**0.5]),
    ],
)
def test_up_is_up_and_along_is_right_handed(normal: list[float], along: object, up: object) -> None:
    np.testing.assert_allclose(plane_basis(normal), [along, up], atol=1e-15)


def test_no_direction_on_the_plane_is_more_upward_than_up() -> None:
    rng = np.random.default_rng(3)
    for _ in range(50):
        normal = random_up(rng)
        along, up = plane_basis(normal)
        np.testing.assert_allclose(np.cross(along, up), normal, atol=1e-14)
        turns = rng.uniform(0.0, 2.0 * np.pi, size=40)
        others = np.outer(np.cos(turns), along) + np.outer(np.sin(turns), up)
        assert up[2] >= others[:, 2].max() - 1e-14


def test_a_point_goes_to_the_plane_and_back() -> None:
    rng = np.random.default_rng(4)
    panel = Panel("p", rng.normal(size=3), random_rotation(rng)[0])
    flat = rng.normal(size=(20, 2))
    space = panel.space(flat)
    np.testing.assert_allclose(panel.flat(space), flat, atol=1e-14)
    np.testing.assert_allclose((space - panel.point) @ panel.normal, 0.0, atol=1e-14)


def test_a_rectangle_is_where_its_centre_is_and_counter_clockwise() -> None:
    corners = rectangle([0.1, 0.03], width=0.04, height=0.02)
    np.testing.assert_allclose(corners, [[0.08, 0.02], [0.12, 0.02], [0.12, 0.04], [0.08, 0.04]])


def test_a_door_hangs_on_the_side_it_names() -> None:
    door = Opening("flap", rectangle([0.0, 0.03], width=0.04, height=0.02), Door(hinge=2))
    panel = Panel("p", [0.3, 0.0, -0.1], [1, 0, 0], SQUARE, openings=(door,))
    np.testing.assert_allclose(panel.hinge_line(door), [[0.3, 0.02, -0.06], [0.3, -0.02, -0.06]])
    assert (door.kind, window("w", along=0, up=0).kind) == ("door", "window")
    with pytest.raises(RangeError, match="'w' is a window: it has no hinge"):
        panel.hinge_line(window("w", along=0, up=0))


def test_a_sound_panel_has_no_problems() -> None:
    touching = (window("a", along=0.0, up=0.05), window("b", along=0.02, up=0.05))
    corner = window("c", along=-0.09, up=0.01)
    panel = Panel("p", [0, 0, 0], [1, 0, 0], SQUARE, 0.002, 0.001, (*touching, corner))
    assert panel_problems([panel, Panel("q", [0, 0, 0], [1, 0, 0])]) == ()


def test_clockwise_outlines_are_as_good() -> None:
    hole = window("a", along=0.0, up=0.05)
    panel = Panel("p", [0, 0, 0], [1, 0, 0], SQUARE[::-1], openings=(hole,))
    assert panel_problems([panel]) == ()


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"thickness": -0.001}, "panel 'p' needs a point in space, and a thickness and a gap"),
        ({"gap": -0.001}, "panel 'p' needs a point in space, and a thickness and a gap"),
        ({"point": [0, np.nan, 0]}, "panel 'p' needs a point in space, and a thickness and a gap"),
        ({"outline": SQUARE[:2]}, "panel 'p': its outline needs at least three corners"),
        ({"outline": SQUARE[[0, 2, 1, 3]]}, "panel 'p': its outline crosses itself"),
        ({"outline": [[0, 0], [1, 0], [2, 0]]}, "panel 'p': its outline has no area"),
        (
            {"openings": (window("w", along=0.095, up=0.05),)},
            "panel 'p', window 'w': it reaches out of the panel's outline",
        ),
        (
            {"openings": (window("a", along=0, up=0.05), window("b", along=0.01, up=0.05))},
            "panel 'p', window 'b': it overlaps 'a'",
        ),
        (
            {"openings": (window("a", along=0, up=0.05), window("a", along=0.05, up=0.05))},
            "panel 'p': two openings are named 'a'",
        ),
        (
            {"openings": (Opening("d", SQUARE, Door(4)),)},
            "panel 'p', door 'd': its hinge must be one of its sides 0 to 3, not 4",
        ),
        (
            {"openings": (Opening("d", SQUARE, Door(0, 0)),)},
            "panel 'p', door 'd': its free side must be 1 (along the panel's normal) or -1, not 0",
        ),
    ],
)
def test_says_in_one_sentence_what_is_wrong(change: dict[str, object], text: str) -> None:
    given = {"point": [0, 0, 0], "normal": [1, 0, 0], "outline": SQUARE} | change
    (problem,) = panel_problems([Panel("p", **given)])  # type: ignore[arg-type]
    assert problem.startswith(text)


def test_all_problems_come_at_once() -> None:
    bad = Panel("p", [0, 0, 0], [1, 0, 0], SQUARE[:2], -1.0)
    assert len(panel_problems([bad, bad])) == 5  # each its two, and the name they share


def test_refuses_a_normal_of_no_length() -> None:
    with pytest.raises(RangeError, match="panel 'p' needs a normal that is not zero"):
        Panel("p", [0, 0, 0], [0, 0, 0])
