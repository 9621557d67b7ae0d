# SPDX-License-Identifier: Apache-2.0
"""Where oil in a network ends up, how soon, and that sizes and hands do not matter.

Exact levels of every compartment on its own are the reference; dimensional analysis (Froude) for
what is inertial alone.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sumpwright.geometry.level import level_body
from sumpwright.geometry.mesh import Mesh
from sumpwright.oil.network import Course, run, start_state
from sumpwright.oil.network_array import Fluid, Net
from sumpwright.oil.network_forcing import forcing_of
from sumpwright.oil.opening_shape import window
from sumpwright.oil.passage import Passage
from sumpwright.oil.settle import settled_volumes
from tests.geometry.bodies import box, prism
from tests.oil.pan import THIN, G, net_of

Floats = NDArray[np.float64]

UP = np.array([0.0, 0.0, G])
TALL = 0.1
ROW = [box([0, 0, 0], [0.1, 0.2, TALL]), box([0.1, 0, 0], [0.25, 0.2, TALL])]
ROW += [box([0.25, 0, 0], [0.4, 0.2, TALL])]
"""Three in a row, on one floor: over a sill oil would stay behind."""


def pane(x: float, y: tuple[float, float], z: tuple[float, float]) -> Floats:
    return np.array([[x, a, b] for a, b in zip(np.repeat(y, 2), [*z, *z[::-1]], strict=True)])


def way(a: int, b: int, corners: Floats) -> Passage:
    return Passage("way", a, b, window(corners), corners.mean(axis=0))


def windows(share: float = 1.0, size: float = 1.0) -> list[Passage]:
    """Along the floor and along the lid, on both sides, so that every corner drains and airs."""
    found = []
    for a, x in ((0, 0.1), (1, 0.25)):
        for y in ((0.0, 0.03 * share), (0.2 - 0.03 * share, 0.2)):
            for z in ((0.0, 0.02), (0.08, TALL)):
                found.append(way(a, a + 1, size * pane(x, y, z)))
    return found


@pytest.fixture(scope="module")
def row() -> Net:
    return net_of(ROW, windows())


def rested(net: Net, volumes: Floats, force: Floats, seconds: float = 400.0) -> Course:
    time = [0.0, 2.0, seconds]
    push = forcing_of(time, [UP, force, force])
    return run(net, push, start_state(net, volumes, 0.0, UP), [seconds])[0]


shares = st.tuples(*[st.floats(0.0, 1.0) for _ in range(3)])
sideways = st.tuples(st.floats(-8.0, 8.0), st.floats(-8.0, 8.0))


@pytest.mark.slow
@given(shares, sideways)
@settings(max_examples=40, deadline=None)
def test_any_start_ends_at_the_exact_static_answer(
    row: Net, share: tuple[float, float, float], side: tuple[float, float]
) -> None:
    """Dry floors, full pools under the lid, any direction: one plane through all that is wet."""
    volumes = np.array(share) * row.pools.capacity
    force = np.array([*side, G])
    up = force / np.linalg.norm(force)
    course = rested(row, volumes, force)
    wanted = settled_volumes([level_body(body) for body in ROW], up, float(volumes.sum()))
    # what the tables may be off over a surface of 0.03 m2, on either side; a film that drains ever
    # slower, 0.1 mm of it after minutes; and the 0.5 % that a full pool takes to carry 0.1 m
    full = wanted > 0.99 * row.pools.capacity
    allowed = 0.03 * (4e-4 + 1e-4) + 0.005 * row.pools.capacity * full
    assert (np.abs(course.volume[0] - wanted) < allowed).all()


def test_wider_openings_level_out_sooner(row: Net) -> None:
    def half_time(net: Net) -> float:
        time = np.linspace(0.0, 20.0, 2001)
        begun = start_state(net, np.array([1.6e-3, 0.6e-3, 0.2e-3]), 0.0, UP)
        volume = run(net, forcing_of([0, 20], [UP, UP]), begun, time)[0].volume[:, 0]
        half = 0.5 * (volume[0] + volume[-1])
        return float(time[np.argmax(volume < half)])

    times = [half_time(net_of(ROW, windows(share))) for share in (0.25, 0.5, 1.0)]
    assert times[0] > 1.7 * times[1] > 1.7**2 * times[2]  # twice as wide, about half as long


def test_twice_the_openings_halve_the_time_of_oil_without_friction() -> None:
    time = np.linspace(0.0, 10.0, 401)
    single = net_of(ROW, windows(), fluid=THIN)
    double = single._replace(ways=single.ways._replace(discharge=0.5 * single.ways.discharge))
    begun = start_state(single, np.array([1.6e-3, 0.6e-3, 0.2e-3]), 0.0, UP)
    found = []
    for net, long in ((single, 1.0), (double, 2.0)):
        still = forcing_of([0, 10 * long], [UP, UP])
        found.append(run(net, still, begun, time * long, level=1e-6)[0].volume)
    np.testing.assert_allclose(found[0], found[1], atol=0.03 * 1e-5)  # 1e-6 m a step, some ten


def test_a_pan_four_times_as_large_does_the_same_in_twice_the_time() -> None:
    """Froude: lengths by 4, times by 2, flows by 32, accelerations alike; no friction."""
    found = []
    for size in (1.0, 4.0):
        bodies = [Mesh(size * b.vertices, b.faces) for b in ROW]
        net = net_of(bodies, windows(size=size), fluid=Fluid(850.0, 1e-12))
        time = np.linspace(0.0, 4.0, 81)
        force = [[4.0 * np.sin(2.5 * t), 3.0 * np.sin(1.7 * t), G] for t in time]
        begun = start_state(net, size**3 * np.array([1.2e-3, 0.8e-3, 0.9e-3]), 0.0, UP)
        slow = np.sqrt(size) * time
        course = run(net, forcing_of(slow, force), begun, slow, level=size * 1e-6)[0]
        found.append(course.volume / size**3)
    assert np.ptp(found[0], axis=0).min() > 2e-4  # oil does go to and fro
    # tables are as good as 0.2 mm, whatever the size: 0.2 mm of the small pan's 0.03 m2
    np.testing.assert_allclose(found[0], found[1], atol=0.03 * 2e-4)


@pytest.mark.parametrize("turn", [1.0, -1.0])
def test_an_irregular_pan_and_its_mirror_image_mirror_each_other(turn: float) -> None:
    """A well with sloping floors, parted lengthwise beside the middle."""
    floor = [[0.0, 0.03], [0.12, 0.0], [0.2, 0.0], [0.36, 0.05]]
    outline = np.array([*floor, [0.36, 0.1], [0.0, 0.1]])
    volumes = []
    for hand in (1.0, -1.0):
        left, right = prism(outline, 0.05), prism(outline, 0.12)
        bodies = [handed(left, hand), handed(right, hand, shift=-0.12)]
        corners = np.array([[0.15, 0, 0.0], [0.19, 0, 0.0], [0.19, 0, 0.03], [0.15, 0, 0.03]])
        net = net_of(bodies, [way(0, 1, corners)])
        time = np.linspace(0.0, 6.0, 61)
        side = turn * hand * 7.0 * np.minimum(time, 1.0)
        force = np.stack([2.0 * np.sin(3 * time), side, G + 0 * time], axis=1)
        begun = start_state(net, np.array([0.6e-3, 1.1e-3]), 0.0, UP)
        volumes.append(run(net, forcing_of(time, force), begun, time, level=1e-6)[0].volume)
    assert np.ptp(volumes[0]) > 2e-4  # oil does go over
    # tables are not mirrored to the last digit, nor are the steps that are chosen
    np.testing.assert_allclose(volumes[0], volumes[1], atol=2e-7)


def handed(body: Mesh, hand: float, shift: float = 0.0) -> Mesh:
    """Moved along y, then mirrored for the other hand; faces stay outward."""
    moved = body.vertices + np.array([0.0, shift, 0.0])
    vertices = moved * np.array([1.0, hand, 1.0])
    return Mesh(vertices, body.faces if hand > 0.0 else body.faces[:, ::-1])
