# SPDX-License-Identifier: Apache-2.0
"""The pickup's mouth: its rim, whether it is in the pan, how far it stands off the floor."""

from collections.abc import Iterator

import numpy as np

from sumpwright.errors import Problem
from sumpwright.geometry.inside import inside
from sumpwright.geometry.line import line_crossings
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.rim import Rim
from sumpwright.job.pan import Pickup
from sumpwright.studies.bodies import PanBodies
from sumpwright.units import shown

RIM_POINTS = 24
_LOOKED_AT = 16
"""Points of the rim that must be in the cavity."""
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


def rim_of(pickup: Pickup) -> Rim:
    """The rim of a pickup that the job describes by numbers of its own."""
    if pickup.rim is not None:
        return Rim.polygon(pickup.rim)
    assert pickup.centre is not None
    assert pickup.diameter is not None
    return Rim.circle(pickup.centre, pickup.facing, radius=0.5 * pickup.diameter)


def rim_outside(where: str, cavity: Mesh, rim: Rim, units: str) -> Iterator[Problem]:
    """The problem of a rim that is not wholly inside the cavity."""
    points = rim.points(_LOOKED_AT)
    out = points[~inside(cavity, points)]
    if not len(out):
        return
    x, y, z = (shown(c, "length", units) for c in out[np.argmin(out[:, 2])])
    yield Problem(
        code="JOB-153",
        where=where,
        found=f"{len(out)} of {len(points)} points of the inlet rim are outside the "
        f"cavity, such as x {x}, y {y}, z {z}",
        needed="the whole inlet rim inside the cavity",
        do="check the pickup's centre and diameter against the cavity's bounds "
        "(`sumpwright measure` prints them)",
    )
