# SPDX-License-Identifier: Apache-2.0
"""What the page's 3D view draws, part by part: triangles, the lines drawn over them, colours."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh
from sumpwright.report.flat import sheet_triangles
from sumpwright.studies.motion_scene import DoorShape, MotionScene
from sumpwright.studies.scene import GapField, PanShape, Scene

if TYPE_CHECKING:
    from sumpwright.web.kept_job import KeptJob

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

CREASE = float(np.cos(np.radians(32.0)))
"""As in the report's pictures."""
NEVER = -1e3
"""m asked for where nothing is: no gap is less."""


@dataclass(frozen=True, eq=False)
class Part:
    """One thing that can be shown or hidden, metres."""

    name: str
    kind: str
    frame: str
    """``engine`` or ``car``"""
    points: Floats
    triangles: Ints
    edges: Ints
    """(e, 2) numbers of points: the lines that an eye looks for"""
    loops: tuple[Ints, ...] = ()
    """Numbers of points, in order round or along; for what has no skin"""
    fine: "Fine | None" = None
    said: dict[str, Any] = field(default_factory=dict)
    """More of its own, for the header"""


@dataclass(frozen=True, eq=False)
class Fine:
    """A part's skin again, in triangles small enough to be coloured."""

    points: Floats
    triangles: Ints
    gap: Floats
    """(n,) room to the nearest obstacle"""
    needed: Floats
    """(n,) asked for there"""


def pan_parts(kept: "KeptJob", shapes: Scene, motion: MotionScene) -> Iterator[Part]:
    """Everything that stands still under the car."""
    outside = kept.bodies.new.outside
    if outside is not None:
        skin = body_part(shapes.new.name, "outside", outside)
        yield replace(skin, fine=_fine(shapes.new.skin, shapes.field))
    yield from motion_parts(kept, motion)
    if shapes.stock is not None:
        yield from _stock(shapes.stock)
    if shapes.crank is not None:
        yield body_part("crank sweep", "crank", shapes.crank)
    if shapes.new.dipstick is not None:
        yield _line("dipstick", "dipstick", shapes.new.dipstick)
    for obstacle in shapes.obstacles:
        more = {"guard": obstacle.guard}
        yield body_part(obstacle.name, "obstacle", obstacle.mesh, frame="car", said=more)


def motion_parts(kept: "KeptJob", motion: MotionScene) -> Iterator[Part]:
    """What oil moves among: the inside, its compartments, panels, doors, the pickup."""
    parted, body = kept.parted, kept.bodies.new
    yield body_part("inside", "cavity", motion.cavity)
    for number, mesh in enumerate(motion.compartments):
        more = {"where": parted.parts.hints[number], "pickup": number == parted.pickup}
        yield body_part(motion.names[number], "compartment", mesh, said=more)
    for panel in motion.panels:
        if panel.outlines:
            yield _panel(panel.name, panel.outlines)
    for door in motion.doors:
        yield _door(door, motion.names)
    if motion.rim is not None:
        yield _line("pickup mouth", "pickup", motion.rim)
    for name, mesh in zip(body.displacing_names, body.displacing, strict=True):
        yield body_part(name, "solid", mesh)


def body_part(
    name: str, kind: str, mesh: Mesh, *, frame: str = "engine", said: dict[str, Any] | None = None
) -> Part:
    """A body with its creases."""
    edges = creases(mesh)
    return Part(name, kind, frame, mesh.vertices, mesh.faces, edges, said=said or {})


def creases(mesh: Mesh) -> Ints:
    """(e, 2) edges where the skin bends sharply or ends."""
    normals = mesh.area_vectors
    size = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = normals / np.where(size > 0.0, size, 1.0)
    sides = np.sort(mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    face = np.repeat(np.arange(len(mesh.faces)), 3)
    order = np.lexsort((sides[:, 1], sides[:, 0]))
    sides, face = sides[order], face[order]
    first = np.flatnonzero(np.any(np.diff(sides, axis=0, prepend=-1), axis=1))
    count = np.diff(np.append(first, len(sides)))
    pair = first[count == 2]
    bend = np.einsum("ij,ij->i", normals[face[pair]], normals[face[pair + 1]])
    return np.concatenate([sides[pair[bend < CREASE]], sides[first[count != 2]]])


def _fine(mesh: Mesh, found: GapField | None) -> Fine | None:
    if found is None:
        return None
    needed = np.where(np.isnan(found.needed), NEVER, found.needed)
    return Fine(mesh.vertices, mesh.faces, found.gap, needed)


def _stock(stock: PanShape) -> Iterator[Part]:
    yield body_part(stock.name, "stock", stock.skin)
    if stock.rim is not None:
        yield _line(f"{stock.name}: pickup mouth", "stock-pickup", stock.rim)


def _line(name: str, kind: str, points: Floats) -> Part:
    none = np.zeros((0, 3), dtype=np.int64)
    return Part(name, kind, "engine", points, none, none[:, :2], (np.arange(len(points)),))


def _panel(name: str, outlines: tuple[Floats, ...]) -> Part:
    points, triangles = sheet_triangles(outlines)
    ends = np.cumsum([0, *(len(loop) for loop in outlines)])
    rings = [np.arange(a, b) for a, b in pairwise(ends)]
    edges = np.concatenate([np.stack([ring, np.roll(ring, -1)], axis=1) for ring in rings])
    return Part(name, "panel", "engine", points, triangles, edges)


def _door(door: DoorShape, names: tuple[str, ...]) -> Part:
    """Shut; how it swings is said beside it."""
    more = {
        "door": {
            "hinge": door.hinge.tolist(),
            "reach": door.reach.tolist(),
            "swing": door.swing.tolist(),
            "length": float(door.length),
            "stop": float(door.stop),
            "ends": None if door.ends is None else [names[k] for k in door.ends],
        }
    }
    round_it = np.array([[0, 1], [1, 2], [2, 3], [3, 0]])
    faces = np.array([[0, 1, 2], [0, 2, 3]])
    return Part(door.name, "door", "engine", door.leaf(0.0), faces, round_it, said=more)
