# SPDX-License-Identifier: Apache-2.0
"""The dipstick on its side, its marks to scale, with what to file where."""

import numpy as np

from sumpwright.report import palette
from sumpwright.report.alt import dipstick_alt
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
    drawing = Drawing(WIDE, TALL, key="dipstick", says=dipstick_alt(result))
    axis = _axis(scale)
    _stick(drawing)
    _graduations(drawing, axis, scale, result.units)
    _marks(drawing, axis, scale, result.units)
    return drawing.svg()


def _axis(scale: DipstickScale) -> Axis:
    """From a little over the full mark, where nobody reads on, to where the reading ends."""
    full, end = scale.full_along_m, scale.low_end_along_m
    low = full if scale.low_along_m is None else scale.low_along_m
    over = max(low - full, 0.25 * (end - full), 0.002)
    first = min([g.along_m for g in scale.graduations] + [full])
    return Axis(max(first, full - over) - 0.2 * over, max(end, full + 1e-4), FIRST, LAST)


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
    shown_marks = [g for g in scale.graduations if g.along_m >= axis.low]
    places = [axis.at(g.along_m) for g in shown_marks]
    words = [shown(g.volume_m3, "volume", units) for g in shown_marks]
    if not places:
        return
    wide = max(text_width(w, 13.0) for w in words) + 10.0
    every = next(n for n in (1, 2, 4, 8, 16, 10**6) if _fit(places[::n], wide))
    rows = spread(places[::every], wide, FIRST + 0.5 * wide, LAST - 0.5 * wide)
    for at in places:
        drawing.line((at, MIDDLE - HALF), (at, MIDDLE + 3.0), stroke=palette.INK, width=1.0)
    for at, row, text in zip(places[::every], rows, words[::every], strict=True):
        leader = [(at, MIDDLE - HALF), (row, MIDDLE - HALF - 12.0)]
        drawing.path([leader], stroke=palette.MUTED, width=0.8, closed=False)
        drawing.text((row, MIDDLE - HALF - 17.0), text, size=13, anchor="middle")
    drawing.text(
        (FIRST, 26.0), "Oil standing in the pan, cold, on level ground", size=13, fill=palette.MUTED
    )


def _fit(places: list[float], wide: float) -> bool:
    return len(places) * wide < LAST - FIRST


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
