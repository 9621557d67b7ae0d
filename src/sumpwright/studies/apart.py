# SPDX-License-Identifier: Apache-2.0
"""How much of the oil lies in pools that do not touch the one the pickup draws from?"""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.pool import pool_at
from sumpwright.geometry.rim import Rim
from sumpwright.studies.bodies import PanBodies
from sumpwright.studies.result import OilApart

Floats = NDArray[np.float64]
ROUNDING = 1e-9
"""m; a rim at its limit touches the surface but for rounding."""


def oil_apart(body: PanBodies, rim: Rim, surfaces: dict[str, tuple[Floats, float]]) -> OilApart:
    """Oil apart from the rim's for surfaces (up (3,), height [m]) by field of `OilApart`.

    A rim that stands out of the oil has no pool; nothing is then said to be apart from it.
    """
    asked = {
        name: (up, height)
        for name, (up, height) in surfaces.items()
        if height >= rim.highest_height(up)[0] - ROUNDING
    }
    found = dict.fromkeys(surfaces, 0.0)
    if asked:
        ups, heights = (np.array(column) for column in zip(*asked.values(), strict=True))
        pool = pool_at(body.oil_space, rim.points(1)[0], ups, heights)
        found |= zip(asked, pool.apart.tolist(), strict=True)
    return OilApart(**found)
