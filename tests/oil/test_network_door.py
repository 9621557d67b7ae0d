# SPDX-License-Identifier: Apache-2.0
"""Trap doors in a network: statics, the pendulum, one way only, shut and thrown open by g.

Sources: R4.5 of the checks, a 60 x 40 x 1.5 mm steel door under oil, which statics open to 52
degrees at 10 mm of head; the physical pendulum is a textbook's.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sumpwright.oil.door import Door, static_angle
from sumpwright.oil.network import Course, run, start_state
from sumpwright.oil.network_array import Fluid, Net
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.oil.opening import opening_flow
from sumpwright.oil.opening_shape import gap, window
from sumpwright.oil.passage import Passage
from tests.geometry.bodies import box
from tests.oil.door_case import LENGTH, OIL, STEEL, THICK, WIDTH, G, hung
from tests.oil.pan import net_of

Floats = NDArray[np.float64]

UP = np.array([0.0, 0.0, G])
POOL = [box([-4, -2, -0.05], [0, 2, 0.25]), box([0, -2, -0.05], [4, 2, 0.25])]
"""Two wide pools either side of the door of `hung`, which opens from the first to the second."""
PAN = [box([-0.15, -0.1, 0], [0, 0.1, 0.1]), box([0, -0.1, 0], [0.15, 0.1, 0.1])]
DEEP = [box([-0.15, -0.1, -0.6], [0, 0.1, 0.1]), box([0, -0.1, -0.6], [0.15, 0.1, 0.1])]
"""As that, with floors so low that the surface of no oil at all lies under the door at any lean."""
HOLE = np.array([[0, -0.03, 0.01], [0, 0.03, 0.01], [0, 0.03, 0.05], [0, -0.03, 0.05]])
LEAK = gap(np.vstack([HOLE, HOLE[:1]]), height=3e-4, thickness=THICK)


def hinged(bodies: list, door: Door, *more: Passage, oil: Fluid | None = None) -> Net:
    ways = [Passage("door", 0, 1, window(HOLE), HOLE.mean(axis=0), "door", 0), *more]
    return net_of(bodies, ways, doors=[door], fluid=oil or Fluid(OIL, 12e-6))


def driven(net: Net, volumes: list[float], force: Floats, time: Floats, level: float) -> Course:
    begun = start_state(net, volumes, 0.0, force[0])
    return run(net, forcing_of(time, force), begun, time, level=level)[0]


@pytest.mark.parametrize("head", [0.004, 0.01, 0.02])
def test_a_door_under_oil_comes_to_rest_where_statics_put_it(head: float) -> None:
    """R4.5: rho g dh W L^2/2 (1 - s^2) = (rho_s - rho) g W L t L/2 sin(theta)."""
    from scipy.optimize import brentq

    depth = 0.2
    time = np.linspace(0.0, 4.0, 5)
    course = driven(
        hinged(POOL, hung()), [16 * (depth + head), 16 * depth], np.tile(UP, (5, 1)), time, 1e-5
    )
    found = course.angle[-1, 0]
    left = course.height[-1, 0] - course.height[-1, 1]  # pools of 16 m2 have levelled by little

    def opens(angle: float) -> float:
        side = 2 * LENGTH * WIDTH * math.sin(angle / 2) + LENGTH**2 * math.sin(angle)
        curtain = side**2 / (side**2 + (LENGTH * WIDTH) ** 2)  # s^2 = what the window takes
        return OIL * left * (1 - curtain) - (STEEL - OIL) * THICK * math.sin(angle)

    # head and lean of a door as thick as 1.5 mm move its angle by the thickness over its length
    assert found == pytest.approx(brentq(opens, 1e-6, math.pi / 2), abs=THICK / LENGTH / 10)
    still = static_angle(hung(), head_1=depth + left, head_2=depth, gravity=-UP, density=OIL)
    assert 0.2 * still < found < still  # which has the whole difference of level on the door


def test_a_dry_door_swings_as_the_pendulum_that_it_is() -> None:
    """A thin plate on its edge, thrown open by 1 g: about 45 degrees, T = 2 pi sqrt(2 L / 3 g)."""
    force = np.array([-G, 0.0, G])
    time = np.linspace(0.0, 6.0, 3001)
    door = hung(damping=2e-7)
    start = start_state(hinged(DEEP, door), [0.0, 0.0], 0.0, force)
    start[3] = math.radians(44.0)
    ahead = forcing_of([0.0, 6.0], [force, force])
    angle = run(hinged(DEEP, door), ahead, start, time, level=1e-6)[0].angle[:, 0]
    off = angle - math.radians(45.0)
    rises = np.flatnonzero((off[:-1] < 0.0) & (off[1:] >= 0.0))
    wanted = 2 * math.pi * math.sqrt(2 * LENGTH / (3 * G * math.sqrt(2)))
    # of the door's own inertia, thickness is t^2/4L^2 = 4e-4; steps are chosen by 0.02 rad
    assert np.diff(time[rises]).mean() == pytest.approx(wanted, rel=2e-3)
    assert np.abs(off).max() == pytest.approx(math.radians(1.0), rel=0.02)


@pytest.mark.parametrize(("accel", "rests"), [(-1.0, 45.0), (-2.0, 63.435), (1.0, 0.0)])
def test_g_alone_throws_a_door_open_or_holds_it_shut(accel: float, rests: float) -> None:
    """Without oil it hangs along effective gravity, or lies on its seat."""
    time = np.linspace(0.0, 8.0, 81)
    rise = np.minimum(time / 0.2, 1.0)
    force = np.stack([accel * G * rise, 0 * time, G + 0 * time], axis=1)
    door = hung(damping=2e-3)
    course = driven(hinged(DEEP, door), [0.0, 0.0], force, time, 1e-5)
    assert math.degrees(course.angle[-1, 0]) == pytest.approx(rests, abs=0.01)  # settled


@pytest.mark.parametrize(("share", "opens"), [(0.92, False), (1.08, True)])
def test_a_door_that_g_holds_shut_opens_at_the_head_that_statics_give(
    share: float, opens: bool
) -> None:
    """1 g sideways: rho g' W int max(H - z.up, 0) s ds = m g L/2, on the face behind."""
    from scipy.optimize import brentq

    force = np.array([G, 0.0, G])
    up = force / np.linalg.norm(force)
    s = (np.arange(4000) + 0.5) / 4000 * LENGTH
    height = (0.05 - s - THICK / 2) * up[2]  # of the door's back: down from the hinge, aside by t/2

    def moment(head: float) -> float:
        press = OIL * G * math.sqrt(2) * WIDTH * (np.maximum(head - height, 0) * s).mean() * LENGTH
        return float(press) - STEEL * WIDTH * LENGTH * THICK * G * LENGTH / 2

    lowest = 0.01 * up[2]
    head = lowest + share * (brentq(moment, 0.0, 0.1) - lowest)
    # under x + z = c of a box 0.15 m long, 0.1 m tall and 0.2 m wide
    oil = 0.2 * (0.015 - 0.5 * (0.1 - head * math.sqrt(2)) ** 2)
    course = driven(hinged(PAN, hung()), [oil, 0.0], np.tile(force, (2, 1)), np.array([0, 1]), 1e-5)
    assert bool(course.volume[-1, 1] > 0.0) is opens


