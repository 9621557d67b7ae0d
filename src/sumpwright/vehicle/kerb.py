# SPDX-License-Identifier: Apache-2.0
"""A kerb under a wheel: a pulse of vertical acceleration."""

import math

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.vehicle.guard import not_negative, positive
from sumpwright.vehicle.leg import ACCEL_STEP
from sumpwright.vehicle.manoeuvre import RUN_UP
from sumpwright.vehicle.motion import Motion, within_jerk

KERB_JERK = 500.0
"""m/s^3; [common-practice]: what a wheel does to the body is quicker than what a driver does."""


def kerb_strike(
    accel: float,
    pulse: float,
    *,
    rebound: float = 0.0,
    run_up: float = RUN_UP,
    rest: float = RUN_UP,
    jerk: float = KERB_JERK,
) -> Motion:
    r"""A kerb or a bump: one half sine of vertical acceleration, upward.

    .. math:: a_z = a \sin(\pi t/T)

    `overlaid` puts it on top of a turn.

    Parameters
    ----------
    accel : float [m/s^2]
        a, the peak, positive.
    pulse : float [s]
        T.
    rebound : float [s]
        Length of a second half sine, downward, that takes the body's vertical speed off again; its
        peak is pulse/rebound of the first. 0 leaves it out.
    run_up : float [s]
        Of quiet before.
    rest : float [s]
        Of quiet afterwards.
    jerk : float [m/s^3]
        Refused where the pulse begins more sharply, at pi a/T.

    Returns
    -------
    motion : Motion [m/s^2]
        Speed and path are not known: lay it over a motion that has them.

    Source
    ------
    [common-practice] for the shape, [closed-form]. Checked by tests/vehicle/test_manoeuvre.py.
    """
    peak, long = positive(accel, "peak acceleration", "m/s^2"), positive(pulse, "pulse", "s")
    back = not_negative(rebound, "rebound", "s")
    waves = [(long, peak)] + ([(back, -peak * long / back)] if back else [])
    time, up = [np.zeros(1)], [np.zeros(1)]
    for duration, height in [(not_negative(run_up, "run-up", "s"), 0.0), *waves, (rest, 0.0)]:
        if duration > 0.0:
            share = np.arange(1, _pulse_steps(height) + 1) / _pulse_steps(height)
            time.append(time[-1][-1] + duration * share)
            wave = height * np.sin(math.pi * share)
            wave[-1] = 0.0  # sin(pi) is not 0 to the last digit
            up.append(wave)
    vertical = np.concatenate(up)
    accels = np.stack([np.zeros_like(vertical), np.zeros_like(vertical), vertical], axis=1)
    if math.pi * peak / long > positive(jerk, "jerk limit", "m/s^3") * (1.0 + 1e-9):
        raise RangeError(
            f"this pulse begins with a jerk of {math.pi * peak / long:.4g} m/s^3, and the limit "
            f"is {jerk:.4g}: take a longer pulse, or raise the limit"
        )
    return within_jerk(Motion(np.concatenate(time), accels), jerk)


def _pulse_steps(height: float) -> int:
    """Even, so that the peak is a node; 1 where nothing happens."""
    if not height:
        return 1
    return 2 * max(16, math.ceil(0.5 * math.pi * abs(height) / ACCEL_STEP))
