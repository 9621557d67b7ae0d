# SPDX-License-Identifier: Apache-2.0
"""Sheet parts laid on the shop's sheets, and what each then costs."""

import math
from collections.abc import Sequence
from dataclasses import replace

from sumpwright.errors import Finding
from sumpwright.job.shop import Prices, SheetStock, Shop
from sumpwright.metal.nest import Blank, Nest, nested
from sumpwright.studies.sheet_part_result import CutSheet, LaidPart, SheetPart
from sumpwright.studies.sheet_web import same_thickness
from sumpwright.studies.size_words import nominal, sizes

_TURN = {"along": 0.0, "up": 0.5 * math.pi}


def nested_parts(
    items: Sequence[SheetPart], shop: Shop, units: str = "metric"
) -> tuple[list[SheetPart], list[CutSheet], list[Finding]]:
    """The parts with their costs, the sheets they come from, and what has none."""
    if not shop.sheets:
        return list(items), [], [_NO_SHEETS]
    groups: dict[tuple[str, float], list[int]] = {}
    for k, item in enumerate(items):
        thickness = item.pattern.thickness
        kinds = (g for g in groups if g[0] == item.material and same_thickness(g[1], thickness))
        groups.setdefault(next(kinds, (item.material, thickness)), []).append(k)
    priced = list(items)
    sheets: list[CutSheet] = []
    findings: list[Finding] = []
    for (metal, thickness), members in groups.items():
        stock = [s for s in shop.sheets if s.material == metal
                 and same_thickness(s.thickness, thickness)]  # fmt: skip
        if not stock:
            findings += [_no_sheet(items[k], units) for k in members]
            continue
        made = [items[k] for k in members]
        best, nest = _best(made, stock)
        findings += [_too_large(made[k], best, units) for k in nest.left_out]
        sheets += _cut_sheets(made, best, nest, len(sheets))
        for k in members:
            priced[k] = replace(items[k], cost=_cost(items[k], items, sheets, shop.prices))
    return priced, sheets, findings


def _best(made: Sequence[SheetPart], stock: Sequence[SheetStock]) -> tuple[SheetStock, Nest]:
    """The sheet that leaves out least, then costs least, then is least."""
    blanks = [
        Blank(
            item.key,
            item.pattern.polygon,
            grain=None if item.grain is None else _TURN[item.grain],
        )
        for item in made
    ]
    tried = []
    for number, sheet in enumerate(stock):
        nest = nested(blanks, sheet.size, spacing=sheet.spacing, margin=sheet.margin)
        count = len(nest.sheets)
        area = count * sheet.size[0] * sheet.size[1]
        price = math.inf if sheet.price is None else count * sheet.price
        tried.append(((len(nest.left_out), price, area, number), sheet, nest))
    _, sheet, nest = min(tried, key=lambda t: t[0])
    return sheet, nest


def _cut_sheets(
    made: Sequence[SheetPart], stock: SheetStock, nest: Nest, before: int
) -> list[CutSheet]:
    found = []
    for number, sheet in enumerate(nest.sheets):
        laid = tuple(LaidPart(made[at.blank].key, at.turn, at.shift) for at in sheet.laid)
        area = sum(made[at.blank].pattern.area for at in sheet.laid)
        found.append(
            CutSheet(
                key=f"nest-{before + number + 1}",
                stock=stock.name,
                material=stock.material,
                thickness=stock.thickness,
                size=stock.size,
                laid=laid,
                used=area / (sheet.size[0] * sheet.size[1]),
                price=stock.price,
            )
        )
    return found


def _cost(
    item: SheetPart, items: Sequence[SheetPart], sheets: Sequence[CutSheet], prices: Prices
) -> float | None:
    """Its share of the sheet by area, its cutting and its bends; None where nothing is priced."""
    areas = {other.key: other.pattern.area for other in items}
    cost, known = 0.0, False
    for sheet in sheets:
        on = [at.key for at in sheet.laid]
        if item.key in on and sheet.price is not None:
            cost += sheet.price * areas[item.key] / sum(areas[key] for key in on)
            known = True
    if prices.cut_hour is not None and prices.cut_rate is not None:
        cost += prices.cut_hour * item.pattern.cut_length / prices.cut_rate / 3600.0
        known = True
    if prices.bend is not None:
        cost += prices.bend * len(item.pattern.bends)
        known = known or bool(item.pattern.bends)
    return cost if known else None


_NO_SHEETS = Finding(
    "SHEE-516",
    "the sheet parts",
    "the shop lists no sheets: the parts are drawn, and none is nested",
    "list them in `shop.sheets`, or have the cutter nest the drawings on his own",
    "note",
)


def _no_sheet(item: SheetPart, units: str) -> Finding:
    size = f"{item.material}, {nominal(item.pattern.thickness, units)}"
    found = f"it is on no nest: the shop has no sheet of {size}"
    mend = "add that sheet to `shop.sheets`, or make it of one that is there"
    return Finding("SHEE-516", item.name, found, mend, "error")


def _too_large(item: SheetPart, stock: SheetStock, units: str) -> Finding:
    flat, sheet = sizes(item.pattern.size, units, finer=-1), sizes(stock.size, units, finer=-1)
    found = f"no sheet is large enough: it is {flat} flat, '{stock.name}' {sheet}"
    mend = "buy a larger sheet, or part the baffle"
    return Finding("SHEE-516", item.name, found, mend, "error")
