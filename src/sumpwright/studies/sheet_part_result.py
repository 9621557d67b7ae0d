# SPDX-License-Identifier: Apache-2.0
"""What is cut, bent and nested from sheet: one frozen object that all faces show. SI."""

from dataclasses import asdict, dataclass
from typing import Any, Literal

from sumpwright.errors import Finding
from sumpwright.geometry.profile import Profile
from sumpwright.metal.bend import HANDBOOK, allowance_handbook, deduction
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern
from sumpwright.studies.part import Part
from sumpwright.studies.size_words import nominal, size_figures, sizes

Kind = Literal["baffle", "flap", "leaf"]
SQUARE = 1.5707963267948966


@dataclass(frozen=True, eq=False)
class SheetPart:
    """One part, as cut and as bent."""

    key: str
    """Its files' name without ending"""
    name: str
    kind: Kind
    material: str
    pattern: FlatPattern
    mass: float
    """kg"""
    warnings: tuple[Finding, ...] = ()
    """What belongs on its drawing"""
    stray: float | None = None
    """m that it comes back to its panel within, folded; None of what has no panel"""
    grain: str | None = None
    """``along`` or ``up``"""
    cost: float | None = None
    note: str = ""
    order: tuple[str, ...] = ()
    """Names of its bends, the first to be made first; empty where there is no such order"""

    @property
    def warned(self) -> bool:
        """Whether more than notes stand on its drawing."""
        return any(w.severity != "note" for w in self.warnings)

    def as_json(self) -> dict[str, Any]:
        """Everything but the drawing's helpers."""
        flat = self.pattern
        return {
            "key": self.key,
            "name": self.name,
            "kind": self.kind,
            "material": self.material,
            "thickness_m": flat.thickness,
            "mass_kg": self.mass,
            "area_m2": flat.area,
            "cut_length_m": flat.cut_length,
            "size_m": [float(v) for v in flat.size],
            "returns_within_m": self.stray,
            "grain": self.grain,
            "cost": self.cost,
            "note": self.note,
            "outline": _profile_json(flat.outline),
            "holes": [_profile_json(hole) for hole in flat.holes],
            "bends": [_bend_json(bend) for bend in flat.bends],
            "bend_order": list(self.order),
            "marks": [{"name": name, "line_m": line.tolist()} for name, line in flat.marks],
            "warnings": [asdict(w) for w in self.warnings],
        }


def _profile_json(profile: Profile) -> dict[str, Any]:
    return {"points_m": profile.points.tolist(), "bulges": profile.bulges.tolist()}


def _bend_json(bend: FlatBend) -> dict[str, Any]:
    return {
        "name": bend.name,
        "direction": "up" if bend.up else "down",
        "line_m": bend.middle.tolist(),
        "angle_rad": bend.angle,
        "radius_m": bend.radius,
        "k": bend.k,
        "k_from": bend.k_from,
        "allowance_m": bend.allowance,
        "deduction_m": bend_deduction(bend),
        "handbook_allowance_m": handbook_of(bend),
        "rolled": bend.rolled,
    }


def bend_deduction(bend: FlatBend) -> float | None:
    """None of a roll, which has no legs [m]."""
    if bend.rolled:
        return None
    return deduction(bend.angle, bend.radius, bend.thickness, bend.k)


def handbook_of(bend: FlatBend) -> float | None:
    """The machinist's rule for half-hard sheet, to hold a square bend's allowance against [m]."""
    if abs(bend.angle - SQUARE) > 1e-6:
        return None
    assert "half-hard" in HANDBOOK
    return allowance_handbook(bend.radius, bend.thickness, "half-hard")


@dataclass(frozen=True)
class LaidPart:
    """Where a part lies on a sheet."""

    key: str
    turn: float
    """rad, counter-clockwise, before it is moved"""
    shift: tuple[float, float]
    """m"""


@dataclass(frozen=True)
class CutSheet:
    """A sheet with what is cut from it."""

    key: str
    stock: str
    """The shop's name of it"""
    material: str
    thickness: float
    size: tuple[float, float]
    laid: tuple[LaidPart, ...]
    used: float
    """Share of its area that becomes parts"""
    price: float | None


@dataclass(frozen=True)
class Pin:
    """The pin of a hinge."""

    name: str
    key: str
    diameter: float
    length: float


@dataclass(frozen=True)
class StripResult:
    """What a strip bent as a test says."""

    material: str
    thickness: float
    radius: float
    k: float
    table: float
    """K that is used without it"""


@dataclass(frozen=True, eq=False)
class SheetsResult:
    """All sheet parts of a pan."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    currency: str
    items: tuple[SheetPart, ...]
    pins: tuple[Pin, ...]
    sheets: tuple[CutSheet, ...]
    strips: tuple[StripResult, ...]
    findings: tuple[Finding, ...]
    """Those of parts are the parts' own"""

    @property
    def verdict(self) -> str:
        """``not met`` where a part cannot be folded or cut as it is."""
        said = [*self.findings, *(w for item in self.items for w in item.warnings)]
        return "not met" if any(f.severity == "error" for f in said) else "met"

    def as_json(self) -> dict[str, Any]:
        """Everything, SI."""
        return {
            "job": self.job,
            "revision": self.revision,
            "input_hash": self.input_hash,
            "code_version": self.code_version,
            "units": self.units,
            "verdict": self.verdict,
            "currency": self.currency,
            "parts": [item.as_json() for item in self.items],
            "pins": [asdict(pin) for pin in self.pins],
            "sheets": [asdict(sheet) for sheet in self.sheets],
            "strips": [asdict(strip) for strip in self.strips],
            "findings": [asdict(f) for f in self.findings],
        }

    def parts(self) -> tuple[Part, ...]:
        """For the parts list."""
        return (*map(self._part, self.items), *(_pin_part(pin, self.units) for pin in self.pins))

    def _part(self, item: SheetPart) -> Part:
        on = next((s for s in self.sheets if any(at.key == item.key for at in s.laid)), None)
        size = size_figures(item.pattern.size, self.units, -1)
        flat = f"{size} x {nominal(item.pattern.thickness, self.units)} flat"
        return Part(
            key=item.key,
            name=item.name,
            how="cut and bent",
            material=item.material,
            mass=item.mass,
            stock=flat if on is None else f"{flat}, from {on.stock}",
            cost=item.cost,
            files=(f"sheets/{item.key}.dxf", f"sheets/{item.key}.svg"),
            note="; ".join([*([item.note] if item.note else []), *_short(item)]),
        )


def _short(item: SheetPart) -> list[str]:
    count = sum(w.severity != "note" for w in item.warnings)
    return [f"{count} warning{'s' * (count > 1)} on its drawing"] if count else []


def _pin_part(pin: Pin, units: str) -> Part:
    size = f"{nominal(pin.diameter, units)} x {sizes([pin.length], units)}"
    return Part(pin.key, f"{pin.name}, {size}", "bought", stock="round bar, cut to length")
