# SPDX-License-Identifier: Apache-2.0
"""What `prints` answers. SI; keys carry their unit."""

from dataclasses import asdict, dataclass, fields
from typing import Any

from sumpwright.errors import Finding
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.part import Part

FOLDER = "prints"


@dataclass(frozen=True)
class PrintPiece:
    """One thing to print, as it lies in the printer."""

    key: str
    """Its files' name without ending"""
    of: str
    """What it is a piece of"""
    count: int
    lies_on: str
    size_m: tuple[float, float, float]
    """As printed, before it shrinks"""
    volume_m3: float
    """As printed"""
    mass_kg: float
    """Printed solid"""
    cost: float | None
    """Of one, in the job's currency"""
    triangles: int
    mesh: Mesh
    """m; not in the JSON"""


@dataclass(frozen=True)
class PrintJoint:
    """How two pieces meet."""

    pieces: tuple[str, str]
    cut: str
    """Such as ``x 210.0 mm``"""
    area_m2: float
    """To glue"""
    kind: str
    """``pegs``, ``step`` or ``butt``"""
    keys: int
    """How many pegs or steps"""
    diameter_m: float | None
    """Of the pegs"""


@dataclass(frozen=True)
class PrintsResult:
    """All that is printed to try the fit."""

    job: str
    revision: str
    input_hash: str
    code_version: str
    units: str
    printer: str
    scale: float
    """What all is drawn larger by"""
    how: str
    """``as drawn``, ``thinned`` or ``solid``"""
    body_m3: float
    """Of the pan's print, before it is cut, as drawn"""
    pieces: tuple[PrintPiece, ...]
    joints: tuple[PrintJoint, ...]
    mass_kg: float
    cost: float | None
    currency: str
    findings: tuple[Finding, ...]

    def parts(self) -> tuple[Part, ...]:
        """The lines of the parts list."""
        return tuple(
            Part(
                key=f"print-{piece.key}",
                name=f"{piece.of}, to try the fit",
                how="printed",
                count=piece.count,
                material="printed",
                mass=piece.mass_kg,
                cost=piece.cost,
                files=tuple(f"{FOLDER}/{piece.key}.{end}" for end in ("3mf", "stl")),
                note="not for hot oil, not to be run",
            )
            for piece in self.pieces
        )

    def as_json(self) -> dict[str, Any]:
        """All of it but the meshes."""
        said = {f.name: getattr(self, f.name) for f in fields(self)}
        said |= {key: [asdict(item) for item in said[key]] for key in ("joints", "findings")}
        kept = [f.name for f in fields(PrintPiece) if f.name != "mesh"]
        said["pieces"] = [{key: getattr(p, key) for key in kept} for p in self.pieces]
        return said
