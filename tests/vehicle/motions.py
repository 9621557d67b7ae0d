# SPDX-License-Identifier: Apache-2.0
"""One of every manoeuvre, for what must hold for all of them."""

import math
from collections.abc import Callable

from sumpwright.vehicle.combined import brake_and_turn, staged_skidpad
from sumpwright.vehicle.kerb import kerb_strike
from sumpwright.vehicle.manoeuvre import brake, figure_eight, launch, slalom, steady_circle
from sumpwright.vehicle.motion import Motion
from sumpwright.vehicle.slope import banked_circle, hill

G = 9.80665
Builder = Callable[[float], Motion]

ON_THE_LEVEL: dict[str, Builder] = {
    "circle": lambda jerk: steady_circle(30.0, accel=1.2 * G, duration=6.0, jerk=jerk),
    "right-hand circle": lambda jerk: steady_circle(
        30.0, speed=15.0, laps=1, left=False, jerk=jerk
    ),
    "figure-eight": lambda jerk: figure_eight(15.0, accel=G, laps=2, jerk=jerk),
    "slalom": lambda jerk: slalom(18.0, 1.0, speed=13.0, cones=5, jerk=jerk),
    "stop": lambda jerk: brake(100.0 / 3.6, G, jerk=jerk),
    "dab of the brake": lambda jerk: brake(20.0, G, end_speed=19.0, jerk=jerk),
    "launch": lambda jerk: launch(25.0, 0.6 * G, jerk=jerk),
    "brake and turn": lambda jerk: brake_and_turn(
        33.0, 15.0, decel=1.1 * G, accel=1.2 * G, jerk=jerk
    ),
    "staged skidpad": lambda jerk: staged_skidpad(
        30.0, [0.6 * G, 0.8 * G, 1.0 * G], hold=3.0, jerk=jerk
    ),
}
OFF_THE_LEVEL: dict[str, Builder] = {
    "hill": lambda jerk: hill(math.pi, math.radians(20.0), duration=5.0, jerk=jerk),
    "bank": lambda jerk: banked_circle(60.0, 0.2, accel=G, duration=4.0, jerk=jerk),
    "wrong bank": lambda jerk: banked_circle(60.0, -0.1, accel=0.8 * G, duration=4.0, jerk=jerk),
    "kerb": lambda jerk: kerb_strike(0.02 * jerk, 0.1, rebound=0.3, jerk=jerk),
}
EVERY = ON_THE_LEVEL | OFF_THE_LEVEL
