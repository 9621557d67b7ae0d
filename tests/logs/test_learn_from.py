# SPDX-License-Identifier: Apache-2.0
"""What is learnt from: not filling galleries, not a dead sensor, not oil that was pushed about.

Common practice, no source, for the limits.
"""

import numpy as np

from sumpwright.logs.learn_from import PRIMING, SETTLING, gentle, pumping

TIME = np.arange(0.0, 60.0, 0.1)
SPEED = 400.0 + 100.0 * np.sin(TIME)
NOISE = np.random.default_rng(1).normal(0.0, 1e3, len(TIME))


def test_a_start_is_not_learnt_from_until_pressure_is_up() -> None:
    speed = np.where(TIME < 20.0, 0.0, SPEED)
    learnt = TIME[pumping(TIME, 3e5 + NOISE, speed)]
    assert 20.0 + PRIMING - 0.15 < learnt[0] < 20.0 + PRIMING + 0.15  # a row either way


def test_a_reading_that_stays_is_not_learnt_from_but_a_plateau_is() -> None:
    pressure = 3e5 + 2e5 * np.sin(TIME) + NOISE
    stuck = np.where(TIME > 50.0, 2.5e5, pressure)
    assert not pumping(TIME, stuck, SPEED)[TIME > 51.0].any()
    relief = np.minimum(pressure, 4e5)
    assert pumping(TIME, relief, SPEED)[TIME > 3.0].all()


def test_a_push_is_not_gentle_nor_is_the_moment_around_it() -> None:
    ay = np.where((TIME > 20.0) & (TIME < 25.0), 9.0, 0.0)
    calm = gentle(np.full(len(TIME), np.nan), ay, 0.1)
    assert not calm[(TIME > 20.2 - SETTLING) & (TIME < 24.8 + SETTLING)].any()
    assert calm[(TIME < 19.0) | (TIME > 26.0)].all()
