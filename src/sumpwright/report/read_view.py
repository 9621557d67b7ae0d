# SPDX-License-Identifier: Apache-2.0
"""A log over time: pressure against what it should have been, the turns, and what was foretold."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.report import palette
from sumpwright.report.axis import Axis
from sumpwright.report.lane import LEFT, RIGHT, WIDE, Chart, Lane, Line, draw_lane, draw_time
from sumpwright.report.series import numbers
from sumpwright.report.svg import Drawing
from sumpwright.studies.read_result import Foretold, ReadResult
from sumpwright.units import shown_number, unit_name

Floats = NDArray[np.float64]

TITLE, BETWEEN, FOOT, HEAD = 26.0, 12.0, 30.0, 34.0


def read_view(result: ReadResult) -> bytes:
    """All of a log on one time axis; dips shaded through every lane."""
    track, lanes = result.track, list(_lanes(result))
    tall = HEAD + sum(TITLE + lane.high + BETWEEN for lane in lanes) + FOOT
    drawing = Drawing(WIDE, tall, key="read", says=read_alt(result))
    end = max(track.time_s[-1], track.time_s[0] + 1e-6)
    dips = [(e.start_s, e.end_s) for e in result.events if e.kind == "dip"]
    x = Axis(track.time_s[0], end, LEFT, RIGHT)
    chart = Chart(drawing, numbers(track.time_s), x, dips)
    low = _draw_dips(chart, result, 4.0)
    for lane in lanes:
        draw_lane(chart, lane, low + TITLE)
        low += TITLE + lane.high + BETWEEN
    draw_time(chart, low - BETWEEN)
    return drawing.svg()


def read_alt(result: ReadResult) -> str:
    """The picture in words."""
    s = result.summary
    dips = "no dip" if s.dips == 0 else f"{s.dips} dip{'' if s.dips == 1 else 's'}"
    return (
        f"Oil pressure over {s.duration_s:.0f} s of log beside what it should have been, with "
        f"{dips} in it: {s.verdict}."
    )


def _draw_dips(chart: Chart, result: ReadResult, top: float) -> float:
    """Every dip as a bar, at least a stroke wide; its low edge."""
    drawing, x = chart.drawing, chart.x
    drawing.line((LEFT, top + 8.5), (RIGHT, top + 8.5), stroke=palette.RULE, width=0.8)
    for event in result.events:
        if event.kind == "dip":
            wide = max(x.at(event.end_s) - x.at(event.start_s), 2.0)
            drawing.box(x.at(event.start_s), top, wide, 17.0, fill=palette.AIR)
    words = "dips in pressure" if chart.air else "no dip in pressure"
    ink = palette.AIR if chart.air else palette.MUTED
    drawing.text((RIGHT + 24.0, top + 13.0), words, size=12.5, fill=ink, bold=bool(chart.air))
    return top + 17.0


def _lanes(result: ReadResult) -> Iterator[Lane]:
    track, units = result.track, result.units
    yield _pressure(result)
    if _any(track.ay_g):
        lines = [Line("left", numbers(track.ay_g), palette.LINES[1])]
        if _any(track.ax_g):
            forward = numbers(track.ax_g)
            lines.append(Line("forward", forward, palette.LINES[0], palette.DASHES[1]))
        yield Lane("Acceleration of the car [g]", tuple(lines), zero=True)
    if result.prediction is not None:
        yield from _foretold(result)
    if _any(track.rpm):
        yield Lane(
            "Engine speed [rpm]", (Line("engine", numbers(track.rpm), palette.INK),), high=58.0
        )
    if _any(track.temperature_k):
        warm = _in(numbers(track.temperature_k), "temperature", units)
        title = f"Oil temperature [{unit_name('temperature', units)}]"
        yield Lane(title, (Line("oil", warm, palette.LINES[3]),), high=52.0)


def _pressure(result: ReadResult) -> Lane:
    track, units = result.track, result.units
    lines = []
    for name, values, ink, dash, width in (
        ("logged", track.pressure_pa, palette.INK, (), 1.8),
        ("should be", track.expected_pa, palette.NEW, (5.0, 3.0), 1.6),
        ("missing below", track.band_pa, palette.MUTED, (1.5, 2.5), 1.2),
    ):
        if _any(values):
            lines.append(Line(name, _in(numbers(values), "pressure", units), ink, dash, "", width))
    title = f"Oil pressure [{unit_name('pressure', units)}]"
    return Lane(title, tuple(lines), high=170.0, zero=True)


def _foretold(result: ReadResult) -> Iterator[Lane]:
    """What the network says of the same seconds, as the job has it and fitted."""
    assert result.prediction is not None
    told, fitted = result.prediction.original, result.prediction.fitted
    if any(v is not None for v in told.cover_m):
        cover = _in(_upon(result, told, told.cover_m), "length", result.units)
        title = f"Foretold: oil over the pickup's rim [{unit_name('length', result.units)}]"
        yield Lane(title, (Line("cover", cover, palette.NEW),), zero=True)
    lines = [Line("as the job", 100.0 * _upon(result, told, told.air_fraction), palette.AIR)]
    if fitted is not None:
        air = 100.0 * _upon(result, fitted, fitted.air_fraction)
        lines.append(Line("fitted", air, palette.LINES[1], palette.DASHES[1]))
    yield Lane(
        "Foretold: air in what the pickup draws [%]",
        tuple(lines),
        high=64.0,
        zero=True,
        top_at=100.0,
    )


def _upon(result: ReadResult, told: Foretold, values: tuple[float | None, ...]) -> Floats:
    """A foretold series at the times of the log's track; nan outside."""
    time = numbers(result.track.time_s)
    return np.interp(time, numbers(told.time_s), numbers(values), left=np.nan, right=np.nan)


def _any(values: tuple[float | None, ...]) -> bool:
    return any(v is not None for v in values)


def _in(values: Floats, kind: str, units: str) -> Floats:
    zero = shown_number(0.0, kind, units)
    return values * (shown_number(1.0, kind, units) - zero) + zero
