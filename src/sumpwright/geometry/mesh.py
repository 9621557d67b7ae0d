# SPDX-License-Identifier: Apache-2.0
"""A triangle mesh in metres, and what can be said of it without cutting it."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

Points = NDArray[np.float64]
Faces = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles over shared vertices; corners run counter-clockwise seen from outside.

    ``vertices`` is (n, 3) in metres, ``faces`` (m, 3) of vertex numbers. Both are read-only.
    """

    vertices: Points
    faces: Faces

    def __post_init__(self) -> None:
        vertices = np.array(self.vertices, dtype=np.float64, order="C").reshape(-1, 3)
        faces = np.array(self.faces, dtype=np.int64, order="C").reshape(-1, 3)
        vertices.setflags(write=False)
        faces.setflags(write=False)
        object.__setattr__(self, "vertices", vertices)
        object.__setattr__(self, "faces", faces)

    @cached_property
    def corners(self) -> Points:
        """(m, 3, 3) corner points of each triangle [m]."""
        return self.vertices[self.faces]

    @cached_property
    def area_vectors(self) -> Points:
        """(m, 3) outward normal of each triangle times its area [m^2]."""
        a, b, c = self.corners[:, 0], self.corners[:, 1], self.corners[:, 2]
        return 0.5 * np.cross(b - a, c - a)

    @cached_property
    def area(self) -> float:
        """Area of the whole skin [m^2]."""
        return float(np.linalg.norm(self.area_vectors, axis=1).sum())

    @cached_property
    def volume(self) -> float:
        """Enclosed volume [m^3]; negative where the skin is inside out."""
        if not len(self.faces):
            return 0.0
        middle = self.corners.mean(axis=1) - self.vertices.mean(axis=0)
        return float(np.einsum("ij,ij->", middle, self.area_vectors) / 3.0)

    @cached_property
    def bounds(self) -> Points:
        """(2, 3) smallest and largest x, y, z [m]."""
        return np.stack([self.vertices.min(axis=0), self.vertices.max(axis=0)])

    def moved(self, rotation: ArrayLike, shift: ArrayLike) -> "Mesh":
        """The mesh turned by `rotation` (3, 3) about the origin, then moved by `shift` [m]."""
        turned = self.vertices @ np.asarray(rotation, dtype=float).T
        return Mesh(turned + np.asarray(shift, dtype=float), self.faces)

    def scaled(self, factor: float) -> "Mesh":
        """The mesh with every coordinate times `factor` [-]."""
        return Mesh(self.vertices * factor, self.faces)

    def flipped(self) -> "Mesh":
        """The mesh with every triangle turned to face the other way."""
        return Mesh(self.vertices, self.faces[:, ::-1])


def joined(meshes: list[Mesh]) -> Mesh:
    """One mesh of several bodies; bodies stay separate skins.

    Parameters
    ----------
    meshes : list of Mesh [m]
        At least one.

    Returns
    -------
    mesh : Mesh [m]
    """
    offsets = np.cumsum([0] + [len(m.vertices) for m in meshes[:-1]])
    return Mesh(
        np.concatenate([m.vertices for m in meshes]),
        np.concatenate([m.faces + k for m, k in zip(meshes, offsets, strict=True)]),
    )
