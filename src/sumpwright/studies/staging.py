# SPDX-License-Identifier: Apache-2.0
"""What the pictures show, made from a check: surfaces at rest and at the limits, distances."""

from dataclasses import replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.clearance import distance_field
from sumpwright.geometry.frame import effective_gravity, turning_accel
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.refine import refined
from sumpwright.job.load import LoadedJob
from sumpwright.job.model import Job, Pan
from sumpwright.studies.bodies import Bodies, ObstacleBody, PanBodies
from sumpwright.studies.cache import Entry, kept, mesh_key
from sumpwright.studies.check import Checked
from sumpwright.studies.clearance import Move, moves_of
from sumpwright.studies.hold import MAGNITUDES, situation
from sumpwright.studies.oil_state import dipstick_line
from sumpwright.studies.result import PanHold
from sumpwright.studies.scene import GapField, Scene, Surface, Way, Which, scene_of

Floats = NDArray[np.float64]

LONGEST_EDGE = 0.015
"""m; finer than the colours change."""
NEAR = 0.05
"""m; points further off than this at rest are not followed through the engine's movement."""
STICK_SHOWN = 0.6
"""m; length drawn of a stick whose tip is not given."""
DIRECTION: dict[Way, float] = {
    "left": np.pi / 2,
    "right": 1.5 * np.pi,
    "brake": np.pi,
    "accelerate": 0.0,
}


def scene(checked: Checked) -> Scene:
    """The scene of a check, for the report's pictures."""
    job, bodies, hold = checked.loaded.job, checked.bodies, checked.result.hold
    pans: list[tuple[Which, Pan, PanBodies, PanHold | None]] = [("new", job.new, bodies.new, hold)]
    if job.stock is not None and bodies.stock is not None:
        stock_hold = None if hold is None else hold.stock
        pans.append(("stock", job.stock, bodies.stock, stock_hold))
    surfaces = tuple(s for pan in pans for s in _surfaces(job, bodies, *pan))
    return replace(shapes(checked.loaded, bodies), surfaces=surfaces)


def shapes(loaded: LoadedJob, bodies: Bodies) -> Scene:
    """The scene of a job before anything is computed of its oil."""
    job = loaded.job
    pans: list[tuple[Which, Pan | None]] = [("new", job.new), ("stock", job.stock)]
    fine = _fine_outside(bodies)
    shown = bodies if fine is None else replace(bodies, new=replace(bodies.new, outside=fine))
    return scene_of(
        shown,
        dipsticks={w: _stick(p) for w, p in pans if p is not None and p.dipstick is not None},
        field=None if fine is None else _field(loaded.folder, job, bodies, fine),
        surfaces=(),
    )


def _surfaces(
    job: Job, bodies: Bodies, which: Which, pan: Pan, body: PanBodies, hold: PanHold | None
) -> list[Surface]:
    """Oil at rest and at the four limits, engine running at the hold speed."""
    here = situation(job, bodies, pan, body)
    if here is None or hold is None:
        return []
    limits: dict[Way, float] = {
        "rest": 0.0,
        "left": hold.left_g,
        "right": hold.right_g,
        "brake": hold.brake_g,
        "accelerate": hold.accelerate_g,
    }
    angles = np.array([DIRECTION.get(way, 0.0) for way in limits])
    sizes = np.array(list(limits.values()))
    up, height, _ = here.surfaces(effective_gravity(turning_accel(angles, sizes)))
    return [
        Surface(
            pan=which,
            way=way,
            up=(float(u[0]), float(u[1]), float(u[2])),
            height=float(h),
            magnitude=size,
            held=way == "rest" or size >= MAGNITUDES[-1],
        )
        for (way, size), u, h in zip(limits.items(), up, height, strict=True)
    ]


def _stick(pan: Pan) -> Floats:
    assert pan.dipstick is not None
    start, direction = dipstick_line(pan.dipstick)
    return np.stack([start, start + (pan.dipstick.length or STICK_SHOWN) * direction])


def _fine_outside(bodies: Bodies) -> Mesh | None:
    """The new pan's outside in triangles fine enough to colour, where there is reason to."""
    if bodies.new.outside is None or not bodies.obstacles:
        return None
    return refined(bodies.new.outside, LONGEST_EDGE)


def _field(folder: Path, job: Job, bodies: Bodies, fine: Mesh) -> GapField:
    """Smallest gap of each point of the outside over every case of movement."""
    moves = moves_of(job, bodies.pose)
    how = tuple((m.rotation.tolist(), m.shift.tolist()) for m in moves)
    key = mesh_key(fine, *(o.mesh for o in bodies.obstacles), how=how)
    gaps = kept(folder, key, lambda: _gaps(fine, bodies.obstacles, moves)).arrays["gaps"]
    nearest = gaps.argmin(axis=0)
    needed = np.array([np.nan if o.needed is None else o.needed for o in bodies.obstacles])
    says = "engine at rest" if len(moves) == 1 else "smallest over all movement"
    return GapField(gaps.min(axis=0), needed[nearest], says)


def _gaps(fine: Mesh, obstacles: tuple[ObstacleBody, ...], moves: tuple[Move, ...]) -> Entry:
    """(obstacles, points) smallest signed distance."""
    rest, *others = moves
    found = []
    for obstacle in obstacles:
        placed = fine.moved(rest.rotation, rest.shift)
        gap = distance_field(placed, [obstacle.mesh])
        near = np.flatnonzero(gap < NEAR)
        for move in others if len(near) else ():
            points = Mesh(fine.vertices[near], np.zeros((0, 3), dtype=np.int64))
            moved = points.moved(move.rotation, move.shift)
            gap[near] = np.minimum(gap[near], distance_field(moved, [obstacle.mesh]))
        found.append(gap)
    return Entry({"gaps": np.stack(found)})
