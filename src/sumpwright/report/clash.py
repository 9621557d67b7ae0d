# SPDX-License-Identifier: Apache-2.0
"""Where two bodies share the same space in a cut."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.section import Outlines

Floats = NDArray[np.float64]


def share_space(one: Outlines, other: Outlines) -> Floats | None:
    """(2,) a place where both outlines' insides are, as drawn; None where there is none."""
    for a in one:
        for b in other:
            if (a.max(axis=0) < b.min(axis=0)).any() or (b.max(axis=0) < a.min(axis=0)).any():
                continue
            within_a, within_b = _smaller(a), _smaller(b)
            places = [within_b[_inside(one, within_b)], within_a[_inside(other, within_a)]]
            places.append(_crossings(a, b))
            found = np.concatenate(places)
            if len(found):
                return np.asarray(found.mean(axis=0))
    return None


def _smaller(loop: Floats) -> Floats:
    """A loop drawn in by a millionth, so that bodies which only touch are apart."""
    return np.asarray(loop + 1e-6 * (loop.mean(axis=0) - loop))


def _inside(outlines: Outlines, points: Floats) -> NDArray[np.bool_]:
    """Which points a level line to the right takes out of the outlines, crossing them oddly."""
    odd = np.zeros(len(points), dtype=bool)
    x, y = points[:, :1], points[:, 1:]
    for loop in outlines:
        start, end = loop.T, np.roll(loop, -1, axis=0).T
        crosses = (start[1] > y) != (end[1] > y)
        rise = np.where(end[1] == start[1], 1.0, end[1] - start[1])
        at = start[0] + (y - start[1]) / rise * (end[0] - start[0])
        odd ^= (crosses & (at > x)).sum(axis=1) % 2 == 1
    return odd


def _crossings(a: Floats, b: Floats) -> Floats:
    """(n, 2) where the edges of two loops cross."""
    p, r = a[:, None], (np.roll(a, -1, axis=0) - a)[:, None]
    q, s = b[None], (np.roll(b, -1, axis=0) - b)[None]
    twice = _cross(r, s)
    level = twice == 0.0
    safe = np.where(level, 1.0, twice)
    t, u = _cross(q - p, s) / safe, _cross(q - p, r) / safe
    hit = ~level & (t > 0.0) & (t < 1.0) & (u > 0.0) & (u < 1.0)
    return np.asarray((p + t[..., None] * r)[hit])


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def silhouette(points: Floats) -> Floats:
    """(k, 2) hull of what is seen of `points` (n, 2), its lowest point among them."""
    angles = np.arange(0.0, 360.0, 2.0)
    ways = np.stack([np.cos(np.radians(angles)), np.sin(np.radians(angles))])
    best = (points @ ways).argmax(axis=0)
    return np.asarray(points[best[best != np.roll(best, 1)]])
