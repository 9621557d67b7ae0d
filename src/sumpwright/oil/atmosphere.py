# SPDX-License-Identifier: Apache-2.0
"""Air pressure over altitude. A pump inlet lives on absolute pressure; gauges do not show it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.table import within

SEA_LEVEL = 101325.0  # Pa
BASE, LAPSE = 288.15, 0.0065  # K at sea level, K/m
EXPONENT = 9.80665 / (287.05287 * LAPSE)
LOWEST, HIGHEST = -2000.0, 11000.0  # m; the layer that the lapse rate holds for


def isa_pressure(altitude: ArrayLike) -> NDArray[np.float64]:
    r"""Air pressure of the standard atmosphere at an altitude.

    .. math:: p = p_0 (1 - L h / T_0)^{g/(R L)}

    Weather moves the true pressure by some 3 % either way.

    Parameters
    ----------
    altitude : (...) [m]
        h, geopotential, which at road heights is the height above sea level.

    Returns
    -------
    pressure : (...) [Pa]

    Raises
    ------
    RangeError
        If the altitude is outside -2000 to 11000 m.

    Source
    ------
    [ISO-2533]; weather [common-practice]. Checked by tests/oil/test_atmosphere.py.
    """
    h = within(altitude, LOWEST, HIGHEST, "altitude", "m")
    return np.asarray(SEA_LEVEL * (1.0 - LAPSE * h / BASE) ** EXPONENT)
