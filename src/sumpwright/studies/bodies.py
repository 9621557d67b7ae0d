# SPDX-License-Identifier: Apache-2.0
"""The bodies a job names, read, checked and placed; every other study starts from these."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding
from sumpwright.geometry.crank_sweep import CrankSweep
from sumpwright.geometry.frame import Pose
from sumpwright.geometry.level import LevelBody, level_body, volume_below
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.outline import outermost
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.rim import Rim

RAIL_FLATNESS = 1e-6
"""m; points this near the cavity's top belong to its rail."""


@dataclass(frozen=True, eq=False)
class PanBodies:
    """One pan, engine frame, metres."""

    key: str
    """Its section in the job file: ``new`` or ``stock``."""
    name: str
    cavity: Mesh
    """Inside volume below the pan rail."""
    oil_space: Mesh
    """The cavity with the crankcase walls carried up above the rail, where the job gives them."""
    outside: Mesh | None
    rim: Rim | None
    displacing: tuple[Mesh, ...] = ()
    """Bodies in the oil space that take up room."""
    displacing_names: tuple[str, ...] = ()
    panels: tuple[Panel, ...] = ()
    less: Mesh | None = None
    """`oil_space` without what displacing bodies and panels take up; None where there are none."""

    @property
    def room(self) -> Mesh:
        """Where oil can really be."""
        return self.oil_space if self.less is None else self.less

    @cached_property
    def level(self) -> LevelBody:
        """The room for oil, ready for level questions."""
        return level_body(self.room)

    @cached_property
    def holds(self) -> float:
        """Room for oil below the pan rail [m^3]."""
        if self.less is None:
            return self.cavity.volume
        return float(volume_below(self.level, [0.0, 0.0, 1.0], self.cavity.bounds[1, 2])[0])

    @cached_property
    def rail(self) -> NDArray[np.float64]:
        """(k, 3) outermost points of the cavity's opening: where a surface meets the rail first."""
        points = self.cavity.vertices[np.unique(self.cavity.faces)]
        flat = points[points[:, 2] >= points[:, 2].max() - RAIL_FLATNESS]
        return np.asarray(flat[outermost(flat[:, :2])])


@dataclass(frozen=True, eq=False)
class ObstacleBody:
    """A body of the car, car frame, metres."""

    name: str
    mesh: Mesh
    needed: float | None
    """Smallest gap to keep [m]; None where the job turned it off."""
    guard: bool


def _unplaced(*keys: str | int) -> str:
    return ".".join(map(str, keys))


@dataclass(frozen=True, eq=False)
class Bodies:
    """All bodies of a job."""

    new: PanBodies
    stock: PanBodies | None
    obstacles: tuple[ObstacleBody, ...]
    crank_sweep: CrankSweep | None
    pose: Pose
    findings: tuple[Finding, ...]
    where: Callable[..., str] = _unplaced
    """File, line and key of a part of the job, for problems that only its bodies show."""
