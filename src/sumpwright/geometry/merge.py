# SPDX-License-Identifier: Apache-2.0
"""Corner points that are the same point: found exactly, or within a stated distance."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Mesh, Points

# Odd 64-bit multipliers of the splitmix64 and murmur3 mixers; any odd numbers without pattern do.
_MIX = np.array([0x9E3779B97F4A7C15, 0xBF58476D1CE4E5B9, 0xC2B2AE3D27D4EB4F], dtype=np.uint64)


def exactly_merged(mesh: Mesh) -> Mesh:
    """The same triangles with vertices of equal coordinates made one; nothing moves.

    Parameters
    ----------
    mesh : Mesh [m]
        A soup of separate triangles, as STL holds them, or any mesh.

    Returns
    -------
    mesh : Mesh [m]
        Vertices in the order they had; vertices without a triangle are gone.
    """
    first, number = _distinct(mesh.vertices + 0.0)  # turns -0.0 into 0.0
    faces = number[mesh.faces]
    used = np.zeros(len(first), dtype=bool)
    used[faces.reshape(-1)] = True
    return Mesh(mesh.vertices[first[used]], (np.cumsum(used) - 1)[faces])


def merged_within(mesh: Mesh, *, tolerance: float) -> tuple[Mesh, int]:
    """The mesh with vertices nearer than a tolerance made one, and how many were taken away.

    A chain of near vertices becomes one vertex, the first of them, so the tolerance must be far
    below the smallest detail.

    Parameters
    ----------
    mesh : Mesh [m]
        Any mesh.
    tolerance : float [m]
        Largest distance of vertices that become one.

    Returns
    -------
    mesh : Mesh [m]
        May hold triangles with repeated corners.
    removed : int [-]
        Vertices taken away beyond those of equal coordinates.
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    exact = exactly_merged(mesh)
    count = len(exact.vertices)
    near = cKDTree(exact.vertices).query_pairs(tolerance, output_type="ndarray")
    if not len(near):
        return exact, 0
    graph = coo_array((np.ones(len(near)), (near[:, 0], near[:, 1])), shape=(count, count))
    groups, label = connected_components(graph, directed=False)
    first = np.unique(label, return_index=True)[1]
    return exactly_merged(Mesh(exact.vertices[first], label[exact.faces])), count - groups


def _distinct(points: Points) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Index of the first of each distinct point, in order of use, and each point's number in it.

    A 64-bit hash sorts four times faster than rows; it is checked, so a collision costs time only.
    """
    bits = np.ascontiguousarray(points).view(np.uint64)
    key = np.zeros(len(points), dtype=np.uint64)
    for column, factor in enumerate(_MIX):
        key = (key ^ bits[:, column]) * factor
        key ^= key >> np.uint64(29)
    _, first, number = np.unique(key, return_index=True, return_inverse=True)
    if not np.array_equal(points[first][number], points):
        _, first, number = np.unique(points, axis=0, return_index=True, return_inverse=True)
    rank = np.argsort(np.argsort(first))
    return np.sort(first), rank[number.reshape(-1)]
