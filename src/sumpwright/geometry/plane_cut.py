# SPDX-License-Identifier: Apache-2.0
"""The part of a skin below a plane, and the flat cap that closes it there."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.disc import square_basis
from sumpwright.geometry.edge import Ints, loops
from sumpwright.geometry.mesh import Faces, Mesh, Points

Floats = NDArray[np.float64]


def below_plane(
    mesh: Mesh, up: ArrayLike, *, height: float, slack: float
) -> tuple[Mesh, NDArray[np.bool_]]:
    """The skin below a plane; neighbours stay joined, faces in the plane itself are left out.

    Parameters
    ----------
    mesh : Mesh [m]
        Welded.
    up : (3,) [-]
        Unit normal of the plane.
    height : float [m]
        The plane is where up.x is this.
    slack : float [m]
        Vertices no further from the plane than this are put on it.

    Returns
    -------
    below : Mesh [m]
    on : (n,) [-]
        Which of its vertices lie on the plane.
    """
    normal = np.asarray(up, dtype=float)
    off = mesh.vertices @ normal - height
    near = np.abs(off) <= slack
    vertices = mesh.vertices - np.outer(np.where(near, off, 0.0), normal)
    off = np.where(near, 0.0, off)
    sides = np.sign(off).astype(np.int64)[mesh.faces]
    kept = (sides.max(axis=1) <= 0) & (sides.min(axis=1) < 0)
    crossing = (sides.min(axis=1) < 0) & (sides.max(axis=1) > 0)
    cuts, pieces = _cut_faces(vertices, off, mesh.faces[crossing])
    faces = np.concatenate([mesh.faces[kept], pieces])
    used, compact = np.unique(faces, return_inverse=True)
    on = np.concatenate([near, np.ones(len(cuts), dtype=bool)])
    cuts -= np.outer(cuts @ normal - height, normal)  # on the plane to the last digit
    body = np.concatenate([vertices, cuts])
    return Mesh(body[used], compact.reshape(-1, 3)), np.asarray(on[used])


def _cut_faces(vertices: Points, off: Floats, faces: Faces) -> tuple[Points, Faces]:
    """New vertices where sides cross the plane, and the parts below of the faces cut."""
    if not len(faces):
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
    ahead = np.roll(faces, -1, axis=1)
    low, high = np.minimum(faces, ahead), np.maximum(faces, ahead)
    crosses = off[low] * off[high] < 0
    pairs = np.stack([low[crosses], high[crosses]], axis=1)
    sides, number = np.unique(pairs, axis=0, return_inverse=True)
    share = off[sides[:, 0]] / (off[sides[:, 0]] - off[sides[:, 1]])
    cuts = vertices[sides[:, 0]] + share[:, None] * (vertices[sides[:, 1]] - vertices[sides[:, 0]])
    # Walk round each face: its corner where that is not above, then the cut where its side crosses.
    slots = np.full((len(faces), 3, 2), -1, dtype=np.int64)
    slots[:, :, 0] = np.where(off[faces] <= 0, faces, -1)
    slots[:, :, 1][crosses] = len(vertices) + number.reshape(-1)
    row = slots.reshape(len(faces), 6)
    order = np.argsort(row < 0, axis=1, kind="stable")[:, :4]
    ring = np.take_along_axis(row, order, axis=1)
    fans = np.concatenate([ring[:, [0, 1, 2]], ring[ring[:, 3] >= 0][:, [0, 2, 3]]])
    return cuts, fans


def cap_faces(vertices: Points, rims: Ints, up: ArrayLike) -> Faces | None:
    """Faces that close flat openings, facing up.

    Parameters
    ----------
    vertices : (n, 3) [m]
        The skin's vertices.
    rims : (k, 2) [-]
        Sides of the cap in the direction the cap walks them: outlines counter-clockwise seen from
        above, islands clockwise.
    up : (3,) [-]
        Normal of the cap.

    Returns
    -------
    faces : (m, 3) [-]
        None where the outlines do not nest the way that their directions say.
    """
    from manifold3d import triangulate

    rings = loops(rims)
    basis = square_basis(up)
    flat = [vertices[ring] @ basis.T for ring in rings]
    for i, outline in enumerate(flat):
        depth = sum(_holds(other, outline) for j, other in enumerate(flat) if j != i)
        if (flat_area(outline) > 0) != (depth % 2 == 0):
            return None
    triangles = np.asarray(triangulate(flat), dtype=np.int64).reshape(-1, 3)
    return np.asarray(np.concatenate(rings)[triangles])


def flat_area(outline: Floats) -> float:
    """Area inside a closed outline.

    Parameters
    ----------
    outline : (n, 2) [m]
        Corners in order.

    Returns
    -------
    area : float [m^2]
        Negative where the outline runs clockwise.
    """
    x, y = (outline - outline[0]).T
    return float(0.5 * (x @ np.roll(y, -1) - np.roll(x, -1) @ y))


def _holds(outer: Floats, inner: Floats) -> bool:
    """Whether most sides of `inner` have their middle inside `outer` (even-odd rule).

    Most, because outlines may touch in single points.
    """
    points = (inner + np.roll(inner, -1, axis=0)) / 2.0
    ahead = np.roll(outer, -1, axis=0)
    (x, y), (x0, y0), (x1, y1) = points.T[:, :, None], outer.T, ahead.T
    spans = (y0 > y) != (y1 > y)
    rise = np.where(y1 == y0, 1.0, y1 - y0)
    right = x < x0 + (y - y0) * (x1 - x0) / rise
    return bool(np.mean(np.sum(spans & right, axis=1) % 2) > 0.5)


def cap_of_top(mesh: Mesh, slack: float) -> NDArray[np.bool_]:
    """Which faces make the flat top: on the highest horizontal plane, facing up.

    Parameters
    ----------
    mesh : Mesh [m]
        Any.
    slack : float [m]
        How far off that plane a vertex may be.

    Returns
    -------
    top : (m,) [-]
    """
    high = mesh.vertices[:, 2] >= mesh.vertices[mesh.faces, 2].max(initial=-np.inf) - slack
    return np.asarray(high[mesh.faces].all(axis=1) & (mesh.area_vectors[:, 2] > 0))
