# SPDX-License-Identifier: Apache-2.0
"""Charts under one another over one time: frame, spells of air, lines named at their ends."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.axis import Axis, round_step, tick_text, ticks
from sumpwright.report.lettering import fitted, spread, text_width
from sumpwright.report.series import Spell, near_joined, thinned, unbroken
from sumpwright.report.svg import Drawing

Floats = NDArray[np.float64]

WIDE, LEFT, RIGHT, COLUMN = 960.0, 64.0, 760.0, 770.0
ROW = 16.0
"""Height of a name at a line's end."""


@dataclass(frozen=True, eq=False)
class Line:
    """One line of a lane, in the unit of the lane."""

    name: str
    values: Floats
    ink: str
    dash: tuple[float, ...] = ()
    beside: str = ""
    """Said behind the name, paler."""
    width: float = 1.8
    short: str = ""
    """Said instead of the name where that leaves no room for what stands beside it"""


@dataclass(frozen=True, eq=False)
class Lane:
    """One chart."""

    title: str
    lines: tuple[Line, ...]
    high: float = 96.0
    zero: bool = False
    """Whether zero belongs on the scale, as a heavy line."""
    limit: float | None = None
    limit_words: str = ""
    top_at: float | None = None
    """Top of the scale where the quantity has one."""

    def scale(self, top: float) -> Axis:
        """Its values on paper."""
        parts = [line.values[np.isfinite(line.values)] for line in self.lines]
        extra = [0.0] if self.zero else []
        extra += [v for v in (self.limit, self.top_at) if v is not None]
        seen = np.concatenate([*parts, np.array(extra)])
        low, most = (float(seen.min()), float(seen.max())) if len(seen) else (0.0, 1.0)
        if most - low < 1e-9 * max(abs(most), 1.0):
            low, most = low - 0.5 * max(abs(low), 1.0), most + 0.5 * max(abs(most), 1.0)
        room = 0.08 * (most - low)
        floor = low if self.zero and low == 0.0 else low - room
        return Axis(floor, most + room, top + self.high, top)


@dataclass(frozen=True, eq=False)
class Chart:
    """What all lanes share."""

    drawing: Drawing
    time: Floats
    x: Axis
    air: Sequence[Spell]
    spans: Sequence[tuple[str, float, float]] = field(default=())

    @property
    def columns(self) -> int:
        """Places along the time that a line can tell apart."""
        return int(RIGHT - LEFT)

    def path(self, values: Floats, y: Axis) -> list[Floats]:
        """A series on paper, thinned to what can be seen, in pieces between its gaps."""
        t, v = thinned(self.time, values, self.columns)
        pieces = unbroken(t, v)
        return [np.stack([self.x.at(p[:, 0]), y.at(p[:, 1])], axis=1) for p in pieces]  # type: ignore[arg-type, list-item]


def draw_lane(chart: Chart, lane: Lane, top: float) -> Axis:
    """Draw a lane whose plot starts at `top`, its title above; its scale comes back."""
    y = lane.scale(top)
    drawing, low = chart.drawing, top + lane.high
    drawing.text((LEFT, top - 7.0), lane.title, size=13, bold=True)
    shade_air(chart, top, lane.high)
    _grid(chart, lane, y, top)
    for line in lane.lines:
        width, dash = line.width, line.dash
        pieces = chart.path(line.values, y)
        drawing.path(pieces, stroke=line.ink, width=width, dash=dash, closed=False)
    if lane.limit is not None:
        at = y.at(lane.limit)
        drawing.line((LEFT, at), (RIGHT, at), stroke=palette.INK, width=1.4, dash=(6.0, 4.0))
        drawing.text((LEFT + 6.0, at - 5.0), lane.limit_words, size=12, halo=True)
    drawing.box(LEFT, top, RIGHT - LEFT, lane.high, stroke=palette.MUTED, line=0.8)
    _names(chart, lane, y, top, low)
    return y


def shade_air(chart: Chart, top: float, high: float) -> None:
    """Where the pickup takes air, pale, over the height of a lane."""
    for start, end in chart.air:
        left, right = chart.x.at(start), chart.x.at(end)
        chart.drawing.box(left, top, right - left, high, fill=palette.AIR_PALE)


