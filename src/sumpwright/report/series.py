# SPDX-License-Identifier: Apache-2.0
"""Long series made short enough to draw without losing a peak, and the spells of a state."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Spell = tuple[float, float]


def numbers(values: Sequence[float | None]) -> Floats:
    """(n,) the values, nan where there is nothing to say."""
    return np.array([np.nan if v is None else v for v in values], dtype=float)


def thinned(time: ArrayLike, values: ArrayLike, columns: int) -> tuple[Floats, Floats]:
    """First, least, most and last value of each of `columns` equal parts of the time, in order.

    A line through them covers the same elements of a picture that wide as one through all of them.
    """
    t, v = np.asarray(time, dtype=float), np.asarray(values, dtype=float)
    if len(t) <= 4 * columns:
        return t, v
    share = (t - t[0]) / max(t[-1] - t[0], 1e-12)
    column = np.minimum((share * columns).astype(np.int64), columns - 1)
    order = np.lexsort((v, column))  # by column, then by value; nan last
    first = np.flatnonzero(np.diff(column, prepend=-1))
    last = np.append(first[1:], len(t)) - 1
    sound = np.add.reduceat((~np.isnan(v)).astype(np.int64), first)
    most = order[first + np.maximum(sound, 1) - 1]
    gaps = np.flatnonzero(np.isnan(v))  # one of each column's, so that a gap stays one
    gaps = gaps[np.unique(column[gaps], return_index=True)[1]]
    kept = np.unique(np.concatenate([first, last, order[first], most, gaps]))
    return t[kept], v[kept]


def unbroken(time: Floats, values: Floats) -> list[Floats]:
    """(k, 2) each: the pieces of a line between its gaps."""
    sound = ~np.isnan(values)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], sound.astype(np.int8), [0]])))
    points = np.stack([time, values], axis=1)
    return [points[a:b] for a, b in zip(edges[::2], edges[1::2], strict=True)]


def spells(time: ArrayLike, state: ArrayLike) -> list[Spell]:
    """When a state holds: from its first time to the first one after it, or to the end."""
    t, on = np.asarray(time, dtype=float), np.asarray(state, dtype=bool)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], on.astype(np.int8), [0]])))
    return [
        (float(t[a]), float(t[min(b, len(t) - 1)]))
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    ]


def near_joined(found: Sequence[Spell], apart: float) -> list[Spell]:
    """Spells nearer to each other than `apart` as one, and none shorter than that."""
    out: list[Spell] = []
    for start, end in found:
        end = max(end, start + apart)
        if out and start - out[-1][1] < apart:
            out[-1] = (out[-1][0], max(end, out[-1][1]))
        else:
            out.append((start, end))
    return out
