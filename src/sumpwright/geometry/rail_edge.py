# SPDX-License-Identifier: Apache-2.0
"""The flange's outer edge from its bolt holes: straight from hole to hole, round about each."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile, circle_profile

Floats = NDArray[np.float64]

FLAT = 5e-5
"""m; a hole this near the line between its neighbours makes no corner: else holes measured to a few
hundredths give an edge of specks that no cutter follows."""


def flange_outline(holes: ArrayLike, margin: float) -> Profile:
    """A string pulled tight round discs of `margin` about the holes.

    Where the pattern bends inward the string runs straight on, so such holes lie further from the
    edge than `margin`, none lies nearer (to `FLAT`).

    Parameters
    ----------
    holes : (n, 2) [m]
        Centres, in any order; one makes a disc, holes in line a slot.
    margin : float [m]
        From a hole's centre to the edge.

    Returns
    -------
    outline : Profile [m]
        Counter-clockwise.

    Raises
    ------
    RangeError
        Without a hole, or with no margin.
    """
    points = np.asarray(holes, dtype=float).reshape(-1, 2)
    if not len(points):
        raise RangeError("an edge round the bolt holes needs at least 1 hole, got 0")
    if not margin > 0.0:
        raise RangeError(f"an edge round the bolt holes needs a margin over 0 m, got {margin:.4g}")
    hull = _without_specks(_hull(points))
    if len(hull) == 1:
        return circle_profile(hull[0], margin)
    side = np.roll(hull, -1, axis=0) - hull
    along = side / np.linalg.norm(side, axis=1, keepdims=True)
    out = margin * np.stack([along[:, 1], -along[:, 0]], axis=1)
    before = np.roll(along, 1, axis=0)
    turn = np.arctan2(_cross(before, along), (before * along).sum(axis=1))
    # of a slot's two ends each turns by half a circle, which the tangent has either sign for
    turn = np.where(turn < 0.0, turn + 2.0 * math.pi, turn)
    corners = np.stack([hull + np.roll(out, 1, axis=0), hull + out], axis=1).reshape(-1, 2)
    bulges = np.stack([np.tan(0.25 * turn), np.zeros(len(hull))], axis=1).reshape(-1)
    return Profile(corners, bulges)


def _hull(points: Floats) -> Floats:
    """Corners of the convex hull, counter-clockwise; two of a line, one of a heap."""
    order = np.unique(points, axis=0)
    if len(order) < 3:
        return order
    halves: list[Floats] = []
    for run in (order, order[::-1]):
        kept: list[Floats] = []
        for p in run:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], p) <= 0.0:
                kept.pop()
            kept.append(p)
        halves += kept[:-1]
    return np.array(halves)


def _without_specks(hull: Floats) -> Floats:
    """Without the corners that lie within `FLAT` of the side that is left when they go."""
    kept = list(range(len(hull)))
    for k in range(len(hull)):
        at = kept.index(k)
        last, on = kept[at - 1], kept[(at + 1) % len(kept)]
        gone = [i % len(hull) for i in range(last + 1, on + (len(hull) if on <= last else 0))]
        if len(kept) > 2 and _far(hull[gone], hull[last], hull[on]) <= FLAT:
            kept.remove(k)
    two = len(kept) == 2 and np.linalg.norm(hull[kept[0]] - hull[kept[1]]) <= FLAT
    return hull[kept[:1]] if two else hull[kept]


def _far(points: Floats, a: Floats, b: Floats) -> float:
    """Largest distance of the points from the piece a to b."""
    side = b - a
    share = ((points - a) @ side) / max(float(side @ side), 1e-30)
    nearest = a + np.clip(share, 0.0, 1.0)[:, None] * side
    return float(np.linalg.norm(points - nearest, axis=1).max())


def _turn(a: Floats, b: Floats, c: Floats) -> float:
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
