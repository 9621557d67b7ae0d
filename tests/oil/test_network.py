# SPDX-License-Identifier: Apache-2.0
"""The network against textbook tanks, exact statics, and a general solver of the same equations.

Sources: tanks that drain and that level out, [White-2011] and Cengel & Cimbala, Fluid Mechanics
(worked example 5-?, from memory: 757 s); scipy's own integrators as the reference for ours.
"""

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.compartment import compartments
from sumpwright.geometry.level import level_body, levels_of
from sumpwright.geometry.panel import Opening, Panel, rectangle
from sumpwright.geometry.rim import Rim
from sumpwright.oil.network import run, start_state
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.oil.opening_shape import window
from sumpwright.oil.passage import Passage
from sumpwright.oil.settle import settled_volumes
from tests.geometry.bodies import box
from tests.oil.pan import HOT, THIN, G, boxed, level_bodies, net_of, passages_of

REST = np.array([0.0, 0.0, G])
TANK = [box([0, 0, 0], [0.3, 0.2, 0.3]), box([0.3, 0, 0], [0.6, 0.2, 0.3])]
"""Two tanks of 0.06 m2 beside each other."""


def slot(low: float, high: float) -> Passage:
    """A sharp opening 20 mm wide in the wall between the tanks."""
    outline = [[0.3, 0.09, low], [0.3, 0.11, low], [0.3, 0.11, high], [0.3, 0.09, high]]
    return Passage("slot", 0, 1, window(outline), np.mean(outline, axis=0), discharge=0.61)


def held(seconds: float, force: np.ndarray = REST, flow: float = 0.0, rate: float = 0.0) -> object:
    return forcing_of([0.0, seconds], [force, force], flow, rate)


def test_two_tanks_level_out_in_the_time_of_the_textbook() -> None:
    """t = 2 A1 A2/(A1 + A2) (sqrt H1 - sqrt H2) / (Cd a sqrt(2 g)), both sides submerged."""
    net = net_of(TANK, [slot(0.0, 0.01)], fluid=THIN)
    start = start_state(net, [0.06 * 0.2, 0.06 * 0.1], 0.0, REST)
    course, _ = run(net, held(40.0), start, np.linspace(0.0, 30.0, 31))
    rate = 0.61 * 2e-4 * np.sqrt(2 * G) / (2 * 0.03)
    wanted = np.maximum(np.sqrt(0.1) - rate * course.time, 0.0) ** 2
    found = course.height[:, 0] - course.height[:, 1]
    # oil of 1e-9 m2/s still has a little friction: 1e-5 of the head, and steps 0.2 mm allowed
    np.testing.assert_allclose(found, wanted, atol=2e-5)


def test_a_tank_drains_in_the_time_of_the_textbook() -> None:
    """R4.3c: 0.06 m2 from 80 mm through 3.14 cm2 with 0.61 into a tank far below: 25.1 s."""
    low = box([0.3, 0, -1.0], [0.6, 0.2, -0.7])
    area = 0.06 * 2 * np.sqrt(0.08) / (0.61 * np.sqrt(2 * G) * 25.123)
    side = np.sqrt(area)
    floor = [
        [0.1, 0.1, 0.0],
        [0.1 + side, 0.1, 0.0],
        [0.1 + side, 0.1 + side, 0.0],
        [0.1, 0.1 + side, 0.0],
    ]
    hole = Passage("hole", 0, 1, window(floor), np.mean(floor, axis=0), discharge=0.61)
    net = net_of([TANK[0], low], [hole], fluid=THIN)
    start = start_state(net, [0.06 * 0.08, 0.0], 0.0, REST)
    course, _ = run(net, held(30.0), start, np.linspace(0.0, 24.0, 25))
    wanted = (np.sqrt(0.08) * (1.0 - course.time / 25.123)) ** 2
    np.testing.assert_allclose(course.height[:, 0], wanted, atol=5e-5)  # printed to 5 digits


def test_oil_is_neither_lost_nor_won() -> None:
    net = net_of(
        TANK, [slot(0.0, 0.05)], rim=Rim.circle([0.45, 0.1, 0.02], [0, 0, -1], radius=0.02), pool=1
    )
    start = start_state(net, [0.06 * 0.2, 0.06 * 0.05], 5e-4, REST)
    swinging = forcing_of(
        np.linspace(0, 20, 41), [[6 * np.sin(t), 0, G] for t in np.linspace(0, 20, 41)], 6e-4, 0.7
    )
    course, _ = run(net, swinging, start, np.linspace(0.0, 20.0, 101))
    whole = course.volume.sum(axis=1) + course.retained
    np.testing.assert_allclose(whole, whole[0], rtol=1e-12)  # the promise is 1e-9


