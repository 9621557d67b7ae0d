# SPDX-License-Identifier: Apache-2.0
"""Small holes in a skin, closed with triangles over the corners that are there."""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.mesh import Faces, Mesh, Points
from sumpwright.geometry.skin import Numbers, Skin

_FOLDED = (
    0.5  # area of a loop's flat picture over its area in space, below which it is no hole cut flat
)


def closed_holes(skin: Skin, *, widest: float) -> tuple[Faces, int, int]:
    """Triangles that close the small holes of a skin, how many they close, how many stay open.

    A hole is closed where its rim is one simple loop, no wider than `widest`, and not folded.

    Parameters
    ----------
    skin : Skin [m]
        Wound the same way throughout; rims between parts wound differently stay open.
    widest : float [m]
        Largest diagonal of the box round a rim.

    Returns
    -------
    faces : (k, 3) [-]
        Vertex numbers of `skin.mesh`, facing as the skin round them does.
    closed : int [-]
        Holes closed.
    left : int [-]
        Rims left open.
    """
    loops, loose = _rims(skin)
    patches = [p for loop in loops if (p := _patch(skin.mesh, loop, widest)) is not None]
    none = np.zeros((0, 3), dtype=np.int64)
    return np.concatenate([none, *patches]), len(patches), len(loops) - len(patches) + loose


def _rims(skin: Skin) -> tuple[list[Numbers], int]:
    """Simple loops of open edges, each run the way a patch must run it, and chains that end."""
    onward: dict[int, list[int]] = {}
    for start, end in skin.half_edges[skin.halves_of(skin.edge_counts == 1)].tolist():
        onward.setdefault(end, []).append(start)  # a patch runs each edge against its neighbour
    loops: list[Numbers] = []
    loose = 0
    while onward:
        path = [next(iter(onward))]
        while (step := _next(onward, path[-1])) is not None:
            if step in path:  # back at a corner: what lies between is one loop
                cut = path.index(step)
                loops.append(np.array(path[cut:], dtype=np.intp))
                del path[cut + 1 :]
            else:
                path.append(step)
        loose += len(path) > 1
    return loops, loose


def _next(onward: dict[int, list[int]], place: int) -> int | None:
    """Take one step from `place`; None where no edge leaves it any more."""
    ways = onward.get(place)
    if not ways:
        return None
    step = ways.pop()
    if not ways:
        del onward[place]
    return step


def _patch(mesh: Mesh, loop: Numbers, widest: float) -> NDArray[np.int64] | None:
    """Triangles over one rim, or None where it is too wide or folded."""
    import manifold3d

    points = mesh.vertices[loop]
    if np.linalg.norm(points.max(axis=0) - points.min(axis=0)) > widest:
        return None
    if len(loop) == 3:
        return loop[None].astype(np.int64)
    flat = _flat_picture(points)
    if flat is None:
        return None
    cut = np.asarray(manifold3d.triangulate([flat]), dtype=np.int64).reshape(-1, 3)
    whole = len(cut) == len(loop) - 2 and len(np.unique(cut)) == len(loop)
    return loop[cut].astype(np.int64) if whole else None


def _flat_picture(points: Points) -> NDArray[np.float64] | None:
    """The rim seen along its own normal, counter-clockwise, about 1 across; None where folded."""
    middle = points - points.mean(axis=0)
    fan = np.cross(middle, np.roll(middle, -1, axis=0))
    normal = fan.sum(axis=0)
    size = float(np.linalg.norm(normal))
    if size <= _FOLDED * float(np.linalg.norm(fan, axis=1).sum()):
        return None
    normal /= size
    helper = np.eye(3)[np.abs(normal).argmin()]
    right = np.cross(helper, normal)
    right /= np.linalg.norm(right)
    axes = np.stack([right, np.cross(normal, right)], axis=1)
    return np.ascontiguousarray(middle @ axes / np.abs(middle).max())
