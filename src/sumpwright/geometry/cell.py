# SPDX-License-Identifier: Apache-2.0
"""A closed body cut into cells by whole planes, without a gap or an overlap.

All cells share their vertices and the faces between them, so nothing is lost whatever the rounding:
volumes add up, and cells are joined again by leaving out the faces between them.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.disc import square_basis
from sumpwright.geometry.edge import Ints, loops, pieces
from sumpwright.geometry.mesh import Faces, Mesh, Points
from sumpwright.geometry.winding import winding

Floats = NDArray[np.float64]

ON_PLANE = 1e-7
"""m; a vertex this near to a plane counts as on it (it is not moved)."""
_VOID = 1e-15  # m^3 inside out, over which a skin is that of a void and not a crumpled nothing
_UNDER = 1e-7  # m into the liquid, where it is asked what surrounds a void


@dataclass(frozen=True, eq=False)
class Cells:
    """Faces over shared vertices; each is skin of the cell it faces away from, and of one ahead."""

    vertices: Points
    faces: Faces
    """(m, 3) counter-clockwise seen from ahead"""
    behind: Ints
    """(m,) number of the cell that it faces out of"""
    ahead: Ints
    """(m,) number of the cell that it faces into; -1 where it is the body's own skin"""
    plane: Ints
    """(m,) number of the plane it lies on; -1 for the body's own skin"""

    @property
    def count(self) -> int:
        """How many cells there are."""
        return int(max(self.behind.max(initial=-1), self.ahead.max(initial=-1))) + 1


def one_cell(body: Mesh) -> Cells:
    """A body before it is cut.

    Parameters
    ----------
    body : Mesh [m]
        Welded and closed.

    Returns
    -------
    cells : Cells [m]
    """
    skin = np.full(len(body.faces), -1, dtype=np.int64)
    return Cells(body.vertices, body.faces, skin + 1, skin, skin)


def cut(cells: Cells, normal: ArrayLike, height: float, *, plane: int) -> Cells:
    """Every cell that reaches to both sides of a plane made two.

    Cells are told apart by the sides of planes they are on; `parted` tells apart pieces of one.

    Parameters
    ----------
    cells : Cells [m]
        Any.
    normal : (3,) [-]
        Unit vector.
    height : float [m]
        The plane is where normal.x is this.
    plane : int [-]
        Number given to the new faces, which face along the normal.

    Returns
    -------
    cells : Cells [m]
    """
    n = np.asarray(normal, dtype=float)
    off = cells.vertices @ n - height
    off[np.abs(off) <= ON_PLANE] = 0.0
    vertices, faces, parent = _split_faces(cells.vertices, off, cells.faces)
    off = np.concatenate([off, np.zeros(len(vertices) - len(off))])
    now = Cells(vertices, faces, *(a[parent] for a in (cells.behind, cells.ahead, cells.plane)))
    upper = _upper(now, off, n)
    strict = off[faces].min(axis=1) < 0.0, off[faces].max(axis=1) > 0.0
    low, high = (_cells_of(now, part) for part in strict)
    parted_cells = np.intersect1d(low, high)
    new = np.arange(cells.count)
    new[parted_cells] = cells.count + np.arange(len(parted_cells))
    caps = _caps(now, upper, parted_cells, n)
    behind = np.where(upper[0], new[now.behind], now.behind)
    ahead = np.where(upper[1] & (now.ahead >= 0), new[now.ahead], now.ahead)
    sizes = [len(c) for c in caps]
    own = np.repeat(parted_cells, sizes)
    return Cells(
        vertices,
        np.concatenate([faces, *caps]),
        np.concatenate([behind, own]),
        np.concatenate([ahead, new[own]]),
        np.concatenate([now.plane, np.full(len(own), plane, dtype=np.int64)]),
    )


