# SPDX-License-Identifier: Apache-2.0
"""What panels make of a cavity: compartments, what each holds, and the ways between them.

The cavity is cut by the panels' whole planes; pieces are then one again across every face that no
panel covers. A panel that covers only part of a connected face parts it all the same, and what it
leaves open (over a weir, beside it) is a way between the two compartments, as long as it covers at
least `least_share` of the face; below that share it is a rib in one compartment. A panel that oil
gets round by other, open faces parts nothing. Every panel displaces oil, whether it parts or not.
A door's leaf is taken to be as thick as nothing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.cell import Cells
from sumpwright.geometry.compartment_group import grouped
from sumpwright.geometry.compartment_name import hints_of, letters, place_order
from sumpwright.geometry.compartment_note import Idle, Note, notes_of
from sumpwright.geometry.edge import Ints, is_closed, welded
from sumpwright.geometry.inside import inside
from sumpwright.geometry.interface import arranged, interfaces_of
from sumpwright.geometry.link import Link, links_of
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel, panel_problems
from sumpwright.geometry.sheet import Sheet, sheets_of
from sumpwright.geometry.solid import Solid, less, mesh_of, solid_of

Floats = NDArray[np.float64]

LEAST_SHARE = 0.25
"""A panel that covers less of a face than this does not part it; common practice, no source."""
SLIT = 1e-3
"""m; what a panel leaves open along a wall or another panel is no way if narrower than this."""
_NOTHING = 1e-9  # m^3; a body under a cubic millimetre is the rest of a rounding


@dataclass(frozen=True, eq=False)
class Compartments:
    """A cavity as its panels part it."""

    bodies: tuple[Mesh, ...]
    """The oil space of each, closed, faces outward"""
    names: tuple[str, ...]
    """A, B, .. from the rear to the front, and from right to left where level"""
    hints: tuple[str, ...]
    """Where each is, such as ``front left``; empty in the middle"""
    links: tuple[Link, ...]
    notes: tuple[Note, ...]
    panel_volume: float
    """m^3 that the panels take up within the cavity"""
    solid_volume: float
    """m^3 that the displacing solids take up within the cavity"""

    @cached_property
    def volumes(self) -> Floats:
        """(n,) [m^3] of each body."""
        return np.array([body.volume for body in self.bodies])

    def holding(self, point: ArrayLike) -> int | None:
        """Number of the compartment that `point` (3,) [m] is in."""
        place = np.asarray(point, dtype=float)[None]
        return next((k for k, body in enumerate(self.bodies) if inside(body, place)[0]), None)


def compartments(
    cavity: Mesh,
    panels: Sequence[Panel],
    solids: Sequence[Mesh] = (),
    *,
    least_share: float = LEAST_SHARE,
    slit: float = SLIT,
    ceiling: float = np.inf,
) -> Compartments:
    """The compartments of a cavity and the ways between them.

    Parameters
    ----------
    cavity : Mesh [m]
        Closed, faces outward; where oil can be.
    panels : sequence of Panel [m]
        Baffles, trays, scrapers. Their order does not matter.
    solids : sequence of Mesh [m]
        Closed bodies in the cavity that displace oil: pickup housing, tube. They may overlap.
    least_share : float [-]
        Of the face between two compartments: a panel that covers less does not part them.
    slit : float [m]
        Drawing tolerance: strips narrower than this neither open a way nor close one.
    ceiling : float [m]
        Height of the pan rail: how much of a face panels cover counts up to there, however far the
        crankcase goes on above.

    Returns
    -------
    compartments : Compartments [m]

    Raises
    ------
    RangeError
        If a panel cannot be used (all `panel_problems` in one text) or a body is not closed.
    """
    problems = panel_problems(panels)
    if problems:
        raise RangeError("; ".join(problems))
    space, solid_volume = _less_solids(cavity, solids)
    sheets = sheets_of(panels, space)
    parting, cells, group, idle = _parted(space, sheets, least_share, slit, ceiling)
    bodies, panel_volume = _bodies(cells, group, [s for sheet in sheets for s in sheet.slabs()])
    order = place_order(bodies)
    rank = {int(old): new for new, old in enumerate(order)}
    links, slits = links_of(cells, group, parting, slit=slit)
    kept = tuple(
        replace(link, behind=rank[link.behind], ahead=rank[link.ahead])
        for link in links
        if link.behind in rank and link.ahead in rank
    )
    names = letters(len(order))
    over = [(rank.get(a, -1), rank.get(b, -1)) for a, b in _stacked(cells, group, parting)]
    own = tuple(bodies[k] for k in order)
    return Compartments(
        bodies=own,
        names=names,
        hints=hints_of(own, over),
        links=kept,
        notes=tuple(notes_of(sheets, idle, kept, slits, names, slit=slit)),
        panel_volume=panel_volume,
        solid_volume=solid_volume,
    )


def oil_room(cavity: Mesh, panels: Sequence[Panel], solids: Sequence[Mesh] = ()) -> Mesh:
    """What panels and displacing solids leave of a cavity, all compartments together.

    Parameters
    ----------
    cavity : Mesh [m]
        As `compartments` takes it.
    panels : sequence of Panel [m]
        As `compartments` takes them.
    solids : sequence of Mesh [m]
        As `compartments` takes them.

    Returns
    -------
    room : Mesh [m]
        Closed, faces outward; windows and doors are open in it.

    Raises
    ------
    RangeError
        As `compartments`.
    """
    problems = panel_problems(panels)
    if problems:
        raise RangeError("; ".join(problems))
    space, _ = _less_solids(cavity, solids)
    slabs = [slab for sheet in sheets_of(panels, space) for slab in sheet.slabs()]
    return welded(mesh_of(less(solid_of(space, what="the cavity"), slabs))) if slabs else space


def _less_solids(cavity: Mesh, solids: Sequence[Mesh]) -> tuple[Mesh, float]:
    body = welded(cavity)
    if not is_closed(body) or body.volume <= 0.0:
        raise RangeError("the cavity must be a closed body whose faces look outward")
    if not solids:
        return body, 0.0
    taken = [solid_of(welded(s), what=f"displacing solid {k + 1}") for k, s in enumerate(solids)]
    space = welded(mesh_of(less(solid_of(body, what="the cavity"), taken)))
    return space, body.volume - space.volume


def _parted(
    space: Mesh, sheets: Sequence[Sheet], least: float, slit: float, ceiling: float
) -> tuple[list[Sheet], Cells, Ints, list[Idle]]:
    """The sheets that part the space, its cells, their groups, and the sheets that part nothing.

    The latter do not cut in the end, so that they leave no seams.
    """
    parting, idle = list(sheets), list[Idle]()
    while True:
        cells = arranged(space, parting)
        found, crossings = interfaces_of(cells, parting, slit=slit, ceiling=ceiling)
        grouping = grouped(cells, found, crossings, least=least)
        out = set(range(len(parting))) - grouping.parting
        if not out:
            return parting, cells, grouping.group, idle
        cut = {i.sheet for i in found}
        idle += [Idle(parting[n], grouping.ribs.get(n), meets=n in cut) for n in sorted(out)]
        parting = [sheet for n, sheet in enumerate(parting) if n not in out]


def _bodies(cells: Cells, group: Ints, slabs: list[Solid]) -> tuple[dict[int, Mesh], float]:
    """Each group's space less the panels' material, by number, and how much that took."""
    bodies, taken = {}, 0.0
    for number in range(int(group.max()) + 1):
        whole = _skin(cells, group, number)
        near = [slab for slab in slabs if _boxes_meet(slab, whole)]
        body = mesh_of(less(solid_of(whole, what="a compartment"), near)) if near else whole
        taken += whole.volume - body.volume
        if body.volume > _NOTHING:
            bodies[number] = body
    return bodies, taken


def _skin(cells: Cells, group: Ints, number: int) -> Mesh:
    behind = group[cells.behind] == number
    ahead = (cells.ahead >= 0) & (group[cells.ahead] == number)
    out, back = cells.faces[behind & ~ahead], cells.faces[ahead & ~behind]
    used, faces = np.unique(np.concatenate([out, back[:, ::-1]]), return_inverse=True)
    return Mesh(cells.vertices[used], faces.reshape(-1, 3))


def _boxes_meet(slab: Solid, body: Mesh) -> bool:
    box = np.asarray(slab.bounding_box()).reshape(2, 3)
    return bool((box[0] <= body.bounds[1]).all() and (box[1] >= body.bounds[0]).all())


def _stacked(cells: Cells, group: Ints, sheets: Sequence[Sheet]) -> Iterator[tuple[int, int]]:
    """Pairs of groups of which the second lies over the first: their panel is nearly level."""
    steep = np.array([sheet.lead.normal[2] for sheet in sheets])
    for number in np.flatnonzero(np.abs(steep) > np.sqrt(0.5)):
        on = cells.plane == number
        pairs = np.stack([group[cells.behind[on]], group[cells.ahead[on]]], axis=1)
        for a, b in np.unique(pairs[pairs[:, 0] != pairs[:, 1]], axis=0).tolist():
            yield (a, b) if steep[number] > 0.0 else (b, a)