def test_nothing_moves_at_rest() -> None:
    parts, net = boxed(box([0, 0, 0], [0.4, 0.2, 0.1]), [baffle()])
    volumes = settled_volumes(level_bodies(parts), [0, 0, 1], 3e-3)
    course, _ = run(net, held(10.0), start_state(net, volumes, 0.0, REST), np.linspace(0, 10, 11))
    np.testing.assert_allclose(course.volume, course.volume[:1].repeat(11, axis=0), atol=1e-9)


def baffle(at: float = 0.2, height: float = 0.04) -> Panel:
    hole = Opening("hole", rectangle([0.1, height / 2], width=0.05, height=height))
    return Panel("baffle", [at, 0, 0], [1, 0, 0], thickness=0.002, openings=(hole,))


@pytest.mark.parametrize("accel", [[3.0, 0.0], [-6.0, 0.0], [0.0, 8.0], [5.0, -5.0]])
@pytest.mark.parametrize("first", [[3e-3, 0.0], [0.0, 3e-3], [1e-3, 2e-3]])
def test_every_start_ends_at_the_exact_static_answer(
    accel: list[float], first: list[float]
) -> None:
    """Pump off: whatever the start, one exact plane across both compartments in the end."""
    cavity = box([0, 0, 0], [0.4, 0.2, 0.1])
    parts, net = boxed(cavity, [baffle()], fluid=HOT)
    force = np.array([*accel, G])
    rise = forcing_of([0.0, 1.0, 120.0], [REST, force, force])
    course, _ = run(net, rise, start_state(net, first, 0.0, REST), [120.0])
    up = force / np.linalg.norm(force)
    volumes = settled_volumes(level_bodies(parts), up, 3e-3)
    found = [
        levels_of(body, up, v).height[0]
        for body, v in zip(level_bodies(parts), course.volume[0], strict=True)
    ]
    wanted = max(
        levels_of(body, up, v).height[0]
        for body, v in zip(level_bodies(parts), volumes, strict=True)
        if v > 0.0
    )
    wet = course.volume[0] > 1e-7
    # 0.2 mm that the tables may be off, twice; a dry floor keeps a film that drains ever slower
    np.testing.assert_allclose(np.array(found)[wet], wanted, atol=5e-4)


def test_mirrored_pan_and_turn_give_the_mirrored_answer() -> None:
    pans = []
    for hand in (1.0, -1.0):
        low, high = sorted((hand * 0.05, hand * -0.15))
        cavity = box([0, low, 0], [0.4, high, 0.1])
        parts = compartments(cavity, [_mirrored_wall(hand)])
        order = np.argsort(-hand * np.array([b.bounds[0, 1] for b in parts.bodies]))
        net = net_of(parts.bodies, passages_of(parts))
        start = start_state(net, np.array([1.5e-3, 1e-3])[np.argsort(order)], 0.0, REST)
        turn = forcing_of([0, 0.5, 5], [REST, [0, hand * 7, G], [0, hand * 7, G]])
        course, _ = run(net, turn, start, np.linspace(0, 5, 51))
        pans.append(course.volume[:, order])
    # tables are not mirrored to the last digit, nor are the steps that are chosen
    np.testing.assert_allclose(pans[0], pans[1], atol=2e-6)


def _mirrored_wall(hand: float) -> Panel:
    corners = np.array([[0.1, 0.0], [0.15, 0.0], [0.15, 0.03], [0.1, 0.03]])
    # along is -x for a normal of +y and +x for -y: openings at the same x
    corners[:, 0] *= -hand
    return Panel("wall", [0, hand * -0.05, 0], [0, hand, 0], openings=(Opening("hole", corners),))


