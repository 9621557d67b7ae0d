# SPDX-License-Identifier: Apache-2.0
"""What `shape` answers. SI; keys carry their unit."""

from dataclasses import asdict, dataclass, fields
from typing import Any

from sumpwright.errors import Finding
from sumpwright.studies.part import Part

KERNEL = ("solids", "metal")


@dataclass(frozen=True)
class DrawnZone:
    """One zone as drawn."""

    name: str
    deepest_m: float
    """Below the rail"""
    top_m: float
    """Of its roof below the rail; 0 where it is open to it"""
    corner_m: float
    """Smallest radius of its upright corners"""
    floor_radius_m: float


@dataclass(frozen=True)
class DrawnBoss:
    """One boss as drawn."""

    name: str
    kind: str
    thread: str
    """Empty where its hole is plain"""
    bore_m: float
    at_m: tuple[float, float, float]


@dataclass(frozen=True)
class ShapeResult:
    """The new pan drawn from numbers."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    verdict: str
    """``met``: a pan that cannot be drawn is an input problem"""
    holds_m3: float
    """Of the inside, before anything stands in it"""
    outside_m3: float
    metal_m3: float
    skin_m2: float
    """Area of the whole skin of the metal"""
    material: str
    mass_kg: float
    low_m: tuple[float, float, float]
    """Smallest x, y, z of the outside"""
    high_m: tuple[float, float, float]
    wall_m: float
    floor_m: float
    flange_m: float
    """Its thickness"""
    edge_m: float
    """Length of its outer edge"""
    holes: int
    zones: tuple[DrawnZone, ...]
    bosses: tuple[DrawnBoss, ...]
    relieved_m3: float
    """What the room for crank and rods adds to the inside"""
    ground_m: float | None
    """Height of the pan's lowest point over the ground, the engine at rest"""
    guard: str
    """The lowest of the obstacles that guard the pan; empty without one"""
    guard_over_m: float | None
    """How far its lowest point lies above the pan's; negative: it lies below, as it should"""
    findings: tuple[Finding, ...]
    solids: Any = None
    """The kernel's; not in the JSON"""
    metal: Any = None
    """The metal's mesh; not in the JSON"""

    def parts(self) -> tuple[Part, ...]:
        """The pan in one piece, as it weighs when finished; `halves` says what it is made of."""
        note = "welded from its halves"
        part = Part("pan", "pan", "machined", material=self.material, mass=self.mass_kg, note=note)
        return (part,)

    def as_json(self) -> dict[str, Any]:
        """All of it but the kernel's solids."""
        said = {f.name: getattr(self, f.name) for f in fields(self) if f.name not in KERNEL}
        lists = ("zones", "bosses", "findings")
        return said | {key: [asdict(item) for item in said[key]] for key in lists}
