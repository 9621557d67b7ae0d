# SPDX-License-Identifier: Apache-2.0
"""Outlines of many short sides given back their lines and arcs, for a cutter to follow.

What CAD drew round reaches us as chords. Chords whose corners lie on one circle, one after the
other and each turning a little the same way, become an arc; a polygon with real corners stays.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.profile import Profile

Floats = NDArray[np.float64]

ON_ARC = 3e-6
"""m; corners this near to a circle lie on it: well under the 0.01 mm that a part must return to."""
_STRAIGHT = 1e-6
"""m; a corner this near to the line past it is none."""
_TURN = math.radians(32.0)
"""Most that a chord of an arc turns from the one before; a coarse drawing of a 1 mm radius."""
_RISE = 1.5e-4
"""m; most that an arc stands over its chord."""
_UNEVEN, _ROUGH = 0.25, 5e-7
"""Share of its turn, and m across a chord, by which a corner of an arc may turn amiss."""
_MOST = math.radians(179.0)
"""Most that one arc turns: bulges stay under 1."""
_LEAST = 4
"""Corners that make an arc."""


def profile_of(ring: ArrayLike, on_arc: float = ON_ARC) -> Profile:
    """The outline through the corners of a ring, with arcs where it has them.

    Parameters
    ----------
    ring : (n, 2) [m]
        In order, not closed; either way round.
    on_arc : float [m]
        How near to a circle its corners must lie.

    Returns
    -------
    profile : Profile [m]
        Run as the ring is.
    """
    points = _cornered(np.asarray(ring, dtype=float))
    start = int(np.argmax(np.abs(_turns(points))))
    points = np.roll(points, -start, axis=0)
    closed = np.concatenate([points, points[:1]])
    kept, bulges = [], []
    k, last = 0, (0, 0.0)
    while k < len(points):
        end, bulge = _longest(closed, k, on_arc)
        if bulge == 0.0 and last[1] != 0.0 and _goes_on(closed, last, k, on_arc):
            bulge = math.copysign(_chord_bulge(closed, last, k), last[1])
        kept.append(points[k])
        bulges.append(bulge)
        if bulge != 0.0 and end - k >= _LEAST - 1:
            last = (k, bulge)
        elif bulge == 0.0:
            last = (k, 0.0)
        k = end
    return Profile(np.array(kept), np.array(bulges))


def _goes_on(points: Floats, last: tuple[int, float], k: int, on_arc: float) -> bool:
    """Whether the one chord from corner k lies on the circle of the arc before it."""
    run = points[last[0] : last[0] + _LEAST]
    centre = _centre(run)
    if centre is None:
        return False
    arms = np.hypot(*(points[[last[0], k, k + 1]] - centre).T)
    way = points[k + 1] - points[k]
    arm = points[k] - centre
    sense = float(arm[0] * way[1] - arm[1] * way[0])
    chord = float(np.hypot(*way))
    rise = arms[0] - math.sqrt(max(arms[0] ** 2 - 0.25 * chord**2, 0.0))
    return bool(np.ptp(arms) <= on_arc and sense * last[1] > 0.0 and rise <= _RISE)


def _chord_bulge(points: Floats, last: tuple[int, float], k: int) -> float:
    centre = _centre(points[last[0] : last[0] + _LEAST])
    assert centre is not None
    radius = float(np.hypot(*(points[k] - centre)))
    half = 0.5 * float(np.hypot(*(points[k + 1] - points[k])))
    return math.tan(0.5 * math.asin(min(half / radius, 1.0)))


def _cornered(points: Floats) -> Floats:
    """Without corners that are none."""
    from shapely import Polygon

    ring = np.asarray(Polygon(points).simplify(_STRAIGHT).exterior.coords)[:-1]
    while len(ring) > 3:  # simplifying never looks at the ring's own start
        off = _offset(ring[-1], ring[0], ring[1])
        if off > _STRAIGHT:
            break
        ring = ring[1:]
    return ring


def _offset(a: Floats, b: Floats, c: Floats) -> float:
    way = c - a
    size = max(float(np.hypot(*way)), 1e-12)
    return abs(float(way[0] * (b - a)[1] - way[1] * (b - a)[0])) / size


def _turns(points: Floats) -> Floats:
    """(n,) [rad] turned at each corner of a ring, left positive."""
    before, after = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.arctan2(cross, (before * after).sum(axis=1)))


def _longest(points: Floats, k: int, on_arc: float) -> tuple[int, float]:
    """Where the longest arc from corner k ends, and its bulge; or the next corner, and 0."""
    best = (k + 1, 0.0)
    for end in range(k + _LEAST - 1, len(points)):
        bulge = _bulge(points[k : end + 1], on_arc)
        if bulge is None:
            break
        best = (end, bulge)
    return best


def _bulge(run: Floats, on_arc: float) -> float | None:
    """Of the arc through a run of corners; None where it is none."""
    way = np.diff(run, axis=0)
    turn = np.arctan2(
        way[:-1, 0] * way[1:, 1] - way[:-1, 1] * way[1:, 0], (way[:-1] * way[1:]).sum(axis=1)
    )
    left = turn > 0.0
    if not (left.all() or (~left).all()) or np.abs(turn).max() > _TURN:
        return None
    centre = _centre(run)
    if centre is None:
        return None
    radius = float(np.hypot(*(run[0] - centre)))
    if np.abs(np.hypot(*(run - centre).T) - radius).max() > on_arc:
        return None
    chord = np.hypot(*way.T)
    if (radius - np.sqrt(np.maximum(radius**2 - 0.25 * chord**2, 0.0))).max() > _RISE:
        return None
    half = np.arcsin(np.minimum(0.5 * chord / radius, 1.0))
    swept = float(2.0 * half.sum())
    # a long side that runs into a tight arc also lies near some circle, but turns too little there
    due, near = half[:-1] + half[1:], np.minimum(chord[:-1], chord[1:])
    if swept > _MOST or (np.abs(np.abs(turn) - due) > _UNEVEN * due + _ROUGH / near).any():
        return None
    return math.copysign(math.tan(0.25 * swept), 1.0 if left.all() else -1.0)


def _centre(run: Floats) -> Floats | None:
    """Of the circle through both ends that lies nearest to the corners between."""
    a, b = run[0], run[-1]
    chord = b - a
    size = float(np.hypot(*chord))
    if size < 1e-9:
        return None
    along = chord / size
    square = np.array([-along[1], along[0]])
    off = run[1:-1] - 0.5 * (a + b)
    h = off @ square
    if np.abs(h).max() < 1e-9:
        return None
    # every circle through both ends: |off|^2 - size^2/4 = 2 c h, least squares over c
    value = (off * off).sum(axis=1) - 0.25 * size**2
    c = float((value * h).sum() / (2.0 * (h * h).sum()))
    return np.asarray(0.5 * (a + b) + c * square)
