# SPDX-License-Identifier: Apache-2.0
"""What `sheets` answers, as a person reads it."""

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from sumpwright.cli.fold_text import folded
from sumpwright.errors import Finding
from sumpwright.geometry.place import counted
from sumpwright.metal.flat_pattern import FlatBend
from sumpwright.studies.sheet_part_result import CutSheet, SheetsResult, bend_deduction
from sumpwright.studies.size_words import nominal, nominal_figure, size_figures, sizes
from sumpwright.units import figure, shown, unit_name

CAUTION = (
    "Bend a test strip of your own sheet first. Springback is not in the figures, and the "
    "cutter's kerf is left to the cutter. Cutting, bending and welding hurt: keep to the machine's "
    "guards and the shop's rules, and leave to trained hands what needs them."
)

_NEAR = re.compile(r",? near -?[\d.]+, -?[\d.]+ \w+ \(along, up\)")
"""Where on a part: it stands on the part's drawing"""


def sheets_text(result: SheetsResult, files: tuple[Path, ...]) -> str:
    """The answer in the job's units, at most 80 columns."""
    return "\n".join(_lines(result, files))


def _lines(result: SheetsResult, files: tuple[Path, ...]) -> Iterator[str]:
    units, count = result.units, counted(len(result.items), "part")
    yield f"{result.verdict.upper()}  {result.job}, revision {result.revision}: {count} from sheet"
    yield ""
    yield from _parts(result)
    for pin in result.pins:
        long = shown(pin.length, "length", units, finer=-1)
        yield f"  {pin.name[:26]:26}  {nominal(pin.diameter, units)} round, {long} long"
    if any(item.warned for item in result.items):
        yield "! what to mind of it stands below"
    yield from _bends(result)
    yield from _strips(result)
    yield from _orders(result)
    if result.sheets:
        yield "\nNested"
    for sheet in result.sheets:
        yield from _sheet(sheet, result)
    yield from _said(result)
    if files:
        note = "" if units == "metric" else "; DXF is in mm"
        yield f"\nDrawings  {files[0].parent}: {counted(len(files), 'file')}{note}"
    yield ""
    yield from folded(CAUTION, "", "")


def _parts(result: SheetsResult) -> Iterator[str]:
    units, priced = result.units, any(item.cost is not None for item in result.items)
    length, mass = (f"[{unit_name(kind, units)}]" for kind in ("length", "mass"))
    flats = [size_figures(item.pattern.size, units, 0) for item in result.items]
    wide = max(13, *map(len, flats)) if flats else 13
    yield (
        f"  {'':26}  {'flat ' + length:>{wide}}  {'t ' + length:>6}  {mass:>6}  {'bends':>5}"
        + (f"  {'[' + result.currency + ']':>6}" if priced else "")
    )
    for item, flat in zip(result.items, flats, strict=True):
        mark = "!" if item.warned else " "
        thickness = nominal_figure(item.pattern.thickness, units)
        row = (
            f"{mark} {item.name[:26]:26}  {flat:>{wide}}  {thickness:>6}  "
            f"{figure(item.mass, 'mass', units, finer=1):>6}  {len(item.pattern.bends):>5}"
        )
        cost = "-" if item.cost is None else f"{item.cost:.2f}"
        yield f"{row}  {cost:>6}" if priced else row


def _bends(result: SheetsResult) -> Iterator[str]:
    """Bends that are alike are told once."""
    rows: dict[tuple[str, ...], int] = {}
    for item in result.items:
        for bend in item.pattern.bends:
            row = _bend(bend, item.material, result.units)
            rows[row] = rows.get(row, 0) + 1
    if not rows:
        return
    unit = unit_name("length", result.units)
    yield f"\nBends, middle line; allowance, deduction from both outside legs [{unit}]"
    yield f"  {'':>4}  {'angle':>9}  {'r':>5}  {'K':>5}  {'allow.':>7}  {'deduct':>7}"
    for row, count in sorted(rows.items()):
        sheet, angle, radius, k, used, taken = row
        yield f"  {count:>3}x  {angle:>9}  {radius:>5}  {k:>5}  {used:>7}  {taken:>7}  {sheet}"


def _bend(bend: FlatBend, metal: str, units: str) -> tuple[str, ...]:
    taken = bend_deduction(bend)
    fine = 3 if units == "metric" else 4
    return (
        f"{metal}, {bend.k_from}",
        f"{math.degrees(bend.angle):.1f} deg",
        figure(bend.radius, "length", units, finer=1),
        f"{bend.k:.3f}",
        figure(bend.allowance, "length", units, digits=fine),
        "roll" if taken is None else figure(taken, "length", units, digits=fine),
    )


def _orders(result: SheetsResult) -> Iterator[str]:
    """Of parts with several bends; those bent alike are told together."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for item in result.items:
        if len(item.order) > 1:
            alike.setdefault(item.order, []).append(item.name)
    if alike:
        yield "\nOrder of bending"
    for order, names in alike.items():
        yield from folded(f"{', '.join(names)}: {', then '.join(order)}", "  ", "    ")


def _strips(result: SheetsResult) -> Iterator[str]:
    for strip in result.strips:
        yield (
            f"  test strip, {strip.material} {nominal(strip.thickness, result.units)}: "
            f"K {strip.k:.3f}; the table has {strip.table:.3f}"
        )


def _sheet(sheet: CutSheet, result: SheetsResult) -> Iterator[str]:
    price = "" if sheet.price is None else f", {sheet.price:.2f} {result.currency}"
    size = sizes(sheet.size, result.units)
    metal = f"{sheet.material} {nominal(sheet.thickness, result.units)}"
    yield from folded(f"{sheet.key}: {sheet.stock}, {metal}, {size}{price}", "  ", "    ")
    yield f"    {counted(len(sheet.laid), 'part')}, {sheet.used:.0%} of it used"


def _said(result: SheetsResult) -> Iterator[str]:
    """Errors first, then warnings, then notes; those of parts with those of the whole."""
    every = [*(w for item in result.items for w in item.warnings), *result.findings]
    words = {"error": "Cannot be made so: ", "warning": "Mind: ", "note": "To know: "}
    if every:
        yield ""
    for severity, lead in words.items():
        for same in _alike(f for f in every if f.severity == severity):
            yield from _wrapped(same, lead)


def _alike(findings: Iterable[Finding]) -> Iterable[list[Finding]]:
    """Findings that say the same but for where."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        key = finding.code, _NEAR.sub("", finding.found), finding.repair or ""
        groups.setdefault(key, []).append(finding)
    return groups.values()


def _wrapped(same: Sequence[Finding], lead: str) -> list[str]:
    first = same[0]
    found = first.found if len(same) == 1 else _NEAR.sub("", first.found)
    counts = Counter(finding.place for finding in same)
    places = "; ".join(p if n == 1 else f"{p} ({n} places)" for p, n in counts.items())
    mend = f"; {first.repair}" if first.repair else ""
    return folded(f"{places}: {found}{mend} [{first.code}]", lead, "  ")
