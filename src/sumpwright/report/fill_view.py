# SPDX-License-Identifier: Apache-2.0
"""How high the oil stands for how much of it: both pans on one scale below the pan rail."""

from dataclasses import dataclass

import numpy as np

from sumpwright.report import palette
from sumpwright.report.alt import fill_alt
from sumpwright.report.axis import Axis, round_step, tick_text, ticks
from sumpwright.report.lettering import spread
from sumpwright.report.svg import Drawing
from sumpwright.studies.result import CheckResult, PanFill
from sumpwright.units import shown, shown_number, unit_name

WIDE, TALL = 960.0, 430.0
LEFT, RIGHT, TOP, BOTTOM = 66.0, 560.0, 14.0, 374.0
COLUMN = 628.0


@dataclass(frozen=True)
class _Mark:
    words: str
    volume: float
    height: float
    stock: bool = False


def fill_view(result: CheckResult) -> bytes:
    """Volume across, height below the rail upward, with the marks a person fills to."""
    fill, units = result.fill, result.units
    pans = [fill] if fill.stock is None else [fill, fill.stock]
    x = _volume_axis(pans, units)
    y = _height_axis(pans, units)
    drawing = Drawing(WIDE, TALL, key="fill", says=fill_alt(result))
    _frame(drawing, x, y, units)
    if fill.crank_gap_m is not None:
        _crank_line(drawing, y, fill, units)
    if fill.stock is not None:
        _curve(drawing, x, y, fill.stock, units, stock=True)
    _curve(drawing, x, y, fill, units, stock=False)
    _label(drawing, x, y, _marks(fill), units)
    return drawing.svg()


def _volume_axis(pans: list[PanFill], units: str) -> Axis:
    top = max(max(p.curve.volume_m3[-1], p.brim_m3) for p in pans)
    return Axis(0.0, 1.04 * shown_number(top, "volume", units), LEFT, RIGHT)


def _height_axis(pans: list[PanFill], units: str) -> Axis:
    low = min(p.lowest_m for p in pans)
    high = max(p.lowest_m + p.curve.depth_m[-1] for p in pans)
    room = 0.06 * (high - low)
    floor, top = (shown_number(v, "length", units) for v in (low - room, high + room))
    return Axis(floor, top, BOTTOM, TOP)


def _frame(drawing: Drawing, x: Axis, y: Axis, units: str) -> None:
    drawing.box(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill=palette.PAPER, stroke=palette.RULE)
    for value in ticks(x.low, x.high, 8):
        at = x.at(value)
        drawing.line((at, TOP), (at, BOTTOM), stroke=palette.FAINT)
        text = tick_text(value, round_step(x.high - x.low, 8))
        drawing.text((at, BOTTOM + 18.0), text, size=13, anchor="middle")
    for value in ticks(y.low, y.high, 7):
        at = y.at(value)
        zero = abs(value) < 1e-9
        drawing.line(
            (LEFT, at),
            (RIGHT, at),
            stroke=palette.MUTED if zero else palette.FAINT,
            dash=(9, 3, 2, 3) if zero else (),
        )
        text = tick_text(value, round_step(y.high - y.low, 7))
        drawing.text((LEFT - 7.0, at + 4.5), text, size=13, anchor="end")
    middle = 0.5 * (LEFT + RIGHT)
    drawing.text(
        (middle, BOTTOM + 42.0),
        f"Oil in the pan [{unit_name('volume', units)}]",
        size=14,
        anchor="middle",
    )
    words = f"Surface over the pan rail [{unit_name('length', units)}]"
    drawing.text((16.0, 0.5 * (TOP + BOTTOM)), words, size=14, anchor="middle", turn=-90.0)
    if y.low < 0.0 < y.high:
        drawing.text((LEFT + 8.0, y.at(0.0) - 5.0), "pan rail", size=12, fill=palette.MUTED)


