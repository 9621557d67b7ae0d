# SPDX-License-Identifier: Apache-2.0
"""How fast the engine may turn at each temperature of its oil, new pan over stock."""

from sumpwright.report import palette
from sumpwright.report.axis import Axis, round_step, tick_text, ticks
from sumpwright.report.feed_choice import points_of
from sumpwright.report.lettering import wrapped
from sumpwright.report.svg import Drawing
from sumpwright.report.text import plain
from sumpwright.studies.feed_result import AllowedSpeed, Feed
from sumpwright.units import shown, shown_number, unit_name

WIDE, TALL = 960.0, 400.0
LEFT, RIGHT, TOP, BOTTOM = 66.0, 600.0, 16.0, 334.0
COLUMN, ROOM = 640.0, 310.0
GOOD, SHORT = 3.0, 1.8
"""Widths of the two lines; the thinner one is dashed as well."""


def feed_speed_view(feed: Feed, units: str) -> bytes:
    """Temperature across, allowed engine speed upward; under a line it is allowed."""
    first, last = (shown_number(t, "temperature", units) for t in _ends(feed))
    x = Axis(first, last, LEFT, RIGHT)
    y = Axis(0.0, 1.08 * feed.rpm[-1], BOTTOM, TOP)
    drawing = Drawing(WIDE, TALL, key="feed-speed", says=speed_alt(feed, units))
    _frame(drawing, x, y, units)
    drawing.clip(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP)
    if feed.stock is not None:
        _pan(drawing, x, y, feed.stock, units, palette.STOCK)
    _pan(drawing, x, y, feed, units, palette.NEW)
    drawing.unclip()
    _points(drawing, x, y, feed, units)
    _words(drawing, feed, units)
    return drawing.svg()


def speed_alt(feed: Feed, units: str) -> str:
    """The picture in words."""
    said = []
    for words, allowed in (("for good", feed.continuous), ("for a short time", feed.short)):
        limit = shown(allowed.needed_pa, "inlet_pressure", units)
        said.append(f"{limit} {words}: {', '.join(_coldest(feed, allowed, units))}")
    return plain(f"Engine speed allowed over the oil's temperature. {'; '.join(said)}.")


def _coldest(feed: Feed, allowed: AllowedSpeed, units: str) -> list[str]:
    """How cold the oil may be at the lowest and at the highest speed."""
    if allowed.coldest_k is None:
        return ["kept at no temperature looked at"]
    said = []
    for rpm, t in ((feed.rpm[0], allowed.coldest_k), (feed.rpm[-1], allowed.full_speed_k)):
        if t is None:
            said.append(f"never kept at {rpm:.0f} rpm")
        else:
            least = " at least" if t <= feed.temperature_k[0] else ""
            said.append(f"kept at {rpm:.0f} rpm down to {shown(t, 'temperature', units)}{least}")
    return said


def _ends(feed: Feed) -> tuple[float, float]:
    """First and last temperature of the axis; never the same."""
    first, last = feed.temperature_k[0], feed.temperature_k[-1]
    return (first, last) if last - first > 1.0 else (first - 5.0, last + 5.0)


def _frame(drawing: Drawing, x: Axis, y: Axis, units: str) -> None:
    drawing.box(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, fill=palette.PAPER, stroke=palette.RULE)
    step = round_step(x.high - x.low, 8)
    for value in ticks(x.low, x.high, 8):
        at = x.at(value)
        drawing.line((at, TOP), (at, BOTTOM), stroke=palette.FAINT)
        drawing.text((at, BOTTOM + 18.0), tick_text(value, step), size=13, anchor="middle")
    step = round_step(y.high, 7)
    for value in ticks(y.low, y.high, 7):
        at = y.at(value)
        drawing.line((LEFT, at), (RIGHT, at), stroke=palette.FAINT)
        drawing.text((LEFT - 7.0, at + 4.5), tick_text(value, step), size=13, anchor="end")
    middle = (0.5 * (LEFT + RIGHT), BOTTOM + 42.0)
    words = f"Oil [{unit_name('temperature', units)}]"
    drawing.text(middle, words, size=14, anchor="middle")
    spot = (16.0, 0.5 * (TOP + BOTTOM))
    drawing.text(spot, "Engine speed allowed [rpm]", size=14, anchor="middle", turn=-90.0)


