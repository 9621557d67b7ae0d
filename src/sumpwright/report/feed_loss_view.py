# SPDX-License-Identifier: Apache-2.0
"""Where the pressure goes at the judged points: what takes how much, against what may be taken."""

from dataclasses import dataclass

from sumpwright.report import palette
from sumpwright.report.axis import Axis, round_step, tick_text, ticks
from sumpwright.report.feed_choice import ITEMS, number_text, points_of
from sumpwright.report.lettering import stacked, text_width
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.feed_result import Feed, FeedPoint
from sumpwright.units import shown, shown_number, unit_name

WIDE, LEFT, RIGHT = 960.0, 24.0, 936.0
BLOCK, BAR = 124.0, 34.0
"""Height of one point's words and bar, and of the bar."""
SIZE = 13.0
LEAST = 50.0
"""Pa; what takes less has no piece of its own."""
HEIGHT_UP = "height of the pump"
HEIGHT_INK = "#5f6b77"
INKS = ("#2765a8", "#6fa3d2", "#0b2f63", "#c96a12", "#8c8a1f", "#2f8f83")
"""Of the items in their order; every piece also carries its name."""


@dataclass(frozen=True)
class _Piece:
    words: str
    much: float
    """[Pa]"""
    ink: str


def feed_loss_view(feed: Feed, units: str) -> bytes:
    """A bar for each judged point, pieces in the order the oil flows, all on one scale."""
    bars = _bars(feed)
    tall = 16.0 + BLOCK * len(bars) + 34.0
    most = max(max(_taken(p), _allowance(p)) for _, p in bars)
    x = Axis(0.0, 1.04 * shown_number(most, "inlet_pressure", units), LEFT, RIGHT)
    drawing = Drawing(WIDE, tall, key="feed-loss", says=loss_alt(feed, units))
    _scale(drawing, x, 16.0, tall - 40.0, units)
    for k, (name, point) in enumerate(bars):
        _bar(drawing, x, 16.0 + BLOCK * k, name, point, units)
    return drawing.svg()


def loss_alt(feed: Feed, units: str) -> str:
    """The picture in words."""
    said = []
    for name, point in _bars(feed):
        parts = [f"{p.words} {number_text(p.much, units)}" for p in _pieces(point)]
        said.append(f"{name}: {', '.join(parts)}")
    unit = unit_name("inlet_pressure", units)
    return plain(f"What takes pressure on the way to the pump [{unit}]. {'; '.join(said)}.")


def _bars(feed: Feed) -> list[tuple[str, FeedPoint]]:
    """The judged points, the stock pan's under the new pan's."""
    bars = []
    stock = {} if feed.stock is None else dict(points_of(feed.stock)[:-1])
    for name, point in points_of(feed)[:-1]:
        bars.append((name if not stock else f"new pan, {name}", point))
        if name in stock:
            bars.append((f"stock pan, {name}", stock[name]))
    return bars


def _pieces(point: FeedPoint) -> list[_Piece]:
    """What takes pressure; a pump below the oil's surface is given some and has no such piece."""
    pieces = [_Piece(HEIGHT_UP, -point.head_pa, HEIGHT_INK)] if point.head_pa < 0.0 else []
    for ink, (key, words) in zip(INKS, ITEMS.items(), strict=True):
        if (much := getattr(point, key)) >= LEAST:
            pieces.append(_Piece(words, much, ink))
    return pieces


def _taken(point: FeedPoint) -> float:
    return sum(piece.much for piece in _pieces(point))


def _allowance(point: FeedPoint) -> float:
    """What may be taken: the air on the oil, and a head that helps, less what is needed."""
    return point.ambient_pa + max(point.head_pa, 0.0) - point.needed_pa


def _scale(drawing: Drawing, x: Axis, top: float, bottom: float, units: str) -> None:
    step = round_step(x.high, 10)
    for value in ticks(0.0, x.high, 10):
        at = x.at(value)
        drawing.line((at, top), (at, bottom), stroke=palette.FAINT)
        drawing.text((at, bottom + 16.0), tick_text(value, step), size=13, anchor="middle")
    unit = unit_name("inlet_pressure", units)
    words = f"Taken on the way from the oil's surface to the pump [{unit}]"
    drawing.text((0.5 * (LEFT + RIGHT), bottom + 36.0), words, size=14, anchor="middle")


def _bar(drawing: Drawing, x: Axis, top: float, name: str, point: FeedPoint, units: str) -> None:
    where = f"{shown(point.temperature_k, 'temperature', units)}, {point.rpm:.0f} rpm"
    left, needed = (
        shown(p, "inlet_pressure", units) for p in (max(point.inlet_pa, 0.0), point.needed_pa)
    )
    said = f"{name}: {where}. Left {left}, needed {needed}"
    if point.inlet_pa < 0.0:
        said = f"{name}: {where}. The pump cannot draw that much"
    drawing.text((LEFT, top + 14.0), said, size=15, bold=True, halo=True)
    bar, at, middles = top + 24.0, LEFT, []
    pieces = _pieces(point)
    for piece in pieces:
        wide = x.at(shown_number(piece.much, "inlet_pressure", units)) - LEFT
        drawing.box(at, bar, wide, BAR, fill=piece.ink, stroke=palette.PAPER, line=0.8)
        middles.append(at + 0.5 * wide)
        at += wide
    _names(drawing, pieces, middles, bar + BAR, units)
    _limit(drawing, x, bar, point, units)


def _names(
    drawing: Drawing, pieces: list[_Piece], middles: list[float], under: float, units: str
) -> None:
    """Name and size of each piece below the bar, moved apart where they have no room."""
    texts = [f"{p.words} {number_text(p.much, units)}" for p in pieces]
    sizes = [text_width(text, SIZE) + 14.0 for text in texts]
    rows = stacked(middles, sizes, LEFT, RIGHT)
    for piece, text, middle, place in zip(pieces, texts, middles, rows, strict=True):
        leader = [(middle, under), (middle, under + 5.0), (place, under + 17.0)]
        drawing.path([leader], stroke=piece.ink, width=1.4, closed=False)
        drawing.dot((middle, under), 2.4, fill=piece.ink)
        drawing.text((place, under + 31.0), text, size=SIZE, anchor="middle", halo=True)


def _limit(drawing: Drawing, x: Axis, bar: float, point: FeedPoint, units: str) -> None:
    """How much may be taken before the inlet has less than it needs."""
    most = _allowance(point)
    at = x.at(shown_number(max(most, 0.0), "inlet_pressure", units))
    ink = palette.STATE_INK["met" if point.inlet_pa >= point.needed_pa else "not met"]
    drawing.line((at, bar - 6.0), (at, bar + BAR + 6.0), stroke=palette.PAPER, width=5.0)
    drawing.line((at, bar - 6.0), (at, bar + BAR + 6.0), stroke=ink, width=2.4)
    if most < _taken(point):  # inside the bar, where words could not be read
        return
    words = f"at most {number_text(most, units)}"
    right = at + text_width(words, SIZE, True) + 8.0 < RIGHT
    place = (at + (6.0 if right else -6.0), bar - 2.0 if not right else bar + 21.0)
    anchor = "start" if right else "end"
    drawing.text(place, words, size=SIZE, bold=True, fill=ink, anchor=anchor, halo=True)
