# SPDX-License-Identifier: Apache-2.0
"""What must hold for a network whatever the pan: rest stays rest, oil stays, scales and mirrors."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import quad

from sumpwright.geometry.rim import Rim
from sumpwright.oil.door import Door
from sumpwright.oil.drawdown import FLOOR
from sumpwright.oil.mouth import drawdown_coefficient
from sumpwright.oil.network import LEVEL, run, start_state
from sumpwright.oil.network_array import Fluid, Net
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.oil.opening_shape import gap, window
from sumpwright.oil.passage import Passage
from tests.geometry.bodies import box
from tests.oil.pan import THIN, G, net_of

Floats = NDArray[np.float64]

REST = np.array([0.0, 0.0, G])
TANKS = [box([0, 0, 0], [0.3, 0.2, 0.3]), box([0.3, 0, 0], [0.6, 0.2, 0.3])]
BODY = box([0, 0, 0], [0.3, 0.2, 0.1])
RING = Rim.circle([0.15, 0.1, 0.02], [0, 0, -1], radius=0.03)


def test_is_not_taken_for_at_rest_before_a_slow_change() -> None:
    """The force rises so gently that no step must end at a corner of it; still it does rise."""
    net = net_of([BODY], [])
    time = np.array([0.0, 5.0, 25.0, 60.0])
    slow = forcing_of(time, [REST, REST, [0.6 * G, 0.0, G], [0.6 * G, 0.0, G]])
    assert len(slow.stops) == 0
    course, state = run(net, slow, start_state(net, [2e-3], 0.0, REST), [], until_still=True)
    assert 25.0 <= course.marched.time < 60.0
    np.testing.assert_allclose(state[3], 0.6 / np.hypot(0.6, 1.0), atol=1e-3)  # swings by so little


def test_cover_does_not_hang_on_which_corner_of_the_rim_comes_first() -> None:
    ring = np.array(
        [[0.12, 0.07, 0.02], [0.18, 0.07, 0.02], [0.18, 0.13, 0.02], [0.12, 0.13, 0.02]]
    )
    time = np.linspace(0.0, 3.0, 301)
    push = forcing_of(time, [[0.4 * G * np.sin(4 * t), 0.0, G] for t in time], 6e-4, 0.7)
    covers = []
    for turn in range(4):
        net = net_of([BODY], [], rim=Rim.polygon(np.roll(ring, turn, axis=0)), pool=0)
        covers.append(run(net, push, start_state(net, [3e-3], 1e-3, REST), time)[0].cover)
    assert np.ptp(covers[0]) > 0.02  # the surface does lean over the rim
    np.testing.assert_allclose(covers, covers[:1] * 4, rtol=0.0, atol=1e-12)  # sums in other order


def test_a_surface_that_leans_covers_a_rim_the_least_at_its_lower_side() -> None:
    """At the first moment after a turn the surface has not moved: up has."""
    lean = np.array([0.2 * G, 0.0, G])
    up = lean / np.linalg.norm(lean)
    for rim in (RING, Rim.polygon(RING.points(400))):
        net = net_of([BODY], [], rim=rim, pool=0)
        start = start_state(net, [3e-3], 0.0, REST)  # level, 50 mm
        course, _ = run(net, forcing_of([0, 1], [lean, lean], 6e-4), start, [0.0])
        # everywhere 30 mm of oil over a level rim, straight up; along `up` that is more
        needed = drawdown_coefficient(FLOOR) * (6e-4**2 / np.linalg.norm(lean)) ** 0.2
        # bodies are tabulated to 0.2 mm
        np.testing.assert_allclose(course.cover[0] + needed, 0.03 / up[2], atol=2e-4)


def floor_hole(area: float) -> Passage:
    """A sharp hole in the floor of `BODY`, over a tank far below."""
    half = 0.5 * np.sqrt(area)
    x, y = np.array([-half, half, half, -half]) + 0.05, np.array([-half, -half, half, half]) + 0.05
    corners = np.stack([x, y, 0.0 * x], axis=1)
    return Passage("hole", 0, 1, window(corners), corners.mean(axis=0), discharge=0.61)


@pytest.mark.parametrize("area", [0.0, 1e-4])
def test_a_draining_pan_takes_its_first_air_when_a_hand_calculation_says(area: float) -> None:
    """A dh/dt = -Q - Cd a sqrt(2 g h), from 80 mm to rim and draw-down height [White-2011]."""
    tank = box([0, 0, -1.0], [0.3, 0.2, -0.6])
    flow, begin, floor = 4e-4, 0.08, 0.06
    ways = [floor_hole(area)] if area else []
    net = net_of([BODY, tank], ways, fluid=THIN, rim=RING, pool=0)
    start = start_state(net, [floor * begin, 0.0], 0.0, REST)
    still = forcing_of([0, 30], [REST, REST], flow)
    course, state = run(net, still, start, [], until_air=True, level=1e-6)
    low = 0.02 + drawdown_coefficient(FLOOR) * (flow**2 / G) ** 0.2
    wanted = quad(lambda h: floor / (flow + 0.61 * area * np.sqrt(2 * G * h)), low, begin)[0]
    # 0.02 mm of a tabulated level at 7 to 11 mm/s
    assert course.marched.first_air == pytest.approx(wanted, abs=3e-3)
    # oil up in the engine, and the air of the last step
    assert state[2] + state[3] == pytest.approx(flow * course.marched.time, rel=1e-9)


def test_what_the_pump_draws_is_oil_or_air() -> None:
    """Nothing comes home: what is up is what was drawn; with the air it is the pump's volume."""
    time = np.linspace(0.0, 12.0, 25)
    force = [[3.0 * np.sin(2 * t), 0.0, G] for t in time]
    flow = 3e-4 + 3e-4 * np.sin(0.5 * time) ** 2
    net = net_of([BODY], [], rim=RING, pool=0)
    start = start_state(net, [3e-3], 0.0, REST)
    course, _ = run(net, forcing_of(time, force, flow), start, time)
    pumped = np.concatenate([[0.0], np.cumsum(0.25 * (flow[:-1] + flow[1:]))])
    assert course.air_drawn[-1] > 1e-4
    # only oil is kept to the last digit; the sum is as good as the steps, 1e-3 of 2.8 mL a half s
    np.testing.assert_allclose(course.retained + course.air_drawn, pumped, rtol=0, atol=3e-9)


