# SPDX-License-Identifier: Apache-2.0
"""A free space for other programs: few triangles, level layers, and all of it inside the true
space."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import SolveError
from sumpwright.geometry.free_space import Space, triangles
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.region import Region, outlines_of, region_area, region_of
from sumpwright.geometry.solid import mesh_of, solid_of

Floats = NDArray[np.float64]

FIRST = 1e-4
"""m; how far the skin is drawn in at first"""
TRIES = 5
SPECK = 1e-4
"""m^2; smaller pieces of a layer are left out"""


@dataclass(frozen=True, eq=False)
class Skin:
    """A space's skin, drawn in."""

    mesh: Mesh
    inset: float
    """How far it was drawn in [m]"""
    spare: float
    """Smallest of what the checked places keep beyond what they must [m]"""


def inner_skin(space: Space, spare_at: Callable[[Floats], Floats]) -> Skin:
    """The skin with as few triangles as a twentieth of a millimetre allows, inside the space.

    Parameters
    ----------
    space : Space [m]
        Not empty.
    spare_at : callable, (n, 3) [m] to (n,) [m]
        What places keep beyond what they must, by exact distances.

    Returns
    -------
    skin : Skin [m]
        Every corner, middle of a side and middle of a triangle keeps what it must.

    Raises
    ------
    SolveError
        Where drawing it in does not settle that.
    """
    inset = FIRST
    for _ in range(TRIES):
        whole = solid_of(triangles(space.depth, space.grid, inset), what="the free space")
        # cut first: what is made simpler afterwards keeps the flat of the rail
        mesh = mesh_of(whole.trim_by_plane((0.0, 0.0, -1.0), 0.0).simplify(0.5 * FIRST))
        spare = float(spare_at(_looked_at(mesh)).min())
        if spare >= 0.0:
            return Skin(mesh, inset, spare)
        inset += 1.1 * -spare + 1e-5
    raise SolveError(
        f"the skin of the free space was drawn in {TRIES} times, to {1e3 * inset:.2f} mm, and is "
        f"still {-1e3 * spare:.3f} mm too far out; try a finer grid"
    )


def _looked_at(mesh: Mesh) -> Floats:
    """Corners, and the middles of sides and triangles."""
    sides = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    middles = mesh.vertices[sides[sides[:, 0] < sides[:, 1]]].mean(axis=1)
    return np.concatenate([mesh.vertices, middles, mesh.corners.mean(axis=1)])


@dataclass(frozen=True, eq=False)
class Layer:
    """A level slab of the space."""

    bottom: float
    top: float
    """z [m]"""
    region: Region
    """[mm]"""

    @property
    def volume(self) -> float:
        """[m^3]"""
        return region_area(self.region) * (self.top - self.bottom)


def layers_of(space: Space, *, inset: float, thick: float, slack: float) -> tuple[Layer, ...]:
    """Upright slabs from the rail down that stay inside the space all through their height.

    Parameters
    ----------
    space : Space [m]
        Not empty.
    inset : float [m]
        To stay off its skin.
    thick : float [m]
        Of a slab.
    slack : float [m]
        By which sides may be drawn in to have fewer corners.

    Returns
    -------
    layers : tuple of Layer [m]
        From the top; only what hangs together with the first.
    """
    found = []
    deepest = float(space.grid.axes[2][(space.depth > 0.0).any(axis=(0, 1))].min())
    for k in range(int(np.ceil(-deepest / thick))):
        top, bottom = -k * thick, -(k + 1) * thick
        region = _slab(space, bottom, top, inset + slack)
        region = region.simplify(1e3 * slack)
        pieces = [p for p in region.decompose() if region_area(p) > SPECK]
        found.append((bottom, top, pieces))
    return tuple(_joined(found))


def _slab(space: Space, bottom: float, top: float, level: float) -> Region:
    """Where the depth is `level` or more from bottom to top."""
    from skimage.measure import find_contours

    z, step = space.grid.axes[2], space.grid.step
    nodes = (z > bottom + 1e-9) & (z < top - 1e-9)
    least = space.depth[:, :, nodes].min(axis=2) if nodes.any() else None
    for end in (bottom, top):
        k = int(np.clip(np.searchsorted(z, end) - 1, 0, len(z) - 2))
        t = np.float32((end - z[k]) / step)
        at = (1 - t) * space.depth[:, :, k] + t * space.depth[:, :, k + 1]
        least = at if least is None else np.minimum(least, at)
    padded = np.pad(np.asarray(least, dtype=float), 1, constant_values=-step)
    loops = [loop - 1.0 for loop in find_contours(padded, level)]
    return region_of([space.grid.origin[:2] + step * loop for loop in loops], even_odd=True)


def _joined(found: list[tuple[float, float, list[Region]]]) -> list[Layer]:
    """Layers of the pieces that hang together with the uppermost."""
    kept = [[k == 0] * len(pieces) for k, (_, _, pieces) in enumerate(found)]
    order = [*range(1, len(found)), *range(len(found) - 2, -1, -1)]
    changed = True
    while changed:
        changed = False
        for k in order:
            for other in (k - 1, k + 1):
                if not 0 <= other < len(found):
                    continue
                for i, piece in enumerate(found[k][2]):
                    near = zip(found[other][2], kept[other], strict=True)
                    if not kept[k][i] and any(
                        flag and region_area(piece ^ by) > SPECK for by, flag in near
                    ):
                        kept[k][i] = changed = True
    layers = []
    for (bottom, top, pieces), flags in zip(found, kept, strict=True):
        loops = [o for p, f in zip(pieces, flags, strict=True) if f for o in outlines_of(p)]
        if loops:
            layers.append(Layer(bottom, top, region_of(loops)))
    return layers
