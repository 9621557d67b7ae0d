# SPDX-License-Identifier: Apache-2.0
"""How often each skin's material is counted, where bodies lie in one another.

Just under a skin, on the side its triangles say is material, a sound mesh counts the material
once: a void in a casting (its skin faces inward) and a loose ball in that void both do. Twice means
two solids in one place; never means a skin that faces the wrong way.
"""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Points
from sumpwright.geometry.skin import Skin
from sumpwright.geometry.winding import winding

MAX_BODIES = 100
"""Most skins judged, the largest; each costs a sum over all triangles of those around it."""
_UNDER = 1e-7  # m under the skin; ten times double rounding at 100 m would still be less

Numbers = NDArray[np.intp]


def counted_times(skin: Skin) -> tuple[Numbers, Numbers]:
    """How often the material just under each closed skin is counted; 1 where all is well.

    Parameters
    ----------
    skin : Skin [m]
        Of any mesh; skins that are open are passed over, and count for nothing.

    Returns
    -------
    bodies : (k,) [-]
        Numbers of the skins judged: the closed ones, the largest `MAX_BODIES` of them.
    times : (k,) [-]
        For each of them.
    """
    bodies, turns = turns_round(skin)
    own = body_volumes(skin)[bodies] > 0.0
    return bodies, turns.sum(axis=1) + own


def turns_round(skin: Skin) -> tuple[Numbers, Numbers]:
    """How often each closed skin goes round each other one: 1 outward, -1 inward, 0 beside it.

    Parameters
    ----------
    skin : Skin [m]
        Of any mesh.

    Returns
    -------
    bodies : (k,) [-]
        Numbers of the skins judged: the closed ones, the largest `MAX_BODIES` of them.
    turns : (k, k) [-]
        Of the column's skin round a point just under the row's; 0 for a skin and itself.

    Source
    ------
    [OOSTEROM-1983] for the solid angle of a triangle.
    """
    area = np.bincount(skin.labels, np.linalg.norm(skin.mesh.area_vectors, axis=1), skin.bodies)
    closed = np.flatnonzero(skin.closed)
    bodies = closed[np.argsort(-area[closed], kind="stable")][:MAX_BODIES]
    turns = np.zeros((len(bodies), len(bodies)), dtype=np.intp)
    if len(bodies) < 2:
        return bodies, turns
    points = _points_under(skin)[bodies]
    low, high = _boxes(skin)
    for column, body in enumerate(bodies):
        within = ((points >= low[body]) & (points <= high[body])).all(axis=1)
        within[column] = False
        if within.any():
            corners = skin.mesh.corners[skin.labels == body]
            turns[within, column] = np.rint(winding(corners, points[within]))
    return bodies, turns


def body_volumes(skin: Skin) -> NDArray[np.float64]:
    """Volume of each skin taken alone, about its own middle; negative where it faces inward.

    Parameters
    ----------
    skin : Skin [m]
        Of any mesh.

    Returns
    -------
    volumes : (bodies,) [m^3]
    """
    low, high = _boxes(skin)
    corners = skin.mesh.corners - (0.5 * (low + high))[skin.labels][:, None]
    a, b, c = (corners[:, k] for k in range(3))
    parts = np.einsum("ij,ij->i", a + b + c, skin.mesh.area_vectors) / 9.0
    return np.asarray(np.bincount(skin.labels, parts, skin.bodies), dtype=np.float64)


def _boxes(skin: Skin) -> tuple[Points, Points]:
    """(bodies, 3) lowest and highest corner of each skin."""
    order = np.argsort(skin.labels, kind="stable")
    first = np.flatnonzero(np.diff(skin.labels[order], prepend=-1))
    corners = [skin.mesh.corners[order, k] for k in range(3)]
    low, high = (
        np.stack([extreme.reduceat(c, first) for c in corners])
        for extreme in (np.minimum, np.maximum)
    )
    return low.min(axis=0), high.max(axis=0)


def _points_under(skin: Skin) -> Points:
    """(bodies, 3) a point just under the largest triangle of each skin."""
    area = np.linalg.norm(skin.mesh.area_vectors, axis=1)
    order = np.lexsort((-area, skin.labels))
    largest = order[np.flatnonzero(np.diff(skin.labels[order], prepend=-1))]
    normal = skin.mesh.area_vectors[largest] / area[largest, None]
    return np.asarray(skin.mesh.corners[largest].mean(axis=1) - _UNDER * normal)