def test_agrees_with_a_general_solver_of_the_same_equations() -> None:
    """scipy's Radau on the two-tank equations written out by hand, friction and all."""
    from scipy.integrate import solve_ivp

    from sumpwright.oil.opening import opening_flow

    way = slot(0.02, 0.08)
    net = net_of(TANK, [way], fluid=HOT)
    start = start_state(net, [0.06 * 0.15, 0.06 * 0.03], 0.0, REST)
    times = np.linspace(0.0, 8.0, 17)
    course, _ = run(net, held(8.0), start, times, level=1e-6)

    def rate(_: float, v: np.ndarray) -> list[float]:
        flow = opening_flow(
            way.opening,
            head_1=v[0] / 0.06,
            head_2=v[1] / 0.06,
            gravity=-REST,
            viscosity=HOT.viscosity,
            discharge=0.61,
        ).flow
        return [-float(flow), float(flow)]

    exact = solve_ivp(rate, (0, 8), course.volume[0], "Radau", times, rtol=1e-10, atol=1e-13)
    np.testing.assert_allclose(course.volume, exact.y.T, atol=6e-8)  # 1 um of level, 1e-6 asked


def test_tighter_tolerance_brings_the_answer_closer() -> None:
    net = net_of(TANK, [slot(0.0, 0.05)])
    start = start_state(net, [0.06 * 0.2, 0.0], 0.0, REST)
    times = np.linspace(0, 6, 61)
    swing = forcing_of(times, [[4 * np.sin(3 * t), 0, G] for t in times])
    best, _ = run(net, swing, start, times, level=1e-9)
    errors = []
    for level in (1e-3, 1e-5, 1e-7):
        course, _ = run(net, swing, start, times, level=level)
        errors.append(float(np.abs(course.volume - best.volume).max()) / 0.06)
    # errors of steps add up over the run; each level allows a hundredth of the one before
    assert errors[0] < 2e-3
    assert errors[1] < 0.2 * errors[0]
    assert errors[2] < 0.2 * errors[1]


def test_refuses_more_oil_than_a_compartment_holds() -> None:
    net = net_of(TANK, [slot(0.0, 0.05)])
    with pytest.raises(RangeError, match="compartment 2 holds 18 L, not 19 L"):
        start_state(net, [0.0, 19e-3], 0.0, REST)


def test_refuses_a_forcing_in_which_the_oil_would_float() -> None:
    with pytest.raises(RangeError, match="the oil would float"):
        forcing_of([0, 1], [REST, [0, 0, 0]])


def test_the_pump_draws_its_flow_and_the_engine_holds_what_was_measured() -> None:
    rim = Rim.circle([0.45, 0.1, 0.02], [0, 0, -1], radius=0.02)
    net = net_of(TANK, [slot(0.0, 0.05)], rim=rim, pool=1)
    flow, kept = 6e-4, 9e-4
    start = start_state(net, [0.06 * 0.1, 0.06 * 0.1], 0.0, REST)
    course, _ = run(net, held(60.0, flow=flow, rate=flow / kept), start, [0.0, 60.0])
    assert course.retained[1] == pytest.approx(kept, rel=1e-6)  # settled: 40 time constants
    assert level_body(TANK[0]).volume == pytest.approx(0.018)


@pytest.mark.parametrize("width", [0.02, 0.1])
@pytest.mark.parametrize("lean", [[2.0, 1.0, G], [-3.0, 2.0, G]])
def test_a_compartment_that_fills_to_its_last_corner_is_followed_in_long_steps(
    width: float, lean: list[float]
) -> None:
    """A low tank beside a tall one: once it is full its head rises in a drop or two of oil."""
    low = box([0.3, 0, 0], [0.6, 0.2, 0.1])
    outline = [[0.3, 0.1 + y, z] for y, z in ((0, 0), (width, 0), (width, 0.05), (0, 0.05))]
    way = Passage("slot", 0, 1, window(outline), np.mean(outline, axis=0), discharge=0.61)
    net = net_of([TANK[0], low], [way])
    force = np.array(lean)
    start = start_state(net, [0.06 * 0.25, 0.06 * 0.05], 0.0, force)
    course, _ = run(net, held(30.0, force), start, np.linspace(0.0, 30.0, 31))
    assert course.volume[10:, 1] == pytest.approx(6e-3, rel=0.01)  # 0.1 m of head: 0.5 % more
    np.testing.assert_allclose(course.volume[15:], course.volume[-1:].repeat(16, axis=0), rtol=1e-4)
    # 30 samples, each the end of a step of at most 0.25 s: 120; to and fro it took 1957
    assert course.marched.steps + course.marched.rejected < 170
