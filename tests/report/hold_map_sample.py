# SPDX-License-Identifier: Apache-2.0
"""Invented hold maps: a rule of thumb for how long each direction holds; it proves nothing."""

from functools import cache

import numpy as np

from sumpwright.studies.motion_result import (
    DOORS,
    Asymmetry,
    Doors,
    ErrorReport,
    HoldMapResult,
    HoldTimes,
)

DIRECTIONS = tuple(np.arange(0.0, 360.0, 15.0).tolist())
MAGNITUDES = tuple(np.round(np.arange(0.1, 1.51, 0.1), 10).tolist())
RPM = (3000.0, 6500.0)
HORIZON, HOLD = 15.0, 8.0
HELD: dict[Doors, float] = {
    "working": 0.95, "stuck open": 0.62, "stuck shut": 0.7, "no baffles": 0.45,
}  # fmt: skip


def _time(doors: Doors, rpm: float, direction: float, g: float) -> float | None:
    """Seconds to first air; weaker to the right, weaker at speed."""
    side = 1.0 + 0.22 * np.sin(np.radians(direction)) + 0.1 * np.cos(np.radians(direction))
    limit = HELD[doors] * side * (1.0 - 3e-5 * (rpm - 3000.0))
    if g <= limit:
        return None
    seconds = 0.35 + 1.6 / (g / limit - 0.9) ** 0.9 * 0.5
    return None if seconds >= HORIZON else float(seconds)


def _limit(doors: Doors, rpm: float, direction: float) -> float:
    best = 0.0
    for g in MAGNITUDES:
        time = _time(doors, rpm, direction, g)
        if time is not None and time < HOLD:
            break
        best = g
    return best


@cache
def hold_map_sample() -> HoldMapResult:
    return HoldMapResult(
        job="Sample low pan", revision="B", input_hash="9f2c4be17a60d3815c2e", code_version="0.1.0",
        units="metric", temperature_k=373.15, directions_deg=DIRECTIONS, magnitudes_g=MAGNITUDES,
        rpm=RPM, horizon_s=HORIZON, hold_time_s=HOLD,
        maps=tuple(
            HoldTimes(doors, tuple(
                tuple(tuple(_time(doors, rpm, d, g) for g in MAGNITUDES) for d in DIRECTIONS)
                for rpm in RPM
            ))
            for doors in DOORS
        ),
        asymmetries=tuple(
            Asymmetry(rpm, doors, _limit(doors, rpm, 90.0), _limit(doors, rpm, 270.0))
            for rpm in RPM for doors in DOORS
        ),
        error=ErrorReport(3.1e-7, 2e-5, 1.1e-4, 1.9e-5, 5210000, 440),
        assumptions=("Surfaces are planes; waves that break are not in the model.",),
    )  # fmt: skip
