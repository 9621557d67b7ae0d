# SPDX-License-Identifier: Apache-2.0
"""What is written beside a flat pattern, on the drawing and in the list."""

import math

from sumpwright.metal.flat_pattern import FlatBend
from sumpwright.studies.sheet_part_result import CutSheet, SheetPart, bend_deduction
from sumpwright.studies.size_words import nominal, sizes
from sumpwright.units import shown

KERF = "Lines are the part's own edge: the cutter takes off half its kerf outside them."
IN_MM = "This file is drawn in millimetres; what is written in it is in inches."
UP = "Up is toward you, down is away."
ORDER = " Bend in the order of the numbers."
SPRING = "Springback is not in the figures: overbend. Bend lines are the middle of the bend."


def part_words(item: SheetPart, units: str = "metric") -> list[str]:
    """Title, and what it is made of."""
    flat = item.pattern
    size = sizes(flat.size, units, 0)
    mass = shown(item.mass, "mass", units, finer=1)
    grain = "" if item.grain is None else f", rolled {item.grain}"
    rows = [
        item.name,
        f"{item.material}, {nominal(flat.thickness, units)}{grain}; flat {size}; {mass}",
    ]
    if flat.bends:
        rows += [SPRING, f"{UP}{ORDER if len(item.order) > 1 else ''}"]
    return rows


def bend_words(bend: FlatBend, units: str = "metric") -> str:
    """Angle, radius, direction and the lengths of one bend."""
    way = "up" if bend.up else "down"
    fine = 3 if units == "metric" else 4
    radius = shown(bend.radius, "length", units, finer=1)
    verb = "roll" if bend.rolled else "bend"
    text = (
        f"{bend.name}: {verb} {way} {math.degrees(bend.angle):.1f} deg, inside radius "
        f"{radius}, K {bend.k:.3f} ({bend.k_from}), allowance "
        f"{shown(bend.allowance, 'length', units, digits=fine)}"
    )
    taken = bend_deduction(bend)
    if taken is None:
        return text
    return f"{text}, deduction {shown(taken, 'length', units, digits=fine)}"


def sheet_words(sheet: CutSheet, units: str = "metric") -> str:
    """What a nest is cut from, and how much of it becomes parts."""
    size = sizes(sheet.size, units)
    metal = f"{sheet.material} {nominal(sheet.thickness, units)}"
    return f"{sheet.stock}: {metal}, {size}, {sheet.used:.0%} used"
