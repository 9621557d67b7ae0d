# SPDX-License-Identifier: Apache-2.0
"""The shapes that a film of the oil shows: bare arrays, engine frame, metres.

As with `Scene`, a picture takes every number it prints from the result; the scene only holds what
those numbers are about.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.frame import Pose
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import outlines_of
from sumpwright.geometry.sheet import sheets_of
from sumpwright.oil.door import Door

if TYPE_CHECKING:
    from sumpwright.studies.bodies import Bodies
    from sumpwright.studies.compartment import Parted

Floats = NDArray[np.float64]

RIM_POINTS = 48
"""Points round a pickup rim as drawn."""


@dataclass(frozen=True, eq=False)
class PanelShape:
    """A panel as far as it lies in the cavity."""

    name: str
    outlines: tuple[Floats, ...]
    """(k, 3) each; holes run the other way round, windows and doors among them."""


@dataclass(frozen=True, eq=False)
class DoorShape:
    """A trap door, shut."""

    name: str
    hinge: Floats
    """(2, 3) both ends of its hinge line."""
    reach: Floats
    """(3,) from the hinge to the free edge."""
    swing: Floats
    """(3,) square to the panel, to the side it opens to."""
    length: float
    """From the hinge to the free edge."""
    stop: float
    """Largest angle of opening [rad]."""
    ends: tuple[int, int] | None = None
    """Numbers of the compartments behind and ahead of it, the latter where it swings to."""

    def leaf(self, angle: float) -> Floats:
        """(4, 3) corners of the door, open by `angle` [rad]: hinge first, then the free edge."""
        arm = self.length * (np.cos(angle) * self.reach + np.sin(angle) * self.swing)
        return np.concatenate([self.hinge, self.hinge[::-1] + arm])


@dataclass(frozen=True, eq=False)
class MotionScene:
    """Everything a film of the oil draws; compartments in the order of the result's."""

    pose: Pose
    cavity: Mesh
    compartments: tuple[Mesh, ...]
    names: tuple[str, ...]
    panels: tuple[PanelShape, ...]
    doors: tuple[DoorShape, ...]
    rim: Floats | None
    """(k, 3) points round the pickup's inlet."""


def panel_shapes(panels: Sequence[Panel], cavity: Mesh) -> Iterator[PanelShape]:
    """The panels' sheets within a cavity, less their windows and doors."""
    for sheet in sheets_of(panels, cavity):
        for panel, metal in zip(sheet.panels, sheet.metal, strict=True):
            loops = outlines_of(sheet.section ^ metal)
            yield PanelShape(panel.name, tuple(sheet.lead.space(loop) for loop in loops))


def door_shape(name: str, door: Door, ends: tuple[int, int] | None) -> DoorShape:
    """A door of the network as it is drawn."""
    reach, swing = np.asarray(door.reach, dtype=float), np.asarray(door.swing, dtype=float)
    half = 0.5 * door.width * np.cross(reach, swing)
    hinge = np.stack([door.hinge - half, door.hinge + half])
    return DoorShape(name, hinge, reach, swing, door.length, door.stop, ends)


def motion_scene(bodies: "Bodies", parted: "Parted") -> MotionScene:
    """The scene of a job's new pan, parted by its baffles."""
    pan, ends = bodies.new, {way.door: (way.behind, way.ahead) for way in parted.passages}
    named = zip(parted.door_names, parted.doors, strict=True)
    return MotionScene(
        pose=bodies.pose,
        cavity=pan.cavity,
        compartments=parted.parts.bodies,
        names=parted.parts.names,
        panels=tuple(panel_shapes(parted.panels, pan.cavity)),
        doors=tuple(door_shape(name, door, ends.get(k)) for k, (name, door) in enumerate(named)),
        rim=None if pan.rim is None else np.asarray(pan.rim.points(RIM_POINTS), dtype=float),
    )
