# SPDX-License-Identifier: Apache-2.0
"""A unit from the size of the numbers, where only one makes sense; common practice, no source."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding

Floats = NDArray[np.float64]

_SOLE = {"rpm": "rpm", "gear": "1", "lap": "1"}


def guessed_unit(role: str, values: Floats) -> str:
    """The one unit in which these numbers make sense; empty where there are several.

    Parameters
    ----------
    role : str [-]
    values : (n,) [-]
        As logged.

    Returns
    -------
    unit : str [-]
    """
    if role in _SOLE:
        return _SOLE[role]
    low, most = (float(v) for v in np.percentile(values, [1.0, 99.0]))
    size = max(abs(low), abs(most))
    if role == "pressure":
        return "bar" if 0.8 < most <= 11.0 else "kPa" if 180.0 < most <= 1200.0 else ""
    if role == "temperature":
        # 80 to 135 degF would be an engine never warmed, 175 degC and more an oil destroyed
        return "degF" if 175.0 < most < 330.0 else "degC" if 80.0 < most <= 135.0 else ""
    if role in ("ax", "ay", "az"):
        return "g" if 0.5 < size < 2.5 else "m/s^2" if 4.0 < size < 30.0 else ""
    if role == "throttle":
        return "%" if most > 1.5 else "-"
    if role in ("latitude", "longitude"):
        return "deg" if size > 3.2 else ""
    return ""


def step_unit(time: Floats, name: str, said: list[Finding]) -> str:
    """Unit of a time that has none, from the spacing of its rows.

    Parameters
    ----------
    time : (n,) [-]
        As logged.
    name : str [-]
        Of the file, for messages.
    said : list of Finding [-]
        Takes LOG-227 where it is not taken as seconds.

    Returns
    -------
    unit : str [-]
    """
    sound = time[np.isfinite(time)]
    steps = np.abs(np.diff(sound))
    steps = steps[steps > 0.0]
    if len(steps) < 100 or float(np.median(steps)) < 2.0:
        return "s"
    unit = "ms" if float(np.median(steps)) < 2000.0 else "us"
    said.append(Finding("LOG-227", name, "time without a unit", f"read as {unit}", "note"))
    return unit
