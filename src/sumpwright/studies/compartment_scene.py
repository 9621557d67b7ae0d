# SPDX-License-Identifier: Apache-2.0
"""The shapes that the picture of a parted pan shows: bare arrays, engine frame, metres."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.link import Link
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import outlines_of
from sumpwright.geometry.section import Outlines
from sumpwright.geometry.sheet import sheets_of

if TYPE_CHECKING:
    from sumpwright.studies.compartment import Looked

Floats = NDArray[np.float64]

RIM_POINTS = 48
"""Points round a pickup rim as drawn."""


@dataclass(frozen=True, eq=False)
class Sheet:
    """A baffle as far as it lies in the oil space; its windows and doors belong to it."""

    panel: Panel
    outlines: Outlines
    """In the panel's along and up; holes run the other way round"""


@dataclass(frozen=True, eq=False)
class Way:
    """A window or a trap door between two compartments."""

    panel: str
    name: str
    polygon: Floats
    """(k, 3)"""
    normal: Floats
    """(3,) of its panel, the way oil passes a door"""
    ends: tuple[str, str]
    """Names of the compartments it leads from and to"""
    door: bool


@dataclass(frozen=True, eq=False)
class CompartmentScene:
    """Everything the picture draws; compartments in the order of the result's."""

    space: Mesh
    """The whole oil space, before anything stands in it"""
    bodies: tuple[Mesh, ...]
    names: tuple[str, ...]
    solids: tuple[tuple[str, Mesh], ...]
    sheets: tuple[Sheet, ...]
    ways: tuple[Way, ...]
    rim: Floats | None
    """(k, 3) points round the pickup's mouth"""
    level: tuple[Floats, float] | None
    """Up, and the height of the hot full oil at rest along it"""
    axes: Floats = field(default_factory=lambda: np.eye(3))
    """(3, 3) forward, left and up of the car, to the nearest quarter turn"""


def compartment_scene(looked: "Looked") -> CompartmentScene:
    """The scene of a parted pan."""
    from sumpwright.studies.compartment import at_rest

    body, parted = looked.bodies.new, looked.parted
    ways = {(k.panel, k.opening, k.behind, k.ahead): k for k in parted.parts.links if k.opening}
    return CompartmentScene(
        space=body.oil_space,
        bodies=parted.parts.bodies,
        names=parted.parts.names,
        solids=tuple(zip(body.displacing_names, body.displacing, strict=True)),
        sheets=tuple(_sheets(parted.panels, body.oil_space)),
        ways=tuple(_way(link, parted.parts.names) for link in ways.values()),
        rim=None if body.rim is None else np.asarray(body.rim.points(RIM_POINTS), dtype=float),
        level=at_rest(looked.loaded.job, looked.bodies),
        axes=looked.bodies.pose.quarter_turn,
    )


def _sheets(panels: tuple[Panel, ...], space: Mesh) -> Iterator[Sheet]:
    for sheet in sheets_of(panels, space):
        for panel, outline in zip(sheet.panels, sheet.outlines, strict=True):
            loops = [sheet.lead.space(loop) for loop in outlines_of(sheet.section ^ outline)]
            yield Sheet(panel, [panel.flat(loop) for loop in loops])


def _way(link: Link, names: tuple[str, ...]) -> Way:
    back = link.door is not None and link.door.side < 0
    ends = (link.ahead, link.behind) if back else (link.behind, link.ahead)
    return Way(
        panel=link.panel,
        name=link.opening,
        polygon=link.polygon,
        normal=-link.normal if back else link.normal,
        ends=(names[ends[0]], names[ends[1]]),
        door=link.door is not None,
    )
