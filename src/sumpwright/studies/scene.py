# SPDX-License-Identifier: Apache-2.0
"""The bodies and surfaces that the report's pictures show: bare arrays, ready for another process.

A picture never computes a verdict: every number it prints comes from the CheckResult; the scene
only holds the shapes those numbers are about.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh
from sumpwright.studies.bodies import Bodies, PanBodies

Floats = NDArray[np.float64]
Which = Literal["new", "stock"]
Way = Literal["rest", "left", "right", "brake", "accelerate"]

RIM_POINTS = 48
"""Points round a pickup rim as drawn."""
CRANK_SIDES = 96
"""Sides of the crank sweep as drawn; the report draws few, the studies use the true cylinder."""


@dataclass(frozen=True, eq=False)
class PanShape:
    """One pan, engine frame, metres."""

    name: str
    cavity: Mesh
    """The inside that oil can fill, as far up as the hold was computed, less what stands in it."""
    outside: Mesh | None
    rim: Floats | None
    """(k, 3) points round the pickup's inlet."""
    dipstick: Floats | None
    """(2, 3) start and tip."""

    @property
    def skin(self) -> Mesh:
        """What the pan looks like from outside: its outside, else its cavity."""
        return self.cavity if self.outside is None else self.outside


@dataclass(frozen=True, eq=False)
class ObstacleShape:
    """A body of the car, car frame, metres."""

    name: str
    mesh: Mesh
    guard: bool


@dataclass(frozen=True)
class Surface:
    """Oil at rest, or at the acceleration where the pickup uncovers, in one pan."""

    pan: Which
    way: Way
    up: tuple[float, float, float]
    """Unit vector against effective gravity, engine frame."""
    height: float
    """Signed distance of the surface from the engine frame's origin along `up` [m]."""
    magnitude: float
    """Of the car's acceleration [g]; 0 at rest."""
    held: bool
    """True where the pickup is still covered: at rest, or to the largest g looked at."""


@dataclass(frozen=True, eq=False)
class GapField:
    """How close the new pan's outside comes to the obstacles, vertex by vertex."""

    gap: Floats
    """(n,) signed smallest distance to any obstacle [m], one for each vertex of new.skin."""
    needed: Floats
    """(n,) the gap asked for by that obstacle [m]; nan where none is asked for."""
    says: str
    """Which engine position it is for: ``engine at rest``, ``smallest over all movement``."""


@dataclass(frozen=True, eq=False)
class Scene:
    """Everything the pictures draw."""

    pose: Pose
    new: PanShape
    stock: PanShape | None
    obstacles: tuple[ObstacleShape, ...]
    crank: Mesh | None
    """The crank sweep, engine frame."""
    field: GapField | None
    surfaces: tuple[Surface, ...]

    @property
    def has_ground(self) -> bool:
        """Whether the pose says where the ground is."""
        return self.pose.z > 0.0

    def surface(self, pan: Which, way: Way) -> Surface | None:
        """The surface of one pan in one way, where there is one."""
        found = (s for s in self.surfaces if s.pan == pan and s.way == way)
        return next(found, None)

    def pan(self, which: Which) -> PanShape | None:
        """The new or the stock pan."""
        return self.new if which == "new" else self.stock


def scene_of(
    bodies: Bodies,
    *,
    dipsticks: dict[Which, Floats],
    field: GapField | None,
    surfaces: tuple[Surface, ...],
) -> Scene:
    """The scene of a job's bodies.

    `dipsticks` holds start and tip (2, 3) of each pan that has one, engine frame [m].
    """
    sweep = bodies.crank_sweep
    stock = bodies.stock
    return Scene(
        pose=bodies.pose,
        new=_shape(bodies.new, dipsticks.get("new")),
        stock=None if stock is None else _shape(stock, dipsticks.get("stock")),
        obstacles=tuple(ObstacleShape(o.name, o.mesh, o.guard) for o in bodies.obstacles),
        crank=None if sweep is None else sweep.mesh(CRANK_SIDES),
        field=field,
        surfaces=surfaces,
    )


def _shape(pan: PanBodies, dipstick: Floats | None) -> PanShape:
    rim = None if pan.rim is None else np.asarray(pan.rim.points(RIM_POINTS), dtype=float)
    return PanShape(pan.name, pan.room, pan.outside, rim, dipstick)
