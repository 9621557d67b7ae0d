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
"""Pitches that a blind hole is deeper than its thread: tap's lead and drill's point; practice."""
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


def screw_length(grip: float, engagement: float) -> float:
    """The longest screw sold that is no longer than grip and thread together.

    Parameters
    ----------
    grip : float [m]
        What it goes through before the thread.
    engagement : float [m]
        Thread there is.

    Returns
    -------
    length : float [m]
        Of the shank; the shortest there is where none is short enough.
    """
    most = 1e3 * (grip + engagement) + 1e-9
    return 1e-3 * max([size for size in LENGTHS if size <= most], default=LENGTHS[0])


@cache
def _threads() -> dict[str, Thread]:
    text = Path(__file__).with_suffix(".csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    sizes = ("diameter_mm", "pitch_mm", "clearance_mm")
    return {r["name"]: Thread(r["name"], *(1e-3 * float(r[s]) for s in sizes)) for r in rows}
