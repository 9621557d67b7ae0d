# SPDX-License-Identifier: Apache-2.0
"""The largest space a round-nosed cutter can make where every point may be, joined to the opening.

Where `margin` is the distance to the nearest place that is not allowed, the centre of a ball of
radius r may go where margin >= r. Of these centres only those count that hang together with the
opening; what the balls about them fill is the space: the room opened by the ball, in the words of
mathematical morphology, without what floats. Distances are taken to the triangles of the centres'
skin, so the error falls with the square of the grid's step.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.free_space_edge import with_edges
from sumpwright.geometry.free_space_grid import Field, Grid
from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

RAIL = 0.0
"""z of the pan rail [m]; above it the opening goes on, so that its edge is not rounded."""


@dataclass(frozen=True, eq=False)
class Space:
    """A space below the rail, on a grid."""

    grid: Grid
    depth: Field
    """(nx, ny, nz) [m] of a point in the space: about the distance to its skin near it, negative
    outside; above the rail it goes on."""
    centres: Flags
    """(nx, ny, nz) where the middle of the cutter's ball may be"""
    radius: float
    """Of the ball [m]"""

    @property
    def is_empty(self) -> bool:
        """Whether nothing of it is below the rail."""
        return not bool((self.depth[:, :, self.below] > 0.0).any())

    @property
    def below(self) -> Flags:
        """(nz,) the points below the rail."""
        return np.asarray(self.grid.axes[2] < RAIL)

    @cached_property
    def share(self) -> Field:
        """(nx, ny, nz) share of each cell below the rail that the space fills."""
        return filled(self.depth[:, :, self.below], self.grid.step)

    @cached_property
    def mesh(self) -> Mesh:
        """The space in triangles, closed by the plane of the rail."""
        return skin_of(self.depth, self.grid, 0.0)


def filled(depth: Field, step: float) -> Field:
    """Share of each cell that lies deeper than nought, linear across the skin.

    Parameters
    ----------
    depth : (...) [m]
        Distance of the cell's middle inside the skin.
    step : float [m]
        Width of a cell.

    Returns
    -------
    share : (...) [-]
    """
    return np.asarray(np.clip(0.5 + depth / step, 0.0, 1.0), dtype=np.float32)


def opened(parts: Sequence[Field], grid: Grid, radius: float, *, beyond: float = 0.0) -> Space:
    """The space that balls fill whose middles are `radius` or more from what is not allowed.

    Parameters
    ----------
    parts : sequence of (nx, ny, nz) [m]
        For each limit the distance to the nearest place that it does not allow, exact up to
        `radius` and two steps; where they meet, edges are put back by `with_edges`.
    grid : Grid [m]
        The points.
    radius : float [m]
        Of the ball.
    beyond : float [m]
        How far outside the space its depth is to be known.

    Returns
    -------
    space : Space [m]
        Only what hangs together with the opening at the rail.
    """
    margin = np.minimum.reduce(parts)
    middles = margin.astype(np.float64) - radius
    kept = joined_to_rail(middles >= 0.0, grid)
    middles = np.where(kept | _beside(kept), middles, np.minimum(middles, -grid.step))
    reach = beyond + 2.5 * grid.step
    depth = np.full(margin.shape, -reach, dtype=np.float32)
    if kept.any():
        depth[kept] = margin[kept]
        shell = _within(kept, (radius + reach) / grid.step) & ~kept
        spots = grid.places(np.argwhere(shell))
        skin = with_edges(triangles(middles, grid, 0.0), parts, grid, radius)
        depth[shell] = radius - _distance(skin, spots)
    return Space(grid, depth, kept, radius)


def joined_to_rail(flags: Flags, grid: Grid) -> Flags:
    """Those of `flags` that hang together with one at the rail or above.

    Parameters
    ----------
    flags : (nx, ny, nz) [-]
        Any.
    grid : Grid [m]
        The points.

    Returns
    -------
    joined : (nx, ny, nz) [-]
    """
    from scipy.ndimage import label

    number, _ = label(flags)
    tops = np.unique(number[:, :, grid.axes[2] > RAIL])
    return np.asarray(np.isin(number, tops[tops > 0]))


def _beside(flags: Flags) -> Flags:
    """The neighbours of `flags`, corners included: their values place the skin between."""
    from scipy.ndimage import binary_dilation

    return np.asarray(binary_dilation(flags, np.ones((3, 3, 3), dtype=bool)))


def _within(flags: Flags, steps: float) -> Flags:
    from scipy.ndimage import distance_transform_edt

    return np.asarray(distance_transform_edt(~flags) <= steps)


def _distance(mesh: Mesh, spots: Floats) -> Floats:
    import igl

    middle = mesh.bounds.mean(axis=0)  # the tree works about its middle, as `inside` does
    local = np.ascontiguousarray(mesh.vertices - middle)
    squared, _, _ = igl.point_mesh_squared_distance(
        np.ascontiguousarray(spots - middle), local, mesh.faces
    )
    return np.asarray(np.sqrt(squared), dtype=float)


def triangles(depth: NDArray[np.floating], grid: Grid, level: float) -> Mesh:
    """Closed skin of where a field is over `level`, facing outward.

    Parameters
    ----------
    depth : (nx, ny, nz) [m]
        Any; outside the grid nothing is over the level.
    grid : Grid [m]
        The points.
    level : float [m]
        Of the skin.

    Returns
    -------
    mesh : Mesh [m]
        By marching cubes, linear between neighbours.
    """
    from skimage.measure import marching_cubes

    off = np.asarray(depth, dtype=np.float64) - level
    tiny = 1e-6 * grid.step  # a point exactly on the skin would give triangles without area
    off = np.where(np.abs(off) < tiny, np.where(off < 0.0, -tiny, tiny), off)
    padded = np.pad(off, 1, constant_values=min(float(off.min()), -grid.step))
    vertices, faces, _, _ = marching_cubes(padded, 0.0, allow_degenerate=False)
    mesh = Mesh(grid.places(vertices.astype(np.float64) - 1.0), faces)
    return mesh if mesh.volume > 0.0 else mesh.flipped()


def skin_of(depth: NDArray[np.floating], grid: Grid, level: float) -> Mesh:
    """The skin at `level`, cut off flat at the rail.

    Parameters
    ----------
    depth : (nx, ny, nz) [m]
        Of a space.
    grid : Grid [m]
        The points.
    level : float [m]
        How deep in the space the skin lies.

    Returns
    -------
    mesh : Mesh [m]
        Closed.
    """
    from sumpwright.geometry.solid import mesh_of, solid_of

    whole = solid_of(triangles(depth, grid, level), what="the free space")
    return mesh_of(whole.trim_by_plane((0.0, 0.0, -1.0), -RAIL))
