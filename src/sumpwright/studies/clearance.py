# SPDX-License-Identifier: Apache-2.0
"""Does the pan clear the car, over every case of engine movement? Stock beside new."""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.clearance import lowest_point, smallest_gap
from sumpwright.geometry.frame import Pose, rotation_zyx
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.model import Job, Movement
from sumpwright.studies.bodies import Bodies, ObstacleBody, PanBodies
from sumpwright.studies.cache import Entry, kept, mesh_key
from sumpwright.studies.result import CaseGap, Clearance, GuardLine, ObstacleGap, Triple

Floats = NDArray[np.float64]

AT_REST = "at rest"


@dataclass(frozen=True, eq=False)
class Move:
    """One case: takes engine-frame points to the car frame."""

    name: str
    rotation: Floats
    shift: Floats


def clearance(job: Job, bodies: Bodies, folder: Path) -> Clearance | None:
    """Gaps of the new pan's outside, the stock pan's beside it; None without an outside.

    Gaps of bodies that have not moved or changed come from the job `folder`'s cache.
    """
    new = _pan_clearance(job, bodies, bodies.new, folder)
    if new is None or bodies.stock is None:
        return new
    return replace(new, stock=_pan_clearance(job, bodies, bodies.stock, folder))


def moves_of(job: Job, pose: Pose) -> tuple[Move, ...]:
    """The engine at rest, then every case of movement."""
    return (
        Move(AT_REST, pose.rotation, pose.origin),
        *(_moved(job, pose, m) for m in job.movement),
    )


def _moved(job: Job, pose: Pose, movement: Movement) -> Move:
    """Roll about the crank centreline in the engine, then the pose, then the shift in the car."""
    sweep = job.engine.crank_sweep
    by_numbers = sweep is not None and sweep.height is not None
    centre = np.array([0.0, sweep.side, sweep.height]) if by_numbers and sweep else np.zeros(3)
    roll = rotation_zyx(movement.roll, 0.0, 0.0)
    shift = pose.to_car(centre - roll @ centre) + np.array(movement.shift)
    return Move(movement.name, pose.rotation @ roll, shift)


def _pan_clearance(job: Job, bodies: Bodies, pan: PanBodies, folder: Path) -> Clearance | None:
    if pan.outside is None:
        return None
    moves = moves_of(job, bodies.pose)
    lows = [lowest_point(pan.outside, m.rotation, m.shift) for m in moves]
    lowest = min(range(len(moves)), key=lambda k: lows[k][2])
    grounded = job.pose.height is not None
    bump = job.ride.bump_travel if job.ride is not None else None
    low = float(lows[lowest][2])
    return Clearance(
        name=pan.name,
        obstacles=tuple(_obstacle_gap(o, pan.outside, moves, folder) for o in bodies.obstacles),
        lowest_point_m=_triple(lows[0]),
        guard=_guard(bodies, low, moves[lowest].name),
        ground_m=low if grounded else None,
        ground_at_bump_m=low - bump if grounded and bump is not None else None,
    )


def _obstacle_gap(
    obstacle: ObstacleBody, outside: Mesh, moves: tuple[Move, ...], folder: Path
) -> ObstacleGap:
    how = tuple((m.rotation.tolist(), m.shift.tolist()) for m in moves)
    key = mesh_key(outside, obstacle.mesh, how=("gap", how))
    rows = kept(folder, key, lambda: _gaps(outside, obstacle.mesh, moves)).arrays["gaps"]
    cases = tuple(
        CaseGap(m.name, float(row[0]), _triple(row[1:4]), _triple(row[4:7]))
        for m, row in zip(moves, rows, strict=True)
    )
    return ObstacleGap(obstacle.name, obstacle.needed, cases, min(cases, key=lambda c: c.gap_m))


def _gaps(outside: Mesh, obstacle: Mesh, moves: tuple[Move, ...]) -> Entry:
    """A row a move: signed distance, the place on the pan, the place on the obstacle."""
    found = smallest_gap(outside, obstacle, [(m.rotation, m.shift) for m in moves])
    rows = [[g.distance, *g.on_pan, *g.on_obstacle] for g in found]
    return Entry({"gaps": np.array(rows, dtype=float)})


def _guard(bodies: Bodies, pan_lowest: float, case: str) -> GuardLine | None:
    guards = [o for o in bodies.obstacles if o.guard]
    if not guards:
        return None
    low = min(guards, key=lambda o: float(o.mesh.bounds[0, 2]))
    hangs = float(low.mesh.bounds[0, 2])
    return GuardLine(low.name, hangs, pan_lowest, case, margin_m=pan_lowest - hangs)


def _triple(point: Floats) -> Triple:
    x, y, z = (float(c) for c in point)
    return x, y, z
