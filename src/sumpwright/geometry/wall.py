# SPDX-License-Identifier: Apache-2.0
"""The cavity that a wall of even thickness leaves inside a pan's outside."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem
from sumpwright.geometry.cavity import capped, inside, with_crankcase
from sumpwright.geometry.edge import pieces, side_keys, sides_of, welded
from sumpwright.geometry.mesh import Mesh, Points
from sumpwright.geometry.plane_cut import cap_of_top

Floats = NDArray[np.float64]

MOST_FACES = 20_000
"""More than this takes over ten seconds; the outline of a pan needs a tenth of it."""
_ARC_STEP = np.radians(10.0)
# normals along a re-entrant edge: the arc's chord falls short by wall x (1 - cos 5 deg) = 0.4 %
_SLIVER = 1e-7
# m^3; a room under 0.1 mL is a crack between slabs, not a well
_FLAT = 1e-4
# rad; two faces that meet at less are one plane: the slit between is under 1e-4 of the wall


def from_outside(
    outside: Mesh, wall: float, rail_height: float = 0.0, *, flange: float = 0.0
) -> Mesh:
    """The cavity of a pan whose filled outside and wall thickness are known.

    Every point of the cavity is at least `wall` from the outside's skin, and no further than it
    must be: flat walls and their corners come out exact, edges that are re-entrant outside get the
    round inside that a bend of even thickness has, short of true by up to 0.4 % of the wall. At
    the rail plane the cavity is cut off flush and capped; the skin counts as going on straight up
    above it. Pockets that the wall cuts off from the rail opening are left solid. A rail flange
    that is part of the outside must be given: left out, oil is counted above its ledge.

    Parameters
    ----------
    outside : Mesh [m]
        Closed and filled, reaching up to the rail plane at least; z is up.
    wall : float [m]
        Thickness square to the skin.
    rail_height : float [m]
        z of the rail plane.
    flange : float [m]
        Thickness of a rail flange that is part of the outside (see `flange_thickness`): it counts
        as solid, and the cavity goes straight up through it.

    Returns
    -------
    cavity : Mesh [m]
        Closed, of positive volume.

    Raises
    ------
    InputError
        GEO-251 to GEO-254 as `capped`, GEO-256 where the wall fills the pan, GEO-259 where the
        outside is not one closed solid or has too many faces.
    """
    cut = rail_height - flange
    body = with_crankcase(capped(outside, height=cut), 2.0 * wall)
    solid = _solid(body)
    if len(body.faces) > MOST_FACES:
        solid = solid.simplify(wall / 100.0)
        body = _mesh(solid)
        if len(body.faces) > MOST_FACES:
            raise InputError([_bad_outside(f"{len(outside.faces)} faces")])
    metal = _union(_slabs(body, wall) + _round_edges(body, wall))
    space = (solid - metal).trim_by_plane((0.0, 0.0, -1.0), -cut)
    cavity = _open_rooms(_mesh(space), cut)
    if not len(cavity.faces):
        raise InputError([_no_room(wall)])
    return with_crankcase(cavity, flange)


def _open_rooms(space: Mesh, cut: float) -> Mesh:
    """The rooms that open at the cut, its plane made flat to the last digit.

    Not welded before they are told apart: rooms may touch in a point.
    """
    flush = np.abs(space.vertices[:, 2] - cut) < 1e-9
    vertices = np.where(flush[:, None] & [False, False, True], cut, space.vertices)
    piece = pieces(sides_of(space.faces), len(vertices))[space.faces[:, 0]]
    six = np.einsum("ij,ij->i", space.corners[:, 0], 2.0 * space.area_vectors)
    volume = np.bincount(piece, six) / 6.0
    opens = np.bincount(piece, flush[space.faces].any(axis=1)) > 0
    rooms = Mesh(vertices, space.faces[((volume > _SLIVER) & opens)[piece]])
    posts = np.flatnonzero(volume < -_SLIVER)  # metal that stands free within a room
    first = np.array([space.faces[np.argmax(piece == k), 0] for k in posts], dtype=np.int64)
    if len(posts) and len(rooms.faces):
        posts = posts[inside(rooms, vertices[first])]
    faces = np.concatenate([rooms.faces, space.faces[np.isin(piece, posts)]])
    return welded(Mesh(vertices, faces if len(rooms.faces) else rooms.faces))


def flange_thickness(outside: Mesh, rail_height: float = 0.0, *, most: float = 0.02) -> float:
    """How thick the rail flange of a pan's outside is.

    Parameters
    ----------
    outside : Mesh [m]
        Closed and filled; z is up.
    rail_height : float [m]
        z of the rail plane.
    most : float [m]
        Level faces that look down from further below the rail than this are the pan's floor.

    Returns
    -------
    thickness : float [m]
        Rail height less that of the lowest such face; 0 where the walls run up to the rail bare.
    """
    steep = outside.area_vectors[:, 2] / np.linalg.norm(outside.area_vectors, axis=1).clip(1e-300)
    heights = outside.corners[:, :, 2].min(axis=1)
    down = (steep < -0.99) & (heights > rail_height - most) & (heights < rail_height - 1e-6)
    return float(rail_height - heights[down].min()) if down.any() else 0.0


def _slabs(body: Mesh, wall: float) -> list[Any]:
    """For each face but the top's, the space within `wall` of it on the inner side."""
    from manifold3d import Manifold

    sides = ~cap_of_top(body, 1e-6)
    corners = body.corners[sides]
    inner = corners - wall * _normals(body)[sides, None]
    return [Manifold.hull_points(p) for p in np.concatenate([corners, inner], axis=1)]