def test_what_is_up_comes_home_as_an_exponential() -> None:
    """dR/dt = Q - R / tau: R = Q tau + (R_0 - Q tau) exp(-t / tau)."""
    flow, rate, begin = 4e-4, 0.8, 2e-4
    net = net_of([BODY], [], rim=RING, pool=0)
    time = np.linspace(0.0, 6.0, 61)
    start = start_state(net, [4.5e-3], begin, REST)
    course, _ = run(net, forcing_of([0, 6], [REST, REST], flow, rate), start, time)
    wanted = flow / rate + (begin - flow / rate) * np.exp(-rate * time)
    # steps of 0.1 s: rate h = 0.08, to the fourth power
    np.testing.assert_allclose(course.retained, wanted, atol=2e-5 * flow / rate)


@pytest.fixture(scope="module")
def worst() -> Net:
    """A pool of a millilitre behind a light door, a tall one, a wide one, gaps and windows."""
    bodies = [box([0, 0, 0], [0.12, 0.2, 0.12]), box([0.12, 0.1, 0], [0.13, 0.11, 0.01])]
    bodies.append(box([0.13, 0, 0], [0.36, 0.2, 0.12]))
    near, far = cell_side(0.12), cell_side(0.13)
    door = Door(
        hinge=np.array([0.13, 0.105, 0.01]),
        reach=np.array([0.0, 0.0, -1.0]),
        swing=np.array([1.0, 0.0, 0.0]),
        width=0.01,
        length=0.01,
        thickness=0.0015,
        mass=5e-4,
        stop=np.radians(70.0),
    )
    round_it = gap(np.vstack([far, far[:1]]), height=5e-5, thickness=0.0015)
    over = 12.0 * (cell_side(0.12) - [0.12, 0.1, 0.0]) + [0.125, 0.04, 0.0]
    ways = [
        Passage("window", 0, 1, window(near), near.mean(axis=0)),
        Passage("door", 1, 2, window(far), far.mean(axis=0), "door", 0),
        Passage("gap", 1, 2, round_it, far.mean(axis=0)),
        Passage("open", 0, 2, window(over), over.mean(axis=0)),
    ]
    rim = Rim.circle([0.2, 0.1, 0.015], [0, 0, -1], radius=0.02)
    return net_of(bodies, ways, doors=[door], rim=rim, pool=2, shares=np.array([0.6, 0.0, 0.4]))


