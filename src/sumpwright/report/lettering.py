# SPDX-License-Identifier: Apache-2.0
"""The report's letters: how wide words are, and how labels keep off one another."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

FONT_FOLDER = Path(__file__).parent / "font"
FAMILY = "Sumpwright Sans, Helvetica Neue, Helvetica, Arial, Liberation Sans, sans-serif"
"""First for the PDF, which carries it; browsers take a later one, all of them about as wide."""


@cache
def _font(bold: bool) -> "FreeTypeFont":
    from PIL import ImageFont

    name = f"SumpwrightSans-{'Bold' if bold else 'Regular'}.ttf"
    return ImageFont.truetype(str(FONT_FOLDER / name), 100)


@cache
def text_width(words: str, size: float, bold: bool = False) -> float:
    """Width of `words` in the unit of `size`."""
    return float(_font(bold).getlength(words)) * size / 100.0


def spread(places: list[float], apart: float, low: float, high: float) -> list[float]:
    """`places` moved as little as needed to be `apart` and within `low` to `high`, order kept.

    Where they do not all fit, they are set evenly from `low` to `high`.
    """
    order = sorted(range(len(places)), key=places.__getitem__)
    if len(places) > 1 and apart * (len(places) - 1) > high - low:
        apart = (high - low) / (len(places) - 1)
    groups: list[tuple[float, int]] = []  # middle of the group, how many it holds
    for k in order:
        middle, count = places[k], 1
        middle = _kept(middle, count, apart, low, high)
        while groups and middle - groups[-1][0] < apart * (count + groups[-1][1]) / 2.0 - 1e-9:
            before, held = groups.pop()
            middle = (middle * count + before * held) / (count + held)
            count += held
            middle = _kept(middle, count, apart, low, high)
        groups.append((middle, count))
    spots = [m + apart * (i - (n - 1) / 2.0) for m, n in groups for i in range(n)]
    placed = [0.0] * len(places)
    for k, spot in zip(order, spots, strict=True):
        placed[k] = spot
    return placed


def _kept(middle: float, count: int, apart: float, low: float, high: float) -> float:
    half = apart * (count - 1) / 2.0
    return min(max(middle, low + half), high - half)


def wrapped(words: str, size: float, width: float, bold: bool = False) -> list[str]:
    """`words` in lines no wider than `width`, broken at spaces."""
    lines: list[str] = []
    for word in words.split():
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
