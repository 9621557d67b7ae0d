# SPDX-License-Identifier: Apache-2.0
"""What must hold for a network whatever the pan: rest stays rest, oil stays, scales and mirrors."""

import numpy as np

from sumpwright.oil.network import run, start_state
from sumpwright.oil.network_forcing import forcing_of
from tests.geometry.bodies import box
from tests.oil.pan import G, net_of

REST = np.array([0.0, 0.0, G])


def test_is_not_taken_for_at_rest_before_a_slow_change() -> None:
    """The force rises so gently that no step must end at a corner of it; still it does rise."""
    net = net_of([box([0, 0, 0], [0.3, 0.2, 0.1])], [])
    time = np.array([0.0, 5.0, 25.0, 60.0])
    slow = forcing_of(time, [REST, REST, [0.6 * G, 0.0, G], [0.6 * G, 0.0, G]])
    assert len(slow.stops) == 0
    course, state = run(net, slow, start_state(net, [2e-3], 0.0, REST), [], until_still=True)
    assert 25.0 <= course.marched.time < 60.0
    np.testing.assert_allclose(state[3], 0.6 / np.hypot(0.6, 1.0), atol=1e-3)  # swings by so little
