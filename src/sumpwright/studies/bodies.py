# SPDX-License-Identifier: Apache-2.0
"""The bodies a job names, read, checked and placed; every other study starts from these."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sumpwright.errors import Finding
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh

if TYPE_CHECKING:
    from sumpwright.geometry.crank_sweep import CrankSweep
    from sumpwright.geometry.rim import Rim


@dataclass(frozen=True)
class PanBodies:
    """One pan, engine frame, metres."""

    name: str
    cavity: Mesh
    """Inside volume below the pan rail."""
    oil_space: Mesh
    """The cavity with the crankcase walls carried up above the rail, where the job gives them."""
    outside: Mesh | None
    rim: "Rim | None"


@dataclass(frozen=True)
class ObstacleBody:
    """A body of the car, car frame, metres."""

    name: str
    mesh: Mesh
    needed: float | None
    """Smallest gap to keep [m]; None where the job turned it off."""
    guard: bool


@dataclass(frozen=True)
class Bodies:
    """All bodies of a job."""

    new: PanBodies
    stock: PanBodies | None
    obstacles: tuple[ObstacleBody, ...]
    crank_sweep: "CrankSweep | None"
    pose: Pose
    findings: tuple[Finding, ...]
