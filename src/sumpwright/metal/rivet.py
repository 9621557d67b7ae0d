# SPDX-License-Identifier: Apache-2.0
"""Blind rivets by the hole that they go into."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from sumpwright.errors import RangeError

OPENED = 0.3e-3
"""m by which a hole in thin sheet is readily opened with the next drill; [common-practice]."""
STANDARD = {"steel": "ISO 15979", "aluminium": "ISO 15977", "stainless steel": "ISO 15983"}
"""Protruding head, open end: steel on steel, aluminium on steel, stainless; from memory."""


@dataclass(frozen=True)
class Rivet:
    """A blind rivet. SI."""

    diameter: float
    least: float
    """m, smallest hole"""
    most: float
    """m, largest hole"""


def rivet_for(hole: float) -> Rivet:
    """The rivet of a hole; where the hole is none's, the one that it is least opened for.

    Parameters
    ----------
    hole : float [m]
        Diameter, as drawn.

    Returns
    -------
    rivet : Rivet [m]
        Its `least` is larger than the hole where the hole has to be opened.

    Raises
    ------
    RangeError
        Where no rivet fits, even with the hole opened by 0.3 mm.

    Source
    ------
    [ISO-15979]
    """
    for rivet in _rivets():
        if rivet.most >= hole - 1e-9 and rivet.least <= hole + OPENED + 1e-9:
            return rivet
    raise RangeError(
        f"a hole of {1e3 * hole:.4g} mm is no blind rivet's, and cannot be opened to be"
    )


@cache
def _rivets() -> tuple[Rivet, ...]:
    text = Path(__file__).with_suffix(".csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    names = ("diameter_mm", "hole_least_mm", "hole_most_mm")
    return tuple(Rivet(*(1e-3 * float(r[n]) for n in names)) for r in rows)
