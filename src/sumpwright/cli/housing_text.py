# SPDX-License-Identifier: Apache-2.0
"""What `housing` answers, as a person reads it."""

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

from sumpwright.errors import Finding
from sumpwright.studies.housing_result import HousingResult
from sumpwright.studies.housing_room import LOOKED
from sumpwright.units import shown, shown_number, unit_name

WIDTH = 80


def housing_text(result: HousingResult, files: Sequence[Path]) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, files))


def _lines(result: HousingResult, files: Sequence[Path]) -> Iterator[str]:
    units = result.units
    yield f"{result.verdict.upper()}  {result.job}, revision {result.revision}: pickup housing"
    yield ""
    yield _row("inlet, over the rail", shown(result.inlet_m, "length", units))
    gap = "-" if result.over_floor_m is None else shown(result.over_floor_m, "length", units)
    yield _row("inlet, over the floor", gap)
    yield _row(
        "height", shown(result.height_m, "length", units), f"{result.low_profile:.2f} of its inlet"
    )
    yield _row("takes up", f"{1e6 * result.displaced_m3:.1f} cm³")
    if result.low_cover_m is not None:
        words = "at the low mark, hot, running"
        yield _row("oil over the rim", shown(result.low_cover_m, "length", units), words)
    yield from _ways(result)
    yield from _screen(result)
    yield from _bolts(result)
    yield from _room(result)
    yield from _solids(result)
    yield from said_findings(result.findings)
    if files:
        yield "\nFiles  " + "\n       ".join(str(f) for f in files)


def _row(label: str, value: str, words: str = "") -> str:
    return f"  {label:24}{value:>14}   {words}".rstrip()


def _ways(result: HousingResult) -> Iterator[str]:
    units, tube = result.units, result.tube_m2
    yield "\nThe oil's way, against the tube's bore"
    yield _row("tube's bore", _area(tube, units))
    ways = [
        ("rim to floor", result.curtain_m2),
        ("inlet and screen", result.face_m2),
        ("of that open", result.open_m2),
        ("inside, to the tube", result.inside_m2),
    ]
    for label, area in ways:
        if area is not None:
            yield _row(label, _area(area, units), f"{area / tube:.1f} times")


def _area(area: float, units: str) -> str:
    return f"{shown_number(area, 'area', units):.2f} {unit_name('area', units)}"


def _screen(result: HousingResult) -> Iterator[str]:
    units = result.units
    for point in result.screen:
        words = f"at {shown(point.flow_m3_s, 'flow', units)}, {point.rpm:.0f} rpm, "
        words += shown(point.temperature_k, "temperature", units)
        loss = shown(point.loss_pa, "pressure", units, digits=2)
        yield _row(f"screen takes, {point.state}", loss, words)


def _bolts(result: HousingResult) -> Iterator[str]:
    bolts = result.bolting
    if bolts is not None:
        size = f"{bolts.count} x {bolts.thread} x {1e3 * bolts.length_m:.0f}"
        thread = shown(bolts.engagement_m, "length", result.units)
        words = f"{thread} in the thread, {bolts.ratio:.2f} d"
        yield _row("screws", size, words)


def _room(result: HousingResult) -> Iterator[str]:
    yield "\nRoom round it"
    for room in result.room:
        least = LOOKED if room.gap_m is None else room.gap_m
        gap = ("> " if room.gap_m is None else "") + shown(least, "length", result.units)
        gap = "HITS" if room.gap_m == 0.0 else gap
        yield f"  {textwrap.shorten(room.what, 56, placeholder='...'):56}{gap:>12}"


def _solids(result: HousingResult) -> Iterator[str]:
    yield f"\n{'Parts':28}{'volume':>12}{'mass':>10}   made of"
    for solid in result.solids:
        mass = shown(solid.mass_kg, "mass", result.units)
        yield f"  {solid.name:26}{1e6 * solid.volume_m3:8.2f} cm³{mass:>10}   {solid.material}"


def said_findings(findings: Sequence[Finding]) -> Iterator[str]:
    """Findings as paragraphs, those that decide first."""
    if findings:
        yield ""
    for finding in findings:
        head = "Not met: " if finding.severity == "error" else "Mind: "
        end = f"; {finding.repair}" if finding.repair else ""
        text = f"{finding.place}: {finding.found}{end} [{finding.code}]"
        indent = " " * len(head)
        yield from textwrap.wrap(text, WIDTH, initial_indent=head, subsequent_indent=indent)
