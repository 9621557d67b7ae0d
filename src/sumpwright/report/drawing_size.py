# SPDX-License-Identifier: Apache-2.0
"""How a dimension is laid out on the paper: the same in the picture and in the DXF. Millimetres."""

from dataclasses import dataclass

import numpy as np

from sumpwright.report.drawing import PLAIN, Floats, Size
from sumpwright.report.lettering import text_width

LETTER = 1.38
"""Size of letters over the height of a capital."""
HEAD = 2.2
"""An arrow's head"""
GAP = 1.0
"""Between the dimension line and the figure over it, and from the part to an extension line"""


@dataclass(frozen=True, eq=False)
class SizeLayout:
    """A dimension's lines, heads and figure."""

    low: Floats
    """(2,) lower or left end of its line"""
    high: Floats
    along: Floats
    """Unit vector from low to high"""
    tight: bool
    """The figure stands past the line's end, for want of room between the heads"""
    out: float
    """How far the line goes on past both ends"""
    text_at: Floats
    """(2,) on the figure's baseline: its middle, or its start where it is tight"""
    text_middle: Floats
    """(2,) middle of the figure"""


def layout(size: Size, text: str) -> SizeLayout:
    """Where everything of a dimension stands."""
    k = 1 if size.upright else 0
    ends = [np.array(size.away, dtype=float) for _ in range(2)]
    for end, spot in zip(ends, (size.a, size.b), strict=True):
        end[k] = spot[k]
    low, high = sorted(ends, key=lambda e: float(e[k]))
    along = np.array([0.0, 1.0]) if size.upright else np.array([1.0, 0.0])
    side = np.array([-1.0, 0.0]) if size.upright else np.array([0.0, 1.0])
    wide = text_width(text, LETTER * PLAIN)
    tight = size.paper < max(4.0 * HEAD, wide + 2.0 * GAP)
    out = 3.0 * HEAD if tight else 0.0
    rim = 0.5 * wide + GAP  # the figure stays between the ends
    stand = min(max(size.share * size.paper, rim), size.paper - rim)
    foot = high + (out + GAP) * along if tight else low + stand * along
    at = foot + GAP * side
    middle = at + 0.5 * PLAIN * side + (0.5 * wide * along if tight else 0.0)
    return SizeLayout(low, high, along, tight, out, at, middle)


def extension(spot: tuple[float, float], end: Floats) -> tuple[Floats, Floats] | None:
    """From beside the part to a little past the dimension line; None where they are one."""
    away = end - np.asarray(spot, dtype=float)
    far = float(np.linalg.norm(away))
    if far <= GAP:
        return None
    return np.asarray(spot) + GAP * away / far, end + 1.5 * away / far
