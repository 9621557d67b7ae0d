# SPDX-License-Identifier: Apache-2.0
"""What is written beside a flat pattern, on the drawing and in the list."""

import math

from sumpwright.metal.flat_pattern import FlatBend
from sumpwright.studies.sheet_part_result import SheetPart, bend_deduction

KERF = "Lines are the part's own edge: the cutter takes off half its kerf outside them."
SPRING = "Springback is not in the figures: overbend. Bend lines are the middle of the bend."


def part_words(item: SheetPart) -> list[str]:
    """Title, and what it is made of; lengths on drawings are in mm, as shops cut."""
    flat = item.pattern
    length, width = (1e3 * float(v) for v in flat.size)
    grain = "" if item.grain is None else f", rolled {item.grain}"
    rows = [
        item.name,
        f"{item.material}, {1e3 * flat.thickness:g} mm{grain}; flat {length:.1f} x {width:.1f} mm; "
        f"{1e3 * item.mass:.1f} g",
    ]
    if flat.bends:
        rows.append(SPRING)
    return rows


def bend_words(bend: FlatBend) -> str:
    """Angle, radius, direction and the lengths of one bend."""
    way = "up" if bend.up else "down"
    verb = "roll" if bend.rolled else "bend"
    text = (
        f"{bend.name}: {verb} {way} {math.degrees(bend.angle):.1f} deg, inside radius "
        f"{1e3 * bend.radius:.2f} mm, K {bend.k:.3f} ({bend.k_from}), allowance "
        f"{1e3 * bend.allowance:.3f} mm"
    )
    taken = bend_deduction(bend)
    return text if taken is None else f"{text}, deduction {1e3 * taken:.3f} mm"
