# SPDX-License-Identifier: Apache-2.0
"""What a log says of each way round, as a record of it is filed."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.logs.dip import Dip
from sumpwright.logs.judge import Judgement, SideCount

Floats = NDArray[np.float64]

BRAKES = 0.2 * STANDARD_GRAVITY
"""[m/s^2] from which the car is braking."""


def sides_of(found: Judgement) -> list[dict[str, Any]]:
    """Each way round as a record keeps it, quantities as text."""
    rows = [_side_row(found, s, s.turn) for s in found.sides if s.turn != "straight"]
    braking = [d for d in found.dips if d.turn == "straight" and d.ax < -BRAKES]
    push = -np.nan_to_num(found.motion.ax)
    rows.append(
        _row("brake", push, found, braking, float(np.sum(push > BRAKES) * found.motion.step))
    )
    return rows


def _side_row(found: Judgement, side: SideCount, turn: str) -> dict[str, Any]:
    sign = 1.0 if turn == "left" else -1.0
    dips = [d for d in found.dips if d.turn == turn]
    return _row(turn, sign * np.nan_to_num(found.motion.ay), found, dips, side.time)


def _row(turn: str, push: Floats, found: Judgement, dips: list[Dip], time: float) -> dict[str, Any]:
    """Largest size held for a second outside of dips, under the least that had one."""
    from scipy.ndimage import minimum_filter1d

    m = found.motion
    wide = max(1, round(1.0 / m.step))
    held = minimum_filter1d(np.where(found.judged, push, 0.0), wide)
    sizes = [abs(d.ay if turn != "brake" else d.ax) for d in dips]
    least = min((s for s in sizes if np.isfinite(s)), default=None)
    if least is not None:
        held = np.where(held < least, held, 0.0)
    row: dict[str, Any] = {"turn": turn, "dips": len(dips), "time": f"{time:.1f} s"}
    if held.max(initial=0.0) > 0.0:
        row["held"] = f"{held.max() / STANDARD_GRAVITY:.3f} g"
    if least is not None:
        row["least_dip"] = f"{least / STANDARD_GRAVITY:.3f} g"
    return row
