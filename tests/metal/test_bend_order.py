# SPDX-License-Identifier: Apache-2.0
"""Orders of bending: by plane geometry of a blade between two flanges, and against trying all.

That a press brake's blade is straight and that a sheet lies on a die is common practice, no source.
"""

import itertools
import math
import time
from dataclasses import replace

import numpy as np
import pytest
from shapely import box

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import polygon_profile
from sumpwright.metal.bend_order import bend_order
from sumpwright.metal.bend_swing import Swings
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern
from sumpwright.metal.flat_pattern_tab import TabSpec, developed, seated
from sumpwright.metal.fold import folded
from sumpwright.metal.fold_clash import clash
from sumpwright.metal.fold_piece import COARSE, Pieces

MM = 1e-3
TAB = TabSpec(
    name="tab", edge="bottom", at=0.05, width=0.03, flange=0.012, up=True,
    angle=math.radians(90.0), radius=1 * MM, k=0.4, k_from="table", relief=1 * MM,
)  # fmt: skip


def strip(*bends: FlatBend, length: float) -> FlatPattern:
    corners = [[0.0, 0.0], [length, 0.0], [length, 0.02], [0.0, 0.02]]
    return FlatPattern(polygon_profile(corners), (), MM, bends)


def bend(name: str, x: float, degrees: float = 90.0, *, up: bool = True) -> FlatBend:
    """What turns lies toward larger x."""
    line = np.array([[x, 0.02], [x, 0.0]])
    return FlatBend(name, line, math.radians(degrees), MM, up, 0.4, "table", MM)


def tabbed(sheet, *tabs: TabSpec) -> FlatPattern:
    return developed(sheet, [seated(sheet, tab, MM) for tab in tabs], MM)


def names(pattern: FlatPattern, numbers: tuple[int, ...]) -> list[str]:
    return [pattern.bends[k].name for k in numbers]


@pytest.mark.parametrize(("first", "second"), [("short", "long"), ("long", "short")])
def test_the_short_flange_of_a_channel_is_bent_first(first: str, second: str) -> None:
    # base of 25 mm outside, flanges of 15 and 40 mm: with one flange up, the blade for the other
    # leans 45 deg over the base, and the flange reaches it where it is as long as the base
    both = {"short": bend("short", 0.014), "long": bend("long", 0.037)}
    pattern = strip(both[first], both[second], length=0.076)
    found = bend_order(pattern)
    assert names(pattern, found.order) == ["short", "long"]
    assert found.hindrances == ()


def test_a_deep_channel_wants_hands_and_it_says_why() -> None:
    pattern = strip(bend("one", 0.03), bend("two", 0.05), length=0.08)
    found = bend_order(pattern)
    assert names(pattern, found.order) == ["one", "two"]
    assert names(pattern, found.made) == ["one"]
    (met,) = found.hindrances
    assert (met.bend, met.others, met.what) == (1, (0,), "blade")


@pytest.mark.parametrize(("apart", "whats"), [(0.004, ["die"]), (0.012, [])])
def test_a_step_needs_room_for_the_die(apart: float, whats: list[str]) -> None:
    # half a die is 4 thicknesses: a step of 4 mm between two bends has no room for it, 12 mm has
    pattern = strip(bend("up", 0.03), bend("down", 0.03 + apart, up=False), length=0.06)
    assert [met.what for met in bend_order(pattern).hindrances] == whats


def test_a_lip_is_bent_before_the_lid_that_comes_to_lie_over_it() -> None:
    lid = FlatBend("lid", np.array([[0.03, 0.0], [0.03, 0.02]]), math.radians(155.0), MM,
                   True, 0.4, "table", MM)  # fmt: skip
    lip = bend("lip", 0.06, 150.0)
    for bends in ((lid, lip), (lip, lid)):
        pattern = strip(*bends, length=0.078)
        assert names(pattern, bend_order(pattern).order) == ["lip", "lid"]


def test_flaps_that_each_lie_over_the_next_all_round_have_no_order() -> None:
    # on each side of a square a tab that ends over the next side's: all is clear once folded
    at = {"bottom": 0.015, "end": 0.015, "top": 0.006, "start": 0.006}
    how = {"width": 0.004, "flange": 0.022, "angle": math.radians(150.0)}
    tabs = [replace(TAB, name=edge, edge=edge, at=x, **how) for edge, x in at.items()]
    pattern = tabbed(box(0.0, 0.0, 0.021, 0.021), *tabs)
    assert clash(pattern) is None
    found = bend_order(pattern)
    assert found.order == ()
    assert {met.what for met in found.hindrances} == {"sheet"}
    # with one of them left out there is an order, the one under all the others first
    three = tabbed(box(0.0, 0.0, 0.021, 0.021), *tabs[:3])
    assert names(three, bend_order(three).order) == ["top", "end", "bottom"]


