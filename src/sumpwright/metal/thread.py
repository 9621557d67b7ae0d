# SPDX-License-Identifier: Apache-2.0
"""Small metric threads: pitch, hole to tap, hole to clear, and how long a thread has to be."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from sumpwright.errors import RangeError

ENGAGED = 1.5
"""Length of thread over its diameter that aluminium is given; [common-practice]."""
RUN_OUT = 3.0
"""Pitches that a blind hole is deeper than its thread: tap's lead and drill's point;
[common-practice]."""
LENGTHS = (6, 8, 10, 12, 14, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80)
"""mm; lengths in which small screws are commonly sold."""


@dataclass(frozen=True)
class Thread:
    """A metric coarse thread. SI."""

    name: str
    diameter: float
    """m"""
    pitch: float
    """m"""
    clearance: float
    """m, hole that a screw goes through, medium"""

    @property
    def drill(self) -> float:
        """Hole to tap: diameter less pitch [m]; [common-practice]."""
        return self.diameter - self.pitch


def thread(name: str) -> Thread:
    """The coarse thread of that name.

    Parameters
    ----------
    name : str [-]
        Such as ``M4``.

    Returns
    -------
    thread : Thread [m]

    Raises
    ------
    RangeError
        Where the table has none of that name.

    Source
    ------
    [ISO-261] pitches, [ISO-273] clearance holes.
    """
    known = _threads()
    if name not in known:
        raise RangeError(f"no thread is called '{name}'; there are {', '.join(known)}")
    return known[name]


def screw_length(reach: float, *, at_least: bool = False) -> float:
    """The longest screw sold that reaches no further than this, or the shortest that reaches it.

    Parameters
    ----------
    reach : float [m]
        What it goes through, and thread.
    at_least : bool [-]
        The shortest that reaches it.

    Returns
    -------
    length : float [m]
        Of the shank; the shortest or the longest there is where none suits.

    Source
    ------
    [common-practice]: lengths that small screws are sold in.
    """
    if at_least:
        return 1e-3 * min([s for s in LENGTHS if s >= 1e3 * reach - 1e-6], default=LENGTHS[-1])
    return 1e-3 * max([s for s in LENGTHS if s <= 1e3 * reach + 1e-6], default=LENGTHS[0])


@cache
def _threads() -> dict[str, Thread]:
    text = Path(__file__).with_suffix(".csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    sizes = ("diameter_mm", "pitch_mm", "clearance_mm")
    return {r["name"]: Thread(r["name"], *(1e-3 * float(r[s]) for s in sizes)) for r in rows}
