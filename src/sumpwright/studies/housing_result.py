# SPDX-License-Identifier: Apache-2.0
"""What `housing` answers. SI; keys carry their unit."""

from dataclasses import asdict, dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.part import Part

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Solid:
    """One solid, as the kernel measures it."""

    key: str
    """Its file's name without ending"""
    name: str
    volume_m3: float
    area_m2: float
    size_m: tuple[float, float, float]
    """Along x, y and z"""
    material: str
    mass_kg: float
    body: Any = None
    """The kernel's; not in the JSON"""


@dataclass(frozen=True)
class ScreenPoint:
    """What the screen takes of the pressure at one state."""

    state: str
    """``hot`` or ``cold``"""
    temperature_k: float
    rpm: float
    flow_m3_s: float
    loss_pa: float


@dataclass(frozen=True)
class Room:
    """How near the housing comes to one thing in the pan."""

    what: str
    gap_m: float | None
    """None: further than was looked"""
    shared_m3: float
    """Of the housing within it"""


@dataclass(frozen=True)
class Bolting:
    """The bolts of the retaining flange."""

    thread: str
    count: int
    length_m: float
    """Of each screw's shank"""
    engagement_m: float
    """Of thread, as the screw really reaches"""
    ratio: float
    """Of that to its diameter"""


@dataclass(frozen=True, eq=False)
class HousingScene:
    """What a picture of the housing needs. Engine frame, metres."""

    cavity: Mesh
    bodies: tuple[tuple[str, Mesh], ...]
    """Key and skin of each solid"""
    centre: tuple[float, float]
    """Middle of the inlet"""
    bolts: tuple[tuple[float, float], ...]
    clearance: float
    """Diameter of the bolts' holes"""
    outlines: tuple[tuple[str, Floats], ...]
    """(k, 2) of ``plan``, ``inside``, ``inlet`` and ``screen``, seen from above"""


@dataclass(frozen=True)
class HousingResult:
    """The pickup housing of the new pan."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    verdict: str
    """``met``, or ``not met`` where it cannot stand there"""
    inlet_m: float
    """Height over the rail"""
    over_floor_m: float | None
    """From the rim to the floor"""
    height_m: float
    """From the inlet to the top of the roof"""
    low_profile: float
    """Height over the diameter of a round inlet of that area"""
    face_m2: float
    """Of the screen that oil goes through"""
    open_m2: float
    """Of that, not wire or sheet; the whole where there is no screen"""
    tube_m2: float
    curtain_m2: float | None
    """Rim's length times the height over the floor"""
    inside_m2: float
    """The narrowest way inside, from over the screen to the tube"""
    displaced_m3: float
    """Of the housing, its flange and bolts"""
    low_cover_m: float | None
    """Oil over the rim at the low mark, hot, engine running; None where no low mark is known"""
    screen: tuple[ScreenPoint, ...]
    bolting: Bolting | None
    room: tuple[Room, ...]
    solids: tuple[Solid, ...]
    findings: tuple[Finding, ...]
    made: tuple[Part, ...]
    scene: HousingScene | None = None
    """Not in the JSON"""

    def parts(self) -> tuple[Part, ...]:
        """The lines of the parts list."""
        return self.made

    def as_json(self) -> dict[str, Any]:
        """All of it but the kernel's solids."""
        said = {f.name: getattr(self, f.name) for f in fields(self) if f.name != "scene"}
        lists = ("screen", "room", "findings", "made")
        said |= {key: [asdict(item) for item in said[key]] for key in lists}
        kept = [f.name for f in fields(Solid) if f.name != "body"]
        said["solids"] = [{key: getattr(s, key) for key in kept} for s in self.solids]
        said["bolting"] = None if self.bolting is None else asdict(self.bolting)
        return said
