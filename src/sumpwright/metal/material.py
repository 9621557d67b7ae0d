# SPDX-License-Identifier: Apache-2.0
"""What metals weigh, how they grow with heat and how stiff they are. Source: material.csv."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from sumpwright.errors import RangeError


@dataclass(frozen=True)
class Material:
    """A metal by the name the job gives it. SI."""

    name: str
    family: str
    """``steel``, ``stainless steel``, ``aluminium`` or ``grey iron``"""
    density: float
    """kg/m^3"""
    expansion: float
    """1/K, linear, mean from 20 to 100 degC"""
    modulus: float
    """Pa, of elasticity"""
    tempered: bool
    """Its strength comes from heat treatment or cold work, which a weld takes away"""


def material(name: str) -> Material:
    """The metal of that name.

    Parameters
    ----------
    name : str [-]
        As in the job: ``steel``, ``aluminium 6061-T6``; also ``aluminium`` and ``grey iron``.

    Returns
    -------
    material : Material [SI]

    Raises
    ------
    RangeError
        Where there is none of that name.
    """
    known = {m.name: m for m in materials()}
    if name not in known:
        raise RangeError(f"no metal is called '{name}'; there are {', '.join(known)}")
    return known[name]


@cache
def materials() -> tuple[Material, ...]:
    """All metals, in the table's order.

    Returns
    -------
    materials : tuple of Material [SI]

    Source
    ------
    [Metals-Handbook], from memory.
    """
    text = Path(__file__).with_suffix(".csv").read_text(encoding="utf-8")
    lines = (line for line in text.splitlines() if not line.startswith("#"))
    return tuple(
        Material(
            name=row["name"],
            family=row["family"],
            density=float(row["density_kg_m3"]),
            expansion=1e-6 * float(row["expansion_1e_6_k"]),
            modulus=1e9 * float(row["modulus_gpa"]),
            tempered=row["tempered"] == "yes",
        )
        for row in csv.DictReader(lines)
    )


def growth(name: str, length: float, rise: float) -> float:
    """How much longer a length of a metal becomes with heat [m].

    Parameters
    ----------
    name : str [-]
        Of the metal.
    length : float [m]
        When cold.
    rise : float [K]
        Of its temperature.

    Returns
    -------
    growth : float [m]

    Source
    ------
    [closed-form]: expansion times length times rise, with the table's mean expansion.
    """
    return material(name).expansion * length * rise
