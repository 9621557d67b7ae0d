# SPDX-License-Identifier: Apache-2.0
"""How much pan fits below the rail? The largest makeable space that keeps every clearance.

Limits in `space_limit.py`, distances in `space_field.py`, litres and comparisons in
`space_answer.py`, sentences in `space_words.py`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.free_space import Space, opened
from sumpwright.geometry.free_space_grid import Field, Grid, grid_round
from sumpwright.geometry.free_space_plan import Growth, depth_in, plan_parts, swept
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.clearance import Move, moves_of
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.space_ask import SpaceAsked
from sumpwright.studies.space_field import Margins, margins_of
from sumpwright.studies.space_limit import (
    DepthLimit,
    deepest_z,
    depth_limits,
    depth_margin,
    lowest_car,
    refuse_bottomless,
)
from sumpwright.studies.space_opening import Opening, opening_of
from sumpwright.studies.space_result import SpaceResult

Floats = NDArray[np.float64]
Progress = Callable[[str, float], None]

STEP = 0.0035
"""m between the grid's points, unless that makes more than `MOST`"""
MOST = 1_700_000
LEAST_STEP = 0.001


@dataclass(frozen=True, eq=False)
class Room:
    """Everything that says where the inside of a pan may be."""

    asked: SpaceAsked
    opening: Opening
    moves: tuple[Move, ...]
    limits: tuple[DepthLimit, ...]
    wall: float
    radius: float
    grid: Grid
    margins: Margins
    low: Field
    """Distance of each point to being too low"""
    inner: Floats
    """(nx, ny) depth in the opening"""

    def bare(self, growth: Growth) -> tuple[Field, ...]:
        """Distance to what the rail, the sides and the ground do not allow."""
        allowed = depth_in(swept(self.opening.region, growth), self.grid)
        plan = plan_parts(self.inner, allowed, self.grid, flange=self.asked.flange)
        return (*plan, self.low)

    def parts(self, growth: Growth) -> tuple[Field, ...]:
        """Distance to what each limit does not allow: these, and every obstacle."""
        others = (self.margins.all_moves(k) for k in range(len(self.margins.obstacles)))
        return (*self.bare(growth), *others)

    def spare(self, points: Floats) -> Floats:
        """What engine-frame points (n, 3) keep beyond what they must, by exact distances [m]."""
        spare = self.margins.exact(points)
        if self.limits:
            floor = self.limits[0].height_m + self.wall
            spare = np.minimum(spare, lowest_car(points, self.moves) - floor)
        if self.asked.depth is not None:
            spare = np.minimum(spare, points[:, 2] + self.asked.depth)
        return np.asarray(spare)


@dataclass(frozen=True, eq=False)
class Spaced:
    """The answer with its bodies, for those who draw and write."""

    loaded: LoadedJob
    bodies: Bodies
    room: Room
    space: Space
    """As asked for"""
    result: SpaceResult


def space_of(
    folder: Path, asked: SpaceAsked | None = None, progress: Progress | None = None
) -> SpaceResult:
    """Free space of the job in `folder`."""
    return space_with_bodies(folder, asked, progress).result


def space_with_bodies(
    folder: Path, asked: SpaceAsked | None = None, progress: Progress | None = None
) -> Spaced:
    """The same with its bodies; InputError where the job lacks what it needs."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    say("reading geometry", 0.0)
    return space_with(loaded, read_bodies(loaded, None), asked or SpaceAsked(), say)


def space_with(loaded: LoadedJob, bodies: Bodies, asked: SpaceAsked, progress: Progress) -> Spaced:
    """The same for those who have job and bodies."""
    from sumpwright.studies.space_answer import answer

    room = room_of(loaded, bodies, asked, progress)
    progress("opening the room by the cutter", 0.62)
    space = opened(room.parts(asked.growth), room.grid, room.radius, beyond=room.wall)
    if space.is_empty:
        raise InputError([_no_room(loaded, room)])
    return Spaced(loaded, bodies, room, space, answer(loaded, bodies, room, space, progress))


def room_of(loaded: LoadedJob, bodies: Bodies, asked: SpaceAsked, progress: Progress) -> Room:
    """Where the inside of a pan may be, on a grid."""
    job = loaded.job
    moves = moves_of(job, bodies.pose)
    limits = depth_limits(job, bodies, moves)
    refuse_bottomless(loaded, limits, asked.depth)
    opening = opening_of(loaded, bodies)
    wall, radius = asked.wall_of(job)[0], asked.radius_of(job)[0]
    height = limits[0].height_m + wall if limits else -np.inf
    grid = _grid(loaded, opening, moves, height, asked, radius)
    progress("distances to the obstacles", 0.1)
    margins = margins_of(
        grid,
        bodies.obstacles,
        moves,
        wall=wall,
        far=radius + 2.0 * grid.step,
        folder=loaded.folder,
        progress=progress,
    )
    progress("what rail and ground leave", 0.6)
    low = depth_margin(grid, moves, height, asked.depth)
    inner = depth_in(opening.region, grid)
    return Room(asked, opening, moves, limits, wall, radius, grid, margins, low, inner)


def _grid(
    loaded: LoadedJob,
    opening: Opening,
    moves: tuple[Move, ...],
    height: float,
    asked: SpaceAsked,
    radius: float,
) -> Grid:
    """Round all that may be asked: every side to the reach, down to the lowest that is allowed."""
    x0, y0, x1, y1 = (1e-3 * edge for edge in opening.region.bounds())
    x0, y0, x1, y1 = x0 - asked.reach, y0 - asked.reach, x1 + asked.reach, y1 + asked.reach
    corners = np.array([(x, y) for x in (x0, x1) for y in (y0, y1)])
    deep = deepest_z(corners, moves, height) if np.isfinite(height) else -np.inf
    deep = deep if asked.depth is None else max(deep, -asked.depth)
    if deep > -2.0 * radius:
        raise InputError([_too_shallow(loaded, deep)])
    count = (x1 - x0) * (y1 - y0) * (radius - deep)
    least = max((count / MOST) ** (1.0 / 3.0), LEAST_STEP)
    step = max(STEP if asked.step is None else asked.step, least)
    top = radius + 3.0 * step
    return grid_round([x0, y0, deep], [x1, y1, top], step)


def _too_shallow(loaded: LoadedJob, deep: float) -> Problem:
    return Problem(
        code="SPAC-503",
        where=loaded.where("pose", "height"),
        found=f"the lowest that the inside may be is {-1e3 * deep:.0f} mm below the rail",
        needed="room for the cutter between the rail and the crossmember or the ground",
        do="check `pose.height`, the guard and the limits, or ask for a thinner wall",
    )


def _no_room(loaded: LoadedJob, room: Room) -> Problem:
    """Nothing hangs together with the opening: because of an obstacle, or the cutter."""
    names = [o.name for o in room.margins.obstacles]
    bare = opened(room.bare(room.asked.growth), room.grid, room.radius)
    found = f"an opening that a cutter of {2e3 * room.radius:.4g} mm does not go into"
    where, do = loaded.where("rail", "opening"), "take a smaller cutter, or check the opening"
    if not bare.is_empty:
        least = [float((room.margins.all_moves(k)[bare.centres]).mean()) for k in range(len(names))]
        k = int(np.argmin(least))
        found = f"the {names[k]} and its gap leave nothing free below the opening"
        where = loaded.where("obstacles", k)
        do = "check the obstacle's place and unit, its `clearance`, and the pose"
    return Problem("SPAC-504", where, found, "room that begins at the opening", do)
