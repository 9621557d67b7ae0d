# SPDX-License-Identifier: Apache-2.0
"""The shapes that the pictures of a free space show, and its skin for the page: bare arrays."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.free_space_grid import Field, Grid
from sumpwright.geometry.free_space_skin import Skin, inner_skin
from sumpwright.geometry.mesh import Mesh

if TYPE_CHECKING:
    from sumpwright.studies.space import Spaced

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class NearBody:
    """An obstacle in the engine's frame, at rest."""

    name: str
    mesh: Mesh
    keep: Field
    """(nx, ny, nz) [m] how far a place is from where no outside of a pan may be: nearer than the
    gap in some case of movement"""


@dataclass(frozen=True, eq=False)
class SpaceScene:
    """Everything the picture draws, engine frame, metres."""

    grid: Grid
    space: Mesh
    floor: Floats
    """(nx, ny) depth of the space's floor below the rail; 0 where there is none"""
    opening: list[Floats]
    pan: Mesh
    bodies: tuple[NearBody, ...]
    low: Field
    """(nx, ny, nz) [m] how far a place is from being lower than the pan's outside may be"""


def space_scene(spaced: "Spaced") -> SpaceScene:
    """The scene of an answer."""
    from sumpwright.geometry.region import outlines_of

    room, pose = spaced.room, spaced.bodies.pose
    bodies = tuple(
        NearBody(
            obstacle.name,
            Mesh(pose.to_engine(obstacle.mesh.vertices), obstacle.mesh.faces),
            room.margins.all_moves(k) + np.float32(room.wall),
        )
        for k, obstacle in enumerate(room.margins.obstacles)
    )
    return SpaceScene(
        grid=room.grid,
        space=spaced.space.mesh,
        floor=_floor(spaced),
        opening=outlines_of(room.opening.region),
        pan=spaced.bodies.new.cavity,
        bodies=bodies,
        low=room.low + np.float32(room.wall),
    )


def _floor(spaced: "Spaced") -> Floats:
    """Where each column first meets the space from below, linear between two points."""
    depth, z = spaced.space.depth.astype(float), spaced.room.grid.axes[2]
    within = depth > 0.0
    first = np.argmax(within, axis=2)
    i, j = np.indices(first.shape)
    before = np.maximum(first - 1, 0)
    a, b = depth[i, j, before], depth[i, j, first]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(first > 0, np.clip(b / (b - a), 0.0, 1.0), 0.0)
    floor = -(z[first] - share * spaced.room.grid.step)
    return np.where(within.any(axis=2), np.maximum(floor, 0.0), 0.0)


def space_skin(spaced: "Spaced", progress: Callable[[str, float], None] | None = None) -> Skin:
    """The space's skin with few triangles, inside the true space: for files and for the page."""
    if progress is not None:
        progress("drawing the skin in until it keeps every gap", 0.9)
    return inner_skin(spaced.space, spaced.room.spare)
