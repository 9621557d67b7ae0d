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
STOP = 1.0
"""s that braking is held for: from road speeds a hard stop lasts two or three; [common-practice]"""
SMOOTH = 0.5
"""s over which acceleration is averaged: a sensor's noise is no lack of g; [common-practice]"""


def sides_of(
    found: Judgement, *, hold: float, blind: bool = False, sided: bool = True
) -> list[dict[str, Any]]:
    """Each way round as a record keeps it, quantities as text.

    `hold` [s] is how long a turn must last without a dip to be held. A `blind` log shows dips,
    but cannot show that there were none. One that is not `sided` tells turns, but not left from
    right: its dips count against both, and what it held for neither.
    """
    turns = [s for s in found.sides if s.turn != "straight"]
    rows = [_side_row(found, s, hold) for s in turns] if sided else _both_rows(found, turns)
    braking = [d for d in found.dips if d.turn == "straight" and d.ax < -BRAKES]
    push = -np.nan_to_num(found.motion.ax)
    time = float(np.sum(push > BRAKES) * found.motion.step)
    rows.append(_row("brake", push, found, braking, (time, STOP)))
    if blind:
        for row in rows:
            row.pop("held", None)
            row.pop("held_for", None)
    return rows


def _both_rows(found: Judgement, turns: list[SideCount]) -> list[dict[str, Any]]:
    dips = [d for d in found.dips if d.turn != "straight"]
    still, time = np.zeros(len(found.motion.time)), sum(s.time for s in turns)
    return [_row(s.turn, still, found, dips, (time, 1.0)) for s in turns]


def _side_row(found: Judgement, side: SideCount, hold: float) -> dict[str, Any]:
    sign = 1.0 if side.turn == "left" else -1.0
    dips = [d for d in found.dips if d.turn == side.turn]
    return _row(side.turn, sign * np.nan_to_num(found.motion.ay), found, dips, (side.time, hold))


def _row(
    turn: str, push: Floats, found: Judgement, dips: list[Dip], times: tuple[float, float]
) -> dict[str, Any]:
    """Largest size held on end outside of dips, under the least that had one."""
    time, hold = times
    held = _held(push, found, hold)
    sizes = [abs(d.ay if turn != "brake" else d.ax) for d in dips]
    least = min((s for s in sizes if np.isfinite(s)), default=None)
    if least is not None:
        held = np.where(held < least, held, 0.0)
    row: dict[str, Any] = {"turn": turn, "dips": len(dips), "time": f"{time:.1f} s"}
    if held.max(initial=0.0) > 0.0:
        row["held"] = f"{held.max() / STANDARD_GRAVITY:.3f} g"
        row["held_for"] = f"{hold:g} s"
    if least is not None:
        row["least_dip"] = f"{least / STANDARD_GRAVITY:.3f} g"
    return row


def _held(push: Floats, found: Judgement, hold: float) -> Floats:
    """(n,) least push over `hold` seconds round each sample; 0 where pressure dipped or is not
    judged in them, and where the log is too short."""
    from scipy.ndimage import minimum_filter1d, uniform_filter1d

    m = found.motion
    sound = found.judged.copy()
    for dip in found.dips:
        sound &= ~((m.time >= dip.start) & (m.time <= dip.end))
    even = uniform_filter1d(push, max(1, round(SMOOTH / m.step)), mode="nearest")
    wide = max(1, round(hold / m.step))
    return np.asarray(minimum_filter1d(np.where(sound, even, 0.0), wide, mode="constant", cval=0.0))
