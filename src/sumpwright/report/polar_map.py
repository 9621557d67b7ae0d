# SPDX-License-Identifier: Apache-2.0
"""How long the pickup stays covered, all round and up to what g: one round map for each state of
the doors, seen from above with the car's nose up, as in hold_view.py."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.axis import round_step, tick_text, ticks
from sumpwright.report.hold_words import asymmetry_lines, map_alt
from sumpwright.report.lettering import text_width, wrapped
from sumpwright.report.svg import Drawing
from sumpwright.studies.motion_result import HoldMapResult, HoldTimes

Floats = NDArray[np.float64]

WIDE, PANEL, RADIUS = 960.0, 450.0, 170.0
TITLES = {
    "working": "Doors working",
    "stuck open": "Doors stuck open",
    "stuck shut": "Doors stuck shut",
    "no baffles": "Without baffles",
}
LEGEND = 82.0


@dataclass(frozen=True, eq=False)
class Rings:
    """The cells of a map: edges of directions and of g, and where they are on paper."""

    directions: Floats
    """(n,) degrees from +x toward +y, rising"""
    magnitudes: Floats
    middle: Floats

    @cached_property
    def sides(self) -> Floats:
        """(n, 2) degrees at which each direction's cells begin and end."""
        d = self.directions
        step = np.diff(np.append(d, d[0] + 360.0))
        return np.stack([d - 0.5 * np.roll(step, 1), d + 0.5 * step], axis=1)

    @cached_property
    def edges(self) -> Floats:
        """(m + 1,) g between the rings, and at their ends."""
        g = self.magnitudes
        between = 0.5 * (g[1:] + g[:-1])
        step = float(g[-1] - g[-2]) if len(g) > 1 else float(g[-1])
        inner = max(0.0, float(g[0]) - 0.5 * (float(g[1] - g[0]) if len(g) > 1 else step))
        return np.concatenate([[inner], between, [g[-1] + 0.5 * step]])

    def at(self, direction: Floats | float, g: Floats | float) -> Floats:
        """(..., 2) on paper: the car's nose up, its left on the left."""
        angle = np.radians(direction)
        out = RADIUS * np.asarray(g) / self.edges[-1]
        return np.asarray(
            self.middle + np.stack([-out * np.sin(angle), -out * np.cos(angle)], axis=-1)
        )

    def arc(self, number: int, g: float) -> Floats:
        """(k, 2) points along a ring within one direction's cells."""
        start, end = self.sides[number]
        count = max(2, int(np.ceil((end - start) / 5.0)) + 1)
        return self.at(np.linspace(start, end, count), g)

    def cell(self, number: int, ring: int) -> Floats:
        """(k, 2) outline of a cell."""
        inner, outer = self.edges[ring], self.edges[ring + 1]
        return np.concatenate([self.arc(number, outer), self.arc(number, inner)[::-1]])


def band_edges(result: HoldMapResult) -> list[float]:
    """Seconds between the bands of colour: halves of the time asked for, and that time itself."""
    return [result.hold_time_s / k for k in (16.0, 8.0, 4.0, 2.0, 1.0)]


