# SPDX-License-Identifier: Apache-2.0
r"""The level engine: how much liquid lies below a plane in a closed body, and the inverse.

With :math:`h = \mathbf u \cdot \mathbf x` and the surface at :math:`h = s`, the field
:math:`(h - s)\,\mathbf u` has divergence 1 and vanishes on the surface, so by the divergence
theorem the volume below is a sum over the body's own skin, with no mesh cut and no cap made:

.. math:: V(s) = -\sum_t (\mathbf u \cdot \mathbf a_t) \, \overline{\max(s - h, 0)}_t

:math:`\mathbf a_t` is a triangle's outward area vector and the bar its mean over the triangle, an
exact cubic in s. :math:`dV/ds` is the area of the free surface, so Newton's step costs nothing.
A block of triangles wholly below the plane adds :math:`-(s\,\mathbf u\cdot\sum\mathbf a_t -
\mathbf u^T (\sum \mathbf a_t \mathbf c_t^T) \mathbf u)`, which a tree over blocks knows beforehand:
only the blocks the plane cuts are visited, about the square root of the number of triangles.

Inner skins that face inward are voids. Skins that overlap count twice: soundness.py finds them.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.curve import along_curve
from sumpwright.geometry.kernel import run_in_threads
from sumpwright.geometry.level_tree import BLOCK, in_pieces, tree
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]

OPEN = 1e-6
"""Share of the skin that may be missing before a body is refused; a level is then off as much."""


@dataclass(frozen=True, eq=False)
class LevelBody:
    """A closed body prepared for levels; rows as level_kernel.py describes them."""

    nodes: Floats
    corners: Floats
    areas: Floats
    reference: Floats
    """(3,) point that the arrays count from [m]."""
    skin: float
    """Area of the whole skin [m^2]."""
    several: bool
    """More than one connected skin."""
    volume: float
    """Whole volume [m^3]."""


@dataclass(frozen=True)
class Liquid:
    """What lies below each plane."""

    volume: Floats
    """(k,) [m^3]"""
    surface_area: Floats
    """(k,) [m^2]; on a horizontal face, the area just below it"""
    centroid: Floats
    """(k, 3) [m]; nan where there is no liquid."""


@dataclass(frozen=True)
class Levels:
    """Where the surface stands for each volume."""

    height: Floats
    """(k,) signed distance of the surface from the frame's origin along up [m]"""
    surface_area: Floats
    """(k,) [m^2]; 0 in an empty and in a full body"""


def level_body(mesh: Mesh) -> LevelBody:
    """A body ready for level questions; worth keeping, it takes longer to make than to ask.

    Parameters
    ----------
    mesh : Mesh [m]
        Closed, faces outward.

    Returns
    -------
    body : LevelBody [m]

    Raises
    ------
    RangeError
        If the mesh is empty, not finite, inside out, or so open that its area vectors do not
        cancel. That finds a lid left off, not every hole: soundness.py looks at each edge.
    """
    if not len(mesh.faces):
        raise RangeError("a level needs a closed body, got a mesh without triangles")
    if not np.isfinite(mesh.corners).all():
        raise RangeError("a level needs finite corner points, got nan or infinity")
    low, high = mesh.corners.min(axis=(0, 1)), mesh.corners.max(axis=(0, 1))
    reference = low + 0.5 * (high - low)
    order = np.argsort(along_curve(mesh.corners.mean(axis=1)), kind="stable")
    corners, areas = mesh.corners[order] - reference, mesh.area_vectors[order]
    nodes = tree(corners, areas)
    gap, skin = float(np.linalg.norm(nodes[1, 6:9])), float(np.linalg.norm(areas, axis=1).sum())
    if gap > OPEN * skin:
        raise RangeError(f"a level needs a closed body, got one open over {gap:.3g} m^2 or more")
    volume = float(nodes[1, 9:12].sum() / 3.0)  # the trace of sum a c^T is three times that
    if not volume > 0.0:
        raise RangeError(f"a level needs a body of positive volume, got {volume:.3g} m^3")
    return LevelBody(
        nodes=nodes,
        corners=np.ascontiguousarray(corners.reshape(-1, 9)),
        areas=np.ascontiguousarray(areas),
        reference=reference,
        skin=skin,
        several=in_pieces(mesh.faces, len(mesh.vertices)),
        volume=volume,
    )


def liquid_below(body: LevelBody, up: ArrayLike, height: ArrayLike) -> Liquid:
    """Volume, surface area and centroid of the liquid below planes.

    Parameters
    ----------
    body : LevelBody [m]
        From `level_body`.
    up : (k, 3) or (3,) [-]
        Unit vectors against effective gravity.
    height : (k,) or scalar [m]
        Surface's signed distance from the frame's origin along `up`.

    Returns
    -------
    liquid : Liquid [m^3, m^2, m]
    """
    from sumpwright.geometry.level_moment import moment_below

    ups, local = _planes(body, up, height)
    volume, surface = _volumes(body, ups, local)
    centroid = np.full((len(local), 3), np.nan)

    def work(items: NDArray[np.int64]) -> None:
        for k in items:
            moment = moment_below(body.nodes, body.corners, BLOCK, ups[k], local[k])
            if moment[3] > 0.0:
                centroid[k] = moment[:3] / moment[3] + body.reference

    run_in_threads(work, len(local))
    return Liquid(volume=volume, surface_area=surface, centroid=centroid)


