# SPDX-License-Identifier: Apache-2.0
"""Flat patterns and nests as DXF: millimetres, arcs as arcs, one layer for each thing to do.

CUT is cut through, BEND_UP and BEND_DOWN are bend lines, MARK is scribed, TEXT is for people, SHEET
is the edge of the stock. The cutter's kerf is left to the cutter and said on the drawing.
"""

import io
import textwrap
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.profile import Profile
from sumpwright.metal.flat_pattern import FlatPattern, turned
from sumpwright.report.flat_label import (
    Place,
    bend_spots,
    mark_places,
    names_within,
    placed_parts,
)
from sumpwright.report.flat_words import IN_MM, KERF, bend_words, part_words
from sumpwright.studies.sheet_part_result import CutSheet, SheetPart, SheetsResult
from sumpwright.studies.size_words import nominal

Floats = NDArray[np.float64]

MM = 1e3
LAYERS = {"CUT": 7, "BEND_UP": 5, "BEND_DOWN": 1, "MARK": 3, "TEXT": 8, "SHEET": 9}
"""Layer and its colour by the format's own numbers."""
_LETTER = 3.0
"""mm; height of the letters."""
_WIDE = 0.95
"""Of its height, that a letter is wide at most in the usual lettering of such files."""
_ROW = 240.0
"""mm; a line of words may be this long under a part that is smaller."""
_LOCK = threading.Lock()


def part_dxf(item: SheetPart, units: str = "metric") -> bytes:
    """One part, as it lies in its own coordinates, with what to know of it below."""
    doc, space = _new()
    _draw(space, item.pattern, np.eye(2), np.zeros(2))
    _number(space, item.pattern)
    low = MM * item.pattern.outline.polygon().min(axis=0)
    rows = part_words(item, units)
    rows += [f"{k}  {bend_words(b, units)}" for k, b in enumerate(item.pattern.bends, 1)]
    rows += _of_all(units)
    rows += [
        f"{'NOTE' if w.severity == 'note' else 'WARNING'} {w.code}: {w.found}; {w.repair}"
        for w in item.warnings
    ]
    _write(space, rows, low - [0.0, 3.0 * _LETTER], MM * float(item.pattern.size[0]))
    return _bytes(doc)


def nest_dxf(result: SheetsResult, sheet: CutSheet) -> bytes:
    """One sheet with everything that is cut from it."""
    doc, space = _new()
    parts = {item.key: item for item in result.items}
    a, b = (MM * v for v in sheet.size)
    corners = [(0.0, 0.0), (a, 0.0), (a, b), (0.0, b)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "SHEET"})
    for at in sheet.laid:
        item = parts[at.key]
        turn, shift = np.round(turned(at.turn)), np.array(at.shift)
        _draw(space, item.pattern, turn, shift)
    letters = (_WIDE * _LETTER / MM, 1.3 * _LETTER / MM)
    words, numbered = names_within(
        placed_parts(result, sheet), lambda name: letters[0] * (len(name) + 1), letters[1]
    )
    for word, place in words:
        _label(space, word, place)
    thickness = nominal(sheet.thickness, result.units)
    title = f"{sheet.stock}: {sheet.material}, {thickness}, {sheet.used:.0%} used"
    warned = [i.name for i in parts.values() if i.warned and i.key in {t.key for t in sheet.laid}]
    rows = [title, *([", ".join(numbered)] if numbered else []), *_of_all(result.units)]
    rows += [f"WARNINGS on the drawings of: {', '.join(warned)}"] if warned else []
    _write(space, rows, np.array([0.0, -3.0 * _LETTER]), a)
    return _bytes(doc)


def _of_all(units: str) -> list[str]:
    """What every drawing says."""
    return [KERF] if units == "metric" else [KERF, IN_MM]


def _new() -> tuple[Any, Any]:
    import ezdxf

    with without_the_time_of_day():
        doc = ezdxf.new("R2010", units=ezdxf.units.MM)
    doc.header["$MEASUREMENT"] = 1
    for name, colour in LAYERS.items():
        doc.layers.add(name, color=colour)
    return doc, doc.modelspace()


def _draw(space: Any, pattern: FlatPattern, turn: Floats, shift: Floats) -> None:
    for profile in (pattern.outline, *pattern.holes):
        _profile(space, profile, turn, shift)
    for bend in pattern.bends:
        layer = "BEND_UP" if bend.up else "BEND_DOWN"
        _line(space, bend.middle, turn, shift, layer)
    for _, line in pattern.marks:
        _line(space, line, turn, shift, "MARK")


def _profile(space: Any, profile: Profile, turn: Floats, shift: Floats) -> None:
    """A round hole as a circle, anything else as a polyline with its bulges."""
    points = MM * (profile.points @ turn.T + shift)
    if len(points) == 2 and np.allclose(np.abs(profile.bulges), 1.0):
        middle = points.mean(axis=0)
        radius = 0.5 * float(np.hypot(*(points[1] - points[0])))
        space.add_circle(middle.tolist(), radius, dxfattribs={"layer": "CUT"})
        return
    rows = [(*p, b) for p, b in zip(points.tolist(), profile.bulges.tolist(), strict=True)]
    space.add_lwpolyline(rows, format="xyb", close=True, dxfattribs={"layer": "CUT"})


def _line(space: Any, line: Floats, turn: Floats, shift: Floats, layer: str) -> None:
    a, b = (MM * (line @ turn.T + shift)).tolist()
    space.add_line(a, b, dxfattribs={"layer": layer})


def _number(space: Any, pattern: FlatPattern) -> None:
    """Bends by the order they are made in, what is scribed by the name of what stands there."""
    high = _LETTER / MM
    for k, spot in enumerate(bend_spots(pattern, 1.2 * high, 0.8 * high), 1):
        _label(space, str(k), Place(spot, False))
    sizes = {name: (_WIDE * high * len(name), 1.3 * high) for name, _ in pattern.marks}
    for name, place in mark_places(pattern, sizes):
        _label(space, name, place)


def _label(space: Any, words: str, place: Place) -> None:
    from ezdxf.enums import TextEntityAlignment

    how = {"layer": "TEXT", "rotation": 90.0 if place.upright else 0.0}
    text = space.add_text(words, height=_LETTER, dxfattribs=how)
    text.set_placement((MM * place.at).tolist(), align=TextEntityAlignment.MIDDLE_CENTER)


def _write(space: Any, rows: Sequence[str], at: Floats, wide: float) -> None:
    """Rows below a drawing, no wider than it is, or than a line that reads well."""
    letters = int(max(wide, _ROW) / (_WIDE * _LETTER))
    lines = [line for row in rows for line in textwrap.wrap(row, letters, subsequent_indent="  ")]
    for k, row in enumerate(lines):
        where = at - [0.0, 1.6 * k * _LETTER]
        text = space.add_text(row, height=_LETTER, dxfattribs={"layer": "TEXT"})
        text.set_placement(where.tolist())


def _bytes(doc: Any) -> bytes:
    stream = io.StringIO()
    with without_the_time_of_day():
        doc.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def without_the_time_of_day() -> Iterator[None]:
    """The same part is the same file."""
    from ezdxf import options

    with _LOCK:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before