def test_the_sheet_is_turned_over_once() -> None:
    tabs = [replace(TAB, name=f"{k}", at=0.03 + 0.03 * k, width=0.02, up=k % 2 == 0)
            for k in range(4)]  # fmt: skip
    pattern = tabbed(box(0.0, 0.0, 0.15, 0.03), *tabs)
    assert names(pattern, bend_order(pattern).order) == ["0", "2", "1", "3"]


@pytest.mark.parametrize("seed", range(8))
def test_the_search_finds_what_trying_every_order_finds(seed: int) -> None:
    rng = np.random.default_rng(seed)
    at = np.cumsum(rng.uniform(0.006, 0.02, 4))
    bends = [bend(f"{k}", float(x), float(rng.uniform(40.0, 130.0)), up=bool(rng.integers(2)))
             for k, x in enumerate(at)]  # fmt: skip
    pattern = strip(*bends, length=float(at[-1] + rng.uniform(0.01, 0.04)))
    swings = Swings(pattern)

    def works(order: tuple[int, ...], tools: bool) -> bool:
        made = 0
        for k in order:
            if swings.hindrance(k, made, tools=tools) is not None:
                return False
            made |= 1 << k
        return True

    every = list(itertools.permutations(range(4)))
    found = bend_order(pattern)
    pressed = [order for order in every if works(order, True)]
    by_hand = [order for order in every if works(order, False)]
    if clash(pattern) is not None:
        assert found.order == ()
    else:
        assert found.order in (pressed or by_hand or [()])
        assert bool(found.hindrances) == (not pressed)


def test_nothing_meets_anything_on_the_way_of_the_order() -> None:
    sheet = box(0.0, 0.0, 0.1, 0.03)
    roof = replace(TAB, name="roof", edge="top", flange=0.029, angle=math.radians(150.0))
    pattern = tabbed(sheet, roof, TAB, replace(TAB, name="side", edge="end", at=0.015, width=0.01))
    order = bend_order(pattern).order
    for number, k in enumerate(order):
        for step in range(1, 7):
            shares = [1.0 if j in order[:number] else 0.0 for j in range(3)]
            shares[k] = step / 6
            pieces = Pieces(folded(pattern, shares), COARSE)
            for i, j in itertools.combinations(range(len(pieces)), 2):
                assert pieces.meeting(i, j) is None


def test_eight_bends_are_quick() -> None:
    sheet = box(0.0, 0.0, 0.2, 0.1)
    tabs = [replace(TAB, name=f"{edge} {at}", edge=edge, at=at, width=0.02)
            for edge, places in (("bottom", (0.05, 0.15)), ("top", (0.05, 0.15)),
                                 ("start", (0.03, 0.07)), ("end", (0.03, 0.07)))
            for at in places]  # fmt: skip
    pattern = tabbed(sheet, *tabs)
    start = time.process_time()
    found = bend_order(pattern)
    assert time.process_time() - start < 0.2
    assert found.order == tuple(range(8))
    # four deep channels side by side, in no order for a press brake: all of it is looked through
    deep = [replace(TAB, name=f"{edge} {k}", edge=edge, at=0.03 + 0.045 * k, flange=0.05)
            for edge in ("bottom", "top") for k in range(4)]  # fmt: skip
    stuck = tabbed(box(0.0, 0.0, 0.2, 0.03), *deep)
    start = time.process_time()
    found = bend_order(stuck)
    assert time.process_time() - start < 0.5
    assert {met.what for met in found.hindrances} == {"blade"}


def test_many_that_do_not_matter_are_not_tried_in_every_order() -> None:
    # 14 tabs in a row, none in another's way, before a channel that no brake can bend
    sheet = box(0.0, 0.0, 0.5, 0.03)
    row = [replace(TAB, name=f"{k}", at=0.06 + 0.03 * k, width=0.02) for k in range(14)]
    deep = [replace(TAB, name=edge, edge=edge, at=0.02, width=0.02, flange=0.05)
            for edge in ("bottom", "top")]  # fmt: skip
    found = bend_order(tabbed(sheet, *row, *deep))
    assert len(found.order) == 16
    assert {met.bend for met in found.hindrances} <= {14, 15}


def test_no_bends_are_no_order_and_a_bend_that_parts_nothing_is_refused() -> None:
    assert bend_order(strip(length=0.05)).order == ()
    half = replace(bend("half", 0.02), line=np.array([[0.02, 0.01], [0.02, 0.0]]))
    with pytest.raises(RangeError, match="'half' does not part the sheet"):
        bend_order(strip(half, length=0.05))
