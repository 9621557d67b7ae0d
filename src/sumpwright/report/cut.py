# SPDX-License-Identifier: Apache-2.0
"""One cut through a pan: the pan, the pickup, the crank and the car round it, in metres."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.section import CutPlane, Outlines, cut_plane, section_outlines
from sumpwright.report.clash import share_space, silhouette
from sumpwright.studies.scene import ObstacleShape, PanShape, Scene, Surface, Which

Floats = NDArray[np.float64]
Look = Literal["across", "along"]

SEEN: dict[Look, str] = {
    "across": "across the car, seen from behind",
    "along": "along the car, nose to the right",
}
_AXES = {
    "across": ((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
    "along": ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
}


@dataclass(frozen=True, eq=False)
class ObstacleCut:
    """A body of the car in the cut."""

    name: str
    outlines: Outlines
    clash: Floats | None
    """(2,) where the pan is in its way."""


@dataclass(frozen=True, eq=False)
class Cut:
    """What a vertical plane of the car through the pickup shows, in metres on the plane."""

    look: Look
    plane: CutPlane
    pan: PanShape
    inside: Outlines
    skin: Outlines
    crank: Floats | None
    """(k, 2) outline of the crank sweep as seen, whole, before and behind the cut."""
    obstacles: tuple[ObstacleCut, ...]
    rim: Floats | None
    """(2, 2) ends of the pickup's inlet as seen."""
    dipstick: Floats | None
    rail: Floats
    """(2, 2) where the pan rail's plane is cut, as wide as the pan."""

    @property
    def bounds(self) -> Floats:
        """(2, 2) of the pan below the rail, and the rail."""
        points = np.concatenate([*(self.skin or self.inside), self.rail])
        low, high = points.min(axis=0), points.max(axis=0)
        high[1] = self.rail[:, 1].max()
        return np.stack([low, high])


def cut_of(scene: Scene, which: Which, look: Look) -> Cut | None:
    """The cut through one pan's pickup, or through its middle where it has none."""
    pan = scene.pan(which)
    if pan is None:
        return None
    middle = pan.cavity.bounds.mean(axis=0) if pan.rim is None else pan.rim.mean(axis=0)
    origin = scene.pose.to_car(middle) * ([1.0, 0.0, 0.0] if look == "across" else [0.0, 1.0, 0.0])
    normal, across = _AXES[look]
    plane = cut_plane(origin=origin, normal=normal, across=across)

    def engine(mesh: Mesh | None) -> Outlines:
        return [] if mesh is None else _outlines(_in_car(scene, mesh), plane)

    def flat(points: Floats | None) -> Floats | None:
        return None if points is None else plane.flat(scene.pose.to_car(points))

    rim = flat(pan.rim)
    inside, skin = engine(pan.cavity), engine(pan.outside)
    sweep = None if scene.crank is None else flat(scene.crank.vertices)
    return Cut(
        look=look,
        plane=plane,
        pan=pan,
        inside=inside,
        skin=skin,
        crank=None if sweep is None else silhouette(sweep),
        obstacles=tuple(_obstacle(o, plane, skin) for o in scene.obstacles),
        rim=None if rim is None else rim[[int(rim[:, 0].argmin()), int(rim[:, 0].argmax())]],
        dipstick=flat(pan.dipstick),
        rail=_rail(scene, pan, plane),
    )


def _obstacle(obstacle: ObstacleShape, plane: CutPlane, skin: Outlines) -> ObstacleCut:
    outlines = _outlines(obstacle.mesh, plane)
    return ObstacleCut(obstacle.name, outlines, share_space(skin, outlines))


def _in_car(scene: Scene, mesh: Mesh) -> Mesh:
    return Mesh(scene.pose.to_car(mesh.vertices), mesh.faces)


def _outlines(mesh: Mesh, plane: CutPlane) -> Outlines:
    """The cut of a body; nothing of one that is open, which the findings speak of."""
    try:
        return section_outlines(mesh, plane)
    except RangeError:
        return []


def _rail(scene: Scene, pan: PanShape, plane: CutPlane) -> Floats:
    """Where the plane z = 0 of the engine is cut, from one side of the pan to the other."""
    tilt, height = plane.line_of(
        scene.pose.rotation[:, 2], float(scene.pose.rotation[:, 2] @ scene.pose.origin)
    )
    reach = plane.flat(scene.pose.to_car(pan.skin.vertices))[:, 0]
    u = np.array([reach.min(), reach.max()])
    return np.stack([u, (height - tilt[0] * u) / tilt[1]], axis=1)


def line_of(scene: Scene, cut: Cut, surface: Surface) -> tuple[Floats, float]:
    """Direction and height of the oil's surface on the cut."""
    up = scene.pose.rotation @ np.asarray(surface.up)
    return cut.plane.line_of(up, surface.height + float(up @ scene.pose.origin))