def _round_edges(body: Mesh, wall: float) -> list[Any]:
    """Wedges that fill what the slabs leave open along edges and corners that are re-entrant."""
    from manifold3d import Manifold

    normals = _normals(body)
    wedges: list[Points] = []
    at_corner: dict[int, list[Floats]] = {}
    for edge, (left, right) in _reentrant(body, normals):
        fan = _arc(normals[left], normals[right])
        ends = body.vertices[edge]
        wedges.append(np.concatenate([ends] + [ends - wall * n for n in fan]))
        for v in edge.tolist():
            at_corner.setdefault(v, []).append(fan)
    for v, fans in at_corner.items():
        fan = np.concatenate(fans)
        middle = fan.sum(axis=0) / max(float(np.linalg.norm(fan.sum(axis=0))), 1e-300)
        ball = np.concatenate([fan, middle[None]])
        wedges.append(body.vertices[v] - np.concatenate([np.zeros((1, 3)), wall * ball]))
    return [Manifold.hull_points(p) for p in wedges]


def _reentrant(body: Mesh, normals: Points) -> list[tuple[NDArray[np.int64], tuple[int, int]]]:
    """Edges where the solid's angle is over 180 degrees, with their two faces; not the top's."""
    count = len(body.faces)
    edges = sides_of(body.faces)
    there, back = side_keys(edges)
    order = np.argsort(there)
    mate = order[np.searchsorted(there, back, sorter=order)] % count
    own = np.arange(len(edges)) % count
    along = body.vertices[edges[:, 1]] - body.vertices[edges[:, 0]]
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    turn = np.einsum("ij,ij->i", np.cross(normals[own], normals[mate]), along)
    top = cap_of_top(body, 1e-6)
    found = np.flatnonzero((turn < -_FLAT) & (edges[:, 0] < edges[:, 1]) & ~top[own] & ~top[mate])
    return [(edges[i], (int(own[i]), int(mate[i]))) for i in found]


def _arc(first: Floats, last: Floats) -> Floats:
    """(k, 3) unit vectors from one to another by the shorter way, at most 10 degrees apart."""
    angle = float(np.arctan2(np.linalg.norm(np.cross(first, last)), first @ last))
    share = np.linspace(0.0, 1.0, int(np.ceil(angle / _ARC_STEP)) + 1)[:, None]
    return np.asarray(
        (np.sin((1 - share) * angle) * first + np.sin(share * angle) * last) / np.sin(angle)
    )


def _normals(body: Mesh) -> Points:
    """(m, 3) unit normals; zero for a face without area, which then moves nowhere."""
    size = np.linalg.norm(body.area_vectors, axis=1, keepdims=True)
    return np.asarray(body.area_vectors / np.where(size > 0, size, 1.0))


def _union(solids: list[Any]) -> Any:
    """All of them in one; neighbours first, because small unions are quick ones."""
    from manifold3d import Manifold, OpType

    while len(solids) > 1:
        groups = [solids[i : i + 64] for i in range(0, len(solids), 64)]
        solids = [Manifold.batch_boolean(group, OpType.Add) for group in groups]
        for solid in solids:
            solid.num_tri()  # done now, or the library puts it all off and takes longer at once
    return solids[0]


def _solid(body: Mesh) -> Any:
    from manifold3d import Error, Manifold, Mesh64

    solid = Manifold(Mesh64(body.vertices.copy(), body.faces.astype(np.uint64)))
    if solid.status() != Error.NoError or solid.volume() <= 0:
        raise InputError([_bad_outside("a skin that is not one closed solid")])
    return solid


def _mesh(solid: Any) -> Mesh:
    raw = solid.to_mesh64()
    return Mesh(np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts, dtype=np.int64))


def _bad_outside(found: str) -> Problem:
    return Problem(
        code="GEO-259",
        where="pan outside",
        found=found,
        needed=f"one closed, filled solid of at most {MOST_FACES} faces",
        do="export the outside as one filled solid with a coarser mesh, or give the cavity's file",
    )


def _no_room(wall: float) -> Problem:
    return Problem(
        code="GEO-256",
        where="pan outside",
        found=f"no cavity left by a wall of {1e3 * wall:.3g} mm",
        needed="a wall under half the width of the outside",
        do="check the wall's thickness and the file's unit",
    )
