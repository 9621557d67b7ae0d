# SPDX-License-Identifier: Apache-2.0
"""What must hold for a network whatever the pan: rest stays rest, oil stays, scales and mirrors."""

import numpy as np

from sumpwright.geometry.rim import Rim
from sumpwright.oil.drawdown import FLOOR
from sumpwright.oil.mouth import drawdown_coefficient
from sumpwright.oil.network import run, start_state
from sumpwright.oil.network_forcing import forcing_of
from tests.geometry.bodies import box
from tests.oil.pan import G, net_of

REST = np.array([0.0, 0.0, G])
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
