# SPDX-License-Identifier: Apache-2.0
"""Finer triangles on the same skin, so that colours at vertices are true between them too."""

import numpy as np

from sumpwright.geometry.edge import Ints, sides_of
from sumpwright.geometry.mesh import Faces, Mesh, Points


def refined(mesh: Mesh, longest_edge: float, *, most: int = 400_000) -> Mesh:
    """The same skin in triangles whose sides are no longer than a limit.

    Long sides are halved, in both their faces alike, until none is left: no cracks, and the first
    vertices are the mesh's own.

    Parameters
    ----------
    mesh : Mesh [m]
        Any triangles.
    longest_edge : float [m]
        The limit; above zero.
    most : int [-]
        A pass that would make more faces than this is not done; sides then stay longer.

    Returns
    -------
    mesh : Mesh [m]
    """
    vertices, faces = mesh.vertices, mesh.faces
    while len(faces):
        sides = np.sort(sides_of(faces), axis=1)
        keys = sides[:, 0] * len(vertices) + sides[:, 1]
        unique, first, number = np.unique(keys, return_index=True, return_inverse=True)
        ends = vertices[sides[first]]
        long = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) > longest_edge
        halved = long[number]
        if not long.any() or len(faces) + np.count_nonzero(halved) > most:
            break
        middle = np.full(len(unique), -1, dtype=np.int64)
        middle[long] = len(vertices) + np.arange(np.count_nonzero(long))
        vertices = np.concatenate([vertices, ends[long].mean(axis=1)])
        faces = _split(vertices, faces, middle[number].reshape(3, -1).T)
    return Mesh(vertices, faces)


def _split(vertices: Points, faces: Faces, middles: Ints) -> Faces:
    """Each face in 1 to 4; `middles` (m, 3) are new vertices on sides 01, 12, 20, or -1."""
    count = (middles >= 0).sum(axis=1)
    # Turned so that one halved side comes first, or the one whole side comes last.
    turn = np.where(count == 1, middles.argmax(axis=1), (middles.argmin(axis=1) + 1) % 3)
    order = (turn[:, None] + np.arange(3)) % 3
    corner = np.take_along_axis(faces, order, axis=1)
    middle = np.take_along_axis(middles, order, axis=1)
    (a, b, c), (p, q, r) = corner.T, middle.T
    one, two, three = count == 1, count == 2, count == 3
    reach = np.linalg.norm(vertices[a] - vertices[q], axis=1)
    short = reach <= np.linalg.norm(vertices[p] - vertices[c], axis=1)
    near, far = two & short, two & ~short  # the quad left of a two-way cut, by its short diagonal
    parts = [
        (count == 0, ((a, b, c),)),
        (one, ((a, p, c), (p, b, c))),
        (near, ((p, b, q), (a, p, q), (a, q, c))),
        (far, ((p, b, q), (a, p, c), (p, q, c))),
        (three, ((a, p, r), (p, b, q), (r, q, c), (p, q, r))),
    ]
    return np.concatenate([np.stack(t, axis=1)[which] for which, tris in parts for t in tris])
