# SPDX-License-Identifier: Apache-2.0
"""Edges put back onto a skin that marching cubes cut off between the grid's points.

Where several limits meet, the room of the cutter's middle has an edge, and a chamfer there would
cost its length times the cutter's radius: an error that only falls with the step itself. Each cell
that an edge passes gets the point that lies on all its limits; triangles from there to the skin and
to the next such point fill what was cut off. They only serve distances: the whole is no closed
skin any more.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.free_space_grid import Field, Grid
from sumpwright.geometry.mesh import Faces, Mesh

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

BEND = 0.92
"""Cosine from the cell's mean normal beyond which its skin is bent, and not only curved."""
FLAT = 0.1
"""Share of the largest that a direction's weight must have for the limits to settle it."""
FAR = 2.0
"""Steps from the skin beyond which a found point is no edge of this cell."""
OUT = 0.05
"""Steps by which a found point may miss a limit."""


def with_edges(mesh: Mesh, parts: Sequence[Field], grid: Grid, level: float) -> Mesh:
    """A skin with triangles added where its edges were cut off.

    Parameters
    ----------
    mesh : Mesh [m]
        Where the least of `parts` is `level`, by marching cubes.
    parts : sequence of (nx, ny, nz) [m]
        Distance to each limit, smooth by itself.
    grid : Grid [m]
        The points.
    level : float [m]
        Of the skin.

    Returns
    -------
    mesh : Mesh [m]
        The same triangles and more.
    """
    index = (mesh.vertices - grid.origin) / grid.step
    normals = _normals(index, parts)
    cell = np.floor(index[mesh.faces].mean(axis=1)).astype(np.int64)
    _, number = np.unique(cell, axis=0, return_inverse=True)
    number = number.reshape(-1)
    points, bent = _points(index[mesh.faces], normals[mesh.faces], number)
    good = bent & (_least(points, parts) > level - OUT * grid.step)
    if not good.any():
        return mesh
    place = np.full(len(good), -1, dtype=np.int64)
    place[good] = len(mesh.vertices) + np.arange(int(good.sum()))
    own = place[number]
    faces = [mesh.faces, *_fans(mesh.faces, own), *_bridges(mesh.faces, own)]
    return Mesh(np.concatenate([mesh.vertices, grid.places(points[good])]), np.concatenate(faces))


def _sampled(field: Field, index: Floats) -> Floats:
    from scipy.ndimage import map_coordinates

    return np.asarray(map_coordinates(field, index.T, order=1, mode="nearest"), dtype=float)


def _least(index: Floats, parts: Sequence[Field]) -> Floats:
    return np.asarray(np.min([_sampled(part, index) for part in parts], axis=0))


def _normals(index: Floats, parts: Sequence[Field]) -> Floats:
    """(n, 3) unit gradient of the limit that is nearest at each place."""
    nearest = np.argmin([_sampled(part, index) for part in parts], axis=0)
    normals = np.zeros((len(index), 3))
    for k, part in enumerate(parts):
        mine = np.flatnonzero(nearest == k)
        for axis in range(3):
            ahead = 0.5 * np.eye(3)[axis]
            rise = _sampled(part, index[mine] + ahead) - _sampled(part, index[mine] - ahead)
            normals[mine, axis] = rise
    size = np.linalg.norm(normals, axis=1, keepdims=True)
    return np.asarray(normals / np.where(size > 0.0, size, 1.0))


def _points(corners: Floats, normals: Floats, number: Ints) -> tuple[Floats, NDArray[np.bool_]]:
    """(c, 3) for each cell the point on all its limits, and whether its skin is bent."""
    count = int(number.max()) + 1
    owner = np.repeat(number, 3)
    spots, sides = corners.reshape(-1, 3), normals.reshape(-1, 3)
    total = np.bincount(owner, minlength=count)[:, None]
    middle, mean = (
        np.stack([np.bincount(owner, v[:, k], count) for k in range(3)], axis=1) / total
        for v in (spots, sides)
    )
    mean /= np.maximum(np.linalg.norm(mean, axis=1, keepdims=True), 1e-12)
    least = np.ones(count)
    np.minimum.at(least, owner, np.einsum("ij,ij->i", sides, mean[owner]))
    off = np.einsum("ij,ij->i", sides, spots - middle[owner])
    square = np.zeros((count, 3, 3))
    pull = np.zeros((count, 3))
    for a in range(3):
        pull[:, a] = np.bincount(owner, sides[:, a] * off, count)
        for b in range(3):
            square[:, a, b] = np.bincount(owner, sides[:, a] * sides[:, b], count)
    weight, axes = np.linalg.eigh(square)
    kept = weight > FLAT * weight[:, -1:]
    along = np.einsum("cji,cj->ci", axes, pull) / np.where(kept, weight, 1.0) * kept
    shift = np.einsum("cij,cj->ci", axes, along)
    return middle + shift, (least < BEND) & (np.linalg.norm(shift, axis=1) < FAR)


def _fans(faces: Faces, own: Ints) -> list[Faces]:
    """From a cell's point to each side of its triangles."""
    mine, point = faces[own >= 0], own[own >= 0]
    return [np.stack([point, mine[:, k], mine[:, (k + 1) % 3]], axis=1) for k in range(3)]


def _bridges(faces: Faces, own: Ints) -> list[Faces]:
    """Between the points of neighbouring cells, by way of the side that their triangles share."""
    sides = np.sort(faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    face = np.repeat(np.arange(len(faces)), 3)
    order = np.lexsort((sides[:, 1], sides[:, 0]))
    sides, face = sides[order], face[order]
    twin = np.flatnonzero((sides[1:] == sides[:-1]).all(axis=1))
    one, two = own[face[twin]], own[face[twin + 1]]
    far = (one >= 0) & (two >= 0) & (one != two)
    ends = sides[twin[far]]
    return [np.stack([one[far], two[far], ends[:, k]], axis=1) for k in range(2)]
