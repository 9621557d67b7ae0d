# SPDX-License-Identifier: Apache-2.0
"""At what steady g the pickup uncovers, all round, new pan over stock, seen from above."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.alt import hold_alt
from sumpwright.report.limit import WAYS, limit_number
from sumpwright.report.svg import Drawing
from sumpwright.studies.result import CheckResult, PanHold

Floats = NDArray[np.float64]

WIDE, TALL, RADIUS = 960.0, 520.0, 186.0
MIDDLE = np.array([300.0, 260.0])
COLUMN = 628.0


def hold_view(result: CheckResult) -> bytes | None:
    """The polar plot with the four ways in words and numbers; None where hold is not judged."""
    hold = result.hold
    if hold is None:
        return None
    end = max(hold.magnitudes_g)
    drawing = Drawing(WIDE, TALL, key="hold", says=hold_alt(result))
    _rings(drawing, end)
    _round(drawing, hold.directions_deg, hold.rail_limit_g, end, palette.OIL_LINE, 1.2, (2.0, 3.0))
    if hold.stock is not None:
        _pan(drawing, hold.stock, end, stock=True)
    _pan(drawing, hold, end, stock=False)
    _ring_words(drawing, hold, end)
    _words(drawing)
    _numbers(drawing, hold, end)
    return drawing.svg()


def _at(direction_deg: float, g: float, end: float) -> Floats:
    """On paper: the car's nose up, its left on the left."""
    angle = np.radians(direction_deg)
    return MIDDLE + RADIUS * (g / end) * np.array([-np.sin(angle), -np.cos(angle)])


def _rings(drawing: Drawing, end: float) -> None:
    drawing.dot(MIDDLE.tolist(), RADIUS, fill="#fbfcfd", stroke=palette.MUTED, width=1.2)
    for direction in range(0, 360, 45):
        drawing.line(
            MIDDLE.tolist(), _at(direction, end, end).tolist(), stroke=palette.RULE, width=0.8
        )
    for k in (1, 2, 3, 4):
        drawing.dot(MIDDLE.tolist(), RADIUS * k / 4.0, stroke=palette.RULE, width=0.8)


def _ring_words(drawing: Drawing, hold: PanHold, end: float) -> None:
    """The rings' g in the direction where the lines are least in the way."""
    rings = end * np.arange(1, 5) / 4.0
    pans = [hold] if hold.stock is None else [hold, hold.stock]
    lines = [(p.directions_deg, p.limit_g) for p in pans]
    lines.append((hold.directions_deg, hold.rail_limit_g))

    def room(direction: float) -> float:
        here = [float(np.interp(direction, d, g, period=360.0)) for d, g in lines]
        return float(min(abs(g - 0.06 * end - ring) for g in here for ring in rings[:3]))

    best = max((q + d for d in (45.0, 30.0, 60.0) for q in (270.0, 0.0, 180.0, 90.0)), key=room)
    for k, g in enumerate(rings.tolist()):
        x, y = _at(best, g, end)
        text = f"{g:.2f}".removesuffix("0") + (" g" if k == 3 else "")
        right, low = best > 180.0, 90.0 < best < 270.0
        place = (x + (4.0 if right else -4.0), y + (13.0 if low else -3.0))
        anchor = "start" if right else "end"
        drawing.text(place, text, size=12, fill=palette.MUTED, halo=True, anchor=anchor)


def _round(
    drawing: Drawing,
    directions: tuple[float, ...],
    limits: tuple[float, ...],
    end: float,
    ink: str,
    width: float,
    dash: tuple[float, ...],
    fill: str = "none",
) -> None:
    loop = [_at(d, min(g, end), end) for d, g in zip(directions, limits, strict=True)]
    drawing.path([loop], stroke=ink, width=width, dash=dash, fill=fill, opacity=0.13)


