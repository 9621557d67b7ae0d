# SPDX-License-Identifier: Apache-2.0
"""A drive over time: what the car does, and what oil, pickup, pump and doors do with it."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.axis import Axis
from sumpwright.report.lane import (
    LEFT,
    RIGHT,
    WIDE,
    Chart,
    Lane,
    Line,
    draw_lane,
    draw_spans,
    draw_time,
)
from sumpwright.report.motion_alt import time_alt
from sumpwright.report.series import numbers, spells
from sumpwright.report.svg import Drawing
from sumpwright.studies.motion_result import DriveResult
from sumpwright.units import shown, shown_number, unit_name

Floats = NDArray[np.float64]

TITLE, BETWEEN, FOOT = 26.0, 12.0, 30.0


def air_spells(result: DriveResult) -> list[tuple[float, float]]:
    """When there is any air at the pickup; at least a moment where a spell fell between times."""
    found = spells(result.time_s, numbers(result.pickup.air_fraction) > 0.0)
    first = result.summary.first_air_s
    return found if found or first is None else [(first, first)]


def time_view(result: DriveResult) -> bytes:
    """All that runs over time, on one time axis."""
    lanes = list(_lanes(result))
    head = 46.0 if result.spans else 24.0
    tall = head + sum(TITLE + lane.high + BETWEEN for lane in lanes) + FOOT
    drawing = Drawing(WIDE, tall, key="time", says=time_alt(result))
    x = Axis(result.time_s[0], max(result.time_s[-1], result.time_s[0] + 1e-6), LEFT, RIGHT)
    chart = Chart(drawing, numbers(result.time_s), x, air_spells(result), result.spans)
    low = draw_spans(chart, 4.0)
    for lane in lanes:
        y = draw_lane(chart, lane, low + TITLE)
        if lane.title.startswith("Oil over"):
            _air_below(chart, lane, y, result)
        low += TITLE + lane.high + BETWEEN
    draw_time(chart, low - BETWEEN)
    return drawing.svg()


def _lanes(result: DriveResult) -> Iterator[Lane]:
    units = result.units
    yield _accel(result)
    if any(v is not None for v in result.pickup.cover_m):
        cover = _in(numbers(result.pickup.cover_m), "length", units)
        title = f"Oil over the pickup's rim, less what it draws down [{unit_name('length', units)}]"
        yield Lane(
            title,
            (Line("cover", cover, palette.NEW, (), _range(cover, 1), 2.2),),
            zero=True,
            high=104.0,
        )
    if any(v is not None for v in result.pickup.air_fraction):
        air = 100.0 * numbers(result.pickup.air_fraction)
        line = Line("air", air, palette.AIR, (), _range(air, 0), 2.2)
        yield Lane("Air in what the pickup draws [%]", (line,), high=58.0, zero=True, top_at=100.0)
    if any(v is not None for v in result.pump.inlet_pa):
        yield _inlet(result)
    yield _oil(result)
    if result.doors:
        yield _doors(result)
    if any(v is not None for v in result.rpm):
        rpm = numbers(result.rpm)
        line = Line("engine", rpm, palette.INK, (), _range(rpm, 0))
        yield Lane("Engine speed [rpm]", (line,), high=58.0)


def _in(values: Floats, kind: str, units: str) -> Floats:
    zero = shown_number(0.0, kind, units)
    return values * (shown_number(1.0, kind, units) - zero) + zero


def _range(values: Floats, digits: int) -> str:
    """``−5.3 to 40.2``: the least and the most of a line."""
    low, most = (f"{v:.{digits}f}" for v in (np.nanmin(values), np.nanmax(values)))
    return f"{low} to {most}".replace("-", "−")


def line_style(number: int) -> tuple[str, tuple[float, ...]]:
    """Colour and dash of the n-th of several lines."""
    return (
        palette.LINES[number % len(palette.LINES)],
        palette.DASHES[number % len(palette.DASHES)],
    )


def _accel(result: DriveResult) -> Lane:
    accel = np.array(result.accel_g)
    lines = []
    for k, name in enumerate(("forward", "left", "up")):
        ink, dash = line_style(k)
        lines.append(Line(name, accel[:, k], ink, dash, _range(accel[:, k], 2)))
    return Lane("Acceleration of the car [g]", tuple(lines), zero=True)


def _inlet(result: DriveResult) -> Lane:
    kind, units = "inlet_pressure", result.units
    left = np.maximum(numbers(result.pump.inlet_pa), 0.0)  # below, the flow cannot be had
    inlet = _in(left, kind, units)
    line = Line("inlet", inlet, palette.LINES[3], (), _range(inlet, 1), 2.0)
    title = f"Pressure at the pump's inlet, absolute [{unit_name(kind, units)}]"
    needed = inlet_limit(result)
    if needed is None:
        return Lane(title, (line,))
    words = f"needs {shown(needed, kind, units)}"
    return Lane(title, (line,), limit=shown_number(needed, kind, units), limit_words=words)


def inlet_limit(result: DriveResult) -> float | None:
    """Pressure that the pump's inlet needs [Pa], where a requirement of the run says one."""
    asked = (r for r in result.requirements if "inlet" in r.id and r.unit == "Pa")
    return next((r.limit for r in asked if r.limit is not None), None)


