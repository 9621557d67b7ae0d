# SPDX-License-Identifier: Apache-2.0
"""How much of a short dip a sensor and a logger can show."""

import math

from sumpwright.errors import RangeError

DIP_THAT_MATTERS = 0.25
"""[s] [common-practice]: the shortest loss of pressure a log ought to show."""
LEAST_RATE = 25.0
"""[1/s] [common-practice]: six samples in `DIP_THAT_MATTERS`."""
SLOWEST_SENSOR = 0.05
"""[s] [common-practice]: time constant, at which the sensor shows 99 % of `DIP_THAT_MATTERS`."""


def seen_share(duration: float, *, tau: float) -> float:
    """Share of a dip's depth that a first-order sensor shows before the dip ends.

    Parameters
    ----------
    duration : float [s]
        Of the dip, taken as a step down and up again.
    tau : float [s]
        Time constant of the sensor; 0 for one that follows at once.

    Returns
    -------
    share : float [-]
        1 - exp(-duration / tau), 0 to 1.

    Raises
    ------
    RangeError
        If a time is negative or not a number.

    Source
    ------
    Step response of a first-order system, any textbook on control. Checked by
    tests/logs/test_sensor_lag.py.
    """
    if not (duration >= 0.0 and tau >= 0.0):
        raise RangeError(f"times of 0 s or more are needed, got {duration} s and {tau} s")
    if tau == 0.0:
        return 1.0
    return -math.expm1(-duration / tau)


def samples_in(duration: float, *, rate: float) -> float:
    """Samples that fall into a dip, on average over where it starts.

    Parameters
    ----------
    duration : float [s]
        Of the dip.
    rate : float [1/s]
        Of the log.

    Returns
    -------
    samples : float [-]

    Raises
    ------
    RangeError
        If an argument is negative or not a number.

    Source
    ------
    Counting: duration times rate. Checked by tests/logs/test_sensor_lag.py.
    """
    if not (duration >= 0.0 and rate >= 0.0):
        raise RangeError(f"0 or more is needed, got {duration} s and {rate} samples a second")
    return duration * rate


def slow_rate(rate: float) -> str | None:
    """Sentence that says a log is too slow to show the dips that matter; None if it is not.

    Parameters
    ----------
    rate : float [1/s]
        Of the pressure channel.

    Returns
    -------
    text : str or None [-]

    Source
    ------
    [common-practice] for the limit. Checked by tests/logs/test_sensor_lag.py.
    """
    if rate >= LEAST_RATE * 0.98:  # a logger's clock is not exact; 24.5 is set to 25
        return None
    count = samples_in(DIP_THAT_MATTERS, rate=rate)
    return (
        f"logged {rate:.3g} times a second: {count:.2g} samples in a dip of "
        f"{DIP_THAT_MATTERS:g} s, so that short dips can be missed; "
        f"log pressure {LEAST_RATE:g} times a second or more"
    )


def slow_sensor(tau: float) -> str | None:
    """Sentence that says a sensor is too slow to show the dips that matter; None if it is not.

    Parameters
    ----------
    tau : float [s]
        Time constant with which the reading follows.

    Returns
    -------
    text : str or None [-]

    Source
    ------
    [common-practice] for the limit. Checked by tests/logs/test_sensor_lag.py.
    """
    if tau <= SLOWEST_SENSOR:
        return None
    share = seen_share(DIP_THAT_MATTERS, tau=tau)
    return (
        f"follows with a time constant of about {tau:.2g} s: a dip of {DIP_THAT_MATTERS:g} s shows "
        f"{100.0 * share:.0f} % of its depth; mount a sensor of {SLOWEST_SENSOR:g} s or less, with "
        "a short line that holds no air"
    )
