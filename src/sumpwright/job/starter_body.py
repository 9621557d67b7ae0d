# SPDX-License-Identifier: Apache-2.0
"""The made-up bodies of a new job: stepped pans and a crossmember, in millimetres."""

import numpy as np
from numpy.typing import NDArray

# Two quarter-turn orders of one side wall's corners, and a six-cornered profile seen from its
# inner corner (3): every triangle of the caps uses corners that the walls use too.
_CAP = np.array([[3, 4, 5], [3, 5, 0], [3, 0, 1], [3, 1, 2]])
_BOX_CAP = np.array([[0, 1, 2], [0, 2, 3]])
_TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])

Triangles = NDArray[np.float64]


def stepped_pan(
    *, length: float, well: float, half_width: float, shallow: float, deep: float, wall: float = 0.0
) -> Triangles:
    """(20, 3, 3) corners of a pan: a well at the rear, a shallow floor ahead of it.

    `wall` grows every side but the top outward, for the skin of a cavity.
    """
    rear, front, step = -wall, length + wall, well + wall
    profile = [
        (rear, 0.0),
        (front, 0.0),
        (front, -shallow - wall),
        (step, -shallow - wall),
        (step, -deep - wall),
        (rear, -deep - wall),
    ]
    return _extruded(np.array(profile), half_width + wall, _CAP)


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Triangles:
    """(12, 3, 3) corners of an upright box that is even about y = 0."""
    profile = [(low[0], high[2]), (high[0], high[2]), (high[0], low[2]), (low[0], low[2])]
    return _extruded(np.array(profile), high[1], _BOX_CAP)


def stl_bytes(triangles: Triangles, scale: float) -> bytes:
    """The body as a binary STL file, every coordinate times `scale`."""
    records = np.zeros(len(triangles), dtype=_TRIANGLE)
    records["corners"] = triangles * scale
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    normals = np.cross(b - a, c - a)
    records["normal"] = normals / np.linalg.norm(normals, axis=1, keepdims=True)
    head = b"made-up body of a new job".ljust(80)
    return head + np.uint32(len(triangles)).tobytes() + records.tobytes()


def _extruded(profile: NDArray[np.float64], half: float, cap: NDArray[np.int64]) -> Triangles:
    """A profile in x and z, clockwise seen from the right, drawn out to y = +-`half`."""
    count = len(profile)
    right = np.column_stack([profile[:, 0], np.full(count, -half), profile[:, 1]])
    left = right * [1.0, -1.0, 1.0]
    corners = np.concatenate([right, left])
    here = np.arange(count)
    ahead = (here + 1) % count
    walls = np.concatenate(
        [
            np.column_stack([here, ahead, ahead + count]),
            np.column_stack([here, ahead + count, here + count]),
        ]
    )
    faces = np.concatenate([cap[:, ::-1], cap + count, walls])
    return np.asarray(corners[faces])