def _grid(chart: Chart, lane: Lane, y: Axis, top: float) -> None:
    drawing, count = chart.drawing, max(3, int(lane.high / 28.0))
    for at in map(chart.x.at, ticks(chart.x.low, chart.x.high, 12)):
        drawing.line((at, top), (at, top + lane.high), stroke=palette.RULE, width=0.6)
    for value in ticks(y.low, y.high, count):
        at, zero = y.at(value), lane.zero and abs(value) < 1e-9
        ink, width = (palette.INK, 1.4) if zero else (palette.RULE, 0.6)
        drawing.line((LEFT, at), (RIGHT, at), stroke=ink, width=width)
        words = tick_text(value, round_step(y.high - y.low, count))
        drawing.text((LEFT - 6.0, at + 4.0), words, size=12, anchor="end")


def _names(chart: Chart, lane: Lane, y: Axis, top: float, low: float) -> None:
    """Each line's name by its end, with a short stroke of the line itself."""
    ends = [_end(line, y, 0.5 * (top + low)) for line in lane.lines]
    places = spread(ends, ROW, top + 6.0, low - 4.0)
    for line, end, at in zip(lane.lines, ends, places, strict=True):
        drawing, left = chart.drawing, COLUMN + 14.0
        drawing.line((RIGHT + 2.0, end), (left - 2.0, at), stroke=line.ink, width=0.8)
        drawing.line((left, at), (left + 22.0, at), stroke=line.ink, width=2.2, dash=line.dash)
        _name(drawing, line, left + 28.0, at + 4.2)


def _name(drawing: Drawing, line: Line, x: float, y: float) -> None:
    """The name, and what stands beside it where there is room: half a number is none."""
    room, beside = WIDE - 2.0 - x, text_width(line.beside, 12.0)
    name = fitted(line.name, 12.5, room, True)
    if line.short and text_width(name, 12.5, True) + 6.0 + beside > room:
        name = fitted(line.short, 12.5, room, True)
    drawing.text((x, y), name, size=12.5, fill=line.ink, bold=True)
    x += text_width(name, 12.5, True) + 6.0
    if line.beside and x + beside <= WIDE - 2.0:
        drawing.text((x, y), line.beside, size=12, fill=palette.MUTED)


def _end(line: Line, y: Axis, middle: float) -> float:
    sound = line.values[np.isfinite(line.values)]
    return y.at(float(sound[-1])) if len(sound) else middle


def draw_time(chart: Chart, low: float) -> None:
    """The time's numbers under the last lane."""
    drawing, x = chart.drawing, chart.x
    step = round_step(x.high - x.low, 12)
    for value in ticks(x.low, x.high, 12):
        at = x.at(value)
        drawing.line((at, low), (at, low + 5.0), stroke=palette.INK)
        drawing.text((at, low + 19.0), tick_text(value, step), size=12.5, anchor="middle")
    drawing.text((COLUMN + 14.0, low + 19.0), "seconds", size=12.5)


def draw_spans(chart: Chart, top: float) -> float:
    """The named parts of the manoeuvre and the spells of air in two bands; their low edge."""
    drawing, x = chart.drawing, chart.x
    for k, (name, start, end) in enumerate(chart.spans):
        left, right = x.at(start), x.at(end)
        drawing.box(left, top, right - left, 18.0, fill=palette.SPAN[k % 2])
        words = fitted(name, 12.0, right - left - 8.0)
        if words != "…":
            drawing.text((left + 4.0, top + 13.0), words, size=12)
    top += 22.0 if chart.spans else 0.0
    drawing.line((LEFT, top + 6.5), (RIGHT, top + 6.5), stroke=palette.RULE, width=0.8)
    apart = 1.5 * (x.high - x.low) / (RIGHT - LEFT)
    for start, end in near_joined(chart.air, apart):
        drawing.box(x.at(start), top, x.at(end) - x.at(start), 13.0, fill=palette.AIR)
    words = "air at the pickup" if chart.air else "no air at the pickup"
    ink = palette.AIR if chart.air else palette.MUTED
    drawing.text((COLUMN + 14.0, top + 11.0), words, size=12.5, fill=ink, bold=bool(chart.air))
    return top + 13.0
