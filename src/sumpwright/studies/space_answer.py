# SPDX-License-Identifier: Apache-2.0
"""The figures of a free space: litres by depth and growth, what is lost to what, pan and fill."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.geometry.free_space import Space, opened, skin_of
from sumpwright.geometry.free_space_litre import Footprint, lost_to, volumes_to
from sumpwright.geometry.free_space_plan import Growth
from sumpwright.geometry.inside import SkinTree
from sumpwright.geometry.level import level_body, volume_below
from sumpwright.geometry.solid import Solid, less, mesh_of, solid_of
from sumpwright.job.load import LoadedJob
from sumpwright.job.revision import input_hash
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.oil_state import installed_up, oil_state
from sumpwright.studies.result import Triple
from sumpwright.studies.space_result import (
    SIDES,
    FillFits,
    LitreTable,
    Lowest,
    PanUse,
    SpaceResult,
    StickOut,
    Taken,
)
from sumpwright.studies.space_words import worded

if TYPE_CHECKING:
    from concurrent.futures import Future

    from sumpwright.studies.space import Room

Floats = NDArray[np.float64]
Progress = Callable[[str, float], None]

CURVE = 0.005
"""m between depths of the curve"""
ROWS = 0.010
"""m between depths of the table"""
FEW = 0.006
"""m between growths of the table, up to `MANY`, then twice that"""
MANY = 0.036
FINE = 0.010
"""m; between places of the pan that are looked at"""
OUT_BY = 1e-3
"""m; a pan that leaves the space by less is taken to be in it: the grid's skin is not finer"""


def answer(
    loaded: LoadedJob, bodies: Bodies, room: "Room", space: Space, progress: Progress
) -> SpaceResult:
    """All figures of a space, and what a person wants to hear of them."""
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(1) as beside:  # the table takes as long as all the rest
        deepest = -float(space.mesh.bounds[0, 2])
        table = beside.submit(_table, room, deepest)
        progress("litres by depth and kick-out", 0.68)
        return _figures(loaded, bodies, room, space, table, progress)


def _figures(
    loaded: LoadedJob,
    bodies: Bodies,
    room: "Room",
    space: Space,
    table: "Future[LitreTable]",
    progress: Progress,
) -> SpaceResult:
    asked, job = room.asked, loaded.job
    volume, deepest = space.mesh.volume, -float(space.mesh.bounds[0, 2])
    depths = np.append(np.arange(CURVE, deepest - 1e-6, CURVE), deepest)
    footprint = Footprint(room.opening.region, room.grid)
    found = SpaceResult(
        job=job.job,
        revision=job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=job.units,
        verdict="not judged",
        summary="",
        opening=room.opening.source,
        wall_m=room.wall,
        wall_from=asked.wall_of(job)[1],
        radius_m=room.radius,
        radius_from=asked.radius_of(job)[1],
        flange_m=asked.flange,
        **{f"{side}_m": size for side, size in vars(asked.growth).items()},
        inside_m3=volume,
        error_m3=abs(volume - _coarse(room)),
        outside_m3=skin_of(space.depth, space.grid, -room.wall).volume,
        deepest_m=deepest,
        lowest=tuple(Lowest(n.name, n.height_m, not k) for k, n in enumerate(room.limits)),
        step_m=room.grid.step,
        curve_depth_m=tuple(depths.tolist()),
        curve_m3=tuple(volumes_to(space, footprint, None, depths).tolist()),
        taken=tuple(_taken(room, progress)),
        pan=_pan_use(bodies, space),
        fill=_fill_fits(loaded, bodies, space),
        table=table.result(),
        findings=bodies.findings,
        note=job.note,
    )
    return worded(found, job)


def _coarse(room: "Room") -> float:
    """The volume on a grid of twice the step."""
    parts = [np.ascontiguousarray(p[::2, ::2, ::2]) for p in room.parts(room.asked.growth)]
    found = opened(parts, room.grid.halved, room.radius)
    return 0.0 if found.is_empty else found.mesh.volume


def growths(reach: float) -> tuple[float, ...]:
    """Kick-outs of the table [m]: every 6 mm, further out every 12 mm, and the last."""
    fine = np.arange(0.0, MANY + 1e-9, FEW)
    rough = np.arange(MANY + 2.0 * FEW, reach - 1e-9, 2.0 * FEW)
    return tuple(float(g) for g in (*fine, *rough, reach) if g <= reach + 1e-9)


