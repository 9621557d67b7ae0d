# SPDX-License-Identifier: Apache-2.0
"""What is printed: the pan as drawn, thinned or solid, with the rail's bolt holes. Millimetres."""

import numpy as np

from sumpwright.errors import InputError, Problem, SolveError
from sumpwright.geometry.cavity import with_crankcase
from sumpwright.geometry.edge import welded
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.solid import Solid, solid_of
from sumpwright.job.load import LoadedJob
from sumpwright.job.rail import Rail
from sumpwright.metal.clearance_hole import clearance_hole
from sumpwright.metal.print_section import Hole, upright_holes
from sumpwright.metal.print_section_joint import rod_of
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.cache import Entry, entry_mesh, kept, mesh_entry, mesh_key

MM = 1e3
OVER = 0.01
"""m; how far the inside is carried up, so that nothing is left over the opening."""
UNDER_RAIL = 1.0
"""mm; where the flange is looked at for holes."""


def print_body(loaded: LoadedJob, bodies: Bodies, *, solid: bool) -> tuple[Solid, str]:
    """The pan to print, and how it was made: ``as drawn``, ``thinned`` or ``solid``.

    Raises InputError where the job has no outside, or thinning it leaves nothing.
    """
    outside = bodies.new.outside
    if outside is None:
        raise InputError([_no_outside(loaded)])
    shop = loaded.job.shop
    wall = None if shop is None or shop.printer is None else shop.printer.wall
    how = "solid" if solid else "as drawn" if wall is None else "thinned"
    if how == "as drawn" and loaded.job.new.shape is not None:
        return solid_of(welded(_drawn(loaded)).scaled(MM), what="the drawn pan"), how
    body = solid_of(welded(outside).scaled(MM), what="the pan's outside")
    if not solid:
        inside = bodies.new.cavity if wall is None else _thinned(loaded, outside, wall)
        room = welded(with_crankcase(inside, OVER)).scaled(MM)
        body -= solid_of(room, what="the pan's inside")
    if body.is_empty() or body.volume() <= 0.0:
        raise SolveError("nothing of the pan is left to print: its inside reaches its outside")
    return _drilled(body, loaded.job.rail), how


def _drawn(loaded: LoadedJob) -> Mesh:
    """The metal of a pan from numbers, every boss drilled, from the cache where it is there."""
    from sumpwright.geometry.cad_measure import mesh_of
    from sumpwright.studies.shape_body import drawn_solids, form_key
    from sumpwright.studies.shape_form import pan_form

    form = pan_form(loaded, "new")

    def make() -> Entry:
        return mesh_entry(mesh_of(drawn_solids(loaded, "new", form).body))

    return entry_mesh(kept(loaded.folder, f"{form_key(form)[:24]}-print", make))[0]


def _thinned(loaded: LoadedJob, outside: Mesh, wall: float) -> Mesh:
    """The inside that a thinner wall leaves, from the cache where it is there."""
    from sumpwright.geometry.wall import flange_thickness, from_outside

    def make() -> Mesh:
        flange = flange_thickness(outside)
        try:
            return from_outside(outside, wall, flange=flange)
        except InputError as err:
            place = loaded.where("shop", "printer", "wall")
            raise err.placed(place) from err

    key = mesh_key(outside, how=("print wall", wall))
    return entry_mesh(kept(loaded.folder, key, lambda: mesh_entry(make())))[0]


def _drilled(body: Solid, rail: Rail | None) -> Solid:
    """With the rail's bolt holes, where the body does not have them."""
    if rail is None or not rail.holes:
        return body
    there = upright_holes(body, UNDER_RAIL)
    top = float(body.bounding_box()[5])
    for hole in rail.holes:
        x, y = (MM * c for c in hole.at)
        if _near(there, x, y):
            continue
        wide = MM * (hole.diameter or clearance_hole(rail.thread, rail.fit))
        low = _underside(body, x, y, top)
        if low is not None:
            body -= rod_of(np.array([x, y, low - 1.0]), np.array([x, y, top + 1.0]), 0.5 * wide)
    return body


def _near(holes: tuple[Hole, ...], x: float, y: float) -> bool:
    return any(np.hypot(h.x - x, h.y - y) < h.radius for h in holes)


def _underside(body: Solid, x: float, y: float, top: float) -> float | None:
    """Height where the flange under the rail ends at a hole; None where there is no flange."""
    hits = body.ray_cast([x, y, top + 1.0], [x, y, top - 1e3])
    heights = sorted((float(h.position[2]) for h in hits), reverse=True)
    return heights[1] if len(heights) > 1 and heights[0] > top - UNDER_RAIL else None


def _no_outside(loaded: LoadedJob) -> Problem:
    return Problem(
        "PRIN-501",
        loaded.where("new", "outside"),
        "no outside of the pan",
        "`new.outside`, or a pan from numbers by `new.shape`",
        "add one of them; the print is the outside less the inside",
    )
