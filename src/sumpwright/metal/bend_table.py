# SPDX-License-Identifier: Apache-2.0
"""Where the neutral fibre of a metal lies and how tightly it bends: bend_k.csv, bend_radius.csv."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from sumpwright.errors import RangeError
from sumpwright.metal.bend import correction_din
from sumpwright.metal.material import material

_BY_DIN = ("steel", "stainless steel")
_SLACK = 1e-6
"""m; a thickness this little over a row's is still that row's."""


@dataclass(frozen=True)
class K:
    """The neutral fibre's place, and who says so."""

    value: float
    """[-] in thicknesses from the inner face"""
    source: str
    """``DIN 6935``, ``table`` or ``test strip``"""


def table_k(name: str, ratio: float) -> K:
    """K of a metal by how tight the bend is.

    Parameters
    ----------
    name : str [-]
        Of the metal, as in material.csv.
    ratio : float [-]
        Inside radius over thickness.

    Returns
    -------
    k : K [-]

    Source
    ------
    [DIN-6935] for steels from r/t = 0.2 on; [Machinerys-Handbook] else, from memory.
    """
    if ratio < 0.0:
        raise RangeError(f"a bend's radius is not negative: r/t {ratio:.3g}")
    if material(name).family in _BY_DIN:
        try:
            return K(0.5 * correction_din(ratio), "DIN 6935")
        except RangeError:  # tighter than the standard goes
            pass
    ratios, values = _k_rows()
    return K(float(np.interp(ratio, ratios, values)), "table")


def least_radius(name: str, thickness: float) -> float | None:
    """Smallest inside radius of a square bend across the rolling direction [m]; None if unknown.

    Parameters
    ----------
    name : str [-]
        Of the metal.
    thickness : float [m]
        Of the sheet.

    Returns
    -------
    radius : float or None [m]
        None over the table's thickest sheet.

    Source
    ------
    [AA-Bend] for 5052-H32 and 6061-T6; the rest from memory.
    """
    for row in _rows("bend_radius.csv"):
        if row["material"] == name and thickness <= 1e-3 * float(row["up_to_mm"]) + _SLACK:
            return float(row["times_t"]) * thickness
    return None


@cache
def _k_rows() -> tuple[list[float], list[float]]:
    rows = [(float(r["ratio"]), float(r["k"])) for r in _rows("bend_k.csv")]
    return [r[0] for r in rows], [r[1] for r in rows]


@cache
def _rows(name: str) -> tuple[dict[str, str], ...]:
    text = Path(__file__).with_name(name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(_data(text)))


def _data(text: str) -> Iterator[str]:
    return (line for line in text.splitlines() if not line.startswith("#"))
