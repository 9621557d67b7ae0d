# SPDX-License-Identifier: Apache-2.0
"""How far does the pickup's mouth stand off the floor of the pan?"""

import numpy as np

from sumpwright.geometry.line import line_crossings
from sumpwright.studies.bodies import PanBodies

RIM_POINTS = 24
DOWNWARD = 0.5
"""Cosine of the mouth's axis to straight down from which it is a downward mouth."""


def floor_gap(body: PanBodies) -> float | None:
    """Smallest distance from the rim, along the mouth's axis, to the cavity's skin [m].

    None for a mouth that does not face down, or without a pickup.
    """
    if body.rim is None or abs(body.rim.axis[2]) < DOWNWARD:
        return None
    down = -np.sign(body.rim.axis[2]) * body.rim.axis
    gaps = []
    for point in body.rim.points(RIM_POINTS):
        along, way = line_crossings(body.cavity, point, down)
        below = along[(along >= 0.0) & (way > 0.0)]
        gaps += [float(below[0])] if len(below) else []
    return min(gaps, default=None)
