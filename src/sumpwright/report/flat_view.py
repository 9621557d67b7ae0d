# SPDX-License-Identifier: Apache-2.0
"""Pictures of flat patterns and of nests: cut lines solid, bends dashed, what to scribe thin."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.profile import Profile
from sumpwright.metal.flat_pattern import FlatPattern, turned
from sumpwright.report import palette
from sumpwright.report.flat_words import KERF, bend_words, part_words, sheet_words
from sumpwright.report.lettering import text_width, wrapped
from sumpwright.report.svg import Drawing
from sumpwright.studies.sheet_part_result import CutSheet, SheetPart, SheetsResult

Floats = NDArray[np.float64]

WIDE = 900.0
"""Units of a picture's width."""
_EDGE, _ROW = 28.0, 19.0
_TALLEST = 560.0
_CHORD = 2e-5
_UP, _DOWN = (9.0, 4.0), (2.5, 3.5)
"""Dashes of a bend up and of one down; colour tells them apart too."""
_BADGE = 9.0


class _Paper:
    """From metres in the flat to units on paper, y running down."""

    def __init__(self, low: Floats, high: Floats, top: float) -> None:
        extent = high - low
        self.scale = min((WIDE - 2.0 * _EDGE) / extent[0], _TALLEST / extent[1])
        self.low, self.high, self.top = low, high, top
        self.left = 0.5 * (WIDE - self.scale * float(extent[0]))
        self.height = self.scale * float(extent[1])

    def at(self, points: Floats) -> Floats:
        """Points (n, 2) on paper."""
        off = np.asarray(points) - [self.low[0], self.high[1]]
        return np.asarray(off * [self.scale, -self.scale] + [self.left, self.top])


def part_view(item: SheetPart, units: str = "metric") -> bytes:
    """One part in the flat, its bends numbered, with what to know of it below."""
    flat = item.pattern
    points = flat.outline.polygon(_CHORD)
    paper = _Paper(points.min(axis=0), points.max(axis=0), 64.0)
    rows = _rows(item, units)
    height = paper.top + paper.height + 30.0 + _ROW * len(rows) + 12.0
    says = f"Flat pattern of {item.name}, {len(flat.bends)} bends"
    drawing = Drawing(WIDE, height, key=f"flat-{item.key}", says=says)
    drawing.box(0.0, 0.0, WIDE, height, fill=palette.PAPER)
    title, *_ = part_words(item)
    drawing.text((_EDGE, 34.0), title, size=19, bold=True)
    _pattern(drawing, paper, flat, np.eye(2), np.zeros(2), 1.6)
    for name, line in flat.marks:
        middle = paper.at(line).mean(axis=0)
        drawing.text(
            (middle[0], middle[1] - 4.0), name, size=11, anchor="middle", fill=palette.MUTED
        )
    for number, bend in enumerate(flat.bends):
        _badge(drawing, paper.at(bend.middle), number + 1)
    for k, (words, warn) in enumerate(rows):
        spot = (_EDGE, paper.top + paper.height + 34.0 + _ROW * k)
        colour = palette.STATE_INK["not met"] if warn else palette.INK
        drawing.text(spot, words, size=13, fill=colour, bold=warn)
    return drawing.svg()


