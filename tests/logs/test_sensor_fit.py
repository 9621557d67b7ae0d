# SPDX-License-Identifier: Apache-2.0
"""The time constant put into a log comes out of it.

Source: the first-order lag is made here by a library's simulation of 1 / (tau s + 1); pressure
over engine speed is invented, with a relief valve.
"""

import numpy as np
import pytest
from scipy.signal import TransferFunction, lsim

from sumpwright.logs.log import Channel, Floats, Log
from sumpwright.logs.sensor_fit import time_constant

TIME = np.arange(0.0, 120.0, 0.01)
RPM = 2 * np.pi / 60


def speed_of(time: Floats) -> Floats:
    """Pulls up through four gears and comes back, every nine seconds."""
    within = np.mod(time, 9.0)
    pull = 3000.0 + 3500.0 * np.mod(within, 2.0) / 2.0
    return np.where(within < 6.0, pull, 6500.0 - 1150.0 * (within - 6.0)) * RPM


def log_of(tau: float, *, dips: bool = False, noise: float = 4e3, rate: int = 100) -> Log:
    n = speed_of(TIME)
    pressure = np.minimum(1.2e5 + 900.0 * n, 6.5e5)
    if dips:
        pressure = np.where(np.mod(TIME, 10.0) < 0.5, 0.4 * pressure, pressure)
    if tau:
        start = pressure[0]
        _, shown, _ = lsim(TransferFunction([1], [tau, 1]), pressure - start, TIME)
        pressure = shown + start
    pressure = pressure + np.random.default_rng(3).normal(0.0, noise, len(TIME))
    thin = slice(None, None, 100 // rate)
    return Log(
        "day.csv",
        {
            "pressure": Channel("pressure", "p", "", "given", TIME[thin], pressure[thin]),
            "rpm": Channel("rpm", "n", "", "given", TIME, n),
        },
    )


@pytest.mark.parametrize("tau", [0.1, 0.2, 0.4])
@pytest.mark.parametrize("dips", [False, True])
def test_finds_the_lag_that_was_put_in(tau: float, dips: bool) -> None:
    # lags are tried in steps of 15 %, so that the nearest is within 8 %; dips add as much again
    assert time_constant(log_of(tau, dips=dips), at_least=0.05) == pytest.approx(tau, rel=0.15)


@pytest.mark.parametrize("tau", [0.0, 0.03])
@pytest.mark.parametrize("dips", [False, True])
def test_does_not_call_a_quick_sensor_slow(tau: float, dips: bool) -> None:
    assert time_constant(log_of(tau, dips=dips), at_least=0.05) is None


def test_finds_it_at_25_rows_a_second() -> None:
    assert time_constant(log_of(0.2, rate=25), at_least=0.05) == pytest.approx(0.2, rel=0.15)


def test_says_nothing_where_noise_hides_the_lag_or_there_is_nothing_to_go_by() -> None:
    assert time_constant(log_of(0.1, noise=2e6), at_least=0.05) is None
    poor = log_of(0.2)
    assert time_constant(Log("a", {"rpm": poor["rpm"]}), at_least=0.05) is None
    steady = Channel("rpm", "n", "", "given", TIME, np.full(len(TIME), 400.0))
    assert time_constant(Log("a", {**poor.channels, "rpm": steady}), at_least=0.05) is None
