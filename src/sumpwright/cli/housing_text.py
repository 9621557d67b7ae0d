# SPDX-License-Identifier: Apache-2.0
"""What `housing` answers, as a person reads it."""

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

from sumpwright.cli.fold_text import WIDTH, folded
from sumpwright.errors import Finding
from sumpwright.studies.housing_result import HousingResult
from sumpwright.studies.housing_room import LOOKED
from sumpwright.studies.size_words import small_mass
from sumpwright.units import shown

__all__ = ["WIDTH", "housing_text", "said_findings"]


def housing_text(result: HousingResult, files: Sequence[Path]) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, files))


def _lines(result: HousingResult, files: Sequence[Path]) -> Iterator[str]:
    units = result.units
    yield f"{result.verdict.upper()}  {result.job}, revision {result.revision}: pickup housing"
    yield ""
    where = "under" if result.inlet_m < 0.0 else "over"
    yield _row(f"inlet, {where} the rail", shown(abs(result.inlet_m), "length", units))
    gap = "-" if result.over_floor_m is None else shown(result.over_floor_m, "length", units)
    yield _row("inlet, over the floor", gap)
    words = f"{result.low_profile:.2f} of its inlet's width"
    yield _row("height", shown(result.height_m, "length", units), words)
    words = "with flange and screws"
    yield _row("takes up", shown(result.displaced_m3, "small_volume", units), words)
    if result.low_cover_m is not None:
        words = "at the low mark, hot, running"
        yield _row("oil over the rim", shown(result.low_cover_m, "length", units), words)
    yield from _ways(result)
    yield from _screen(result)
    yield from _room(result)
    yield from _solids(result)
    yield from _bolts(result)
    yield from said_findings(result.findings)
    if files:
        yield "\nFiles  " + "\n       ".join(str(f) for f in files)
        if units != "metric":
            yield "       STEP is in mm"


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
    return shown(area, "area", units, finer=2)


def _screen(result: HousingResult) -> Iterator[str]:
    units = result.units
    for point in result.screen:
        words = f"at {shown(point.flow_m3_s, 'flow', units)}, {point.rpm:.0f} rpm, "
        words += shown(point.temperature_k, "temperature", units)
        loss = shown(point.loss_pa, "pressure", units, finer=2)
        yield _row(f"screen takes, {point.state}", loss, words)


def _bolts(result: HousingResult) -> Iterator[str]:
    bolts = result.bolting
    if bolts is not None:
        size = f"{bolts.count} x {bolts.thread} x {1e3 * bolts.length_m:.0f}"  # a metric screw's
        thread = shown(bolts.engagement_m, "length", result.units)
        yield f"  screws, {size}: {thread} in the thread, {bolts.ratio:.2f} times their diameter"


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
        mass = small_mass(solid.mass_kg, result.units)
        volume = shown(solid.volume_m3, "small_volume", result.units, finer=1)
        yield f"  {solid.name:26}{volume:>12}{mass:>10}   {solid.material}"


def said_findings(findings: Sequence[Finding]) -> Iterator[str]:
    """Findings as paragraphs, those that decide first."""
    if findings:
        yield ""
    for finding in findings:
        head = "Not met: " if finding.severity == "error" else "Mind: "
        end = f"; {finding.repair}" if finding.repair else ""
        text = f"{finding.place}: {finding.found}{end} [{finding.code}]"
        yield from folded(text, head, " " * len(head))