def _table(room: "Room", deepest: float) -> LitreTable:
    footprint = Footprint(room.opening.region, room.grid)
    reach = room.asked.reach
    space = opened(room.parts(Growth(reach, reach, reach, reach)), room.grid, room.radius)
    # a kick-out needs the height of the cutter's ball under the flange
    first = ROWS * np.ceil((room.asked.flange + 2.0 * room.radius) / ROWS)
    depths = np.append(np.arange(first, deepest - 1e-6, ROWS), deepest)
    steps = growths(reach)
    volumes = {}
    for side in SIDES:
        to = depths if side == "both" else depths[-1:]
        columns = [volumes_to(space, footprint, _grown(side, g), to) for g in steps]
        volumes[side] = tuple(tuple(row) for row in np.array(columns).T.tolist())
    return LitreTable(tuple(depths.tolist()), steps, volumes)


def _grown(side: str, by: float) -> Growth:
    return Growth(left=by, right=by) if side == "both" else Growth(**{side: by})


def _taken(room: "Room", progress: Progress) -> Iterator[Taken]:
    """Each obstacle alone, over all cases and in each."""
    bare = np.minimum.reduce(room.bare(room.asked.growth))
    for i, obstacle in enumerate(room.margins.obstacles):
        progress(f"what the {obstacle.name} takes", 0.82)
        lost, middle = lost_to(bare, room.margins.all_moves(i), room.grid)
        fields = [room.margins.one(i, k) for k in range(len(room.moves))]
        alone = [lost_to(bare, field, room.grid)[0] for field in fields]
        worst = int(np.argmax(alone))
        yield Taken(
            obstacle=obstacle.name,
            needed_m=obstacle.needed,
            lost_m3=lost,
            at_rest_m3=alone[0],
            worst_case=room.moves[worst].name,
            worst_m3=alone[worst],
            middle_m=None if middle is None else _triple(middle),
        )


def _pan_use(bodies: Bodies, space: Space) -> PanUse:
    """The present inside, below the rail, against the space."""
    pan = solid_of(bodies.new.cavity, what="the new pan's inside")
    pan = pan.trim_by_plane((0.0, 0.0, -1.0), 0.0)
    room = solid_of(space.mesh, what="the free space")
    inside = float((pan ^ room).volume())
    return PanUse(
        name=bodies.new.name,
        volume_m3=float(pan.volume()),
        inside_m3=inside,
        share=inside / space.mesh.volume,
        out=tuple(sorted(_stick_outs(less(pan, [room]), space), key=lambda s: -s.volume_m3)),
    )


def _stick_outs(outside: Solid, space: Space) -> Iterator[StickOut]:
    tree = SkinTree(space.mesh)
    for piece in outside.decompose():
        # a flat floor has corners only at its edges; what is far out lies between them
        mesh = mesh_of(piece.refine_to_length(FINE))
        # up to the rail it is open: there nothing sticks out
        points = mesh.vertices[mesh.vertices[:, 2] < -OUT_BY]
        if not len(points):
            continue
        distance, _ = tree.nearest(points)
        k = int(distance.argmax())
        if distance[k] > OUT_BY:
            yield StickOut(float(piece.volume()), float(distance[k]), _triple(points[k]))


def _fill_fits(loaded: LoadedJob, bodies: Bodies, space: Space) -> FillFits | None:
    """The rule of the fill's ledger, asked of the space."""
    job = loaded.job
    state = oil_state(job, bodies, job.new, bodies.new)
    if state is None:
        return None
    up, body = installed_up(bodies), level_body(space.mesh)
    top = space.mesh.vertices[space.mesh.vertices[:, 2] > -1e-9]
    highest, by = float((top @ up).min()), "the rail"
    gap = job.requirements.crank_gap
    if bodies.crank_sweep is not None and isinstance(gap, float):
        crank = float(bodies.crank_sweep.lowest_height(up[None])[0]) - gap
        if crank < highest:
            highest, by = crank, "the crank gap"
    most = float(volume_below(body, up, highest)[0]) / state.expansion
    return FillFits(state.full, most, by, most >= state.full)


def _triple(point: Floats) -> Triple:
    x, y, z = (float(c) for c in point)
    return x, y, z
