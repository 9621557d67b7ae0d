# SPDX-License-Identifier: Apache-2.0
"""Pressure left at the pump's inlet over engine speed, a line for each of a few temperatures."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.axis import Axis, round_step, tick_text, ticks
from sumpwright.report.feed_choice import few_temperatures, points_of, speed_text, worth_a_line
from sumpwright.report.lettering import text_width, wrapped
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.feed_result import Feed
from sumpwright.units import shown, shown_number, unit_name

Line = NDArray[np.float64]
Spot = tuple[tuple[float, float], str]
"""A place for words, and which end of them is there."""
WIDE, TALL = 960.0, 470.0
LEFT, RIGHT, TOP, BOTTOM = 66.0, 600.0, 16.0, 404.0
COLUMN = 640.0
LINES = 6
COLD_TO_HOT = ("#0b2f63", "#2765a8", "#2f8f83", "#8c8a1f", "#c96a12", "#8f1d14")
"""Told apart by dash and by the order of the lines as well."""
DASHES: tuple[tuple[float, ...], ...] = (
    (),
    (9.0, 3.0),
    (2.5, 2.5),
    (9.0, 3.0, 2.5, 3.0),
    (5.0, 2.5),
    (),
)


def feed_view(feed: Feed, units: str) -> bytes:
    """Engine speed across, absolute inlet pressure upward, limits as lines right across."""
    x = Axis(feed.rpm[0] - 0.02 * _span(feed), feed.rpm[-1] + 0.02 * _span(feed), LEFT, RIGHT)
    top = shown_number(feed.ambient_pa, "inlet_pressure", units)
    y = Axis(0.0, 1.06 * top, BOTTOM, TOP)
    drawing = Drawing(WIDE, TALL, key="feed", says=feed_alt(feed, units))
    _frame(drawing, x, y, units)
    rows = few_temperatures(feed, LINES)
    curves = [_curve(x, y, feed, k, units) for k in rows]
    _limits(drawing, curves, y, feed, units)
    drawing.clip(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP)
    for place, line in enumerate(curves):
        ink, dash = _style(place, len(rows))
        drawing.path([line], stroke=ink, width=2.6, dash=dash, closed=False)
    drawing.unclip()
    _points(drawing, curves, x, y, feed, units)
    _key(drawing, feed, rows, units)
    return drawing.svg()


def _curve(x: Axis, y: Axis, feed: Feed, row: int, units: str) -> Line:
    """(n, 2) of one temperature's line on paper."""
    pressures = [shown_number(p, "inlet_pressure", units) for p in feed.inlet_pa[row]]
    return np.array([(x.at(r), y.at(p)) for r, p in zip(feed.rpm, pressures, strict=True)])


def feed_alt(feed: Feed, units: str) -> str:
    """The picture in words."""
    said = [
        f"{name}: {shown(p.inlet_pa, 'inlet_pressure', units)} at "
        f"{shown(p.temperature_k, 'temperature', units)} and {p.rpm:.0f} rpm"
        for name, p in points_of(feed)
    ]
    return plain(
        f"Absolute pressure left at the pump's inlet over engine speed. {'; '.join(said)}."
    )


def _span(feed: Feed) -> float:
    return max(feed.rpm[-1] - feed.rpm[0], 100.0)


def _style(place: int, count: int) -> tuple[str, tuple[float, ...]]:
    """Colour and dash of the line `place` from the coldest of `count`."""
    last = len(COLD_TO_HOT) - 1
    k = last if count == 1 else round(place * last / (count - 1))
    return COLD_TO_HOT[k], DASHES[k]


def _frame(drawing: Drawing, x: Axis, y: Axis, units: str) -> None:
    drawing.box(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill=palette.PAPER, stroke=palette.RULE)
    for axis, count in ((x, 8), (y, 8)):
        step = round_step(axis.high - axis.low, count)
        for value in ticks(axis.low, axis.high, count):
            at, text = axis.at(value), tick_text(value, step)
            if axis is x:
                drawing.line((at, TOP), (at, BOTTOM), stroke=palette.FAINT)
                drawing.text((at, BOTTOM + 18.0), text, size=13, anchor="middle")
            else:
                drawing.line((LEFT, at), (RIGHT, at), stroke=palette.FAINT)
                drawing.text((LEFT - 7.0, at + 4.5), text, size=13, anchor="end")
    middle = (0.5 * (LEFT + RIGHT), BOTTOM + 42.0)
    drawing.text(middle, "Engine speed [rpm]", size=14, anchor="middle")
    words = f"Left at the pump's inlet, absolute [{unit_name('inlet_pressure', units)}]"
    drawing.text((16.0, 0.5 * (TOP + BOTTOM)), words, size=14, anchor="middle", turn=-90.0)