def _pan(drawing: Drawing, hold: PanHold, end: float, *, stock: bool) -> None:
    ink, width = (palette.STOCK, 2.2) if stock else (palette.NEW, 3.0)
    dash = palette.STOCK_DASH if stock else ()
    _round(
        drawing,
        hold.directions_deg,
        hold.limit_g,
        end,
        ink,
        width,
        dash,
        "none" if stock else palette.NEW,
    )
    kept = [d for d, held in zip(hold.directions_deg, hold.held_to_end, strict=True) if held]
    for direction in kept:
        drawing.dot(
            _at(direction, end, end).tolist(),
            2.8 if stock else 4.2,
            fill=palette.PAPER,
            stroke=ink,
            width=1.4,
        )


def _words(drawing: Drawing) -> None:
    """The four ways round the edge, and where the oil goes, so that no sign can be misread."""
    x, y = MIDDLE
    out = RADIUS + 14.0
    for at, anchor, words, oil in (
        ((x, y - out - 18.0), "middle", "Accelerating", "oil runs back"),
        ((x, y + out + 12.0), "middle", "Braking", "oil runs forward"),
        ((x - out, y - 2.0), "end", "Left turn", "oil runs right"),
        ((x + out, y - 2.0), "start", "Right turn", "oil runs left"),
    ):
        drawing.text(at, words, size=15, bold=True, anchor=anchor)
        drawing.text((at[0], at[1] + 17.0), oil, size=12, anchor=anchor, fill=palette.MUTED)
    nose = np.array([[0.0, -15.0], [7.0, -3.0], [7.0, 14.0], [-7.0, 14.0], [-7.0, -3.0]])
    drawing.path([MIDDLE + nose], fill=palette.PAPER, stroke=palette.INK, width=1.4)


def _numbers(drawing: Drawing, hold: PanHold, end: float) -> None:
    """The four limits side by side, and what the lines are."""
    top = 66.0
    both = hold.stock is not None
    drawing.text((COLUMN, top - 34.0), "Pickup uncovers at", size=15, bold=True)
    drawing.text((COLUMN + 176.0, top), "new", size=14, bold=True, fill=palette.NEW, anchor="end")
    if both:
        drawing.text((COLUMN + 270.0, top), "stock", size=14, fill=palette.STOCK, anchor="end")
    for k, (way, words) in enumerate(WAYS.items()):
        y = top + 32.0 * (k + 1)
        drawing.line((COLUMN, y - 21.0), (COLUMN + 270.0, y - 21.0), stroke=palette.RULE)
        drawing.text((COLUMN, y), words, size=14)
        drawing.text(
            (COLUMN + 176.0, y), f"{limit_number(hold, way)} g", size=15, bold=True, anchor="end"
        )
        if hold.stock is not None:
            drawing.text(
                (COLUMN + 270.0, y),
                f"{limit_number(hold.stock, way)} g",
                size=15,
                anchor="end",
                fill=palette.STOCK,
            )
    _key(drawing, top + 190.0, end, both=both)


def _key(drawing: Drawing, top: float, end: float, *, both: bool) -> None:
    rows: list[tuple[str, str, float, tuple[float, ...]]] = [
        ("new pan", palette.NEW, 3.0, ()),
        ("oil climbs to the pan rail, new pan", palette.OIL_LINE, 1.2, (2.0, 3.0)),
    ]
    if both:
        rows.insert(1, ("stock pan", palette.STOCK, 2.2, palette.STOCK_DASH))
    for k, (words, ink, width, dash) in enumerate(rows):
        y = top + 24.0 * k
        drawing.line(
            (COLUMN, y - 4.5), (COLUMN + 34.0, y - 4.5), stroke=ink, width=width, dash=dash
        )
        drawing.text((COLUMN + 44.0, y), words, size=13)
    y = top + 24.0 * len(rows)
    drawing.dot((COLUMN + 17.0, y - 4.5), 4.2, fill=palette.PAPER, stroke=palette.NEW, width=1.4)
    drawing.text((COLUMN + 44.0, y), f"still covered at {end:.2f} g, the most looked at", size=13)
    for k, line in enumerate(
        (
            "Seen from above, nose up. A point to the left is",
            "a left turn: the car is pushed left, the oil runs",
            "right. Further out is better.",
        )
    ):
        drawing.text((COLUMN, y + 42.0 + 19.0 * k), line, size=13, fill=palette.MUTED)
