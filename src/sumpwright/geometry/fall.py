# SPDX-License-Identifier: Apache-2.0
"""Where oil that falls into a pan comes down: in which compartment, over the way that down is.

A drop goes straight along gravity as the car feels it. It passes from one compartment into the
next only through what is open: a window or what a panel leaves open. It stays in the compartment
where it meets a panel, the wall or a shut door. Oil that lies there already does not stop it.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.compartment import Compartments
from sumpwright.geometry.kernel import compiled, run_in_threads
from sumpwright.geometry.link import Link
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

OPEN_KINDS = ("window", "open")
PANEL = 0.02
"""m; no panel is thicker: a drop that leaves one compartment meets the next within this."""


def stereographic_ups(directions: int, side: float) -> Floats:
    """Unit vectors up over a square grid of stereographic coordinates.

    Parameters
    ----------
    directions : int [-]
        Along each side of the grid.
    side : float [-]
        Half the side; tan of half the tilt that it reaches.

    Returns
    -------
    ups : (directions, directions, 3) [-]
        First index along x, second along y.
    """
    axis = np.linspace(-side, side, directions)
    x, y = np.meshgrid(axis, axis, indexing="ij")
    square = x * x + y * y
    up = np.stack([2.0 * x, 2.0 * y, 1.0 - square], axis=-1)
    return np.asarray(up / (1.0 + square)[..., None])


def landing_shares(parted: Compartments, points: ArrayLike, ups: ArrayLike) -> Floats:
    """Share of the drops from `points` that come down in each compartment.

    Parameters
    ----------
    parted : Compartments [m]
        Of n compartments.
    points : (k, 3) [m]
        Where drops start.
    ups : (..., 3) [-]
        Unit vectors against gravity.

    Returns
    -------
    shares : (..., n) [-]
        Of the drops that come down in the pan at all; nan where none does.

    Raises
    ------
    RangeError
        If there is no point.
    """
    start = np.asarray(points, dtype=float).reshape(-1, 3)
    if not len(start):
        raise RangeError("oil that comes home needs at least 1 place to fall from, has 0")
    way = np.asarray(ups, dtype=float)
    flat = way.reshape(-1, 3)
    bodies, owner = _triangles(parted.bodies)
    doors, pairs = _ways(parted.links)
    found = np.full((len(flat), len(start)), -1, dtype=np.int64)

    def work(rows: Ints) -> None:
        _fall(start, flat[rows[0] : rows[-1] + 1], bodies, owner, doors, pairs, found, rows[0])

    run_in_threads(work, len(flat))
    count = np.stack([(found == k).sum(axis=1) for k in range(len(parted.bodies))], axis=-1)
    with np.errstate(invalid="ignore"):  # nan where nothing comes down in the pan
        share = count / count.sum(axis=-1, keepdims=True)
    return np.asarray(share.reshape(*way.shape[:-1], -1))


def _triangles(bodies: Sequence[Mesh]) -> tuple[Floats, Ints]:
    corners = [body.vertices[body.faces] for body in bodies]
    owner = np.repeat(np.arange(len(bodies)), [len(c) for c in corners])
    return np.ascontiguousarray(np.concatenate(corners)), owner


def _ways(links: Sequence[Link]) -> tuple[Floats, Ints]:
    """Triangles of every open way, each with its two compartments."""
    fans, pairs = [np.zeros((0, 3, 3))], [np.zeros((0, 2), dtype=np.int64)]
    for link in links:
        if link.kind in OPEN_KINDS:
            ring = link.polygon
            first = np.broadcast_to(ring[0], ring[1:-1].shape)
            fans.append(np.stack([first, ring[1:-1], ring[2:]], axis=1))
            pairs.append(np.tile([[link.behind, link.ahead]], (len(ring) - 2, 1)))
    return np.ascontiguousarray(np.concatenate(fans)), np.concatenate(pairs)


@compiled
def _fall(
    start: Floats,
    ups: Floats,
    bodies: Floats,
    owner: Ints,
    doors: Floats,
    pairs: Ints,
    found: Ints,
    row: int,
) -> None:
    """Fills in the compartment of each drop, for each direction."""
    count = 0
    for t in range(owner.shape[0]):
        count = max(count, owner[t] + 1)
    crossings = np.zeros((owner.shape[0], 2))
    for d in range(ups.shape[0]):
        for p in range(start.shape[0]):
            down = -ups[d]
            met = 0
            for t in range(owner.shape[0]):
                at, side = _crossing(bodies[t], start[p], down)
                if side != 0.0:
                    crossings[met, 0] = at
                    crossings[met, 1] = (owner[t] + 1) * side
                    met += 1
            found[row + d, p] = _landed(crossings[:met], start[p], down, doors, pairs, count)


@compiled
def _landed(
    crossings: Floats, start: Floats, down: Floats, doors: Floats, pairs: Ints, count: int
) -> int:
    """Compartment that a drop stays in; -1 where it never enters one."""
    inside, begun = -1, 0.0
    best = np.inf
    for body in range(count):  # it starts in one: that body's crossings behind it do not add up
        winding = 0.0
        for k in range(crossings.shape[0]):
            if abs(crossings[k, 1]) == body + 1 and crossings[k, 0] > 0.0:
                winding += 1.0 if crossings[k, 1] > 0.0 else -1.0
        if winding > 0.5:
            inside = body
    if inside < 0:
        for k in range(crossings.shape[0]):
            if crossings[k, 1] < 0.0 and 0.0 < crossings[k, 0] < best:
                best, inside = crossings[k, 0], int(-crossings[k, 1]) - 1
        begun = best
    while inside >= 0:
        leaves = np.inf
        for k in range(crossings.shape[0]):
            if crossings[k, 1] == inside + 1 and begun < crossings[k, 0] < leaves:
                leaves = crossings[k, 0]
        following = _passes(start, down, leaves, inside, doors, pairs)
        if following < 0:
            return inside
        inside, begun = following, leaves
    return inside


@compiled
def _passes(
    start: Floats, down: Floats, leaves: float, inside: int, doors: Floats, pairs: Ints
) -> int:
    """Compartment that an open way leads into where a drop leaves one; -1 for none.

    A way leads ahead for a drop that goes along its normal, and behind for one that goes against
    it: a drop that has come through does not go back where it lands close behind the panel.
    """
    for other in range(2):
        into = -1
        sum_of = 0.0
        for t in range(pairs.shape[0]):
            if pairs[t, other] != inside:
                continue
            at, side = _crossing(doors[t], start, down)
            if side != 0.0 and abs(at - leaves) < PANEL:
                sum_of += side
                into = pairs[t, 1 - other]
        if (sum_of if other == 0 else -sum_of) > 0.5:
            return into
    return -1


@compiled
def _crossing(triangle: Floats, start: Floats, way: Floats) -> tuple[float, float]:
    """Where a ray's line meets a triangle, and 1 out of its front's back, -1 into it, 0 for not."""
    a, b, c = triangle[0], triangle[1], triangle[2]
    e0, e1, e2 = b[0] - a[0], b[1] - a[1], b[2] - a[2]
    f0, f1, f2 = c[0] - a[0], c[1] - a[1], c[2] - a[2]
    p0, p1, p2 = way[1] * f2 - way[2] * f1, way[2] * f0 - way[0] * f2, way[0] * f1 - way[1] * f0
    det = e0 * p0 + e1 * p1 + e2 * p2
    if det == 0.0:
        return 0.0, 0.0
    s0, s1, s2 = start[0] - a[0], start[1] - a[1], start[2] - a[2]
    u = (s0 * p0 + s1 * p1 + s2 * p2) / det
    q0, q1, q2 = s1 * e2 - s2 * e1, s2 * e0 - s0 * e2, s0 * e1 - s1 * e0
    v = (way[0] * q0 + way[1] * q1 + way[2] * q2) / det
    if u < 0.0 or v < 0.0 or u + v > 1.0:
        return 0.0, 0.0
    # the determinant is minus the normal's share of the way
    return (f0 * q0 + f1 * q1 + f2 * q2) / det, (-1.0 if det > 0.0 else 1.0)
