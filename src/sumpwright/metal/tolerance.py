# SPDX-License-Identifier: Apache-2.0
"""General tolerances of sizes and flatness, by table. Source and standing: tolerance.csv."""

import csv
from functools import cache
from pathlib import Path
from typing import Literal

from sumpwright.errors import RangeError

_TABLE = Path(__file__).parent / "tolerance.csv"
_MM = 1e-3


def general_tolerance(size: float, grade: Literal["f", "m", "c"] = "m") -> float:
    """How far a size without a tolerance of its own may be off, either way.

    Parameters
    ----------
    size : float [m]
        As drawn.
    grade : {"f", "m", "c"} [-]
        Fine, medium, coarse.

    Returns
    -------
    tolerance : float [m]
        Plus and minus.

    Raises
    ------
    RangeError
        Outside 0.5 mm to 1 m.

    Source
    ------
    ISO 2768-1 table 1 (from memory).
    """
    return _looked_up("linear", grade, size)


def general_flatness(length: float, grade: Literal["H", "K"] = "K") -> float:
    """Within which two planes a flat face must lie that has no flatness of its own.

    Parameters
    ----------
    length : float [m]
        The face's longer side.
    grade : {"H", "K"} [-]
        Of the standard.

    Returns
    -------
    flatness : float [m]

    Raises
    ------
    RangeError
        Outside 30 mm to 1 m.

    Source
    ------
    ISO 2768-2 table 1 (from memory; withdrawn 2021).
    """
    return _looked_up("flat", grade, length)


def _looked_up(kind: str, grade: str, size: float) -> float:
    for row in _rows():
        over, to = float(row["over"]) * _MM, float(row["to"]) * _MM
        at_first = size == over and over == min(
            float(r["over"]) * _MM for r in _rows() if (r["kind"], r["class"]) == (kind, grade)
        )
        if (row["kind"], row["class"]) == (kind, grade) and (over < size <= to or at_first):
            return float(row["tolerance"]) * _MM
    raise RangeError(f"no general tolerance for {1e3 * size:.4g} mm in class {grade}")


@cache
def _rows() -> tuple[dict[str, str], ...]:
    lines = _TABLE.read_text(encoding="utf-8").splitlines()
    return tuple(csv.DictReader(line for line in lines if not line.startswith("#")))
