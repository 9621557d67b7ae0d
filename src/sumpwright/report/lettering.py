# SPDX-License-Identifier: Apache-2.0
"""The report's letters: how wide words are, and how labels keep off one another."""

import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

FONT_FOLDER = Path(__file__).parent / "font"
FAMILY = "Sumpwright Sans, Helvetica Neue, Helvetica, Arial, Liberation Sans, sans-serif"
"""First for the PDF, which carries it; browsers take a later one, none of them wider."""
_UNIT = r"(?:mm|in|(?:cm|in)[²³]|L|qt|kg|g|lb|oz|kPa|psi|rpm|deg|h|%)(?!\w)"
BREAK = re.compile(rf"\s+(?!(?<=\d\s)(?:{_UNIT}|x\s\d))(?!(?<=\b[xyz]\s)[-−\d])")
"""Where a line may end: not before a number's unit, nor inside a size or a coordinate"""


@cache
def _font(bold: bool) -> "FreeTypeFont":
    from PIL import ImageFont

    name = f"SumpwrightSans-{'Bold' if bold else 'Regular'}.ttf"
    return ImageFont.truetype(str(FONT_FOLDER / name), 100)


@cache
def text_width(words: str, size: float, bold: bool = False) -> float:
    """Width of `words` in the unit of `size`."""
    return float(_font(bold).getlength(words)) * size / 100.0


def stacked(places: list[float], sizes: list[float], low: float, high: float) -> list[float]:
    """Middles of boxes `sizes` tall, moved as little as needed to lie clear within `low` to `high`.

    Their order is kept; boxes that together are taller than the room run out of it below.
    """
    order = sorted(range(len(places)), key=places.__getitem__)
    groups: list[tuple[float, int]] = []  # where its first box would start, how many it holds
    starts, depth = {}, 0.0
    for k in order:
        starts[k] = depth
        start, count = places[k] - depth - 0.5 * sizes[k], 1
        depth += sizes[k]
        while groups and start < groups[-1][0]:
            before, held = groups.pop()
            start, count = (start * count + before * held) / (count + held), count + held
        groups.append((start, count))
    last = max(high - depth, low)
    tops = [min(max(start, low), last) for start, count in groups for _ in range(count)]
    middles = [0.0] * len(places)
    for k, top in zip(order, tops, strict=True):
        middles[k] = top + starts[k] + 0.5 * sizes[k]
    return middles


def spread(places: list[float], apart: float, low: float, high: float) -> list[float]:
    """`places` moved as little as needed to be `apart` and within `low` to `high`, order kept.

    Where they do not all fit, they are set evenly from `low` to `high`.
    """
    if len(places) > 1:
        apart = min(apart, (high - low) / (len(places) - 1))
    return stacked(places, [apart] * len(places), low - 0.5 * apart, high + 0.5 * apart)


def wrapped(words: str, size: float, width: float, bold: bool = False) -> list[str]:
    """`words` in lines no wider than `width`, broken at spaces, a number kept with its unit."""
    lines: list[str] = []
    for word in BREAK.split(words.strip()):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines or [""]


def fitted(words: str, size: float, width: float, bold: bool = False) -> str:
    """`words`, cut short with an ellipsis where they are wider than `width`."""
    if text_width(words, size, bold) <= width:
        return words
    while words and text_width(f"{words}…", size, bold) > width:
        words = words[:-1]
    return f"{words.rstrip()}…"
