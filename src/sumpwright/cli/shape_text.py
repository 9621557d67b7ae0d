# SPDX-License-Identifier: Apache-2.0
"""What `shape` answers, as a person reads it."""

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

from sumpwright.studies.shape_result import ShapeResult
from sumpwright.units import shown

WIDTH = 80


def shape_text(result: ShapeResult, files: Sequence[Path]) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, files))


def _lines(result: ShapeResult, files: Sequence[Path]) -> Iterator[str]:
    units = result.units
    yield f"DRAWN  {result.job}, revision {result.revision}: pan from numbers"
    yield ""
    yield _row("inside", shown(result.holds_m3, "volume", units), "before anything stands in it")
    yield _row("metal", shown(result.mass_kg, "mass", units), result.material)
    yield _row("wall", _mm(result, result.wall_m), f"floor {_mm(result, result.floor_m)}")
    words = f"{_mm(result, result.edge_m)} round, {result.holes} holes"
    yield _row("flange", _mm(result, result.flange_m), words)
    for label, axis in (("length, x", 0), ("width, y", 1), ("depth, z", 2)):
        low, high = result.low_m[axis], result.high_m[axis]
        words = f"from {_mm(result, low)} to {_mm(result, high)}"
        yield _row(label, _mm(result, high - low), words)
    if result.relieved_m3 > 0.0:
        yield _row("room for crank and rods", _small(result.relieved_m3, units), "more inside")
    yield from _low(result)
    yield f"\n{'Zones':32}{'floor':>10}{'roof':>10}{'corners':>10}{'radius':>10}"
    for zone in result.zones:
        name = textwrap.shorten(zone.name, 29, placeholder="...")
        roof = "-" if zone.top_m <= 0.0 else _mm(result, zone.top_m)
        radii = _mm(result, zone.corner_m), _mm(result, zone.floor_radius_m)
        sizes = _mm(result, zone.deepest_m), roof, *radii
        yield f"  {name:30}" + "".join(f"{s:>10}" for s in sizes)
    for boss in result.bosses:
        hole = boss.thread or _mm(result, boss.bore_m)
        yield _row(textwrap.shorten(boss.name, 24, placeholder="..."), hole, boss.kind)
    yield from _findings(result)
    if files:
        yield "\nFiles  " + "\n       ".join(str(f) for f in files)


def _low(result: ShapeResult) -> Iterator[str]:
    if result.ground_m is None:
        return
    words = ""
    if result.guard_over_m is not None:
        way = "below" if result.guard_over_m > 0.0 else "above"
        words = f"{_mm(result, abs(result.guard_over_m))} {way} the {result.guard}"
    yield _row("lowest, over the ground", _mm(result, result.ground_m), words)


def _row(label: str, value: str, words: str = "") -> str:
    return f"  {label:24}{value:>14}   {words}".rstrip()


def _small(volume: float, units: str) -> str:
    return f"{volume / 0.0254**3:.2f} in³" if units == "us" else f"{1e6 * volume:.1f} cm³"


def _mm(result: ShapeResult, value: float) -> str:
    return shown(value, "length", result.units)


def _findings(result: ShapeResult) -> Iterator[str]:
    if result.findings:
        yield ""
    for finding in result.findings:
        text = f"{finding.place}: {finding.found}; {finding.repair} [{finding.code}]"
        yield from textwrap.wrap(text, WIDTH, initial_indent="Mind: ", subsequent_indent="      ")
