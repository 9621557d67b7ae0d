# SPDX-License-Identifier: Apache-2.0
"""A sheet of drawing before it is a DXF or a page: what stands where on the paper, millimetres.

y is up, from the paper's lower left corner. One scale a sheet; DXF has the part in its true size.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.units import shown_number, unit_name

Floats = NDArray[np.float64]
Spot = tuple[float, float]
Layer = Literal["OUTLINE", "METAL", "FINE", "CENTRE", "DIM", "TEXT", "FRAME"]
WIDTHS = {
    "OUTLINE": 0.5, "METAL": 0.35, "FINE": 0.18, "CENTRE": 0.18, "DIM": 0.18, "TEXT": 0.25,
    "FRAME": 0.5,
}  # fmt: skip
"""Of lines, mm; each is one of the DXF format's own"""
SCALES = (1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 50.0)
SMALL, PLAIN, LARGE = 2.5, 3.0, 4.5
"""Heights of letters that are read when printed, mm"""


@dataclass(frozen=True, eq=False)
class Path:
    """Straight pieces; METAL is filled, holes by their turning sense."""

    loops: tuple[Floats, ...]
    layer: Layer
    closed: bool = True


@dataclass(frozen=True)
class Ring:
    """A circle."""

    at: Spot
    radius: float
    layer: Layer = "OUTLINE"


@dataclass(frozen=True)
class Words:
    """A line of text, `at` on its baseline."""

    at: Spot
    text: str
    height: float = PLAIN
    anchor: Literal["start", "middle", "end"] = "start"
    bold: bool = False


@dataclass(frozen=True)
class Size:
    """A dimension from `a` to `b`, level or upright, its line through `away`."""

    a: Spot
    b: Spot
    away: Spot
    upright: bool = False
    share: float = 0.5
    """How far along its line, from the lower or left end, the figure stands"""

    @property
    def paper(self) -> float:
        """Its length on the paper."""
        k = 1 if self.upright else 0
        return abs(self.b[k] - self.a[k])


Item = Path | Ring | Words | Size


@dataclass
class Page:
    """A sheet."""

    key: str
    title: str
    units: str
    scale: float
    """1 to this"""
    width: float = 420.0
    height: float = 297.0
    true: bool = True
    """It shows something at its scale; a table has none"""
    items: list[Item] = field(default_factory=list)

    def add(self, *items: Item) -> None:
        """Put things on it."""
        self.items.extend(items)

    def size_text(self, size: Size) -> str:
        """What a dimension says."""
        return number_text(1e-3 * size.paper * self.scale, self.units)

    def rows(
        self, at: Spot, widths: Sequence[float], rows: Sequence[Sequence[str]], step: float = 5.0
    ) -> None:
        """A table with its upper left corner at `at`; the first row is its head."""
        x0, y0 = at
        edges = np.concatenate([[0.0], np.cumsum(widths)]) + x0
        low = y0 - step * len(rows)
        lines = [[(x, y0), (x, low)] for x in edges]
        lines += [[(x0, y0 - step * k), (edges[-1], y0 - step * k)] for k in range(len(rows) + 1)]
        self.add(path(lines, "FINE", closed=False))
        for k, row in enumerate(rows):
            for left, words in zip(edges, row, strict=False):
                spot = (float(left) + 1.2, y0 - step * (k + 1) + 0.3 * step)
                self.add(Words(spot, words, SMALL, bold=k == 0))


@dataclass(frozen=True)
class Place:
    """From metres of a view to the paper."""

    scale: float
    low: Spot
    """Corner of what is drawn [m]"""
    at: Spot
    """Where that corner stands on the paper"""

    def __call__(self, points: Any) -> Floats:
        """(n, 2) or (2,) [m] on the paper [mm]."""
        away = np.asarray(points, dtype=float) - np.array(self.low)
        return np.asarray(1e3 * away / self.scale + np.array(self.at))

    def spot(self, x: float, y: float) -> Spot:
        """One point."""
        a, b = self((x, y)).tolist()
        return a, b


def path(loops: Iterable[Any], layer: Layer, *, closed: bool = True) -> Path:
    """Lines through points on the paper."""
    return Path(tuple(np.asarray(loop, dtype=float) for loop in loops), layer, closed)


def scale_for(size: Spot, room: Spot) -> float:
    """The largest usual scale at which `size` [m] has room [mm] on the paper."""
    needed = max(1e3 * size[0] / room[0], 1e3 * size[1] / room[1])
    return next((s for s in SCALES if s >= needed), float(np.ceil(needed)))


def number_text(value: float, units: str) -> str:
    """A length without its unit, as the sheet's dimensions write it."""
    digits = 2 if units == "metric" else 3
    text = f"{shown_number(value, 'length', units):.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def length_unit(units: str) -> str:
    """``mm`` or ``in``."""
    return unit_name("length", units)
