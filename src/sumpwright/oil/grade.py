# SPDX-License-Identifier: Apache-2.0
"""What a viscosity grade promises, and what an oil of that grade is commonly like.

The limits are a standard's. The typical oil is a guess with a name on it: use measured
viscosities and density from the oil's data sheet wherever there are any.
"""

import re
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from sumpwright.errors import RangeError
from sumpwright.oil.table import rows
from sumpwright.oil.viscosity import MM2_S, ViscosityLine, viscosity_line
from sumpwright.oil.viscosity_index import viscosity_at_40

EDITION = "J300_201501"
"""Edition of the table; the standard is revised, and older tables differ."""

_TEXT = re.compile(r"(?:SAE)?[\s-]*(?:(\d{1,2})\s*W)?[\s/-]*(\d{1,2})?")
_KELVIN = 273.15
_MPA_S = 1e-3


@dataclass(frozen=True)
class GradeLimits:
    """Limits that an oil of the grade must keep; None where the grade sets none."""

    grade: str
    kv100_min: float
    """Kinematic viscosity at 100 degC, smallest [m^2/s]."""
    kv100_max: float | None
    """Kinematic viscosity at 100 degC, must stay below [m^2/s]."""
    hths_min: float | None
    """Viscosity at 150 degC and high shear rate, smallest [Pa s]."""
    cranking_max: float | None
    """Viscosity while cranking, largest [Pa s] at `cranking_temperature`."""
    cranking_temperature: float | None
    """[K]"""
    pumping_max: float | None
    """Viscosity while pumping, largest [Pa s] at `pumping_temperature`, no yield stress."""
    pumping_temperature: float | None
    """[K]"""
    edition: str = EDITION


@dataclass(frozen=True)
class TypicalViscosity:
    """Viscosities assumed for an oil of which only the grade is known."""

    grade: str
    nu_40: float
    """[m^2/s] at 40 degC."""
    nu_100: float
    """[m^2/s] at 100 degC."""
    viscosity_index: float
    line: ViscosityLine
    """Through the two points above."""
    assumption: str
    """What was assumed, as a sentence for the report."""
    assumed: bool = True


@dataclass(frozen=True)
class TypicalDensity:
    """Density assumed for an oil of which only the grade is known."""

    grade: str
    rho_15: float
    """[kg/m^3] at 15 degC."""
    assumption: str
    """What was assumed, as a sentence for the report."""
    assumed: bool = True


def grade_name(text: str) -> str:
    """The grade as the standard writes it: ``10W-40`` of ``SAE 10w40``.

    Parameters
    ----------
    text : str [-]
        As a person types it: upper or lower case, with or without SAE, dash, slash or space.

    Returns
    -------
    grade : str [-]

    Raises
    ------
    RangeError
        If the table has no such grade; names the nearest ones.

    Source
    ------
    [SAE-J300]. Checked by tests/oil/test_grade.py.
    """
    match = _TEXT.fullmatch(text.strip().upper())
    winter, hot = match.groups() if match else (None, None)
    name = "-".join(part for part in (winter and f"{winter}W", hot) if part)
    if name not in _known():
        near = ", ".join(_nearest(text, winter, hot))
        raise RangeError(f"{text!r} is no SAE engine oil grade of {EDITION}; near: {near}")
    return name


def grade_limits(text: str) -> GradeLimits:
    """Limits that an oil of the grade must keep.

    Parameters
    ----------
    text : str [-]
        Grade such as ``10W-40``, ``SAE 30`` or ``5w30``.

    Returns
    -------
    limits : GradeLimits [-]
        In SI.

    Raises
    ------
    RangeError
        If the table has no such grade; names the nearest ones.

    Source
    ------
    [SAE-J300] table of 2015-01. Checked by tests/oil/test_grade.py.
    """
    name = grade_name(text)
    cold, hot = _rows_of(name)
    minima = [float(row["kv100_min"]) for row in (cold, hot) if row]
    return GradeLimits(
        grade=name,
        kv100_min=max(minima) * MM2_S,  # a multigrade keeps the limits of both its grades
        kv100_max=_number(hot, "kv100_max", MM2_S),
        hths_min=_number(hot, "hths_min", _MPA_S),
        cranking_max=_number(cold, "cranking_max", _MPA_S),
        cranking_temperature=_number(cold, "cranking_at", 1.0, _KELVIN),
        pumping_max=_number(cold, "pumping_max", _MPA_S),
        pumping_temperature=_number(cold, "pumping_at", 1.0, _KELVIN),
    )


