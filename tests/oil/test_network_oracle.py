# SPDX-License-Identifier: Apache-2.0
"""The network against its own equations written out once more and given to scipy.

Three boxes in a row with windows, a door, a pickup that takes air, a pump, oil that comes home, in
a force that moves both ways: plain_network.py, which shares no table and no kernel of the network.
"""

import numpy as np
import pytest
from numpy.typing import NDArray

from sumpwright.geometry.rim import Rim
from sumpwright.oil.door import Door
from sumpwright.oil.network import LEVEL, Course, run, start_state
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.oil.opening_shape import window
from sumpwright.oil.passage import Passage
from tests.geometry.bodies import box
from tests.oil.pan import HOT, G, net_of
from tests.oil.plain_network import Plain, followed

Floats = NDArray[np.float64]

END = 3.0
AREA = 0.12 * 0.2
POOLS = [box([x, 0, 0], [x + 0.12, 0.2, 0.12]) for x in (0.0, 0.12, 0.24)]
TIMES = np.linspace(0.0, END, 31)
NODES = np.linspace(0.0, END, 601)
SHARES = np.array([0.5, 0.2, 0.3])
FLOW, RATE = 6e-4, 0.7


def pane(x: float, y: tuple[float, float], z: tuple[float, float]) -> Floats:
    return np.array([[x, y[0], z[0]], [x, y[1], z[0]], [x, y[1], z[1]], [x, y[0], z[1]]])


def way(a: int, b: int, corners: Floats, door: int = -1) -> Passage:
    return Passage("way", a, b, window(corners, thickness=0.002), corners.mean(axis=0), door=door)


WAYS = [
    way(0, 1, pane(0.12, (0.05, 0.10), (0.002, 0.05))),
    way(1, 2, pane(0.24, (0.02, 0.06), (0.002, 0.04))),
    way(2, 1, pane(0.24, (0.12, 0.16), (0.01, 0.04)), door=0),
    way(0, 1, pane(0.12, (0.02, 0.18), (0.08, 0.118))),
]
DOOR = Door(
    hinge=np.array([0.24, 0.14, 0.04]),
    reach=np.array([0.0, 0.0, -1.0]),
    swing=np.array([-1.0, 0.0, 0.0]),
    width=0.04,
    length=0.03,
    thickness=0.0015,
    mass=0.02,
    stop=np.radians(70.0),
)
RIM = Rim.circle([0.18, 0.1, 0.02], [0.0, 0.0, -1.0], radius=0.02)


def pushed(t: Floats) -> Floats:
    grown = 1.0 - np.exp(-t)
    return np.stack([5 * np.sin(2 * t) * grown, 4 * np.sin(1.3 * t) * grown, G + 0 * t], axis=-1)


FORCE = pushed(NODES)


def force_at(t: float) -> Floats:
    return np.array([np.interp(t, NODES, axis) for axis in FORCE.T])


@pytest.fixture(scope="module")
def both() -> tuple[Floats, dict[float, Course]]:
    """States by scipy, and courses by allowed error."""
    net = net_of(POOLS, WAYS, doors=[DOOR], rim=RIM, pool=1, shares=SHARES)
    start = start_state(net, [1.1e-3, 1.0e-3, 0.9e-3], 5e-4, np.array([0, 0, G]))
    forcing = forcing_of(NODES, FORCE, FLOW, RATE)
    courses = {level: run(net, forcing, start, TIMES, level=level)[0] for level in (1e-7, LEVEL)}
    plain = Plain(POOLS, WAYS, [DOOR], HOT, RIM, 1, SHARES, force_at, FLOW, RATE)
    return followed(plain, start, TIMES, piece=5e-3, rtol=1e-6), courses


@pytest.mark.slow
def test_tight_steps_follow_the_plain_equations(both: tuple[Floats, dict[float, Course]]) -> None:
    exact, course = both[0], both[1][1e-7]
    assert np.ptp(course.angle) > np.radians(20.0)  # the door does move
    assert 0.05 < course.air.max() < 0.95  # and air is drawn
    # level tables are good to 0.2 mm; here they are far better
    np.testing.assert_allclose(course.volume, exact[:, :3], rtol=0, atol=5e-5 * AREA)
    np.testing.assert_allclose(course.retained, exact[:, 3], rtol=0, atol=1e-6)
    np.testing.assert_allclose(course.air_drawn, exact[:, 6], rtol=0, atol=1e-6)
    # swing tables are straight between nodes 7 degrees apart
    lean = exact[:, 7:16].reshape(-1, 3, 3)
    normal = lean / np.linalg.norm(lean, axis=2, keepdims=True)
    np.testing.assert_allclose(course.normal, normal, rtol=0, atol=np.radians(0.3))
    # 0.2 degrees of tilt are 0.2 mm of head on the door, of some 10 mm that lift it by 40 degrees
    np.testing.assert_allclose(course.angle[:, 0], exact[:, 4], rtol=0, atol=np.radians(0.8))


@pytest.mark.slow
def test_usual_steps_are_as_good_as_they_say(both: tuple[Floats, dict[float, Course]]) -> None:
    exact, course = both[0], both[1][LEVEL]
    assert course.marched.worst_level <= LEVEL
    # errors of steps add up, but the next ones level them out again
    np.testing.assert_allclose(course.volume, exact[:, :3], rtol=0, atol=LEVEL * AREA)
    # 0.2 mm on a cover of 25 mm and the power 5/2: 2 % of what air there is
    np.testing.assert_allclose(course.air_drawn, exact[:, 6], rtol=0.02, atol=1e-6)