def _crank_line(drawing: Drawing, y: Axis, fill: PanFill, units: str) -> None:
    at = y.at(shown_number(fill.hot_height_m + (fill.crank_gap_m or 0.0), "length", units))
    if TOP < at < BOTTOM:
        drawing.line((LEFT, at), (RIGHT, at), stroke=palette.MUTED, width=1.4, dash=(4, 3))
        drawing.text(
            (LEFT + 8.0, at + 14.0),
            "lowest point of the crank sweep",
            size=12,
            fill=palette.MUTED,
            halo=True,
        )


def _curve(drawing: Drawing, x: Axis, y: Axis, pan: PanFill, units: str, *, stock: bool) -> None:
    points = [
        (
            x.at(shown_number(v, "volume", units)),
            y.at(shown_number(pan.lowest_m + d, "length", units)),
        )
        for v, d in zip(pan.curve.volume_m3, pan.curve.depth_m, strict=True)
    ]
    ink = palette.STOCK if stock else palette.NEW
    dash = palette.STOCK_DASH if stock else ()
    drawing.path([points], stroke=ink, width=2.2 if stock else 3.0, dash=dash, closed=False)


def _marks(fill: PanFill) -> list[_Mark]:
    marks = [_Mark("Full mark, cold", fill.full_m3, fill.full_height_m)]
    if fill.low_m3 is not None and fill.low_height_m is not None:
        marks.append(_Mark("Low mark, cold", fill.low_m3, fill.low_height_m))
    marks.append(_Mark("The full fill, hot", fill.hot_m3, fill.hot_height_m))
    marks.append(_Mark("Most, cold", fill.usable_m3, _height_at(fill, fill.usable_m3)))
    marks.append(_Mark("Brim: oil reaches the rail", fill.brim_m3, fill.brim_height_m))
    if fill.stock is not None:
        stock = fill.stock
        marks.append(_Mark("Stock, full mark", stock.full_m3, stock.full_height_m, stock=True))
    return marks


def _height_at(fill: PanFill, volume: float) -> float:
    depth = np.interp(volume, fill.curve.volume_m3, fill.curve.depth_m)
    return fill.lowest_m + float(depth)


def _label(drawing: Drawing, x: Axis, y: Axis, marks: list[_Mark], units: str) -> None:
    spots = [
        (
            x.at(shown_number(m.volume, "volume", units)),
            y.at(shown_number(m.height, "length", units)),
        )
        for m in marks
    ]
    rows = spread([at for _, at in spots], 42.0, TOP + 14.0, BOTTOM - 10.0)
    for mark, spot, row in zip(marks, spots, rows, strict=True):
        ink = palette.STOCK if mark.stock else palette.INK
        leader = [spot, (RIGHT + 26.0, row), (COLUMN - 6.0, row)]
        drawing.path([leader], stroke=ink, width=1.0, closed=False)
        drawing.dot(
            spot, 5.0, fill=palette.PAPER if mark.stock else palette.NEW, stroke=ink, width=1.6
        )
        drawing.text((COLUMN, row - 1.0), mark.words, size=14, bold=not mark.stock, fill=ink)
        below = shown(mark.height, "length", units)
        words = f"{shown(mark.volume, 'volume', units)} at {below}"
        drawing.text((COLUMN, row + 16.0), words, size=13, fill=palette.MUTED)
    _key(drawing, stock=any(m.stock for m in marks))


def _key(drawing: Drawing, *, stock: bool) -> None:
    y = TALL - 14.0
    drawing.line((COLUMN, y), (COLUMN + 34.0, y), stroke=palette.NEW, width=3.0)
    drawing.text((COLUMN + 42.0, y + 4.5), "new pan", size=13)
    if stock:
        drawing.line(
            (COLUMN + 120.0, y),
            (COLUMN + 154.0, y),
            width=2.2,
            stroke=palette.STOCK,
            dash=palette.STOCK_DASH,
        )
        drawing.text((COLUMN + 162.0, y + 4.5), "stock pan", size=13)
