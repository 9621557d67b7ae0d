# SPDX-License-Identifier: Apache-2.0
"""What `read` answers, as a person reads it: the verdict, the sides, the dips, the sensors."""

from collections.abc import Iterator
from pathlib import Path

from sumpwright.cli.ledger_text import styled, wrapped
from sumpwright.cli.tail_text import tail
from sumpwright.report.read_content import way_text
from sumpwright.studies.read_result import Event, ReadResult, Side
from sumpwright.units import shown

MOST = 12
"""Dips that are listed."""


def read_text(result: ReadResult, pages: tuple[Path, ...], *, colour: bool = False) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, pages, colour))


def _lines(result: ReadResult, pages: tuple[Path, ...], colour: bool) -> Iterator[str]:
    names = ", ".join(name for name, _ in result.files)
    yield f"{result.job}, revision {result.revision}: {names}" if result.job else names
    yield from _channels(result)
    yield from _headline(result, colour)
    if result.summary.readings is None:
        for side in result.summary.sides:
            yield _side(side)
    yield from wrapped(result.summary.confidence, "  ")
    yield from _dips(result)
    if result.prediction is not None:
        yield ""
        yield from wrapped(result.prediction.text, "Foretold: ")
        learnt = [p for p in result.prediction.parameters if p.known == "yes"]
        if result.prediction.parameters and not learnt:
            yield "  nothing that is uncertain could be learnt from this log"
        for p in learnt:
            yield f"  {p.name:14} {p.after:.2f} times the job's ({p.low:.2f} to {p.high:.2f})"
    for note in result.health:
        yield from wrapped(f"{note.channel}: {note.text}", "Sensor: ")
    if result.filing:
        yield from wrapped(result.filing, "Record: ")
    yield from tail(result.assumptions, result.findings, pages)


def _headline(result: ReadResult, colour: bool) -> Iterator[str]:
    """The state, loud, and behind it how far the log goes."""
    state = "not proven yet" if result.summary.standing == "not proven" else result.summary.standing
    first, *others = wrapped(result.summary.headline, f"{state.upper()}: ")
    yield ""
    yield first.replace(state.upper(), styled(state, colour), 1)
    yield from others


def _channels(result: ReadResult) -> Iterator[str]:
    for c in result.channels:
        unit = f" [{c.unit}]" if c.unit not in ("", "-", "1") else ""
        if c.column == "none":
            yield f"  {c.role.replace('_', ' '):12} not logged, made as said under Assumed"
            continue
        yield f"  {c.role.replace('_', ' '):12} {c.column}{unit}, {c.rate_hz:.3g} Hz, {c.how}"


def _side(side: Side) -> str:
    over = "" if side.over_g is None else f", up to {side.over_g:.2f} g"
    dips = f"{side.dips} dip{'' if side.dips == 1 else 's'}"
    return f"  {way_text(side):14} {dips:>8} in {side.time_s:.0f} s{over}"


def _dips(result: ReadResult) -> Iterator[str]:
    dips = [e for e in result.events if e.kind == "dip"]
    if not dips:
        return
    yield f"\n  {'from':>8} {'lasts':>7}  {'turn':9} {'missing':>7} {'least':>9}  cause"
    for event in sorted(dips, key=lambda e: -e.severity)[:MOST]:
        yield _dip(event, result.units)
    if len(dips) > MOST:
        yield f"  the {MOST} severest of {len(dips)}; the report has the others"


def _dip(e: Event, units: str) -> str:
    told = {None: "", True: ", foretold", False: ", not foretold"}[e.predicted]
    least = shown(e.least_pa, "pressure", units)
    lasts = f"{e.end_s - e.start_s:.2f} s"
    return (
        f"  {e.start_s:>6.2f} s {lasts:>7}  {e.turn:9} {100.0 * e.depth:>5.0f} % {least:>9}  "
        f"{e.cause}{told}"
    )