def _split_faces(vertices: Points, off: Floats, faces: Faces) -> tuple[Points, Faces, Ints]:
    """Vertices with those on cut sides added, faces none of which crosses, whose they were."""
    sign = np.sign(off)[faces]
    crossing = (sign.min(axis=1) < 0) & (sign.max(axis=1) > 0)
    whole, number = np.flatnonzero(~crossing), np.flatnonzero(crossing)
    corners = faces[crossing]
    if not len(corners):
        return vertices, faces, whole
    ahead = np.roll(corners, -1, axis=1)
    crosses = off[corners] * off[ahead] < 0
    ends = np.stack([np.minimum(corners, ahead)[crosses], np.maximum(corners, ahead)[crosses]], 1)
    sides, at = np.unique(ends, axis=0, return_inverse=True)
    share = off[sides[:, 0]] / (off[sides[:, 0]] - off[sides[:, 1]])
    ways = vertices[sides[:, 1]] - vertices[sides[:, 0]]
    cuts = vertices[sides[:, 0]] + share[:, None] * ways
    slots = np.full((len(corners), 3, 2), -1, dtype=np.int64)
    slots[:, :, 1][crosses] = len(vertices) + at.reshape(-1)
    fans, owners = [faces[whole]], [whole]
    for way in (-1.0, 1.0):
        slots[:, :, 0] = np.where(way * off[corners] >= 0, corners, -1)
        row = slots.reshape(-1, 6)
        ring = np.take_along_axis(row, np.argsort(row < 0, axis=1, kind="stable")[:, :4], axis=1)
        wide = ring[:, 3] >= 0
        fans += [ring[:, :3], ring[wide][:, [0, 2, 3]]]
        owners += [number, number[wide]]
    return np.concatenate([vertices, cuts]), np.concatenate(fans), np.concatenate(owners)


def _upper(cells: Cells, off: Floats, normal: Floats) -> NDArray[np.bool_]:
    """(2, m) whether the liquid behind each face, and that ahead of it, is above the plane."""
    height = off[cells.faces]
    a, b, c = (cells.vertices[cells.faces[:, k]] for k in range(3))
    looks_down = np.cross(b - a, c - a) @ normal < 0.0
    flat = (height == 0.0).all(axis=1)
    above = height.max(axis=1) > 0.0
    return np.stack([np.where(flat, looks_down, above), np.where(flat, ~looks_down, above)])


def _cells_of(cells: Cells, chosen: NDArray[np.bool_]) -> Ints:
    both = np.concatenate([cells.behind[chosen], cells.ahead[chosen]])
    return np.asarray(np.unique(both[both >= 0]))


def _caps(cells: Cells, upper: NDArray[np.bool_], parted_cells: Ints, n: Floats) -> list[Faces]:
    """For each cell that is cut, the faces that close its part below; they face along `n`."""
    from manifold3d import triangulate

    basis, caps = square_basis(n), []
    for cell in parted_cells.tolist():
        own = cells.faces[(cells.behind == cell) & ~upper[0]]
        back = cells.faces[(cells.ahead == cell) & ~upper[1]][:, ::-1]
        rings = loops(_rim(np.concatenate([own, back])))
        if not rings:  # pieces of one cell that lie on either side
            caps.append(np.zeros((0, 3), dtype=np.int64))
            continue
        flat = [cells.vertices[ring] @ basis.T for ring in rings]
        triangles = np.asarray(triangulate(flat), dtype=np.int64).reshape(-1, 3)
        caps.append(np.concatenate(rings)[triangles])
    return caps


def _rim(faces: Faces) -> Ints:
    """(k, 2) sides that have no mate, turned the way that the faces which close them walk."""
    return net_sides(faces)[:, ::-1]


