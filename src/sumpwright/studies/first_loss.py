# SPDX-License-Identifier: Apache-2.0
"""At what size is something first lost? A grid, the dips between its points, then the root.

`spare` is any continuous function that is 0 or more where the thing is held: it is asked for many
rows at once, each row a direction of its own.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Spare = Callable[[Ints, Floats], Floats]
"""Row numbers (k,) and sizes (k,) -> what is to spare (k,)."""

NARROW = 2.0**-14
"""Share of a grid step to which a limit is found: 3e-6 g of 0.05 g."""
DIP_STEPS = 9
"""Golden sections of a dip: two grid steps shrink to 1/76, 0.0013 g of 0.05 g."""
GOLDEN = 0.5 * (np.sqrt(5.0) - 1.0)


def first_loss(spare: Spare, sizes: Floats, grid: Floats) -> tuple[Floats, Flags]:
    """Largest size up to which each row is held, and whether it is held to the last of `sizes`.

    `grid` (rows, n) has the sign of `spare` at each of `sizes` (n,) [any]. A row that is lost and
    held again between two sizes is found where the grid shows a dip there.
    """
    held: Flags = np.asarray((grid >= 0.0).all(axis=1))
    first = np.where(held, len(sizes), (grid < 0.0).argmax(axis=1))
    high = sizes[np.minimum(first, len(sizes) - 1)].copy()
    low = sizes[np.maximum(first - 1, 0)].copy()
    rows, below, bottom = _dips(spare, sizes, grid, first)
    # the first dip of a row counts: written last to first
    low[rows[::-1]], high[rows[::-1]] = below[::-1], bottom[::-1]
    held[rows] = False
    low[held], low[first == 0] = sizes[-1], sizes[0]
    open_ = np.flatnonzero(~held & (first > 0))
    width = NARROW * float(np.diff(sizes).max())
    low[open_] = _last_held(spare, open_, low[open_], high[open_], width)
    return low, held


def _dips(spare: Spare, sizes: Floats, grid: Floats, first: Ints) -> tuple[Ints, Floats, Floats]:
    """Rows lost in a dip between sizes, a size before it, and one in it; by row, then by size."""
    last = len(sizes) - 1
    fence = np.full((len(grid), 1), np.inf)  # the grid may be lowest at its end, not at its start
    inner, after = grid[:, 1:], np.hstack([grid[:, 2:], fence])
    low_point = (
        (inner < grid[:, :-1]) & (inner <= after) & (np.arange(1, last + 1) < first[:, None])
    )
    rows, before = np.nonzero(low_point)
    start = sizes[before]
    if not len(rows):
        return rows, start, start
    bottom, least = _bottom(spare, rows, start, sizes[np.minimum(before + 2, last)])
    lost = least < 0.0
    return rows[lost], start[lost], bottom[lost]


def _bottom(spare: Spare, rows: Ints, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Size of the least `spare` between `low` and `high`, by golden section, and its value."""
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = spare(rows, left), spare(rows, right)
    for _ in range(DIP_STEPS):
        go_left = at_left < at_right
        low, high = np.where(go_left, low, left), np.where(go_left, right, high)
        kept, at_kept = np.where(go_left, left, right), np.where(go_left, at_left, at_right)
        new = np.where(go_left, high - GOLDEN * (high - low), low + GOLDEN * (high - low))
        at_new = spare(rows, new)
        left, right = np.where(go_left, new, kept), np.where(go_left, kept, new)
        at_left = np.where(go_left, at_new, at_kept)
        at_right = np.where(go_left, at_kept, at_new)
    best_left = at_left < at_right
    return np.where(best_left, left, right), np.where(best_left, at_left, at_right)


def _last_held(spare: Spare, rows: Ints, low: Floats, high: Floats, width: float) -> Floats:
    """The held end of a bracket no wider than `width` round the loss between `low` and `high`.

    Interpolate, truncate, project (Oliveira and Takahashi, ACM TOMS 47(1) 5, 2020): never more
    steps than halving plus one, and three or four where `spare` is smooth.
    """
    if not len(rows):
        return low
    at_low, at_high = spare(rows, low), spare(rows, high)
    wide = float((high - low).max())
    steps = int(np.ceil(np.log2(max(wide / width, 1.0)))) + 1
    for step in range(steps + 1):
        todo = np.flatnonzero(high - low > width)
        if not len(todo):
            break
        reach = 0.5 * width * 2.0 ** (steps - step) - 0.5 * (high - low)[todo]
        asked = _between(low[todo], high[todo], at_low[todo], at_high[todo], reach, wide)
        found = spare(rows[todo], asked)
        wet = found >= 0.0
        low[todo], at_low[todo] = np.where(wet, (asked, found), (low[todo], at_low[todo]))
        high[todo], at_high[todo] = np.where(wet, (high[todo], at_high[todo]), (asked, found))
    return low


def _between(
    low: Floats, high: Floats, at_low: Floats, at_high: Floats, reach: Floats, wide: float
) -> Floats:
    """Where to look next: the straight line's zero, nudged to the middle and kept near it."""
    middle = 0.5 * (low + high)
    drop = np.where(at_low > at_high, at_low - at_high, 1.0)
    straight = np.clip(low + (high - low) * np.clip(at_low, 0.0, None) / drop, low, high)
    side = np.sign(middle - straight)
    nudge = 0.2 / wide * (high - low) ** 2
    nudged = np.where(nudge <= abs(middle - straight), straight + side * nudge, middle)
    near = abs(nudged - middle) <= reach
    return np.asarray(np.where(near, nudged, middle - side * np.maximum(reach, 0.0)))