def _limits(drawing: Drawing, curves: list[Line], y: Axis, feed: Feed, units: str) -> None:
    """What is needed, and the air that there is; below the short-time limit it is shaded."""
    short = y.at(shown_number(feed.short.needed_pa, "inlet_pressure", units))
    drawing.box(LEFT, short, RIGHT - LEFT, BOTTOM - short, fill=palette.AIR_PALE, opacity=0.55)
    lines = [
        (feed.ambient_pa, "air on the oil", palette.MUTED, (2.0, 3.0)),
        (feed.continuous.needed_pa, "needed for good", palette.INK, (9.0, 4.0)),
        (feed.short.needed_pa, "needed for a short time", palette.AIR, (9.0, 4.0)),
    ]
    if feed.continuous.needed_pa == feed.short.needed_pa:
        lines.pop(1)
    for pressure, words, ink, dash in lines:
        at = y.at(shown_number(pressure, "inlet_pressure", units))
        drawing.line((LEFT, at), (RIGHT, at), stroke=ink, width=1.4, dash=dash)
        text = f"{words}, {shown(pressure, 'inlet_pressure', units)}"
        spots: list[Spot] = [
            ((side, at + below), anchor)
            for below in (-5.0, 14.0)
            for side, anchor in ((RIGHT - 6.0, "end"), (LEFT + 6.0, "start"))
        ]
        wide = text_width(text, 12.0)
        spot, anchor = max(spots, key=lambda s: _room(curves, s, wide))
        drawing.text(spot, text, size=12, anchor=anchor, fill=ink, halo=True)


def _room(curves: list[Line], spot: Spot, wide: float) -> float:
    """Distance of words at a spot from the nearest curve."""
    (x, y), anchor = spot
    low = x if anchor == "start" else x - wide
    across = np.linspace(low, low + wide, 9)
    gaps = [abs(np.interp(across, line[:, 0], line[:, 1]) - y + 4.0).min() for line in curves]
    return float(min(gaps, default=0.0))


def _points(drawing: Drawing, curves: list[Line], x: Axis, y: Axis, feed: Feed, units: str) -> None:
    """The judged points, where they are on the chart."""
    for name, point in points_of(feed)[:-1]:
        at = (x.at(point.rpm), y.at(shown_number(point.inlet_pa, "inlet_pressure", units)))
        if not (LEFT <= at[0] <= RIGHT and TOP <= at[1] <= BOTTOM):
            continue
        ink = palette.STATE_INK["met" if point.inlet_pa >= point.needed_pa else "not met"]
        drawing.dot(at, 6.0, fill=palette.PAPER, stroke=ink, width=2.6)
        words = f"{name}, {shown(point.inlet_pa, 'inlet_pressure', units)}"
        right = at[0] < 0.5 * (LEFT + RIGHT)
        side, anchor = (at[0] + 11.0, "start") if right else (at[0] - 11.0, "end")
        wide = text_width(words, 13.0, True)
        spots: list[Spot] = [((side, at[1] + by), anchor) for by in (-9.0, 19.0)]
        spot, anchor = max(spots, key=lambda s: _room(curves, s, wide))
        drawing.text(spot, words, size=13, bold=True, fill=ink, halo=True, anchor=anchor)


def _key(drawing: Drawing, feed: Feed, rows: list[int], units: str) -> None:
    """Hottest first, as the lines lie: temperature, viscosity, and the speeds that it allows."""
    drawing.text((COLUMN, TOP + 12.0), "Oil, hottest line first", size=14, bold=True)
    for place, k in reversed(list(enumerate(rows))):
        y = TOP + 46.0 + 52.0 * (len(rows) - 1 - place)
        ink, dash = _style(place, len(rows))
        drawing.line((COLUMN, y - 4.5), (COLUMN + 40.0, y - 4.5), stroke=ink, width=2.6, dash=dash)
        nu = feed.viscosity_m2_s[k]
        oil = shown(nu, "viscosity", units, digits=1 if nu < 100e-6 else 0)
        words = f"{shown(feed.temperature_k[k], 'temperature', units)}, {oil}"
        drawing.text((COLUMN + 50.0, y), words, size=14, bold=True)
        good, short = (
            speed_text(allowed.rpm[k], allowed.held_to_end[k])
            for allowed in (feed.continuous, feed.short)
        )
        drawing.text(
            (COLUMN + 50.0, y + 18.0),
            f"for good {good}, short {short}",
            size=13,
            fill=palette.MUTED,
        )
    off = [t for k, t in enumerate(feed.temperature_k) if not worth_a_line(feed, k)]
    if off:
        y = TOP + 46.0 + 52.0 * len(rows)
        words = (
            f"{shown(max(off), 'temperature', units)} and colder have no line: next to nothing "
            f"would be left even at {feed.rpm[0]:.0f} rpm."
        )
        for line in wrapped(words, 13.0, WIDE - COLUMN - 10.0):
            drawing.text((COLUMN, y), line, size=13, fill=palette.MUTED)
            y += 18.0
