# SPDX-License-Identifier: Apache-2.0
"""What `compartments` answers, as a person reads it."""

import re
import textwrap
from collections.abc import Iterator
from pathlib import Path

from sumpwright.studies.motion_result import Compartment, CompartmentsResult, WayOut
from sumpwright.units import shown, shown_number, unit_name

WIDTH = 80
_PASSES = {"both ways": "to and from", "out": "out to", "in": "in from"}


def compartments_text(result: CompartmentsResult, picture: Path | None) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, picture))


def _lines(result: CompartmentsResult, picture: Path | None) -> Iterator[str]:
    yield f"{result.job}, revision {result.revision}: {_counted(len(result.compartments))}"
    taken = [(result.panel_m3, "baffles"), (result.displaced_m3, "displacing bodies")]
    said = [f"{shown(v, 'volume', result.units)} by {what}" for v, what in taken if v > 0.0]
    if said:
        yield f"taken up: {', '.join(said)}"
    yield ""
    yield f"  {'':24}  {'holds':>9}  {'at rest':>9}"
    for part in result.compartments:
        yield _heading(part, result.units)
    for part in result.compartments:
        yield f"\n{part.name}  {_where(part)}"
        yield from _ways(part, result.units)
    if result.findings:
        yield ""
    for finding in result.findings:
        yield from _wrapped(f"{finding.place}: {finding.found} [{finding.code}]", "To look at: ")
    if picture is not None:
        yield f"\nPicture  {picture}"


def _counted(count: int) -> str:
    return "1 compartment" if count == 1 else f"{count} compartments"


def _where(part: Compartment) -> str:
    words = [part.where, "pickup" if part.has_pickup else ""]
    return ", ".join(word for word in words if word) or "middle"


def _heading(part: Compartment, units: str) -> str:
    volume = shown(part.volume_m3, "volume", units)
    rest = "-" if part.at_rest_m3 is None else shown(part.at_rest_m3, "volume", units)
    return f"  {part.name:2} {_where(part):21}  {volume:>9}  {rest:>9}"


def _ways(part: Compartment, units: str) -> Iterator[str]:
    if not part.ways:
        yield "  no way out"
    groups: dict[tuple[str, ...], list[WayOut]] = {}
    for way in sorted(part.ways, key=_rank):
        groups.setdefault((way.to, way.kind, way.panel, way.passes), []).append(way)
    for (to, kind, panel, passes), ways in groups.items():
        area = _area(sum(way.area_m2 for way in ways), units)
        yield from _wrapped(f"{_PASSES[passes]} {to}: {_what(kind, ways)} of {panel}, {area}", "  ")


def _what(kind: str, ways: list[WayOut]) -> str:
    """The ways of one kind through one baffle into one compartment."""
    names = [f"'{way.opening}'" for way in ways]
    if kind in _WORDS:
        return " ".join([_WORDS[kind], *(names if kind == "leak" else [])])
    if len(ways) > _MOST_NAMED:
        return f"{len(ways)} {kind}s from {names[0]} to {names[-1]}"
    return f"{kind}{'s' * (len(ways) > 1)} {' and '.join(names)}"


_WORDS = {"open": "open past the edge", "gap": "gap at the edge", "leak": "leak round the shut"}
_MOST_NAMED = 2


def _area(area: float, units: str) -> str:
    """Finer than areas are shown elsewhere: gaps are narrow."""
    number = shown_number(area, "area", units)
    return f"{number:{'.2g' if number < 99.5 else '.0f'}} {unit_name('area', units)}"


def _rank(way: WayOut) -> tuple[object, ...]:
    """By compartment, doors and windows before gaps, numbers in names by their size."""
    parts = re.split(r"(\d+)", way.opening)
    order = {"door": 0, "window": 1, "open": 2, "gap": 3, "leak": 4}[way.kind]
    return way.to, order, way.panel, [int(p) if p.isdigit() else 0 for p in parts], way.opening


def _wrapped(text: str, indent: str) -> list[str]:
    later = " " * len(indent) + ("  " if indent.isspace() else "")
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=later, break_on_hyphens=False
    )
