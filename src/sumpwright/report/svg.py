# SPDX-License-Identifier: Apache-2.0
"""A drawing in SVG: what the report's pictures need and no more. y runs down, unit about 1/96 in.

Written out by hand because a plotting library costs longer to import than the whole check runs,
and because text stays text: it can be read aloud, searched and copied (docs/decisions).
"""

import base64
from collections.abc import Iterable, Sequence
from html import escape
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.report.lettering import FAMILY, text_width
from sumpwright.report.palette import INK, PAPER
from sumpwright.report.text import plain

Point = Sequence[float] | NDArray[Any]


def number(value: float) -> str:
    """A coordinate to a hundredth of a unit, as short as it goes."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _style(
    fill: str, stroke: str, width: float, dash: Sequence[float], opacity: float = 1.0
) -> str:
    text = f' fill="{fill}"'
    if opacity < 1.0:
        text += f' fill-opacity="{number(opacity)}"'
    if stroke != "none":
        text += f' stroke="{stroke}" stroke-width="{number(width)}" stroke-linejoin="round"'
    if dash:
        text += f' stroke-dasharray="{" ".join(map(number, dash))}"'
    return text


def _path(loops: Iterable[ArrayLike], *, closed: bool) -> str:
    strokes = []
    for loop in loops:
        points = [f"{number(x)} {number(y)}" for x, y in np.asarray(loop, dtype=float)]
        if points:
            strokes.append("M" + "L".join(points) + ("Z" if closed else ""))
    return "".join(strokes)


class Drawing:
    """One picture; `key` keeps its inner names apart from other pictures on the same page."""

    def __init__(self, width: float, height: float, *, key: str, says: str) -> None:
        self.width, self.height, self.key, self.says = width, height, key, says
        self._parts: list[str] = []
        self._clips = 0

    def path(
        self,
        loops: Iterable[ArrayLike],
        *,
        fill: str = "none",
        stroke: str = "none",
        width: float = 1.0,
        dash: Sequence[float] = (),
        opacity: float = 1.0,
        closed: bool = True,
    ) -> None:
        """Polygons with holes by their turning sense, or open lines."""
        if strokes := _path(loops, closed=closed):
            style = _style(fill, stroke, width, dash, opacity)
            self._parts.append(f'<path d="{strokes}"{style}/>')

    def line(
        self,
        a: Point,
        b: Point,
        *,
        stroke: str = INK,
        width: float = 1.0,
        dash: Sequence[float] = (),
    ) -> None:
        """A straight line."""
        self.path(
            [np.array([a, b], dtype=float)], stroke=stroke, width=width, dash=dash, closed=False
        )

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        *,
        fill: str = "none",
        stroke: str = "none",
        line: float = 1.0,
        opacity: float = 1.0,
    ) -> None:
        """A rectangle from its top left corner."""
        size = f'width="{number(width)}" height="{number(height)}"'
        style = _style(fill, stroke, line, (), opacity)
        self._parts.append(f'<rect x="{number(x)}" y="{number(y)}" {size}{style}/>')

    def dot(
        self,
        at: Point,
        radius: float,
        *,
        fill: str = "none",
        stroke: str = "none",
        width: float = 1.0,
        dash: Sequence[float] = (),
    ) -> None:
        """A circle."""
        place = f'cx="{number(at[0])}" cy="{number(at[1])}" r="{number(radius)}"'
        self._parts.append(f"<circle {place}{_style(fill, stroke, width, dash)}/>")

    def text(
        self,
        at: Point,
        words: str,
        *,
        size: float = 14.0,
        anchor: str = "start",
        fill: str = INK,
        bold: bool = False,
        halo: bool = False,
        turn: float = 0.0,
    ) -> None:
        """One line of words; `at` is on its baseline, `turn` in degrees clockwise."""
        x, y = number(at[0]), number(at[1])
        style = f' font-size="{number(size)}" text-anchor="{anchor}" fill="{fill}"'
        style += ' font-weight="bold"' if bold else ""
        style += f' transform="rotate({number(turn)} {x} {y})"' if turn else ""
        said = escape(plain(words))
        if halo:  # written twice: not every renderer knows paint-order
            edge = f' stroke="{PAPER}" stroke-width="4" stroke-linejoin="round" aria-hidden="true"'
            self._parts.append(f'<text x="{x}" y="{y}"{style}{edge}>{said}</text>')
        self._parts.append(f'<text x="{x}" y="{y}"{style}>{said}</text>')

    def boxed_text(
        self, at: Point, words: str, *, size: float = 14.0, fill: str = PAPER, back: str = INK
    ) -> None:
        """Bold words on a filled box whose left middle is `at`."""
        wide = text_width(words, size, True) + 0.9 * size
        self.box(at[0], at[1] - 0.8 * size, wide, 1.6 * size, fill=back)
        spot = (at[0] + 0.45 * size, at[1] + 0.36 * size)
        self.text(spot, words, size=size, fill=fill, bold=True)

    def arrow(self, a: Point, b: Point, *, stroke: str = INK, width: float = 2.0) -> None:
        """A line from `a` with a solid head at `b`."""
        tail, tip = np.asarray(a, dtype=float), np.asarray(b, dtype=float)
        along = (tip - tail) / max(float(np.linalg.norm(tip - tail)), 1e-9)
        side = np.array([-along[1], along[0]])
        head = 2.2 + 2.4 * width
        neck = tip - 1.7 * head * along
        self.line(tail, neck + 0.2 * along, stroke=stroke, width=width)
        self.path([[tip, neck + 0.62 * head * side, neck - 0.62 * head * side]], fill=stroke)

    def image(self, png: bytes, x: float, y: float, width: float, height: float) -> None:
        """A bitmap, carried inside the drawing."""
        data = base64.b64encode(png).decode("ascii")
        size = f'width="{number(width)}" height="{number(height)}"'
        place = f'x="{number(x)}" y="{number(y)}"'
        self._parts.append(f'<image {place} {size} href="data:image/png;base64,{data}"/>')

    def clip(self, x: float, y: float, width: float, height: float) -> None:
        """Show only what falls in this box, until `unclip`."""
        size = f'width="{number(width)}" height="{number(height)}"'
        self._clip(f'<rect x="{number(x)}" y="{number(y)}" {size}/>')

    def clip_to(self, loops: Iterable[ArrayLike]) -> None:
        """Show only what falls inside these polygons, until `unclip`."""
        self._clip(f'<path d="{_path(loops, closed=True)}"/>')

    def _clip(self, shape: str) -> None:
        self._clips += 1
        name = f"{self.key}-clip-{self._clips}"
        self._parts.append(f'<clipPath id="{name}">{shape}</clipPath>')
        self._parts.append(f'<g clip-path="url(#{name})">')

    def unclip(self) -> None:
        """End the latest `clip`."""
        self._parts.append("</g>")

    def svg(self) -> bytes:
        """The drawing as a file of its own."""
        size = f'viewBox="0 0 {number(self.width)} {number(self.height)}"'
        size += f' width="{number(self.width)}" height="{number(self.height)}"'
        opening = f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img"'
        opening += f' aria-labelledby="{self.key}-title" font-family="{FAMILY}">'
        title = f'<title id="{self.key}-title">{escape(plain(self.says))}</title>'
        return (opening + title + "\n".join(self._parts) + "</svg>\n").encode("utf-8")
