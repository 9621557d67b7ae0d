# SPDX-License-Identifier: Apache-2.0
"""What `sheets` answers, as a person reads it."""

import math
import textwrap
from collections.abc import Iterator
from pathlib import Path

from sumpwright.errors import Finding
from sumpwright.metal.flat_pattern import FlatBend
from sumpwright.studies.sheet_part_result import CutSheet, SheetPart, SheetsResult, bend_deduction

WIDTH = 80
CAUTION = (
    "Bend a test strip of your own sheet first. Springback is not in the figures, and the "
    "cutter's kerf is left to the cutter. Cutting, bending and welding hurt: keep to the machine's "
    "guards and the shop's rules, and leave to trained hands what needs them."
)


def sheets_text(result: SheetsResult, files: tuple[Path, ...]) -> str:
    """The answer, at most 80 columns; drawings are in millimetres, so this is."""
    return "\n".join(_lines(result, files))


def _lines(result: SheetsResult, files: tuple[Path, ...]) -> Iterator[str]:
    count = len(result.items)
    yield f"{result.job}, revision {result.revision}: {count} part{'s' * (count != 1)} from sheet"
    yield ""
    priced = any(item.cost is not None for item in result.items)
    yield f"  {'':26}  {'flat [mm]':>13}  {'t [mm]':>6}  {'[g]':>6}  {'bends':>5}" + (
        f"  {'[' + result.currency + ']':>6}" if priced else ""
    )
    for item in result.items:
        yield _row(item, priced)
    for pin in result.pins:
        size = f"{1e3 * pin.diameter:g} mm round, {1e3 * pin.length:.0f} mm long"
        yield f"  {pin.name[:26]:26}  {size}"
    yield from _bends(result)
    yield from _strips(result)
    if result.sheets:
        yield "\nNested"
    for sheet in result.sheets:
        yield from _sheet(sheet)
    yield from _said(result)
    if files:
        yield f"\nDrawings  {files[0].parent}: {len(files)} files"
    yield ""
    yield from textwrap.wrap(CAUTION, WIDTH)


def _row(item: SheetPart, priced: bool) -> str:
    length, width = (1e3 * float(v) for v in item.pattern.size)
    size = f"{length:.1f} x {width:.1f}"
    mark = "!" if item.warned else " "
    row = (
        f"{mark} {item.name[:26]:26}  {size:>13}  {1e3 * item.pattern.thickness:>6.3g}  "
        f"{1e3 * item.mass:>6.1f}  {len(item.pattern.bends):>5}"
    )
    if not priced:
        return row
    return row + ("       -" if item.cost is None else f"  {item.cost:>6.2f}")


def _bends(result: SheetsResult) -> Iterator[str]:
    """Bends that are alike are told once."""
    rows: dict[tuple[str, ...], int] = {}
    for item in result.items:
        for bend in item.pattern.bends:
            row = _bend(bend, item.material)
            rows[row] = rows.get(row, 0) + 1
    if not rows:
        return
    yield "\nBends, middle line; allowance, deduction from both outside legs [mm]"
    yield f"  {'':>4}  {'angle':>9}  {'r':>5}  {'K':>5}  {'allow.':>7}  {'deduct':>7}"
    for row, count in sorted(rows.items()):
        sheet, angle, radius, k, used, taken = row
        yield f"  {count:>3}x  {angle:>9}  {radius:>5}  {k:>5}  {used:>7}  {taken:>7}  {sheet}"


def _bend(bend: FlatBend, metal: str) -> tuple[str, ...]:
    taken = bend_deduction(bend)
    return (
        f"{metal}, {bend.k_from}",
        f"{math.degrees(bend.angle):.1f} deg",
        f"{1e3 * bend.radius:.2f}",
        f"{bend.k:.3f}",
        f"{1e3 * bend.allowance:.3f}",
        "roll" if taken is None else f"{1e3 * taken:.3f}",
    )


def _strips(result: SheetsResult) -> Iterator[str]:
    for strip in result.strips:
        yield (
            f"  test strip, {strip.material} {1e3 * strip.thickness:g} mm: K {strip.k:.3f}; the "
            f"table has {strip.table:.3f}"
        )


def _sheet(sheet: CutSheet) -> Iterator[str]:
    a, b = (1e3 * v for v in sheet.size)
    price = "" if sheet.price is None else f", {sheet.price:g}"
    yield f"  {sheet.key}: {sheet.stock}, {sheet.material}, {a:.0f} x {b:.0f} mm{price}"
    yield f"    {len(sheet.laid)} part{'s' * (len(sheet.laid) != 1)}, {sheet.used:.0%} of it used"


def _said(result: SheetsResult) -> Iterator[str]:
    """Errors first, then warnings, then notes; those of parts with those of the whole."""
    every = [*(w for item in result.items for w in item.warnings), *result.findings]
    words = {"error": "Cannot be made so: ", "warning": "Mind: ", "note": "To know: "}
    if every:
        yield ""
    for severity, lead in words.items():
        for finding in every:
            if finding.severity == severity:
                yield from _wrapped(finding, lead)


def _wrapped(finding: Finding, lead: str) -> list[str]:
    mend = f"; {finding.repair}" if finding.repair else ""
    text = f"{finding.place}: {finding.found}{mend} [{finding.code}]"
    return textwrap.wrap(
        text, WIDTH, initial_indent=lead, subsequent_indent="  ", break_on_hyphens=False
    )
