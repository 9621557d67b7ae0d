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
from sumpwright.geometry.kernel import run_in_threads
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]

BLOCK = 16
"""Triangles in a leaf. 8 to 32 measured alike; 16 was the fastest on a 100k-triangle cavity."""


@dataclass(frozen=True, eq=False)
class LevelBody:
    """A closed body prepared for levels; rows as level_kernel.py describes them."""

    nodes: Floats
    corners: Floats
    areas: Floats
    vertices: Floats
    reference: Floats
    """(3,) point that the arrays count from [m]."""
    volume: float
    """Whole volume [m^3]."""


@dataclass(frozen=True)
class Liquid:
    """What lies below each plane."""

    volume: Floats
    """(k,) [m^3]"""
    surface_area: Floats
    """(k,) [m^2]"""
    centroid: Floats
    """(k, 3) [m]; nan where there is no liquid."""


@dataclass(frozen=True)
class Levels:
    """Where the surface stands for each volume."""

    height: Floats
    """(k,) signed distance of the surface from the frame's origin along up [m]"""
    surface_area: Floats
    """(k,) [m^2]"""


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
        If the mesh is empty, or encloses no volume because it is open or inside out.
    """
    if not len(mesh.faces):
        raise RangeError("a level needs a closed body, got a mesh without triangles")
    if not mesh.volume > 0.0:
        raise RangeError(f"a level needs a body of positive volume, got {mesh.volume:.3g} m^3")
    low, high = mesh.bounds
    reference = 0.5 * (low + high)
    used = np.unique(mesh.faces)
    order = np.argsort(_along_curve(mesh.corners.mean(axis=1), low, high), kind="stable")
    corners = mesh.corners[order] - reference
    areas = mesh.area_vectors[order]
    nodes = _tree(corners, areas)
    lift = nodes[1, 9:12].sum() / 3.0  # the trace of sum a c^T is three times the volume
    return LevelBody(
        nodes=nodes,
        corners=np.ascontiguousarray(corners.reshape(-1, 9)),
        areas=np.ascontiguousarray(areas),
        vertices=np.ascontiguousarray(mesh.vertices[used] - reference),
        reference=reference,
        volume=float(lift),
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
    from sumpwright.geometry.level_kernel import moment_below

    ups, local = _planes(body, up, height)
    volume, surface = _volumes(body, ups, local)
    centroid = np.full((len(local), 3), np.nan)

    def work(items: NDArray[np.int64]) -> None:
        for k in items:
            moment = moment_below(body.corners, body.areas, ups[k], local[k])
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
    from sumpwright.geometry.level_kernel import many_heights

    ups = np.atleast_2d(np.asarray(up, dtype=float))
    volumes = np.atleast_1d(np.asarray(volume, dtype=float))
    count = max(len(ups), len(volumes))
    ups = np.ascontiguousarray(np.broadcast_to(ups, (count, 3)))
    volumes = np.ascontiguousarray(np.broadcast_to(volumes, (count,)))
    beyond = ~((volumes >= 0.0) & (volumes <= body.volume * (1.0 + 1e-12)))
    if beyond.any():
        worst = volumes[beyond][0]
        raise RangeError(f"volume {worst:.6g} m^3 is outside 0 to {body.volume:.6g} m^3")
    height, surface = np.zeros(count), np.zeros(count)

    def work(items: NDArray[np.int64]) -> None:
        many_heights(
            body.nodes,
            body.corners,
            body.areas,
            BLOCK,
            body.vertices,
            body.volume,
            ups,
            volumes,
            items,
            height,
            surface,
        )

    run_in_threads(work, count)
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
    ups = np.atleast_2d(np.asarray(up, dtype=float))
    along = (body.vertices + body.reference) @ ups.T
    return np.stack([along.min(axis=0), along.max(axis=0)], axis=1)


def _planes(body: LevelBody, up: ArrayLike, height: ArrayLike) -> tuple[Floats, Floats]:
    ups = np.atleast_2d(np.asarray(up, dtype=float))
    heights = np.atleast_1d(np.asarray(height, dtype=float))
    count = max(len(ups), len(heights))
    ups = np.ascontiguousarray(np.broadcast_to(ups, (count, 3)))
    return ups, np.broadcast_to(heights, (count,)) - ups @ body.reference


def _volumes(body: LevelBody, ups: Floats, local: Floats) -> tuple[Floats, Floats]:
    from sumpwright.geometry.level_kernel import many_below

    volume, surface = np.zeros(len(local)), np.zeros(len(local))

    def work(items: NDArray[np.int64]) -> None:
        many_below(body.nodes, body.corners, body.areas, BLOCK, ups, local, items, volume, surface)

    run_in_threads(work, len(local))
    return volume, surface


def _along_curve(points: Floats, low: Floats, high: Floats) -> NDArray[np.uint64]:
    """Place of each point along a Morton curve, so that neighbours in number are near in space."""
    cells = ((points - low) / max(float((high - low).max()), 1e-300) * 65535.0).astype(np.uint64)
    code = np.zeros(len(points), dtype=np.uint64)
    for axis in range(3):
        x = cells[:, axis]
        for shift, mask in (
            (32, 0x1F00000000FFFF),
            (16, 0x1F0000FF0000FF),
            (8, 0x100F00F00F00F00F),
            (4, 0x10C30C30C30C30C3),
            (2, 0x1249249249249249),
        ):
            x = (x | (x << np.uint64(shift))) & np.uint64(mask)
        code |= x << np.uint64(axis)
    return code


def _tree(corners: Floats, areas: Floats) -> Floats:
    """(2 leaves, 15) rows of level_kernel's tree, summed from the leaves up."""
    starts = np.arange(0, len(corners), BLOCK)
    leaves = 1 << max(0, int(len(starts) - 1).bit_length())
    low = np.full((2 * leaves, 3), np.inf)
    high = np.full((2 * leaves, 3), -np.inf)
    sums = np.zeros((2 * leaves, 9))
    here = slice(leaves, leaves + len(starts))
    low[here] = np.minimum.reduceat(corners.min(axis=1), starts)
    high[here] = np.maximum.reduceat(corners.max(axis=1), starts)
    middle = corners.mean(axis=1)
    outer = areas[:, :, None] * middle[:, None, :]
    pairs = [(0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2)]
    lift = np.stack([0.5 * (outer[:, i, j] + outer[:, j, i]) for i, j in pairs], axis=1)
    sums[here] = np.add.reduceat(np.concatenate([areas, lift], axis=1), starts)
    row = leaves
    while row > 1:
        kids, row = slice(row, 2 * row), row // 2
        here = slice(row, 2 * row)
        low[here] = low[kids].reshape(-1, 2, 3).min(axis=1)
        high[here] = high[kids].reshape(-1, 2, 3).max(axis=1)
        sums[here] = sums[kids].reshape(-1, 2, 9).sum(axis=1)
    empty = ~(low <= high).all(axis=1)  # blocks that only fill the tree up; half < 0 skips them
    low[empty], high[empty] = 1.0, -1.0
    return np.ascontiguousarray(np.concatenate([0.5 * (low + high), 0.5 * (high - low), sums], 1))
