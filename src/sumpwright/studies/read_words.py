# SPDX-License-Identifier: Apache-2.0
"""The verdict on a log in words, and how sure left against right is."""

import numpy as np

from sumpwright.logs.judge import Judgement, SideCount
from sumpwright.studies.read_result import Ways

SURE = 0.05
"""Chance under which left and right are said to differ."""
LEAST = 3.0
"""s; less can neither pass nor fail, unless a dip was seen in it."""


def ways_of(found: Judgement, *, sided: bool) -> Ways:
    """What the log tells of the way the car turned."""
    if not np.isfinite(found.motion.ay).any():
        return "not told"
    return "told" if sided else "left or right not told"


def low_readings(found: Judgement) -> tuple[int, int] | None:
    """Of gauges typed by hand, how many were low and how many there are; None for a log."""
    m = found.motion
    if not m.typed:
        return None
    low = np.zeros(len(m.time), dtype=bool)
    for dip in found.dips:
        low |= (m.time >= dip.start) & (m.time <= dip.end) & (m.pressure < found.band)
    return int(low.sum()), int(found.judged.sum())


def verdict_text(found: Judgement, *, sided: bool) -> str:
    """Which way round it passes, and the count behind that; no way where the log tells none."""
    left, right, straight = found.sides
    seconds = float(found.judged.sum() * found.motion.step)
    if seconds < LEAST and not found.dips:
        return f"too little to judge: {seconds:.1f} s with the engine running and pressure to trust"
    typed, untold = low_readings(found), _UNTOLD[ways_of(found, sided=sided)]
    if typed is not None:
        low, read = typed
        many = f"{low} of {read} readings low"
        if not low:
            return f"no reading low of {read}; what came between them was not seen"
        return f"fails: {many}; {untold}" if untold else f"fails: {many}{_low_ways(found)}"
    if untold:
        count, time = sum(s.dips for s in found.sides), sum(s.time for s in found.sides)
        return f"{'fails' if count else 'passes'}: {_several(count)} in {time:.0f} s; {untold}"
    said = [f"{'fails' if s.dips else 'passes'} {s.turn}" for s in (left, right) if s.time >= 1.0]
    counts = _counts(left, right)
    if straight.dips or not said:
        said.append(f"{'fails' if straight.dips else 'passes'} straight on")
        counts = f"{counts}; " if counts else ""
        counts += f"{_dips(straight)} in {straight.time:.0f} s straight on"
    return f"{'; '.join(said)}: {counts}"


_UNTOLD: dict[Ways, str] = {
    "told": "",
    "left or right not told": "nothing tells left from right",
    "not told": "nothing tells turns from straights",
}


def _low_ways(found: Judgement) -> str:
    ways = dict.fromkeys("straight on" if d.turn == "straight" else d.turn for d in found.dips)
    return f", {' and '.join(ways)}"


def _counts(left: SideCount, right: SideCount) -> str:
    """The worse side first."""
    driven = [s for s in (left, right) if s.time >= 1.0]
    driven.sort(key=lambda s: -s.rate)
    if len(driven) == 2:
        a, b = driven
        return f"{_dips(a)} in {a.time:.0f} s {a.turn} against {b.dips} in {b.time:.0f} s {b.turn}"
    return "".join(f"{_dips(s)} in {s.time:.0f} s {s.turn}" for s in driven)


def _dips(s: SideCount) -> str:
    return _several(s.dips)


def _several(dips: int) -> str:
    return f"{dips} dip{'' if dips == 1 else 's'}"


def confidence_text(found: Judgement, *, sided: bool) -> str:
    """Left against right: what the counts can say."""
    ways = ways_of(found, sided=sided)
    if ways == "not told":
        return (
            "Which way the car turned, and whether it did, is not known: log acceleration to the "
            "side, yaw rate with speed, or GPS; or give the circle's --radius."
        )
    if ways != "told":
        return "Which way round each dip came is not known: log acceleration or yaw rate."
    if found.motion.typed:
        return "Readings by hand do not tell left from right for sure: log pressure."
    left, right, _ = found.sides
    if left.time < 1.0 and right.time < 1.0:
        return "No turn was driven: nothing is said of either way round."
    if found.chance is None:
        return "Only one way round was driven: a pan can pass one way and fail the other."
    if left.dips + right.dips == 0:
        most = max(left.high, right.high) * 60.0
        return f"No dip either way; the rate may still be up to {most:.1f} a minute (95 %)."
    if found.chance < SURE:
        return (
            f"Left and right differ beyond chance: so uneven a split of corners with dips has a "
            f"chance of {found.chance:.2g} if both were alike."
        )
    return (
        f"Too few corners with dips to tell left from right: so uneven a split has a chance of "
        f"{found.chance:.2g} if both were alike. Drive longer."
    )
