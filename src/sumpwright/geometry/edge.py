# SPDX-License-Identifier: Apache-2.0
"""Directed sides of triangles as plain arrays: open rims, closed walks, connected pieces."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.merge import exactly_merged
from sumpwright.geometry.mesh import Faces, Mesh

Ints = NDArray[np.int64]


def welded(mesh: Mesh) -> Mesh:
    """The mesh with equal points made one vertex, and collapsed faces and loose points gone.

    Parameters
    ----------
    mesh : Mesh [m]
        Any triangles; only exactly equal points are joined.

    Returns
    -------
    mesh : Mesh [m]
    """
    merged = exactly_merged(mesh)
    whole = (merged.faces != np.roll(merged.faces, 1, axis=1)).all(axis=1)
    return merged if whole.all() else exactly_merged(Mesh(merged.vertices, merged.faces[whole]))


def sides_of(faces: Faces) -> Ints:
    """Every side of every face in the direction it is walked.

    Parameters
    ----------
    faces : (m, 3) [-]
        Vertex numbers.

    Returns
    -------
    sides : (3 m, 2) [-]
        From and to; the sides of face i are rows i, i + m and i + 2 m.
    """
    return np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])


def open_sides(faces: Faces) -> Ints:
    """The sides that no other face walks the other way: the rims of holes.

    Parameters
    ----------
    faces : (m, 3) [-]
        Vertex numbers of a welded mesh.

    Returns
    -------
    sides : (k, 2) [-]
        From and to, as their own face walks them.
    """
    there, back = side_keys(sides_of(faces))
    return np.asarray(sides_of(faces)[~np.isin(there, back)])


def side_keys(sides: Ints) -> tuple[Ints, Ints]:
    """One number for each directed side, and the number of the same side walked backwards.

    Parameters
    ----------
    sides : (k, 2) [-]
        From and to.

    Returns
    -------
    there : (k,) [-]
    back : (k,) [-]
    """
    span = int(sides.max(initial=0)) + 1
    return sides[:, 0] * span + sides[:, 1], sides[:, 1] * span + sides[:, 0]


def is_closed(mesh: Mesh) -> bool:
    """Whether every side is walked as often one way as the other.

    Parameters
    ----------
    mesh : Mesh [m]
        Welded.

    Returns
    -------
    closed : bool [-]
    """
    there, back = side_keys(sides_of(mesh.faces))
    return bool(np.array_equal(np.sort(there), np.sort(back)))


def pieces(links: Ints, count: int) -> Ints:
    """Which connected piece each of a number of things is in.

    Parameters
    ----------
    links : (k, 2) [-]
        Pairs of numbers of vertices, or of faces, that hang together.
    count : int [-]
        How many there are.

    Returns
    -------
    piece : (count,) [-]
        Numbers from 0, in order of first member; what has no link is a piece by itself.
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    ones = np.ones(len(links), dtype=np.int8)
    graph = coo_array((ones, (links[:, 0], links[:, 1])), shape=(count, count))
    return np.asarray(connected_components(graph, directed=False)[1], dtype=np.int64)


def loops(sides: Ints) -> list[Ints]:
    """Closed walks along directed sides.

    Parameters
    ----------
    sides : (k, 2) [-]
        From and to; every vertex left as often as it is reached.

    Returns
    -------
    loops : list of (n,) [-]
        Vertex numbers in walking order; together they use every side once.
    """
    leaving: dict[int, list[int]] = {}
    for start, end in sides.tolist():
        leaving.setdefault(start, []).append(end)
    found = []
    while leaving:
        first = next(iter(leaving))
        walk = [first]
        while True:
            at = leaving[walk[-1]].pop()
            if not leaving[walk[-1]]:
                del leaving[walk[-1]]
            if at == first:
                break
            walk.append(at)
        found.append(np.array(walk, dtype=np.int64))
    return found
