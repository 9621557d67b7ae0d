# SPDX-License-Identifier: Apache-2.0
"""The dipstick on its side, its marks to scale, with what to file where."""

import numpy as np

from sumpwright.report import palette
from sumpwright.report.axis import Axis
from sumpwright.report.lettering import spread, text_width
from sumpwright.report.svg import Drawing
from sumpwright.studies.result import CheckResult, DipstickScale
from sumpwright.units import shown

WIDE, TALL, MIDDLE, HALF = 960.0, 236.0, 112.0, 15.0
START, BREAK, FIRST, LAST = 14.0, 118.0, 150.0, 930.0


def dipstick_view(result: CheckResult) -> bytes | None:
    """The marked end of the stick to scale; None where the job has no dipstick."""
    scale = result.fill.dipstick
    if scale is None:
        return None
    drawing = Drawing(WIDE, TALL, key="dipstick", says="Dipstick marks")
    axis = _axis(scale)
    _stick(drawing)
    _graduations(drawing, axis, scale, result.units)
    _marks(drawing, axis, scale, result.units)
    return drawing.svg()


def _axis(scale: DipstickScale) -> Axis:
    places = [g.along_m for g in scale.graduations] + [scale.full_along_m]
    low, high = min(places), max(*places, scale.low_end_along_m)
    room = max(0.14 * (high - low), 0.002)
    return Axis(low - room, max(high, low + 1e-4), FIRST, LAST)


def _stick(drawing: Drawing) -> None:
    """The stop, a piece of the stick, the break, and the end that is to scale."""
    top, bottom = MIDDLE - HALF, MIDDLE + HALF
    drawing.box(START, MIDDLE - 26.0, 13.0, 52.0, fill=palette.INK)
    wave = [
        (BREAK + 5.0 * np.sin(2.0 * np.pi * t), top + t * 2.0 * HALF)
        for t in np.linspace(0.0, 1.0, 25)
    ]
    near = [(START + 13.0, top), *wave, (START + 13.0, bottom)]
    far = [(x + 14.0, y) for x, y in wave]
    end = [(LAST - 9.0, top), (LAST, top + 9.0), (LAST, bottom - 9.0), (LAST - 9.0, bottom)]
    drawing.path([near, [*far[::-1], *end]], fill="#e9edf1", stroke=palette.INK, width=1.2)
    drawing.text((START, TALL - 64.0), "stop", size=13, fill=palette.MUTED)


def _graduations(drawing: Drawing, axis: Axis, scale: DipstickScale, units: str) -> None:
    """A fine line for each volume, its words above where they do not crowd."""
    places = [axis.at(g.along_m) for g in scale.graduations]
    words = [shown(g.volume_m3, "volume", units) for g in scale.graduations]
    if not places:
        return
    wide = max(text_width(w, 13.0) for w in words) + 10.0
    rows = spread(places, wide, FIRST + 20.0, LAST - 20.0)
    every = 1 if len(places) * wide < LAST - FIRST else 2
    for k, (at, row, text) in enumerate(zip(places, rows, words, strict=True)):
        drawing.line((at, MIDDLE - HALF), (at, MIDDLE + 3.0), stroke=palette.INK, width=1.0)
        if k % every == 0:
            drawing.path(
                [[(at, MIDDLE - HALF), (row, MIDDLE - HALF - 12.0)]],
                stroke=palette.MUTED,
                width=0.8,
                closed=False,
            )
            drawing.text((row, MIDDLE - HALF - 17.0), text, size=13, anchor="middle")
    drawing.text(
        (FIRST, 26.0), "Oil standing in the pan, cold, on level ground", size=13, fill=palette.MUTED
    )


def _marks(drawing: Drawing, axis: Axis, scale: DipstickScale, units: str) -> None:
    """Full and low, heavy, with their distance from the stop, and where the reading ends."""
    marks = [("FULL", scale.full_along_m)]
    if scale.low_along_m is not None:
        marks.append(("LOW", scale.low_along_m))
    ends = [*marks, ("no reading beyond", scale.low_end_along_m)]
    places = [axis.at(along) for _, along in ends]
    rows = spread(places, 150.0, FIRST + 70.0, LAST - 64.0)
    for (words, along), at, row in zip(ends, places, rows, strict=True):
        heavy = words in ("FULL", "LOW")
        if heavy:
            drawing.line((at, MIDDLE - HALF), (at, MIDDLE + HALF), stroke=palette.INK, width=4.0)
        leader = [(at, MIDDLE + HALF), (row, MIDDLE + HALF + 24.0)]
        drawing.path([leader], stroke=palette.INK, width=1.0, closed=False)
        drawing.text(
            (row, MIDDLE + HALF + 42.0),
            words,
            size=15 if heavy else 13,
            bold=heavy,
            anchor="middle",
        )
        drawing.text(
            (row, MIDDLE + HALF + 62.0),
            shown(along, "length", units),
            size=15,
            bold=heavy,
            anchor="middle",
        )
    y = TALL - 22.0
    drawing.text(
        (START, y + 14.0),
        "Distances along the stick from its stop. The marked end is to "
        "scale; the stick is shortened at the break.",
        size=13,
        fill=palette.MUTED,
    )