def volume_below(body: LevelBody, up: ArrayLike, height: ArrayLike) -> Floats:
    """Volume of the liquid below planes.

    Parameters
    ----------
    body : LevelBody [m]
        From `level_body`.
    up : (k, 3) or (3,) [-]
        Unit vectors against effective gravity.
    height : (k,) or scalar [m]
        Surface's signed distance from the frame's origin along `up`.

    Returns
    -------
    volume : (k,) [m^3]
    """
    return _volumes(body, *_planes(body, up, height))[0]


def levels_of(body: LevelBody, up: ArrayLike, volume: ArrayLike) -> Levels:
    """Heights at which the surface stands; where several would do, the lowest.

    Questions are answered fastest in an order in which neighbours are alike.

    Parameters
    ----------
    body : LevelBody [m]
        From `level_body`.
    up : (k, 3) or (3,) [-]
        Unit vectors against effective gravity.
    volume : (k,) or scalar [m^3]
        0 to the body's volume.

    Returns
    -------
    levels : Levels [m, m^2]

    Raises
    ------
    RangeError
        If a volume is below 0 or above the body's.
    """
    from sumpwright.geometry.level_solve import RUN, many_heights

    ups, volumes = _asked(up, volume)
    count = len(volumes)
    beyond = ~((volumes >= 0.0) & (volumes <= body.volume * (1.0 + 1e-12)))
    if beyond.any():
        worst = volumes[beyond][0]
        raise RangeError(f"volume {worst:.6g} m^3 is outside 0 to {body.volume:.6g} m^3")
    height, surface = np.zeros(count), np.zeros(count)

    def work(runs: NDArray[np.int64]) -> None:
        many_heights(
            body.nodes,
            body.corners,
            body.areas,
            BLOCK,
            body.skin,
            body.several,
            body.volume,
            ups,
            volumes,
            runs,
            height,
            surface,
        )

    run_in_threads(work, -(-count // RUN))
    return Levels(height=height + ups @ body.reference, surface_area=surface)


def extent_along(body: LevelBody, up: ArrayLike) -> Floats:
    """Lowest and highest reach of the body along directions.

    Parameters
    ----------
    body : LevelBody [m]
        From `level_body`.
    up : (k, 3) or (3,) [-]
        Unit vectors.

    Returns
    -------
    extent : (k, 2) [m]
        Signed distances from the frame's origin.
    """
    from sumpwright.geometry.level_reach import many_reaches

    ups, _ = _asked(up, 0.0)
    extent = np.zeros((len(ups), 2))

    def work(items: NDArray[np.int64]) -> None:
        many_reaches(body.nodes, body.corners, BLOCK, ups, items, extent)

    run_in_threads(work, len(ups))
    return extent + (ups @ body.reference)[:, None]


def _asked(up: ArrayLike, value: ArrayLike) -> tuple[Floats, Floats]:
    """Directions and values spread over each other; refuses what would give nonsense quietly."""
    ups, values = (np.array(x, dtype=float, order="C", ndmin=n) for x, n in ((up, 2), (value, 1)))
    length = np.sqrt(np.einsum("ij,ij->i", ups, ups))
    if not (np.abs(length - 1.0) < 1e-9).all():
        worst = length[np.argmax(np.abs(length - 1.0))]
        raise RangeError(f"up needs unit vectors, got one of length {worst:.6g}")
    count = max(len(ups), len(values))
    if len(ups) != count:
        ups = np.ascontiguousarray(np.broadcast_to(ups, (count, 3)))
    if len(values) != count:
        values = np.ascontiguousarray(np.broadcast_to(values, (count,)))
    return ups, values


def _planes(body: LevelBody, up: ArrayLike, height: ArrayLike) -> tuple[Floats, Floats]:
    ups, heights = _asked(up, height)
    if np.isnan(heights).any():
        raise RangeError("a plane needs a height, got nan")
    return ups, heights - ups @ body.reference


def _volumes(body: LevelBody, ups: Floats, local: Floats) -> tuple[Floats, Floats]:
    from sumpwright.geometry.level_kernel import FLAT, many_below

    volume, surface = np.zeros(len(local)), np.zeros(len(local))

    def work(items: NDArray[np.int64]) -> None:
        many_below(body.nodes, body.corners, body.areas, BLOCK, ups, local, items, volume, surface)

    run_in_threads(work, len(local))
    noise = 1e-15 * body.skin * float(np.linalg.norm(body.nodes[1, 3:6]))
    volume[(volume < 0.0) & (volume > -noise)] = 0.0  # so that what comes out may go in again
    surface[np.abs(surface) < FLAT * body.skin] = 0.0
    return volume, surface
