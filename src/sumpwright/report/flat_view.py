# SPDX-License-Identifier: Apache-2.0
"""Pictures of flat patterns and of nests: cut lines solid, bends dashed, what to scribe thin."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.profile import Profile
from sumpwright.metal.flat_pattern import FlatPattern, turned
from sumpwright.report import palette
from sumpwright.report.flat_label import (
    Place,
    bend_spots,
    mark_places,
    names_within,
    placed_parts,
)
from sumpwright.report.flat_words import KERF, bend_words, part_words, sheet_words
from sumpwright.report.lettering import text_width, wrapped
from sumpwright.report.svg import Drawing
from sumpwright.report.text import told
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
_NAME = 12.0
"""Size of the letters of a name on a nest."""


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
    _marks(drawing, paper, flat)
    _badges(drawing, paper, flat)
    _write(drawing, rows, paper.top + paper.height + 34.0)
    return drawing.svg()


def nest_view(result: SheetsResult, sheet: CutSheet) -> bytes:
    """One sheet with everything that is cut from it."""
    parts = {item.key: item for item in result.items}
    paper = _Paper(np.zeros(2), np.array(sheet.size), 64.0)
    laid = placed_parts(result, sheet)
    names, numbered = names_within(
        laid,
        lambda word: (text_width(word, _NAME) + _NAME) / paper.scale,
        1.3 * _NAME / paper.scale,
    )
    warned = [parts[at.key].name for at in sheet.laid if parts[at.key].warned]
    said = [(", ".join(numbered), False)] if numbered else []
    said += [(KERF, False)]
    said += [(f"Warnings on the drawings of: {', '.join(warned)}", True)] if warned else []
    rows = [(row, warn) for words, warn in said
            for row in wrapped(words, 13, WIDE - 2.0 * _EDGE, warn)]  # fmt: skip
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
        _pattern(drawing, paper, parts[at.key].pattern, turn, shift, 1.1)
    for word, place in names:
        _word(drawing, paper, place, word, _NAME, palette.INK)
    _write(drawing, rows, paper.top + paper.height + 30.0)
    return drawing.svg()


def _write(drawing: Drawing, rows: Sequence[tuple[str, bool]], top: float) -> None:
    """Rows of words, those that warn in the colour and weight of warnings."""
    for k, (words, warn) in enumerate(rows):
        colour = palette.STATE_INK["not met"] if warn else palette.INK
        drawing.text((_EDGE, top + _ROW * k), words, size=13, fill=colour, bold=warn)


def _rows(item: SheetPart, units: str) -> list[tuple[str, bool]]:
    wide = WIDE - 2.0 * _EDGE
    said = part_words(item, units)[1:]
    said += [f"{k + 1}  {bend_words(bend, units)}" for k, bend in enumerate(item.pattern.bends)]
    said += [KERF, *([item.note] if item.note else [])]
    rows = [(row, False) for words in said for row in wrapped(words, 13, wide)]
    for warning in item.warnings:
        warn = warning.severity != "note"
        lead = "Mind" if warn else "To know"
        words = told(f"{lead}: {warning.place}: {warning.found}; {warning.repair} [{warning.code}]")
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


def _badges(drawing: Drawing, paper: _Paper, flat: FlatPattern) -> None:
    """The bends' numbers in rings beside their lines: the order they are made in."""
    off, room = 1.8 * _BADGE / paper.scale, 1.25 * _BADGE / paper.scale
    for number, spot in enumerate(bend_spots(flat, off, room)):
        x, y = paper.at(spot[None])[0]
        drawing.dot((x, y), _BADGE, fill=palette.PAPER, stroke=palette.INK)
        drawing.text((x, y + 4.2), str(number + 1), size=12, anchor="middle")


def _marks(drawing: Drawing, paper: _Paper, flat: FlatPattern) -> None:
    """What is scribed, by the name of what stands there."""
    sizes = {name: (text_width(name, 11.0) / paper.scale, 13.0 / paper.scale)
             for name, _ in flat.marks}  # fmt: skip
    for name, place in mark_places(flat, sizes):
        _word(drawing, paper, place, name, 11.0, palette.MUTED)


def _word(drawing: Drawing, paper: _Paper, place: Place, word: str, size: float, fill: str) -> None:
    x, y = paper.at(place.at[None])[0]
    spot = (x + 0.35 * size, y) if place.upright else (x, y + 0.35 * size)
    turn = -90.0 if place.upright else 0.0
    drawing.text(spot, word, size=size, anchor="middle", fill=fill, turn=turn)