forces = st.lists(
    st.tuples(st.floats(-9, 9), st.floats(-9, 9), st.floats(4, 16)), min_size=4, max_size=9
)


@pytest.fixture(scope="module")
def sprung() -> dict[str, Net]:
    """Doors that a spring keeps shut against g alone: 3 times their weight's greatest moment."""
    weight = STEEL * WIDTH * LENGTH * THICK * 16.0 * LENGTH / 2
    door = hung(preload=3.0 * weight)
    leak = Passage("leak", 0, 1, LEAK, HOLE.mean(axis=0), "leak")
    return {"tight": hinged(PAN, door), "leaky": hinged(PAN, door, leak)}


@given(forces)
@settings(max_examples=25, deadline=None)
def test_nothing_comes_back_through_a_shut_door(
    sprung: dict[str, Net], way: list[tuple[float, float, float]]
) -> None:
    time = 0.4 * np.arange(len(way))
    course = driven(sprung["tight"], [0.0, 2e-3], np.array(way), time, 2e-4)
    assert (course.angle == 0.0).all()
    assert (course.volume == course.volume[0]).all()


def test_round_a_shut_door_leaks_what_its_gap_lets_through(sprung: dict[str, Net]) -> None:
    time = np.linspace(0.0, 10.0, 11)
    course = driven(sprung["leaky"], [0.0, 2.4e-3], np.tile(UP, (11, 1)), time, 1e-6)
    head = course.height[:, 1]
    flow = opening_flow(
        LEAK, head_1=0.0, head_2=float(head[5]), gravity=-UP, viscosity=12e-6, discharge=0.611
    ).flow
    gained = (course.volume[6, 0] - course.volume[4, 0]) / 2.0
    assert gained == pytest.approx(-flow, rel=5e-3)  # over 2 s the level falls by 1 %


def test_a_door_gathers_what_is_thrown_to_and_fro() -> None:
    """0.8 g either way, 1 s each: a window alone would share it evenly again and again."""
    time = np.linspace(0.0, 12.0, 241)
    side = 0.8 * G * np.clip(3.0 * np.sin(math.pi * time), -1.0, 1.0)
    force = np.stack([side, 0 * time, G + 0 * time], axis=1)
    half = [1.2e-3, 1.2e-3]
    gathered = driven(hinged(PAN, hung()), half, force, time, 1e-4).volume[:, 1]
    through = [Passage("window", 0, 1, window(HOLE), HOLE.mean(axis=0))]
    plain = driven(net_of(PAN, through), half, force, time, 1e-4).volume[:, 1]
    last = time > 10.0  # one swing each way
    assert plain[last].mean() == pytest.approx(1.2e-3, rel=0.05)
    assert gathered[last].min() > plain[last].max()
    assert gathered[last].mean() > 1.9e-3