def typical_viscosity(text: str) -> TypicalViscosity:
    """Viscosities assumed for an oil of which only the grade is known.

    At 100 degC the middle of what the grade allows; at 40 degC what a viscosity index common for
    its winter grade means. For a 10W-40 the width of the grade alone moves the viscosity at 40 degC
    by 18 % either way, and an index 20 off by another 14 %.

    Parameters
    ----------
    text : str [-]
        Grade such as ``10W-40`` or ``SAE 30``.

    Returns
    -------
    typical : TypicalViscosity [-]
        Marked as assumed, with the sentence that says so.

    Raises
    ------
    RangeError
        If the grade is unknown, or a winter grade alone, which has no upper limit at 100 degC.

    Source
    ------
    [SAE-J300] for the range, [ASTM-D2270] for the index, [common-practice] for its value.
    Checked by tests/oil/test_grade.py.
    """
    limits = grade_limits(text)
    if limits.kv100_max is None:
        raise RangeError(
            f"{limits.grade} alone has no upper limit at 100 degC, so no typical viscosity; "
            "give two measured viscosities"
        )
    index = float(_typical_row(limits.grade)["viscosity_index"])
    nu_100 = 0.5 * (limits.kv100_min + limits.kv100_max)
    nu_40 = float(viscosity_at_40(nu_100, index))
    return TypicalViscosity(
        grade=limits.grade,
        nu_40=nu_40,
        nu_100=nu_100,
        viscosity_index=index,
        line=viscosity_line(nu_1=nu_40, t_1=40 + _KELVIN, nu_2=nu_100, t_2=100 + _KELVIN),
        assumption=(
            f"viscosity of a typical SAE {limits.grade} oil: {nu_100 / MM2_S:.1f} mm²/s at 100 °C "
            f"(middle of the grade) and viscosity index {index:.0f} (common practice, no source)"
        ),
    )


def typical_density(text: str) -> TypicalDensity:
    """Density assumed for an oil of which only the grade is known.

    Parameters
    ----------
    text : str [-]
        Grade such as ``10W-40`` or ``SAE 30``.

    Returns
    -------
    typical : TypicalDensity [-]
        Marked as assumed, with the sentence that says so.

    Raises
    ------
    RangeError
        If the grade is unknown.

    Source
    ------
    [common-practice], no source. Checked by tests/oil/test_grade.py.
    """
    name = grade_name(text)
    rho = float(_typical_row(name)["density_15"])
    return TypicalDensity(
        grade=name,
        rho_15=rho,
        assumption=(
            f"density of a typical SAE {name} oil: {rho:.0f} kg/m³ at 15 °C "
            "(common practice, no source)"
        ),
    )


@cache
def _known() -> tuple[str, ...]:
    """Every grade that can exist: alone, or winter and hot with room between their limits."""
    table = rows("sae_j300")
    winter = {r["grade"]: float(r["kv100_min"]) for r in table if r["grade"].endswith("W")}
    hot = {r["grade"]: float(r["kv100_max"]) for r in table if r["kv100_max"]}
    both = [f"{w}-{h}" for w, low in winter.items() for h, high in hot.items() if low < high]
    return (*winter, *hot, *both)


def _nearest(text: str, winter: str | None, hot: str | None) -> list[str]:
    """Up to three grades like the one that was typed."""
    if winter is None or hot is None:
        return get_close_matches(text.strip().upper(), _known(), 3) or ["5W-30", "10W-40", "30"]

    def distance(name: str) -> tuple[int, int]:
        cold, warm = name.split("W-")
        return abs(int(cold) - int(winter)), abs(int(warm) - int(hot))

    return sorted((name for name in _known() if "W-" in name), key=distance)[:3]


def _rows_of(name: str) -> tuple[dict[str, str] | None, dict[str, str] | None]:
    """Winter row and hot row of a grade. A 40 behind 0W, 5W or 10W has a row of its own."""
    parts = name.split("-")
    winter = next((p for p in parts if p.endswith("W")), None)
    fits = [r for r in rows("sae_j300") if not r["only_with"] or winter in r["only_with"].split()]
    found = {p: next(r for r in fits if r["grade"] == p) for p in parts}
    return (
        next((r for p, r in found.items() if p.endswith("W")), None),
        next((r for p, r in found.items() if not p.endswith("W")), None),
    )


def _typical_row(name: str) -> dict[str, str]:
    """The row of the typical-oil table for a grade's winter part."""
    winter = name.split("-")[0] if "W" in name else "none"
    return next(row for row in rows("typical_oil") if row["winter"] == winter)


def _number(
    row: dict[str, str] | None, key: str, factor: float, offset: float = 0.0
) -> float | None:
    return float(row[key]) * factor + offset if row and row[key] else None