def net_sides(faces: Faces) -> Ints:
    """Sides that faces walk more often one way than the other, as often as they do.

    Parameters
    ----------
    faces : (m, 3) [-]
        Vertex numbers.

    Returns
    -------
    sides : (k, 2) [-]
        From and to: the edge of the faces taken together.
    """
    sides = faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    span = int(faces.max(initial=0)) + 1
    key, turn = np.unique(sides.min(axis=1) * span + sides.max(axis=1), return_inverse=True)
    net = np.bincount(turn, np.where(sides[:, 0] < sides[:, 1], 1, -1), len(key)).astype(np.int64)
    ends = np.stack([key // span, key % span], axis=1)
    ends = np.where((net > 0)[:, None], ends, ends[:, ::-1])
    return np.repeat(ends, np.abs(net), axis=0)


def parted(cells: Cells) -> Cells:
    """Cells numbered anew, so that each is one connected piece of liquid.

    Parameters
    ----------
    cells : Cells [m]
        Any; pieces that touch in a point or along a line are apart.

    Returns
    -------
    cells : Cells [m]
    """
    inner = np.flatnonzero(cells.ahead >= 0)
    label = np.concatenate([cells.behind, cells.ahead[inner]])
    faces = np.concatenate([cells.faces, cells.faces[inner][:, ::-1]])
    piece = pieces(_neighbours(cells.vertices, faces, label), len(faces))
    piece = _with_voids(cells.vertices, faces, label, piece)
    number = np.unique(piece, return_inverse=True)[1].reshape(-1)
    behind, ahead = number[: len(cells.faces)], cells.ahead.copy()
    ahead[inner] = number[len(cells.faces) :]
    return Cells(cells.vertices, cells.faces, behind, ahead, cells.plane)


def _neighbours(vertices: Points, faces: Faces, label: Ints) -> Ints:
    """(k, 2) numbers of faces that share a side and bound the same liquid there."""
    sides = faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    face = np.repeat(np.arange(len(faces)), 3)
    span = int(faces.max(initial=0)) + 1
    key = (label[face] * span + sides.min(axis=1)) * span + sides.max(axis=1)
    order = np.argsort(key, kind="stable")
    first = np.flatnonzero(np.diff(key[order], prepend=-1))
    size = np.diff(first, append=len(key))
    plain = first[size == 2]
    pairs = [np.stack([face[order[plain]], face[order[plain + 1]]], axis=1)]
    for start, count in zip(first[size > 2], size[size > 2], strict=True):
        rows = order[start : start + count]
        pairs.append(_round_a_side(vertices, faces[face[rows]], sides[rows], face[rows]))
    return np.concatenate(pairs)


def _round_a_side(vertices: Points, faces: Faces, sides: Ints, number: Ints) -> Ints:
    """Which of several faces at one side have liquid between them.

    Seen along a side, the liquid of a face that walks it forward lies clockwise of the face: its
    mate there is the next face that way.
    """
    forward = sides[:, 0] < sides[:, 1]
    start, end = sides[0].min(), sides[0].max()
    third = faces.sum(axis=1) - start - end
    axis = vertices[end] - vertices[start]
    first, second = square_basis(axis)
    away = vertices[third] - vertices[start]
    turn = np.arctan2(away @ second, away @ first)
    order = np.lexsort((~forward, turn))  # faces in one place: nothing between them
    mate = order[np.argsort(order) - 1]
    if not (forward[mate] != forward).all():
        mate = np.roll(np.arange(len(order)), 1)  # a crumpled place: leave all of it together
        return np.stack([number, number[mate]], axis=1)
    return np.stack([number[forward], number[mate[forward]]], axis=1)


def _with_voids(vertices: Points, faces: Faces, label: Ints, piece: Ints) -> Ints:
    """Pieces of skin with those that face into what they enclose put to the liquid round them."""
    middle = vertices.mean(axis=0)
    a, b, c = (vertices[faces[:, k]] - middle for k in range(3))
    area = np.cross(b - a, c - a)
    volume = np.bincount(piece, np.einsum("ij,ij->i", a, area)) / 6.0
    owner = np.arange(len(volume))
    for void in np.flatnonzero(volume < -_VOID):
        own = np.flatnonzero(piece == void)
        largest = own[np.argmax(np.einsum("ij,ij->i", area[own], area[own]))]
        spot = vertices[faces[largest]].mean(axis=0)
        spot = spot - _UNDER * area[largest] / np.linalg.norm(area[largest])
        rivals = np.unique(piece[label == label[largest]])
        rivals = rivals[(volume[rivals] > 0.0)]
        round_it = [k for k in rivals if _holds(vertices[faces[piece == k]], spot)]
        owner[void] = min(round_it, key=lambda k: volume[k], default=void)
    return np.asarray(owner[piece])


def _holds(corners: Points, spot: Floats) -> bool:
    return bool(winding(corners, spot[None])[0] > 0.5)


def cell_volumes(cells: Cells) -> Floats:
    """Volume of each cell.

    Parameters
    ----------
    cells : Cells [m]
        Any.

    Returns
    -------
    volumes : (count,) [m^3]
    """
    a, b, c = (cells.vertices[cells.faces[:, k]] - cells.vertices.mean(axis=0) for k in range(3))
    part = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6.0
    inner = cells.ahead >= 0
    taken = np.bincount(cells.ahead[inner], part[inner], cells.count)
    return np.asarray(np.bincount(cells.behind, part, cells.count) - taken)