def _pan(drawing: Drawing, x: Axis, y: Axis, feed: Feed, units: str, ink: str) -> None:
    for allowed, width, dash in ((feed.short, SHORT, (7.0, 4.0)), (feed.continuous, GOOD, ())):
        line = [
            (x.at(shown_number(t, "temperature", units)), y.at(rpm))
            for t, rpm in _line(feed, allowed)
        ]
        if not line:
            continue
        under = [*line, (line[-1][0], BOTTOM), (line[0][0], BOTTOM)]
        drawing.path([under], fill=ink, opacity=0.07)
        drawing.path(
            [[(line[0][0], BOTTOM), *line]], stroke=ink, width=width, dash=dash, closed=False
        )


def _line(feed: Feed, allowed: AllowedSpeed) -> list[tuple[float, float]]:
    """From the coldest oil that it is kept with at the lowest speed, to hot."""
    coldest = allowed.coldest_k
    if coldest is None:
        return []
    pairs = zip(feed.temperature_k, allowed.rpm, strict=True)
    line = {t: rpm for t, rpm in pairs if rpm is not None and t >= coldest}
    line.setdefault(coldest, feed.rpm[0])
    if allowed.full_speed_k is not None:
        line.setdefault(allowed.full_speed_k, feed.rpm[-1])
    return sorted(line.items())


def _points(drawing: Drawing, x: Axis, y: Axis, feed: Feed, units: str) -> None:
    """Where the inlet is judged: met under its line, not met over it."""
    for name, point in points_of(feed)[:-1]:
        at = (x.at(shown_number(point.temperature_k, "temperature", units)), y.at(point.rpm))
        if not (LEFT <= at[0] <= RIGHT and TOP <= at[1] <= BOTTOM):
            continue
        ink = palette.STATE_INK["met" if point.inlet_pa >= point.needed_pa else "not met"]
        drawing.dot(at, 6.0, fill=palette.PAPER, stroke=ink, width=2.6)
        right = at[0] < 0.5 * (LEFT + RIGHT)
        drawing.text(
            (
                at[0] + (11.0 if right else -11.0),
                at[1] + (16.0 if point.rpm > 0.9 * feed.rpm[-1] else 5.0),
            ),
            f"{name}, judged here",
            size=13,
            bold=True,
            fill=ink,
            halo=True,
            anchor="start" if right else "end",
        )


def _words(drawing: Drawing, feed: Feed, units: str) -> None:
    """What the lines are, and how cold the engine may start."""
    rows: list[tuple[str, str, float, tuple[float, ...]]] = []
    pans = [("new pan", palette.NEW)]
    pans += [] if feed.stock is None else [("stock pan", palette.STOCK)]
    for name, ink in pans:
        rows.append((f"{name}, for good", ink, GOOD, ()))
        rows.append((f"{name}, for a short time", ink, SHORT, (7.0, 4.0)))
    y = TOP + 14.0
    for words, ink, width, dash in rows:
        drawing.line(
            (COLUMN, y - 4.5), (COLUMN + 34.0, y - 4.5), stroke=ink, width=width, dash=dash
        )
        drawing.text((COLUMN + 44.0, y), words, size=14)
        y += 24.0
    y += 10.0
    for title, allowed in (("For good", feed.continuous), ("For a short time", feed.short)):
        limit = shown(allowed.needed_pa, "inlet_pressure", units)
        drawing.text((COLUMN, y), f"{title}: {limit}", size=14, bold=True)
        for line in _coldest(feed, allowed, units):
            y += 18.0
            drawing.text((COLUMN, y), line, size=13, fill=palette.MUTED)
        y += 28.0
    said = "The lines end at the highest speed looked at, not at a limit of the pump."
    for line in wrapped(said, 13.0, ROOM):
        drawing.text((COLUMN, y), line, size=13, fill=palette.MUTED)
        y += 18.0
