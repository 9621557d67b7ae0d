# SPDX-License-Identifier: Apache-2.0
"""How the triangles of a mesh meet at their edges: open edges, winding, connected skins.

A half-edge is one side of a triangle: number 3 f + k runs from corner k of triangle f to the next.
On a sound skin each edge is run once each way. Where two bodies touch along an edge, four or more
half-edges meet; they are paired round the edge so that each pair bounds one wedge of material, and
bodies that only touch stay apart.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.edge import pieces
from sumpwright.geometry.merge import exactly_merged
from sumpwright.geometry.mesh import Faces, Mesh

Numbers = NDArray[np.intp]
_SAME_ANGLE = 1e-6  # rad; faces round an edge nearer than this lie on each other


@dataclass(frozen=True, eq=False)
class Skin:
    """A mesh's triangles and the edges they meet at; equal points count as one."""

    mesh: Mesh
    """Without triangles of repeated corners and without second copies of a triangle."""
    source: Numbers
    """(m,) number of each triangle in the mesh that was asked about."""
    repeated: int
    """Triangles left out for a repeated corner."""
    copies: Numbers
    """(k,) triangles here of which the mesh asked about has further copies, one entry a copy."""

    @cached_property
    def _sorted(self) -> tuple[Numbers, Numbers, Numbers]:
        """Half-edges sorted by edge, where each edge starts in that, and half-edges of each."""
        key = _edge_keys(self.mesh.faces)
        order = np.argsort(key, kind="stable")
        key = key[order]
        start = np.flatnonzero(np.concatenate([[True], key[1:] != key[:-1]])[: len(key)])
        return order, start, np.diff(np.append(start, len(key)))

    @cached_property
    def half_edges(self) -> Faces:
        """(3 m, 2) vertex numbers each half-edge runs from and to."""
        return np.stack([self.mesh.faces, np.roll(self.mesh.faces, -1, axis=1)], -1).reshape(-1, 2)

    @property
    def edge_counts(self) -> Numbers:
        """(e,) triangles that meet at each edge."""
        return self._sorted[2]

    @cached_property
    def balance(self) -> Numbers:
        """(e,) runs one way less runs the other way along each edge; 0 on a sound skin."""
        order, start, _ = self._sorted
        sign = np.where(self.half_edges[order, 0] < self.half_edges[order, 1], 1, -1)
        if not len(start):
            return start
        return np.asarray(np.add.reduceat(sign, start), dtype=np.intp)

    def halves_of(self, edges: NDArray[np.bool_]) -> Numbers:
        """Half-edges of the chosen edges, edge by edge."""
        order, _, count = self._sorted
        return order[np.repeat(edges, count)]

    @cached_property
    def pairs(self) -> Numbers:
        """(p, 2) half-edges that meet, both ways of winding."""
        plain = self.halves_of(self.edge_counts == 2).reshape(-1, 2)
        crowded = (self.edge_counts > 2) & (self.balance == 0)
        return np.concatenate([plain, self._wedges(crowded)])

    @cached_property
    def labels(self) -> Numbers:
        """(m,) number of the connected skin each triangle belongs to."""
        return pieces(self.pairs // 3, len(self.mesh.faces))

    @property
    def bodies(self) -> int:
        """Connected skins."""
        return int(self.labels.max()) + 1 if len(self.labels) else 0

    @cached_property
    def closed(self) -> NDArray[np.bool_]:
        """(bodies,) whether every edge of a skin is run once each way."""
        answer = np.ones(self.bodies, dtype=bool)
        bad = (self.edge_counts == 1) | (self.balance != 0)
        answer[self.labels[self.halves_of(bad) // 3]] = False
        return answer

    @cached_property
    def turned(self) -> tuple[NDArray[np.bool_], int]:
        """(m,) triangles that face against most of their skin, and skins with one side only."""
        count = len(self.mesh.faces)
        left, right = self.pairs.T
        against = self.half_edges[left, 0] == self.half_edges[right, 0]
        if not against.any():
            return np.zeros(count, dtype=bool), 0
        f, g = left // 3, right // 3
        # each triangle stands twice, as it is and turned; what agrees is joined
        other = np.where(against, g + count, g)
        back = np.where(against, g, g + count)
        links = np.concatenate([np.stack([f, other], 1), np.stack([f + count, back], 1)])
        side = pieces(links, 2 * count)
        as_is, over = side[:count], side[count:]
        one_sided = as_is == over
        votes = np.bincount(as_is, minlength=side.max() + 1)
        less = votes[as_is] < votes[over]
        tied = (votes[as_is] == votes[over]) & (as_is > over)
        return (less | tied) & ~one_sided, len(np.unique(self.labels[one_sided]))

    def _wedges(self, crowded: NDArray[np.bool_]) -> Numbers:
        """(p, 2) half-edges of crowded edges that bound one wedge of material between them."""
        halves = self.halves_of(crowded)
        if not len(halves):
            return np.zeros((0, 2), dtype=np.intp)
        edge = np.repeat(np.arange(crowded.sum()), self.edge_counts[crowded])
        starts = self.half_edges[halves, 0] > self.half_edges[halves, 1]
        angle = self._angles(halves, edge)
        order = np.lexsort((angle, edge))
        step = np.diff(angle[order], prepend=0.0) > _SAME_ANGLE
        group = np.cumsum(step | (np.diff(edge[order], prepend=-1) > 0))
        # of faces that lie on each other, the one that ends a wedge comes first: contact, no wall
        order = order[np.lexsort((starts[order], group))]
        first = np.flatnonzero(np.diff(edge, prepend=-1))
        size = self.edge_counts[crowded]
        place = np.arange(len(halves))
        after = np.where(
            place + 1 == np.repeat(first + size, size), np.repeat(first, size), place + 1
        )
        one, two = order, order[after]
        meets = starts[one] & ~starts[two]
        return np.asarray(np.stack([halves[one], halves[two]], axis=1)[meets])

    def _angles(self, halves: Numbers, edge: Numbers) -> NDArray[np.float64]:
        """Angle of each half-edge's triangle round its edge, from the edge's first triangle."""
        points, faces = self.mesh.vertices, self.mesh.faces
        ends = np.sort(self.half_edges[halves], axis=1)
        apex = points[faces[halves // 3, (halves + 2) % 3]] - points[ends[:, 0]]
        axis = points[ends[:, 1]] - points[ends[:, 0]]
        axis /= np.linalg.norm(axis, axis=1, keepdims=True)
        out = apex - axis * np.einsum("ij,ij->i", apex, axis)[:, None]
        ahead = out[np.flatnonzero(np.diff(edge, prepend=-1))][edge]
        turn = np.arctan2(
            np.einsum("ij,ij->i", out, np.cross(axis, ahead)), np.einsum("ij,ij->i", out, ahead)
        )
        return np.asarray(np.mod(turn + 1e-3, 2.0 * np.pi))  # keeps faces on the first together


def skin_of(mesh: Mesh) -> Skin:
    """The edges of a mesh, ready to be asked about.

    Parameters
    ----------
    mesh : Mesh [m]
        Any triangles.

    Returns
    -------
    skin : Skin [m]
    """
    joined = exactly_merged(mesh)
    a, b, c = joined.faces.T
    proper = (a != b) & (b != c) & (c != a)
    kept = np.flatnonzero(proper)
    skin = Skin(Mesh(joined.vertices, joined.faces[kept]), kept, int((~proper).sum()), kept[:0])
    if not ((skin.edge_counts > 2) | (skin.balance != 0)).any():
        return skin  # a copy of a triangle would show at its edges
    first, number = _first_copies(skin.mesh.faces)
    again = np.setdiff1d(np.arange(len(kept)), first)
    return Skin(
        Mesh(joined.vertices, skin.mesh.faces[first]), kept[first], skin.repeated, number[again]
    )


def body_count(mesh: Mesh) -> int:
    """Connected skins of a mesh; a void inside a body counts as one.

    Parameters
    ----------
    mesh : Mesh [m]
        Any triangles.

    Returns
    -------
    count : int [-]
    """
    return skin_of(mesh).bodies


def _edge_keys(faces: Faces) -> Faces:
    """(3 m,) one number for each half-edge's edge, the same from both sides."""
    to = np.roll(faces, -1, axis=1)
    count = np.int64(faces.max() + 1 if len(faces) else 1)
    return np.asarray(np.minimum(faces, to) * count + np.maximum(faces, to)).reshape(-1)


def _first_copies(faces: Faces) -> tuple[Numbers, Numbers]:
    """First of each distinct facing triangle, in order, and each triangle's number among them."""
    lead = faces.argmin(axis=1)
    rolled = np.take_along_axis(faces, (lead[:, None] + np.arange(3)) % 3, axis=1)
    _, first, number = np.unique(rolled, axis=0, return_index=True, return_inverse=True)
    rank = np.argsort(np.argsort(first))
    return np.sort(first), rank[number.reshape(-1)]
