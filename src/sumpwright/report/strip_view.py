# SPDX-License-Identifier: Apache-2.0
"""Where the oil is at a glance: one strip for each compartment, filled as the compartment is."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.axis import Axis, ticks
from sumpwright.report.door_course import moving_doors
from sumpwright.report.lane import COLUMN, LEFT, RIGHT, WIDE, Chart, draw_spans, draw_time
from sumpwright.report.lettering import fitted, text_width
from sumpwright.report.motion_alt import strip_alt
from sumpwright.report.series import numbers, thinned
from sumpwright.report.svg import Drawing
from sumpwright.report.time_view import air_spells
from sumpwright.studies.motion_result import CompartmentCourse, DoorCourse, DriveResult
from sumpwright.studies.motion_scene import MotionScene
from sumpwright.units import shown, unit_name

Floats = NDArray[np.float64]
Ways = tuple[tuple[DoorCourse, str], ...]
"""Doors that let oil out of a compartment, and where to."""

STRIP, DOOR, BETWEEN = 44.0, 15.0, 10.0
FOOT = 56.0


def strip_view(result: DriveResult, scene: MotionScene) -> bytes:
    """Strips in the result's order, each with the doors that let its oil out below it."""
    ways = [_ways(result, scene, k) for k in range(len(result.compartments))]
    head = 46.0 if result.spans else 24.0
    tall = head + sum(STRIP + DOOR * len(w) + BETWEEN for w in ways) + FOOT
    drawing = Drawing(WIDE, tall, key="strip", says=strip_alt(result))
    x = Axis(result.time_s[0], max(result.time_s[-1], result.time_s[0] + 1e-6), LEFT, RIGHT)
    chart = Chart(drawing, numbers(result.time_s), x, air_spells(result), result.spans)
    low = draw_spans(chart, 4.0) + BETWEEN
    whole = _whole(result)
    for part, doors in zip(result.compartments, ways, strict=True):
        _strip(chart, part, low, result, whole)
        low += STRIP
        for door, to in doors:
            _door(chart, door, to, low)
            low += DOOR
        low += BETWEEN
    draw_time(chart, low - BETWEEN)
    _key(drawing, tall - 12.0, whole, doors=any(ways), air=bool(chart.air))
    return drawing.svg()


def _whole(result: DriveResult) -> float:
    """Share of a compartment that a full strip stands for: the largest there is, rounded up."""
    most = max(max(part.volume_m3) / part.capacity_m3 for part in result.compartments)
    return min(1.0, max(1.0, float(np.ceil(10.0 * most - 1e-9))) / 10.0)


def _ways(result: DriveResult, scene: MotionScene, number: int) -> Ways:
    return tuple(
        (course, result.compartments[shape.ends[1]].name)
        for shape, course in moving_doors(result, scene)
        if shape.ends is not None and shape.ends[0] == number
    )


def _strip(
    chart: Chart, part: CompartmentCourse, top: float, result: DriveResult, whole: float
) -> None:
    drawing, low = chart.drawing, top + STRIP
    share = np.array(part.volume_m3) / part.capacity_m3
    home = part.name == result.pickup.compartment
    drawing.box(LEFT, top, RIGHT - LEFT, STRIP, fill=palette.FAINT)
    for curve in chart.path(share, Axis(0.0, whole, low, top)):
        ends = [[curve[-1, 0], low], [curve[0, 0], low]]
        drawing.path([np.concatenate([curve, ends])], fill=palette.OIL)
        drawing.path([curve], stroke=palette.OIL_LINE, width=1.6, closed=False)
    if home:
        _dry(chart, top)
    for at in map(chart.x.at, ticks(chart.x.low, chart.x.high, 12)):
        drawing.line((at, top), (at, low), stroke=palette.PAPER, width=0.8)
    width = 2.0 if home else 0.8
    drawing.box(LEFT, top, RIGHT - LEFT, STRIP, stroke=palette.INK, line=width)
    drawing.text((LEFT - 8.0, top + 28.0), part.name, size=18, bold=True, anchor="end")
    _words(drawing, part, top, home=home, units=result.units)


