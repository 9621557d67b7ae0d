# SPDX-License-Identifier: Apache-2.0
"""Smallest gap between the pan and a body of the car, over movements; distances for colouring.

Both bodies are closed and in the car's frame, or the pan in the engine's with moves that take it
to the car's. Triangles are measured, not samples: the gap is exact for the meshes given.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.depth import deepest
from sumpwright.geometry.edge import pieces, sides_of
from sumpwright.geometry.inside import SkinTree
from sumpwright.geometry.mesh import Faces, Mesh, Points
from sumpwright.geometry.refine import refined as refined

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Move = tuple[ArrayLike, ArrayLike]

_PROBES = 100  # corners measured anew for each move, to bound the gap from above


@dataclass(frozen=True)
class Gap:
    """Nearest places of two bodies."""

    distance: float
    """Between the skins [m] while the bodies are apart. Where the skins cross, or one body is
    inside the other, minus the largest depth [m] at which a point of either skin was found inside
    the other body: how deep they overlap, not how far they would have to be moved. 0 where they
    only touch."""
    on_pan: Points
    """(3,) in the car's frame; where the bodies overlap the deepest point and the other skin's
    point nearest to it."""
    on_obstacle: Points
    touching: bool
    """True where the bodies touch or overlap."""


@dataclass(frozen=True, eq=False)
class Clearance:
    """One pan and one obstacle, with the search trees that answer many questions about them.

    `rotation` and `shift` take the pan to where it rests in the obstacle's frame.
    """

    pan: Mesh
    obstacle: Mesh
    rotation: ArrayLike = field(default_factory=lambda: np.eye(3))
    shift: ArrayLike = field(default_factory=lambda: np.zeros(3))

    @cached_property
    def rest(self) -> Mesh:
        """The pan where it rests [m]."""
        return self.pan.moved(self.rotation, self.shift)

    @cached_property
    def _tree(self) -> SkinTree:
        return SkinTree(self.obstacle)

    @cached_property
    def _distances(self) -> Floats:
        return self._tree.nearest(self.rest.vertices)[0]

    @cached_property
    def field(self) -> Floats:
        """(n,) signed distance of each pan vertex at rest to the obstacle [m]; negative inside."""
        within = self._tree.encloses(self.rest.vertices)
        return np.where(within, -self._distances, self._distances)

    def gaps(self, moves: Sequence[Move]) -> tuple[Gap, ...]:
        """The gap for each of `moves`, (rotation (3, 3), shift (3,)) of the pan [-, m]."""
        turns = [(np.asarray(r, dtype=float), np.asarray(s, dtype=float)) for r, s in moves]
        near_pan, near_obstacle = self._near(turns)
        faces = self.pan.faces[near_pan], self.obstacle.faces[near_obstacle]
        trees = _bvh(self.pan, faces[0]), _bvh(self.obstacle, faces[1])
        return tuple(self._gap(trees, faces, turn, shift) for turn, shift in turns)

    def _near(self, moves: Sequence[tuple[Points, Points]]) -> tuple[Flags, Flags]:
        """Which faces of pan and obstacle can hold the nearest places in any of the moves.

        A vertex comes nearer by no more than it is moved, and no point of a face is further from
        its nearest corner than the longest side / sqrt(3). Building the exact trees over what is
        left costs a tenth of building them over everything.
        """
        pan, corners = self.pan, self.obstacle.corners
        farthest, gap = np.zeros(len(pan.vertices)), 0.0
        for turn, shift in moves:
            moved = pan.vertices @ turn.T + shift
            step = np.linalg.norm(moved - self.rest.vertices, axis=1)
            gap = max(gap, self._gap_at_most(moved, self._distances - step))
            farthest = np.maximum(farthest, step)
        sides = np.linalg.norm(pan.corners - np.roll(pan.corners, 1, axis=1), axis=2)
        reach = sides.max(axis=1) / np.sqrt(3.0)
        near_pan = (self._distances - farthest)[pan.faces].min(axis=1) - reach <= gap
        mine = np.unique(pan.faces[near_pan])
        margin = gap + farthest[mine].max()
        low = self.rest.vertices[mine].min(axis=0) - margin
        high = self.rest.vertices[mine].max(axis=0) + margin
        near_obstacle = (corners.max(axis=1) >= low) & (corners.min(axis=1) <= high)
        return near_pan, near_obstacle.all(axis=1)

    def _gap_at_most(self, moved: Points, least: Floats) -> float:
        """A bound on the gap from above: measured at the corners that may have come nearest."""
        used = self._used_corners
        probes = used[np.argpartition(least[used], min(_PROBES, len(used)) - 1)[:_PROBES]]
        return float(self._tree.nearest(moved[probes])[0].min()) * (1 + 1e-9) + 1e-12

    @cached_property
    def _used_corners(self) -> NDArray[np.int64]:
        return np.unique(self.pan.faces)

    def _gap(
        self, trees: tuple[Any, Any], faces: tuple[Faces, Faces], turn: Points, shift: Points
    ) -> Gap:
        import fcl

        result = fcl.DistanceResult()
        placed = fcl.CollisionObject(trees[0], fcl.Transform(turn, shift))
        request = fcl.DistanceRequest(enable_nearest_points=True)
        distance = fcl.distance(placed, fcl.CollisionObject(trees[1]), request, result)
        if distance > 0 and not self._one_in_other(turn, shift):
            on_pan, on_obstacle = (np.array(p) for p in result.nearest_points)
            return Gap(float(distance), on_pan, on_obstacle, False)
        overlap = self._overlap(turn, shift)
        if overlap is not None:
            return overlap
        # The library's points are not those of the contact where the distance is nought.
        mine = self.pan.vertices[faces[0][result.b1]] @ turn.T + shift
        spot = _meeting_point(mine, self.obstacle.vertices[faces[1][result.b2]])
        return Gap(0.0, spot, spot.copy(), True)

    def _one_in_other(self, turn: Points, shift: Points) -> bool:
        """Whether a piece of one body is inside the other, given that their skins do not meet."""
        mine = self.pan.vertices[self._pan_pieces] @ turn.T + shift
        if self._tree.exactly_encloses(_boxed(mine, self.obstacle)).any():
            return True
        its = (self.obstacle.vertices[self._obstacle_pieces] - shift) @ turn
        return bool(self._pan_tree.exactly_encloses(_boxed(its, self.pan)).any())

    def _overlap(self, turn: Points, shift: Points) -> Gap | None:
        """The gap of bodies that overlap; None where no point of either is inside the other."""
        mine = deepest(self.pan.moved(turn, shift), self._tree)
        its = deepest(self.obstacle.moved(turn.T, -shift @ turn), self._pan_tree)
        if mine is not None and (its is None or mine.depth >= its.depth):
            return Gap(-mine.depth, mine.point, mine.nearest, True)
        if its is None:
            return None
        point, nearest = (p @ turn.T + shift for p in (its.point, its.nearest))
        return Gap(-its.depth, nearest, point, True)

    @cached_property
    def _pan_tree(self) -> SkinTree:
        return SkinTree(self.pan)

    @cached_property
    def _pan_pieces(self) -> NDArray[np.int64]:
        return _one_of_each_piece(self.pan)

    @cached_property
    def _obstacle_pieces(self) -> NDArray[np.int64]:
        return _one_of_each_piece(self.obstacle)


def smallest_gap(pan: Mesh, obstacle: Mesh, moves: Sequence[Move]) -> tuple[Gap, ...]:
    """The smallest gap between two bodies for several places of the first.

    Parameters
    ----------
    pan : Mesh [m]
        Closed; in its own frame.
    obstacle : Mesh [m]
        Closed; an open skin counts as solid where it surrounds a place by more than half.
    moves : k pairs of (3, 3) and (3,) [-, m]
        Rotation and shift that take the pan to the obstacle's frame; the first is at rest, and
        the search is quickest when the others are within centimetres of it.

    Returns
    -------
    gaps : k of Gap [m]
    """
    if not len(moves):
        return ()
    return Clearance(pan, obstacle, *moves[0]).gaps(moves)


def distance_field(pan: Mesh, obstacles: Sequence[Mesh]) -> Floats:
    """Signed distance of every pan vertex to the nearest obstacle, for colouring.

    Between vertices of large triangles the distance may be smaller: see `refined`.

    Parameters
    ----------
    pan : Mesh [m]
        In the obstacles' frame.
    obstacles : list of Mesh [m]
        At least one, closed.

    Returns
    -------
    distance : (n,) [m]
        Negative inside an obstacle.
    """
    return np.asarray(np.min([Clearance(pan, obstacle).field for obstacle in obstacles], axis=0))


def lowest_point(mesh: Mesh, rotation: ArrayLike, shift: ArrayLike) -> Points:
    """The lowest point of a body in the frame it is moved to.

    Parameters
    ----------
    mesh : Mesh [m]
        In its own frame.
    rotation : (3, 3) [-]
        Takes it to the car's frame.
    shift : (3,) [m]
        Added after turning.

    Returns
    -------
    point : (3,) [m]
        In the car's frame, z up.
    """
    points = mesh.moved(rotation, shift).vertices[np.unique(mesh.faces)]
    return np.asarray(points[np.argmin(points[:, 2])])


def _bvh(mesh: Mesh, faces: Faces) -> Any:
    import fcl

    tree = fcl.BVHModel()
    tree.beginModel(len(mesh.vertices), len(faces))
    tree.addSubModel(mesh.vertices, faces)
    tree.endModel()
    return tree


def _one_of_each_piece(mesh: Mesh) -> NDArray[np.int64]:
    """One vertex number of each connected piece of skin."""
    piece = pieces(sides_of(mesh.faces), len(mesh.vertices))
    used = np.unique(mesh.faces)
    return np.asarray(used[np.unique(piece[used], return_index=True)[1]])


def _boxed(points: Points, body: Mesh) -> Points:
    """Those of `points` that lie in the box round a body: only they can be inside it."""
    low, high = body.bounds
    return np.asarray(points[((points >= low) & (points <= high)).all(axis=1)])


def _meeting_point(one: Points, other: Points) -> Points:
    """A point that two triangles (3, 3) share."""
    import igl

    _, share, _ = igl.simplex_simplex_squared_distance(one, other)
    return np.asarray(share @ one)
