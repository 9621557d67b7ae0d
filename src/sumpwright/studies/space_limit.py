# SPDX-License-Identifier: Apache-2.0
"""How deep the pan may go: the crossmember, the ground at ride height and at full bump."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.clearance import lowest_point
from sumpwright.geometry.free_space_grid import Field, Grid
from sumpwright.job.load import LoadedJob
from sumpwright.job.model import Job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.clearance import Move

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class DepthLimit:
    """A height over the ground that no part of the pan may be under, in any case of movement."""

    name: str
    height_m: float
    """Car frame"""


def depth_limits(job: Job, bodies: Bodies, moves: tuple[Move, ...]) -> tuple[DepthLimit, ...]:
    """Every limit there is, the strictest first; by the ledger's own rules."""
    found = _limits(job, bodies, moves)
    return tuple(sorted(found, key=lambda limit: -limit.height_m))


def _limits(job: Job, bodies: Bodies, moves: tuple[Move, ...]) -> Iterator[DepthLimit]:
    asked = job.requirements
    guards = [o for o in bodies.obstacles if o.guard]
    if guards and asked.guard != "off":
        low = min(guards, key=lambda o: float(o.mesh.bounds[0, 2]))
        height = _height(asked.guard, float(low.mesh.bounds[0, 2]), bodies, moves)
        if height is not None:
            yield DepthLimit(f"the {low.name}", height)
    if job.pose.height is None:
        return
    height = _height(asked.ground, 0.0, bodies, moves)
    if height is not None:
        yield DepthLimit("the ground at ride height", height)
    if job.ride is not None:
        height = _height(asked.ground_at_bump, job.ride.bump_travel, bodies, moves)
        if height is not None:
            yield DepthLimit("the ground at full bump", height)


def _height(
    asked: float | str, base: float, bodies: Bodies, moves: tuple[Move, ...]
) -> float | None:
    """Lowest height of the pan: `asked` over `base`, or as low as the stock pan."""
    if isinstance(asked, float):
        return base + asked
    if asked == "off" or bodies.stock is None or bodies.stock.outside is None:
        return None
    outside = bodies.stock.outside
    return min(float(lowest_point(outside, m.rotation, m.shift)[2]) for m in moves)


def refuse_bottomless(
    loaded: LoadedJob, limits: tuple[DepthLimit, ...], depth: float | None
) -> None:
    """InputError SPAC-501 where nothing says how deep the space may go."""
    if limits or depth is not None:
        return
    key = "pose" if loaded.job.pose.height is None else "requirements"
    raise InputError(
        [
            Problem(
                code="SPAC-501",
                where=loaded.where(key),
                found="nothing that says how deep the pan may go",
                needed="`pose.height`, an obstacle with `guard: true`, or a depth",
                do="measure the rail's height over the ground, or ask with --depth '120 mm'",
            )
        ]
    )


def lowest_car(points: Floats, moves: tuple[Move, ...]) -> Floats:
    """(n,) least height in the car of engine-frame points (n, 3), over all moves [m]."""
    heights = [points @ m.rotation[2] + m.shift[2] for m in moves]
    return np.asarray(np.min(heights, axis=0))


def deepest_z(corners: Floats, moves: tuple[Move, ...], height: float) -> float:
    """Lowest z in the engine at which one of the columns (n, 2) stays over a height in the car."""
    found = []
    for move in moves:
        r, s = move.rotation[2], move.shift[2]
        found.append((height - s - corners @ r[:2]) / r[2])
    return float(np.max(found, axis=0).min())


def depth_margin(grid: Grid, moves: tuple[Move, ...], height: float, depth: float | None) -> Field:
    """Distance of each point to being too low, the inside's floor a wall over the limit."""
    x, y, z = grid.axes
    margin = np.full(grid.shape, np.inf, dtype=np.float32)
    for move in moves:
        r = move.rotation[2]
        plane = (r[0] * x)[:, None, None] + (r[1] * y)[None, :, None] + r[2] * z
        margin = np.minimum(margin, (plane + (move.shift[2] - height)).astype(np.float32))
    if depth is not None:
        margin = np.minimum(margin, (z + depth).astype(np.float32))
    return margin