def _oil(result: DriveResult) -> Lane:
    units, lines = result.units, []
    for k, part in enumerate(result.compartments):
        ink, dash = line_style(k)
        volume = np.array(part.volume_m3)
        volume = _in(volume, "volume", units)
        mark = ", pickup" if part.name == result.pickup.compartment else ""
        place = f" {part.where}" if part.where else ""
        name, short = f"{part.name}{place}{mark}", f"{part.name}{mark}"
        lines.append(Line(name, volume, ink, dash, _range(volume, 2), short=short))
    up = _in(np.array(result.retained_m3), "volume", units)
    lines.append(Line("up in the engine", up, palette.MUTED, (1.5, 2.5)))
    title = f"Oil in each compartment [{unit_name('volume', units)}]"
    return Lane(title, tuple(lines), high=max(132.0, 17.0 * len(lines)), zero=True)


def _doors(result: DriveResult) -> Lane:
    lines = []
    for k, door in enumerate(result.doors):
        ink, dash = line_style(k)
        lines.append(Line(door.name, np.array(door.angle_deg), ink, dash, width=1.6))
    most = max(door.stop_deg for door in result.doors)
    title = "Doors, how far open [°]"
    high = max(76.0, 17.0 * len(lines))
    return Lane(title, tuple(lines), high=high, zero=True, top_at=most)


def _air_below(chart: Chart, lane: Lane, y: Axis, result: DriveResult) -> None:
    """Fill under the zero line, and mark the least cover."""
    drawing, zero = chart.drawing, y.at(0.0)
    low = y.start
    drawing.clip(LEFT, zero, RIGHT - LEFT, max(low - zero, 0.0))
    for piece in chart.path(lane.lines[0].values, y):
        ends = [[piece[-1, 0], zero], [piece[0, 0], zero]]
        drawing.path([np.concatenate([piece, ends])], fill=palette.AIR, opacity=0.55)
    drawing.unclip()
    if low - zero > 16.0:
        drawing.text((LEFT + 6.0, low - 6.0), "below the line it takes air", size=12, halo=True)
    summary = result.summary
    if summary.least_cover_m is None or summary.least_cover_s is None:
        return
    least = shown(summary.least_cover_m, "length", result.units)
    spot = (
        chart.x.at(summary.least_cover_s),
        y.at(shown_number(summary.least_cover_m, "length", result.units)),
    )
    drawing.dot(spot, 4.0, fill=palette.PAPER, stroke=palette.INK, width=1.6)
    left = spot[0] > 0.5 * (LEFT + RIGHT)
    words = f"least {least} at {summary.least_cover_s:.2f} s"
    below = spot[1] < zero - 20.0  # under the curve's lowest point there is nothing
    high = spot[1] + 16.0 if below else min(spot[1], zero) - 7.0
    place = (spot[0] + (-9.0 if left else 9.0), high)
    drawing.text(place, words, size=12.5, bold=True, halo=True, anchor="end" if left else "start")
