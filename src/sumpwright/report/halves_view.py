# SPDX-License-Identifier: Apache-2.0
"""Both halves in plan and from the side, and on them what no cutter reaches."""

import io

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.metal.reach import height_map
from sumpwright.report import palette
from sumpwright.report.lettering import wrapped
from sumpwright.report.svg import Drawing
from sumpwright.studies.halves import Halved
from sumpwright.studies.halves_result import CAUSE_WORDS, CAUSES, Half
from sumpwright.studies.halves_words import area_words, missed_words, places_of
from sumpwright.units import shown

Floats = NDArray[np.float64]

WIDE, HEAD, GUTTER, ROW = 960.0, 64.0, 18.0, 20.0
CELL = 1e-3
"""m; of the grey pictures."""
COLOURS = dict(zip(CAUSES, (palette.LINES[k] for k in (5, 0, 1, 3)), strict=True))
MARKS = dict(zip(CAUSES, ("o", "x", "+", "-"), strict=True))
SIDEWAYS = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])
"""Turns a half so that it is seen from the right: x to the right, z up."""


def halves_view(halved: Halved) -> bytes:
    """Plan from the split face and side view of each half, missed places marked by cause."""
    result = halved.result
    pieces = ((result.upper, halved.upper.mesh, -1), (result.lower, halved.lower.mesh, 1))
    scale = 0.5 * (WIDE - GUTTER) / max(float(np.ptp(m.bounds[:, 0])) for _, m, _ in pieces)
    plan = max(float(np.ptp(m.bounds[:, 1])) for _, m, _ in pieces) * scale
    side = max(float(np.ptp(m.bounds[:, 2])) for _, m, _ in pieces) * scale
    words = [_said(half, result.units) for half, _, _ in pieces]
    tall = HEAD + plan + side + 2.0 * (ROW + GUTTER) + ROW * (max(map(len, words)) + 6)
    drawing = Drawing(WIDE, tall, key="halves", says=_alt(halved))
    title = f"{result.job}, revision {result.revision}: what cutters reach of both halves"
    drawing.text((0.0, 20.0), title, size=17, bold=True)
    at = shown(result.height_m, "length", result.units)
    drawing.text((0.0, 42.0), f"Split at {at}. Nose to the right.", size=13, fill=palette.MUTED)
    for k, (half, mesh, way) in enumerate(pieces):
        left = k * 0.5 * (WIDE + GUTTER)
        drawing.text((left, HEAD + 14.0), f"{half.name}, from the split face", size=14, bold=True)
        top = HEAD + ROW
        _seen(drawing, mesh, half, (left, top), scale, way=way)
        drawing.text((left, top + plan + GUTTER + 10.0), "from the right", size=13)
        _seen(drawing, mesh, half, (left, top + plan + GUTTER + ROW), scale, way=0)
        low = top + plan + side + 2.0 * GUTTER + 2.0 * ROW
        for row, said in enumerate(words[k]):
            drawing.text((left, low + ROW * row), said, size=13)
    _legend(drawing, tall)
    return drawing.svg()


def _seen(
    drawing: Drawing, mesh: Mesh, half: Half, at: tuple[float, float], scale: float, *, way: int
) -> None:
    """A half as a grey relief; `way` 1 from above, -1 from below, 0 from the right."""
    turn = SIDEWAYS if way == 0 else np.diag([1.0, -1.0, -1.0] if way < 0 else [1.0, 1.0, 1.0])
    turned = mesh.moved(turn, np.zeros(3))
    grey, low, high = _relief(turned)
    size = scale * (high - low)
    drawing.image(grey, at[0], at[1], float(size[0]), float(size[1]))
    spots = np.array([s[:3] for s in half.reach.spots]).reshape(-1, 3) @ turn.T
    for spot, (_, _, _, cause) in zip(spots, half.reach.spots, strict=True):
        x = at[0] + scale * (spot[0] - low[0])
        y = at[1] + scale * (high[1] - spot[1])
        _mark(drawing, x, y, CAUSES[cause])


def _mark(drawing: Drawing, x: float, y: float, cause: str) -> None:
    colour, sign = next((COLOURS[c], MARKS[c]) for c in CAUSES if c == cause)
    if sign == "o":
        drawing.dot((x, y), 1.6, fill=colour)
        return
    arms = {"x": ((-2, -2, 2, 2), (-2, 2, 2, -2)), "+": ((-2.5, 0, 2.5, 0), (0, -2.5, 0, 2.5))}
    for a, b, c, d in arms.get(sign, ((-2.5, 0, 2.5, 0),)):
        drawing.line((x + a, y + b), (x + c, y + d), stroke=colour, width=1.4)


def _relief(mesh: Mesh) -> tuple[bytes, Floats, Floats]:
    """Near pale, far dark, nothing clear; and the corners of the picture [m]."""
    from PIL import Image

    seen = height_map(mesh, 1, cell=CELL, margin=0.0)
    heights = seen.heights.astype(float)
    part = heights > heights.min()
    low, high = float(mesh.bounds[0, 2]), float(mesh.bounds[1, 2])
    share = np.clip((heights - low) / max(high - low, 1e-9), 0.0, 1.0)
    grey = np.where(part, 120.0 + 115.0 * share, 0.0).astype(np.uint8)
    pixels = np.stack([grey, (255 * part).astype(np.uint8)], axis=-1)[::-1]
    stream = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(pixels), mode="LA").save(stream, "PNG", optimize=False)
    corner = seen.start - 0.5 * CELL
    rows, columns = heights.shape
    return stream.getvalue(), corner, corner + CELL * np.array([columns, rows])


def _said(half: Half, units: str) -> list[str]:
    said = missed_words(half.reach, units)
    rows = [said[:1].upper() + said[1:]]
    for words in places_of(half.reach, units, 4):
        rows += wrapped(words, 13.0, 0.5 * (WIDE - GUTTER))
    return rows


def _legend(drawing: Drawing, tall: float) -> None:
    for k, cause in enumerate(CAUSES):
        y = tall - ROW * (len(CAUSES) - k) + 8.0
        _mark(drawing, 6.0, y - 4.0, cause)
        drawing.text((18.0, y), f"{cause}: {CAUSE_WORDS[cause]}", size=13)


def _alt(halved: Halved) -> str:
    result = halved.result
    said = ", ".join(
        f"{half.name} {area_words(half.reach.missed_m2, result.units)}"
        for half in (result.upper, result.lower)
    )
    return f"Both halves of the pan with what no cutter reaches: {said}."
