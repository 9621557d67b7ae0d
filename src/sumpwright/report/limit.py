# SPDX-License-Identifier: Apache-2.0
"""A hold limit in words: at least so much, where the pickup was still covered at the end."""

import math

from sumpwright.studies.result import PanHold

DIRECTIONS = {"accelerate": 0.0, "left": 90.0, "brake": 180.0, "right": 270.0}
"""Degrees from +x toward +y."""
WAYS = {
    "left": "Left turn",
    "right": "Right turn",
    "brake": "Braking",
    "accelerate": "Accelerating",
}


def held_to_end(hold: PanHold, way: str) -> bool:
    """Whether the pickup was still covered at the largest g looked at, that way."""
    want = DIRECTIONS[way]
    apart = [abs((d - want + 180.0) % 360.0 - 180.0) for d in hold.directions_deg]
    return hold.held_to_end[apart.index(min(apart))]


def limit_number(hold: PanHold, way: str) -> str:
    """``0.83``, or ``≥ 1.60`` where the limit lies beyond what was looked at."""
    value = f"{getattr(hold, f'{way}_g'):.2f}"
    return f"≥ {value}" if held_to_end(hold, way) else value


def low_number(hold: PanHold, way: str) -> str:
    """The limit with the oil at the low mark, or a dash where the job has none."""
    if hold.low_mark is None:
        return "–"
    value = getattr(hold.low_mark, f"{way}_g")
    return f"{'≥ ' if value >= max(hold.magnitudes_g) else ''}{value:.2f} g"


def slope_text(degrees: float) -> str:
    """``24.0°``, or ``≥ 60.0°`` where the limit lies beyond what was looked at."""
    from sumpwright.studies.hold import SLOPES

    steepest = math.degrees(float(SLOPES[-1]))
    return f"{'≥ ' if degrees >= steepest - 1e-9 else ''}{degrees:.1f}°"