def cell_side(x: float) -> Floats:
    """The whole of a side of the small pool."""
    return np.array([[x, 0.1, 0.0], [x, 0.11, 0.0], [x, 0.11, 0.01], [x, 0.1, 0.01]])


def thrown(seconds: float, seed: int) -> tuple[Floats, Floats]:
    """Any g up to 1.2 either way every quarter second, and a kerb of 5 g for 50 ms every other."""
    rng = np.random.default_rng(seed)
    time = np.arange(0.0, seconds, 0.25)
    side = rng.uniform(-12.0, 12.0, (len(time), 2))
    fine = np.sort(np.concatenate([time, *(time[:-1:8] + dt for dt in (0.02, 0.045, 0.07))]))
    force = np.stack([*(np.interp(fine, time, a) for a in side.T), G + 0.0 * fine], axis=1)
    force[np.isin(np.round(fine % 2.0, 6), 0.045), 2] += 5 * G
    return fine, force


@pytest.mark.parametrize("viscosity", [1e-9, 12e-6, 1e-3])
@pytest.mark.parametrize("share", [0.003, 0.4, 0.98])
def test_no_oil_is_lost_and_no_step_is_stuck_in_ten_minutes_of_abuse(
    worst: Net, viscosity: float, share: float
) -> None:
    """Doors slam, the pickup runs dry, the small pool fills and empties, kerbs throw all of it."""
    time, force = thrown(600.0, 3)
    net = worst._replace(fluid=Fluid(850.0, viscosity))
    start = start_state(net, share * net.pools.capacity, 3e-4, force[0])
    course, _ = run(net, forcing_of(time, force, 6e-4, 0.7), start, time[::8])
    whole = course.volume.sum(axis=1) + course.retained
    pumped = 6e-4 * 600.0
    # rounding, of what is there and of the 360 L that went round
    assert np.abs(whole - whole[0]).max() < 1e-12 * whole[0] + 1e-14 * pumped
    assert course.marched.steps + course.marched.rejected < 600 * 600  # some hundred a second
    # a pool may be overdrawn by what a step may be off, 0.2 mm of its least surface; at the corner
    # where it runs dry a step tells its error some times too low, most so without friction
    slack = 10.0 if viscosity < 1e-6 else 3.0
    assert (course.volume > -slack * LEVEL * net.pools.least_area).all()


@pytest.mark.parametrize("what", ["levels", "tilt"])
def test_the_error_falls_with_the_third_power_of_the_step(what: str) -> None:
    """Three halvings of a fixed step, on thick oil that levels out and on hot oil that swings."""
    if what == "levels":
        outline = [[0.05, 0.0], [0.15, 0.0], [0.15, 0.05], [0.05, 0.05]]
        corners = np.array([[0.3, *place] for place in outline])
        ways = [Passage("slot", 0, 1, window(corners), corners.mean(axis=0))]
        net = net_of(TANKS, ways, fluid=Fluid(850.0, 1e-3))
        start, end, part = start_state(net, [9.6e-3, 7.2e-3], 0.0, REST), 0.5, slice(0, 2)
    else:
        net = net_of([BODY], [])
        lean = G * np.array([0.2, 0.1, 1.0])
        start, end, part = start_state(net, [3.6e-3], 0.0, lean), 2.0, slice(3, 6)
    still = forcing_of([0, end], [REST, REST])

    def answer(steps: int) -> Floats:
        return run(net, still, start, [], level=1.0, longest=end / steps)[1][part]

    best = answer(4096)
    errors = [np.abs(answer(n) - best).max() for n in (32, 64, 128, 256)]
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    np.testing.assert_allclose(orders, 3.0, atol=0.15)  # the first steps grow to their length
