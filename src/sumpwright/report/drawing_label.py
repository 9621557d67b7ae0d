# SPDX-License-Identifier: Apache-2.0
"""Words on a drawing set clear of its lines and of one another. Millimetres on the paper."""

import math
from collections.abc import Iterable, Sequence
from typing import Any

from sumpwright.report.drawing import SMALL, Floats, Path, Spot, Words, path
from sumpwright.report.drawing_size import LETTER
from sumpwright.report.lettering import text_width

CLEAR = 0.7
"""Between words and a line"""
_FAR = (0.0, 1.5, 3.0, 5.0, 8.0, 12.0, 16.0, 20.0)
"""Steps outward, tried in turn"""
_WAYS = 12
LED = 5.0
"""Way out from which on a line leads to a name"""
ASIDE = 3.0
"""Way out that a twelfth of a turn away from inward is worth"""


class Taken:
    """What words must keep clear of."""

    def __init__(self, lines: Iterable[Floats | Sequence[Spot]]) -> None:
        from shapely import LineString

        self._shapes: list[Any] = [LineString(line) for line in lines if len(line) > 1]

    def room(self, box: Any) -> float:
        """From a box to the nearest of it."""
        return min((float(box.distance(shape)) for shape in self._shapes), default=math.inf)

    def clear(self, box: Any) -> bool:
        """Whether a box keeps clear."""
        return self.room(box) >= CLEAR

    def take(self, box: Any) -> None:
        """Keep clear of it from now on."""
        self._shapes.append(box)


def words_box(words: Words) -> Any:
    """Round a line of words, capitals high."""
    from shapely import box

    wide = text_width(words.text, LETTER * words.height, words.bold)
    left = {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor] * wide
    x, y = words.at
    return box(x - left, y, x - left + wide, y + words.height)


def named_beside(
    text: str, at: Spot, reach: float, inward: Spot, taken: Taken
) -> tuple[Words | Path, ...]:
    """A name beside a hole: inward of the part where there is room near by, else round it.

    Where it stands so far off that it might be another's, a line leads to it.
    """
    first = math.atan2(inward[1], inward[0])
    tried = sorted(
        (far + ASIDE * min(turn, _WAYS - turn), turn, far) for far in _FAR for turn in range(_WAYS)
    )
    best: tuple[float, Words, float, float] | None = None
    for _, turn, far in tried:
        way = first + 2.0 * math.pi * turn / _WAYS
        words = _centred(text, at, reach + far, way)
        room = taken.room(words_box(words))
        if best is None or room > best[0]:
            best = room, words, far, way
        if room >= CLEAR:
            break
    assert best is not None
    _, words, far, way = best
    taken.take(words_box(words))
    if far < LED:
        return (words,)
    ends = [(at[0] + r * math.cos(way), at[1] + r * math.sin(way)) for r in (reach, reach + far)]
    return path([ends], "FINE", closed=False), words


def _centred(text: str, at: Spot, reach: float, way: float) -> Words:
    """Words whose box touches the circle of `reach` round a spot, on the side that is asked."""
    half = 0.5 * text_width(text, LETTER * SMALL, True), 0.5 * SMALL
    c, s = math.cos(way), math.sin(way)
    out = reach + min(half[0] / max(abs(c), 1e-9), half[1] / max(abs(s), 1e-9))
    x, y = at[0] + out * c, at[1] + out * s
    return Words((x, y - half[1]), text, SMALL, "middle", bold=True)
