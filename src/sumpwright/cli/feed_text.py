# SPDX-License-Identifier: Apache-2.0
"""What `feed` answers, as a person reads it: the table, the speeds allowed, where it goes."""

import textwrap
from collections.abc import Iterator
from pathlib import Path

from sumpwright.cli.check_text import CAUTION
from sumpwright.cli.ledger_text import (
    WIDTH,
    failures,
    ledger_lines,
    not_judged,
    verdict_text,
    wrapped,
)
from sumpwright.report.feed_choice import (
    ITEMS,
    few_speeds,
    left_text,
    number_text,
    points_of,
    speed_text,
)
from sumpwright.studies.feed_result import Feed, FeedPoint, FeedResult
from sumpwright.units import shown, unit_name

COLUMNS = 8
"""Engine speeds that have room beside one another."""


def feed_text(result: FeedResult, pages: tuple[Path, ...], *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns, with no need of `colour`."""
    return "\n".join(_lines(result, pages, colour))


def _lines(result: FeedResult, pages: tuple[Path, ...], colour: bool) -> Iterator[str]:
    feed, units = result.feed, result.units
    yield f"{verdict_text(result.verdict, colour)}  {result.job}, revision {result.revision}"
    yield result.summary
    yield from failures(result.requirements, units)
    yield from _table(feed, units)
    yield from _allowed(feed, units)
    yield from _budget(feed, units)
    yield from _stock(feed, units)
    yield from _altitude(feed, units)
    yield "\nLedger"
    yield from ledger_lines(result.requirements, units, colour)
    yield from not_judged(result.requirements)
    yield ""
    for said in feed.cautions:
        yield from wrapped(said, "Mind: ")
    yield from wrapped("What was taken for granted stands in the report and in --json.", "")
    for finding in result.findings:
        yield from wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "Noticed: ")
    if pages:
        yield "\nReport  " + "\n        ".join(map(str, pages))
    yield ""
    yield from textwrap.wrap(CAUTION, WIDTH)


def _table(feed: Feed, units: str) -> Iterator[str]:
    """Inlet pressure, each with a mark where it is under a limit."""
    unit = unit_name("inlet_pressure", units)
    yield f"\nLeft at the pump's inlet [{unit}, absolute]"
    columns = few_speeds(feed, COLUMNS)
    yield f"  {'rpm':>8}" + "".join(f"{feed.rpm[k]:>8.0f}" for k in columns).rstrip()
    for t, row in zip(feed.temperature_k, feed.inlet_pa, strict=True):
        cells = "".join(f"{left_text(row[k], units):>7}{_mark(feed, row[k])}" for k in columns)
        yield f"  {shown(t, 'temperature', units):>8}{cells}".rstrip()
    good, short = (
        shown(p, "inlet_pressure", units) for p in (feed.continuous.needed_pa, feed.short.needed_pa)
    )
    marks = f"* under {good}: for a short time only. ! under {short}."
    yield from wrapped(f"{marks} none: the pump cannot draw that much.", "  ")


def _mark(feed: Feed, pressure: float) -> str:
    if pressure < feed.short.needed_pa:
        return "!"
    return "*" if pressure < feed.continuous.needed_pa else " "


def _allowed(feed: Feed, units: str) -> Iterator[str]:
    yield f"\n{'Engine speed allowed':26}{'for good':>14}{'for a short time':>20}"
    for k, t in enumerate(feed.temperature_k):
        speeds = [
            speed_text(allowed.rpm[k], allowed.held_to_end[k])
            for allowed in (feed.continuous, feed.short)
        ]
        oil = shown(feed.viscosity_m2_s[k], "viscosity", units, digits=_digits(feed, k))
        label = f"{shown(t, 'temperature', units):>8} {oil:>13}"
        yield f"  {label:24}{speeds[0]:>14}{speeds[1]:>20}"


def _digits(feed: Feed, k: int) -> int:
    return 1 if feed.viscosity_m2_s[k] < 100e-6 else 0


def _budget(feed: Feed, units: str) -> Iterator[str]:
    """Where the pressure goes: a column for each of the points that count."""
    points = points_of(feed)
    unit = unit_name("inlet_pressure", units)
    yield _cells(f"\nWhere it goes [{unit}]", [name for name, _ in points])
    yield _cells("", [shown(p.temperature_k, "temperature", units) for _, p in points])
    yield _cells("", [f"{p.rpm:.0f} rpm" for _, p in points])
    yield _cells("  air on the oil", [number_text(p.ambient_pa, units) for _, p in points])
    yield _cells("  height", [number_text(p.head_pa, units, sign=True) for _, p in points])
    for key, words in ITEMS.items():
        if not any(getattr(p, key) for _, p in points):
            continue
        cells = [number_text(-getattr(p, key), units, sign=True) for _, p in points]
        yield _cells(f"  {words}", cells)
    yield _cells("  left at the inlet", [number_text(p.inlet_pa, units) for _, p in points])
    yield _cells("  needed", [number_text(p.needed_pa, units) for _, p in points])
    yield _cells("  flow", [shown(p.flow_m3_s, "flow", units) for _, p in points])
    yield _cells("  fastest in a tube", [_speed(p.speed_m_s, units) for _, p in points])
    yield _cells("  over the screen", [_speed(p.face_speed_m_s, units) for _, p in points])
    yield _cells("  Reynolds number", [_reynolds(p) for _, p in points])
    yield _cells("  flow is", [p.regime for _, p in points])
    yield _cells("  oil over the rim", [_length(p.cover_m, units) for _, p in points])
    yield _cells("  needs there", [_length(_needs(p), units) for _, p in points])


def _reynolds(point: FeedPoint) -> str:
    return f"{point.reynolds:.0f}" if point.reynolds >= 9.95 else f"{point.reynolds:.1f}"


def _needs(point: FeedPoint) -> float | None:
    if point.drawdown_m is None:
        return None
    return point.drawdown_m + (point.film_m or 0.0)


def _cells(label: str, cells: list[str]) -> str:
    return (f"{label:24}" + "".join(f"{cell:>17}" for cell in cells)).rstrip()


def _speed(speed: float | None, units: str) -> str:
    return "-" if speed is None else shown(speed, "oil_speed", units)


def _length(length: float | None, units: str) -> str:
    return "-" if length is None else shown(length, "length", units)


def _stock(feed: Feed, units: str) -> Iterator[str]:
    if feed.stock is None:
        return
    yield f"\n{feed.stock.name}, at the same points"
    for name, point in points_of(feed.stock)[:-1]:
        left = number_text(point.inlet_pa, units)
        yield f"  {name:22}{left:>17} {unit_name('inlet_pressure', units)}"


def _altitude(feed: Feed, units: str) -> Iterator[str]:
    if not feed.altitudes:
        return
    title = f"Elsewhere [{unit_name('inlet_pressure', units)}]"
    yield f"\n{title:26}{'hot':>14}{'cold':>20}"
    for place in feed.altitudes:
        cold = "-" if place.cold_pa is None else left_text(place.cold_pa, units)
        metres = _height(place.altitude_m, units)
        yield f"  {metres:>22}  {left_text(place.hot_pa, units):>14}{cold:>20}"


def _height(altitude: float, units: str) -> str:
    return f"{altitude:.0f} m" if units == "metric" else f"{altitude / 0.3048:.0f} ft"