def nest_view(result: SheetsResult, sheet: CutSheet) -> bytes:
    """One sheet with everything that is cut from it."""
    parts = {item.key: item for item in result.items}
    paper = _Paper(np.zeros(2), np.array(sheet.size), 64.0)
    rows = [(row, False) for row in wrapped(KERF, 13, WIDE - 2.0 * _EDGE)]
    warned = [parts[at.key].name for at in sheet.laid if parts[at.key].warned]
    if warned:
        words = f"Warnings on the drawings of: {', '.join(warned)}"
        rows += [(row, True) for row in wrapped(words, 13, WIDE - 2.0 * _EDGE, True)]
    height = paper.top + paper.height + 34.0 + _ROW * len(rows) + 12.0
    says = f"{len(sheet.laid)} parts nested on {sheet.stock}"
    drawing = Drawing(WIDE, height, key=sheet.key, says=says)
    drawing.box(0.0, 0.0, WIDE, height, fill=palette.PAPER)
    drawing.text((_EDGE, 34.0), sheet_words(sheet, result.units), size=19, bold=True)
    corner = paper.at(np.array([[0.0, sheet.size[1]]]))[0]
    long, wide = (paper.scale * v for v in sheet.size)
    drawing.box(corner[0], corner[1], long, wide, fill=palette.FAINT, stroke=palette.MUTED)
    for at in sheet.laid:
        turn, shift = np.round(turned(at.turn)), np.array(at.shift)
        flat = parts[at.key].pattern
        _pattern(drawing, paper, flat, turn, shift, 1.1)
        _name(drawing, paper, parts[at.key].name, flat, turn, shift)
    for k, (words, warn) in enumerate(rows):
        spot = (_EDGE, paper.top + paper.height + 30.0 + _ROW * k)
        colour = palette.STATE_INK["not met"] if warn else palette.INK
        drawing.text(spot, words, size=13, fill=colour, bold=warn)
    return drawing.svg()


def _rows(item: SheetPart, units: str) -> list[tuple[str, bool]]:
    wide = WIDE - 2.0 * _EDGE
    said = part_words(item, units)[1:]
    said += [f"{k + 1}  {bend_words(bend, units)}" for k, bend in enumerate(item.pattern.bends)]
    said += [KERF, *([item.note] if item.note else [])]
    rows = [(row, False) for words in said for row in wrapped(words, 13, wide)]
    for warning in item.warnings:
        warn = warning.severity != "note"
        lead = "Mind" if warn else "To know"
        words = f"{lead}: {warning.place}: {warning.found}; {warning.repair} [{warning.code}]"
        rows += [(row, warn) for row in wrapped(words, 13, wide, warn)]
    return rows


def _pattern(
    drawing: Drawing, paper: _Paper, flat: FlatPattern, turn: Floats, shift: Floats, width: float
) -> None:
    loops = [paper.at(_ring(p) @ turn.T + shift) for p in (flat.outline, *flat.holes)]
    drawing.path(loops, fill=palette.CRANK, stroke=palette.INK, width=width)
    for bend in flat.bends:
        ends = paper.at(bend.middle @ turn.T + shift)
        colour, dash = (palette.NEW, _UP) if bend.up else (palette.STATE_INK["not met"], _DOWN)
        drawing.line(*ends, stroke=colour, width=width, dash=dash)
    for _, line in flat.marks:
        drawing.line(*paper.at(line @ turn.T + shift), stroke=palette.MUTED, width=0.7)


def _ring(profile: Profile) -> Floats:
    return profile.polygon(_CHORD)


def _badge(drawing: Drawing, ends: Floats, number: int) -> None:
    """A bend's number in a ring past the end of its line."""
    way = ends[1] - ends[0]
    way = way / max(float(np.hypot(*way)), 1e-9)
    spot = ends[0] - 1.7 * _BADGE * way
    drawing.dot(spot, _BADGE, fill=palette.PAPER, stroke=palette.INK)
    drawing.text((spot[0], spot[1] + 4.2), str(number), size=12, anchor="middle")


def _name(
    drawing: Drawing, paper: _Paper, name: str, flat: FlatPattern, turn: Floats, shift: Floats
) -> None:
    """Over the part, as large as it fits; upright where the part stands."""
    ring = paper.at(_ring(flat.outline) @ turn.T + shift)
    spot = 0.5 * (ring.min(axis=0) + ring.max(axis=0))
    extent = paper.scale * np.abs(turn @ flat.size)
    upright = extent[1] > extent[0]
    size = min(12.0, 12.0 * 0.9 * float(extent.max()) / text_width(name, 12.0))
    drawing.text(spot, name, size=size, anchor="middle", halo=True, turn=-90.0 if upright else 0.0)
