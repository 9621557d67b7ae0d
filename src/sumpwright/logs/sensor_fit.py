# SPDX-License-Identifier: Apache-2.0
"""Time constant with which pressure follows engine speed, out of a log by itself."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.logs.first_order import first_order
from sumpwright.logs.log import Floats, Log
from sumpwright.logs.note import RUNNING

_TRIED = np.concatenate(([0.0, 0.01, 0.02, 0.035], 0.05 * 1.15 ** np.arange(26)))
"""[s] to 1.6 s."""
_RATE = 50.0
_MOST_ROWS = 60_000
"""Twenty minutes; more adds nothing to one number."""
_LEAST_TIME = 20.0
"""[s] of a running engine."""
_WORTH = 10.0
"""Log-likelihood times two over a tenth of a percent's chance, with one free value a second."""


def time_constant(log: Log, *, at_least: float) -> float | None:
    """First-order time constant of the pressure reading, if it is over a limit beyond doubt.

    Pressure is laid on engine speed (straight line, square and bends; with temperature where there
    is one) after both went through the same lag, and the lag that fits best is taken. Sensor, its
    line and the engine's galleries cannot be told apart in it.

    Parameters
    ----------
    log : Log [-]
        Any.
    at_least : float [s]
        The limit.

    Returns
    -------
    tau : float or None [s]
        None where there is too little to go by, or a lag of `at_least` fits about as well.

    Source
    ------
    Least squares over lags of a first-order step response. Checked by
    tests/logs/test_sensor_fit.py.
    """
    grid = _grid(log)
    if grid is None:
        return None
    step, pressure, laws, used = grid
    error = np.array([_error(pressure, _lagged(laws, t, step), used)[0] for t in _TRIED])
    _, rest = _error(pressure, _lagged(laws, _TRIED[np.argmin(error)], step), used)
    spread = 1.4826 * float(np.median(np.abs(rest[used])))
    used = used & (np.abs(rest) <= 3.0 * spread)  # dips are not the sensor's
    error = np.array([_error(pressure, _lagged(laws, t, step), used)[0] for t in _TRIED])
    best = int(np.argmin(error))
    least, limit = float(error[best]), float(np.interp(at_least, _TRIED, error))
    seconds = float(np.count_nonzero(used)) * step
    if _TRIED[best] <= at_least or not limit > 0.0:
        return None
    if least > 0.0 and seconds * np.log(limit / least) < _WORTH:
        return None
    return float(_TRIED[best])


def _grid(log: Log) -> tuple[float, Floats, Floats, NDArray[np.bool_]] | None:
    """Step, pressure, functions of engine speed and temperature, and the rows to go by."""
    if "pressure" not in log or "rpm" not in log:
        return None
    pressure, rpm = log["pressure"], log["rpm"]
    if min(len(pressure.time), len(rpm.time)) < 2:
        return None
    first, last = max(pressure.time[0], rpm.time[0]), min(pressure.time[-1], rpm.time[-1])
    step = 1.0 / min(pressure.rate, _RATE)
    time = np.arange(first, last, step)[:_MOST_ROWS]
    n = np.interp(time, rpm.time, rpm.value)
    used = _settled(n > RUNNING, round(3.0 / step))
    if np.count_nonzero(used) * step < _LEAST_TIME or np.ptp(n[used]) < RUNNING:
        return None
    n = n / n.max()
    bends = np.quantile(n[used], [0.3, 0.5, 0.7, 0.9])
    laws = [np.ones_like(n), n, n * n, *(np.maximum(n - b, 0.0) for b in bends)]
    if "temperature" in log and len(log["temperature"].time):
        warm = log["temperature"]
        heat = np.interp(time, warm.time, warm.value)
        heat = (heat - heat.mean()) / max(float(np.ptp(heat)), 1.0)
        laws += [heat, heat * n]
    return step, np.interp(time, pressure.time, pressure.value), np.array(laws), used


def _settled(on: NDArray[np.bool_], rows: int) -> NDArray[np.bool_]:
    """Where `on` has held for `rows` and more."""
    place = np.arange(len(on))
    off = np.maximum.accumulate(np.where(on, -1, place))
    return np.asarray(on & (place - off > rows))


def _lagged(laws: Floats, tau: float, step: float) -> Floats:
    if tau == 0.0:
        return laws
    keep = float(np.exp(-step / tau))
    middle = laws.copy()  # between two rows; as if the first value had always been
    middle[:, 1:] = 0.5 * (laws[:, 1:] + laws[:, :-1])
    return np.stack([first_order(row, keep, float(row[0])) for row in middle])


def _error(pressure: Floats, laws: Floats, used: NDArray[np.bool_]) -> tuple[float, Floats]:
    """Mean square of what is left over the rows used, and all that is left."""
    weights = np.linalg.lstsq(laws[:, used].T, pressure[used], rcond=None)[0]
    rest = pressure - weights @ laws
    return float(np.mean(rest[used] ** 2)), rest
