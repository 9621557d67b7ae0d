# SPDX-License-Identifier: Apache-2.0
"""The straight pieces of a sheet's edge."""

import math
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.metal.flat_pattern import Polygon

Floats = NDArray[np.float64]
Side = Literal["top", "bottom", "start", "end"]

STRAIGHT = 1e-5
"""m; an edge that strays less from a line is straight: a part must return within that."""
_FAR = 10.0


@dataclass(frozen=True, eq=False)
class Edge:
    """A straight piece of a sheet's edge."""

    start: Floats
    end: Floats
    """(2,) [m]; the sheet is on the right of the way from start to end"""

    @property
    def along(self) -> Floats:
        """(2,) unit vector."""
        way = self.end - self.start
        return np.asarray(way / np.hypot(*way))

    @property
    def out(self) -> Floats:
        """(2,) unit vector away from the sheet."""
        d = self.along
        return np.array([-d[1], d[0]])


def straight_edge(region: Polygon, side: Side, at: float) -> Edge:
    """The straight piece of a sheet's edge that a tab can sit on.

    Parameters
    ----------
    region : Polygon [m]
        The flat sheet, along and up.
    side : Side [-]
        Which edge.
    at : float [m]
        Where on it: along for top and bottom, up for start and end.

    Returns
    -------
    edge : Edge [m]

    Raises
    ------
    RangeError
        Where the sheet has no edge there.
    """
    from shapely import LineString

    axis, last = (1, side == "top") if side in ("top", "bottom") else (0, side == "end")
    ends = np.zeros((2, 2))
    ends[:, 1 - axis], ends[:, axis] = at, (-_FAR, _FAR)
    met = LineString(ends).intersection(region.exterior)
    spots = np.array([p.coords[0] for p in _points(met)])
    if not len(spots):
        low, high = (region.bounds[k] for k in (1 - axis, 3 - axis))
        raise RangeError(
            f"the {side} runs from {1e3 * low:.4g} to {1e3 * high:.4g} mm, not to {1e3 * at:.4g} mm"
        )
    pick = int(spots[:, axis].argmax() if last else spots[:, axis].argmin())
    return _run(region, spots[pick])


def _points(met: Any) -> list[Any]:
    from shapely import Point, get_parts, points

    found: list[Any] = []
    for part in get_parts(met):
        found += [part] if isinstance(part, Point) else list(points(np.asarray(part.coords)))
    return found


def _run(region: Polygon, spot: Floats) -> Edge:
    """The longest straight run of corners round a point of the edge."""
    from shapely import LineString, Point, orient_polygons

    ring = np.asarray(orient_polygons(region, exterior_cw=True).exterior.coords)[:-1]
    count = len(ring)
    here = Point(spot)
    k = min(range(count), key=lambda i: LineString(ring[[i, (i + 1) % count]]).distance(here))
    first, last = k, k + 1
    grown = True
    while grown and last - first < count - 1:
        grown = False
        for a, b in ((first, last + 1), (first - 1, last)):
            if _strays(ring[np.arange(a, b + 1) % count]) <= STRAIGHT:
                first, last, grown = a, b, True
                break
    return Edge(ring[first % count], ring[last % count])


def _strays(run: Floats) -> float:
    """How far corners lie off the line from the first to the last, which none may pass."""
    way = run[-1] - run[0]
    size = float(np.hypot(*way))
    if size < STRAIGHT:
        return math.inf
    off = run - run[0]
    t = off @ way / size
    if (np.diff(t) < 0.0).any():
        return math.inf
    return float(np.abs(off[:, 0] * way[1] - off[:, 1] * way[0]).max() / size)