def _words(
    drawing: Drawing, part: CompartmentCourse, top: float, *, home: bool, units: str
) -> None:
    unit = unit_name("volume", units)
    low, most = (
        shown(v, "volume", units).removesuffix(f" {unit}")
        for v in (min(part.volume_m3), max(part.volume_m3))
    )
    where = ", ".join(w for w in (part.where, "with the pickup" if home else "") if w)
    drawing.text((COLUMN, top + 17.0), fitted(where, 13, WIDE - COLUMN, True), size=13, bold=True)
    whole = shown(part.capacity_m3, "volume", units)
    words = fitted(f"{low} to {most} of {whole}", 12.5, WIDE - COLUMN)
    drawing.text((COLUMN, top + 34.0), words, size=12.5, fill=palette.MUTED)


def _dry(chart: Chart, top: float) -> None:
    """Slanting strokes over the strip where the pickup takes air."""
    for start, end in chart.air:
        left, wide = chart.x.at(start), chart.x.at(end) - chart.x.at(start)
        chart.drawing.clip(left, top, wide, STRIP)
        _slants(chart.drawing, left, top, wide, STRIP)
        chart.drawing.unclip()


def _slants(drawing: Drawing, left: float, top: float, wide: float, high: float) -> None:
    slants = [
        [(at, top + high), (at + high, top)]
        for at in np.arange(left - high, left + wide, 7.0).tolist()
    ]
    drawing.path(slants, stroke=palette.AIR, width=1.6, closed=False)


def _door(chart: Chart, door: DoorCourse, to: str, top: float) -> None:
    """A bar as tall as the door stands open, from the strip's edge downward."""
    drawing = chart.drawing
    high = DOOR - 4.0
    share = np.array(door.angle_deg) / max(door.stop_deg, 1e-9)
    t, v = thinned(chart.time, share, chart.columns)
    for first, last in _open_runs(v):
        across = [chart.x.at(float(a)) for a in t[first:last]]
        down = top + high * v[first:last]
        curve = np.stack([across, down], axis=1)
        ends = [[across[-1], top], [across[0], top]]
        drawing.path([np.concatenate([curve, ends])], fill=palette.LINES[2])
    drawing.line((LEFT, top + high), (RIGHT, top + high), stroke=palette.RULE, width=0.6)
    words = fitted(f"{door.name}, to {to}", 12, WIDE - COLUMN - 14.0)
    drawing.path([[(COLUMN, top + 2.0), (COLUMN + 8.0, top + 2.0), (COLUMN + 4.0, top + 10.0)]],
                 fill=palette.LINES[2])  # fmt: skip
    drawing.text((COLUMN + 14.0, top + 10.5), words, size=12)


def _open_runs(share: Floats) -> Sequence[tuple[int, int]]:
    """First and past-last place of each run in which a door is open, a shut place at each end."""
    on = np.concatenate([[0], (share > 1e-4).astype(np.int8), [0]])
    edges = np.flatnonzero(np.diff(on))
    return [
        (max(int(a) - 1, 0), min(int(b) + 1, len(share)))
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    ]


def _key(drawing: Drawing, y: float, whole: float, *, doors: bool, air: bool) -> None:
    share = "full" if whole >= 1.0 else f"{100.0 * whole:.0f} % full"
    drawing.box(LEFT, y - 11.0, 26.0, 12.0, fill=palette.OIL, stroke=palette.OIL_LINE)
    words = f"oil; a filled strip is a compartment {share}"
    drawing.text((LEFT + 33.0, y), words, size=12.5)
    left = LEFT + 33.0 + text_width(words, 12.5) + 28.0
    if doors:
        drawing.box(left, y - 11.0, 26.0, 9.0, fill=palette.LINES[2])
        words = "door open: the deeper, the wider"
        drawing.text((left + 33.0, y), words, size=12.5)
        left += 33.0 + text_width(words, 12.5) + 28.0
    if air:
        drawing.clip(left, y - 11.0, 26.0, 12.0)
        _slants(drawing, left, y - 11.0, 26.0, 12.0)
        drawing.unclip()
        drawing.text((left + 33.0, y), "air at the pickup", size=12.5)