def hold_map_view(result: HoldMapResult, number: int) -> bytes:
    """The maps at one engine speed."""
    rows = -(-len(result.maps) // 2)
    words = [
        line
        for text in asymmetry_lines(result, result.rpm[number])
        for line in wrapped(text, 14.0, WIDE - 16.0)
    ]
    tall = rows * PANEL + LEGEND + 20.0 * len(words) + 10.0
    says = map_alt(result, number)
    drawing = Drawing(WIDE, tall, key=f"map-{number}", says=says)
    for k, times in enumerate(result.maps):
        column = k % 2 if k + 1 < len(result.maps) or k % 2 else 0.5  # a last one alone: centred
        middle = np.array([240.0 + 480.0 * column, (k // 2) * PANEL + 0.5 * PANEL + 12.0])
        rings = Rings(np.array(result.directions_deg), np.array(result.magnitudes_g), middle)
        _panel(drawing, rings, result, times, number)
    _legend(drawing, result, rows * PANEL + 8.0)
    for k, line in enumerate(words):
        drawing.text((8.0, rows * PANEL + LEGEND + 16.0 + 20.0 * k), line, size=14)
    return drawing.svg()


def _panel(
    drawing: Drawing, rings: Rings, result: HoldMapResult, times: HoldTimes, number: int
) -> None:
    x, y = rings.middle
    drawing.text((x - 232.0, y - 0.5 * PANEL + 22.0), TITLES[times.doors], size=16, bold=True)
    field = times.time_s[number]
    edges, never, bands = band_edges(result), [], [list[Floats]() for _ in palette.HOLD_BANDS]
    for direction, row in enumerate(field):
        for ring, time in enumerate(row):
            cell = rings.cell(direction, ring)
            if time is None:
                never.append(cell)
            else:
                bands[int(np.searchsorted(edges, time, side="right"))].append(cell)
    for colour, cells in zip(palette.HOLD_BANDS, bands, strict=True):
        drawing.path(cells, fill=colour, stroke=colour, width=0.4)
    _striped(drawing, rings, never)
    _held_line(drawing, rings, result, field)
    _net(drawing, rings)
    _times(drawing, rings, field, edges)
    _around(drawing, rings)


def _striped(drawing: Drawing, rings: Rings, cells: list[Floats]) -> None:
    if not cells:
        return
    drawing.path(cells, fill=palette.HOLD_NEVER, stroke=palette.HOLD_NEVER, width=0.4)
    drawing.clip_to(cells)
    x, y = (float(c) for c in rings.middle - RADIUS)
    draw_slants(drawing, x, y, 2.0 * RADIUS, 2.0 * RADIUS)
    drawing.unclip()


def draw_slants(drawing: Drawing, x: float, y: float, wide: float, high: float) -> None:
    """Thin slanting strokes over a box and its sides: to be clipped."""
    slants = [
        [(at, y + high), (at + high, y)] for at in np.arange(x - high, x + wide, 9.0).tolist()
    ]
    drawing.path(slants, stroke=palette.HOLD_NEVER_LINE, width=0.9, closed=False)


def _net(drawing: Drawing, rings: Rings) -> None:
    """The edge, circles at round g, and what they stand for."""
    middle, end = rings.middle.tolist(), float(rings.edges[-1])
    drawing.dot(middle, RADIUS, stroke=palette.INK, width=1.0)
    step, rounds = round_step(end, 4), ticks(0.0, end, 4)[1:]
    for g in rounds:
        drawing.dot(middle, RADIUS * g / end, stroke=palette.PAPER, width=0.8)
        x, y = rings.at(322.5, g)
        words = tick_text(g, step) + (" g" if g == rounds[-1] else "")
        drawing.text((x, y + 4.0), words, size=11.5, anchor="middle", halo=True)


def held_ring(result: HoldMapResult, row: tuple[float | None, ...]) -> int:
    """How many rings from the innermost on hold for the time asked for."""
    kept = [t is None or t >= result.hold_time_s for t in row]
    return kept.index(False) if False in kept else len(kept)


def _held_line(
    drawing: Drawing,
    rings: Rings,
    result: HoldMapResult,
    field: tuple[tuple[float | None, ...], ...],
) -> None:
    """A heavy line round what holds for the time asked for, without a break from rest."""
    loop = [rings.arc(k, float(rings.edges[held_ring(result, row)])) for k, row in enumerate(field)]
    drawing.path([np.concatenate(loop)], stroke=palette.PAPER, width=5.0)
    drawing.path([np.concatenate(loop)], stroke=palette.INK, width=2.6)


def _times(
    drawing: Drawing,
    rings: Rings,
    field: tuple[tuple[float | None, ...], ...],
    edges: list[float],
) -> None:
    """Seconds in the cells of the four main ways, as many as there is room for."""
    share = RADIUS / float(rings.edges[-1])
    for way in (0.0, 90.0, 180.0, 270.0):
        apart = np.abs((rings.directions - way + 180.0) % 360.0 - 180.0)
        number, last = int(apart.argmin()), 14.0
        if apart[number] > 5.0:
            continue
        for ring, time in enumerate(field[number]):
            g = 0.5 * float(rings.edges[ring] + rings.edges[ring + 1])
            if time is None or share * g - last < (14.0 if way in (0.0, 180.0) else 24.0):
                continue
            last = share * g
            band = int(np.searchsorted(edges, time, side="right"))
            _seconds(drawing, rings.at(float(rings.directions[number]), g), time, band)


def _seconds(drawing: Drawing, at: Floats, time: float, band: int) -> None:
    """A number on a patch of its cell's colour, so that it can be read across an edge."""
    words = f"{time:.1f}" if time < 9.95 else f"{time:.0f}"
    wide = text_width(words, 11.0) + 3.0
    drawing.box(at[0] - 0.5 * wide, at[1] - 5.5, wide, 11.0, fill=palette.HOLD_BANDS[band])
    ink = palette.PAPER if band < 3 else palette.INK
    drawing.text((at[0], at[1] + 4.0), words, size=11, anchor="middle", fill=ink)


def _around(drawing: Drawing, rings: Rings) -> None:
    """The four ways, so that no side can be misread, and the car's nose in the middle."""
    x, y = rings.middle
    out = RADIUS + 8.0
    for at, anchor, words in (
        ((x, y - out), "middle", "accelerating"),
        ((x, y + out + 11.0), "middle", "braking"),
        ((x - out, y + 4.5), "end", "left turn"),
        ((x + out, y + 4.5), "start", "right turn"),
    ):
        drawing.text(at, words, size=13, anchor=anchor)
    nose = 0.62 * np.array([[0.0, -15.0], [7.0, -3.0], [7.0, 14.0], [-7.0, 14.0], [-7.0, -3.0]])
    drawing.path([rings.middle + nose], fill=palette.PAPER, stroke=palette.INK, width=1.2)


def _legend(drawing: Drawing, result: HoldMapResult, top: float) -> None:
    """The bands with their seconds, the stripes and the heavy line."""
    edges, left, wide, high = band_edges(result), 8.0, 78.0, 18.0
    bands = len(palette.HOLD_BANDS) if result.horizon_s > result.hold_time_s else len(edges)
    drawing.text((left, top + 10.0), "Seconds until the pickup first takes air", size=13, bold=True)
    for k, colour in enumerate(palette.HOLD_BANDS[:bands]):
        drawing.box(left + k * wide, top + 18.0, wide, high, fill=colour)
        if k < len(edges):
            x = left + (k + 1) * wide
            drawing.text((x, top + 52.0), f"{edges[k]:g}", size=13, anchor="middle")
    drawing.box(left, top + 18.0, bands * wide, high, stroke=palette.MUTED, line=0.8)
    never = left + bands * wide + 34.0
    drawing.box(never, top + 18.0, wide, high, fill=palette.HOLD_NEVER)
    drawing.clip(never, top + 18.0, wide, high)
    draw_slants(drawing, never, top + 18.0, wide, high)
    drawing.unclip()
    drawing.box(never, top + 18.0, wide, high, stroke=palette.MUTED, line=0.8)
    drawing.text((never, top + 52.0), f"not within {result.horizon_s:g} s", size=13)
    line = never + wide + 60.0
    drawing.line((line, top + 27.0), (line + 44.0, top + 27.0), stroke=palette.INK, width=2.6)
    drawing.text((line, top + 52.0), f"inside it holds {result.hold_time_s:g} s", size=13)
