# SPDX-License-Identifier: Apache-2.0
"""Where to cut a body so that each piece fits a printer: away from bolt holes, and never so near a
wall along the cut that a sliver is left. Bodies are the boolean library's, in millimetres."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import permutations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.region import Region
from sumpwright.geometry.solid import Solid, mesh_of

Floats = NDArray[np.float64]

STEP = 0.5
"""mm; between the places for a cut that are looked at."""
SLIVER = 4.0
"""mm; a cut keeps this far off a face that runs along it; [common-practice]."""
BESIDE_HOLE = 3.0
"""mm; and this far off a hole's edge."""
SHORTEST = 15.0
"""mm; no piece is shorter along a cut's axis."""
NOTHING = 1e-3
"""mm^3; less is rounding of a cut along a face."""
WIDEST_HOLE = 20.0
"""mm; wider openings are no bolt holes."""
ALONG = 0.95
"""Cosine from which a face runs along a cut."""
EVEN = 0.02
"""Face [mm^2] that a cut would rather graze than stand 1 mm, squared, off an even division."""


@dataclass(frozen=True)
class Hole:
    """An upright round hole [mm]."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, eq=False)
class Face:
    """A flat face that a cut made."""

    axis: int
    """0, 1, 2 for x, y, z"""
    at: float
    """mm, along it"""
    side: int
    """1: the piece ends there, -1: it begins there"""


@dataclass(eq=False)
class Piece:
    """A piece of the body, and the cuts it ends at."""

    body: Solid
    faces: list[Face] = field(default_factory=list)

    @property
    def size(self) -> Floats:
        """(3,) mm"""
        low, high = np.asarray(self.body.bounding_box(), dtype=float).reshape(2, 3)
        return np.asarray(high - low)


def pieces_of(body: Solid, room: ArrayLike, holes: Sequence[Hole]) -> list[Piece]:
    """A body cut by planes until each piece fits.

    Parameters
    ----------
    body : Solid [mm]
        Closed.
    room : (3,) [mm]
        What fits the printer, x, y, z.
    holes : sequence of Hole [mm]
        That no cut should go through.

    Returns
    -------
    pieces : list of Piece [mm]
        Together the body; first along x, then y, then z.

    Raises
    ------
    RangeError
        Where the printer is smaller than the shortest piece.
    """
    space = np.asarray(room, dtype=float)
    if space.min() < 2.0 * SHORTEST:
        least = f"room of at least {2.0 * SHORTEST:.4g} mm each way for a piece as drawn"
        raise RangeError(f"{least}, and not {space.min():.4g} mm")
    done: list[Piece] = []
    waiting = [Piece(body)]
    while waiting:
        piece = waiting.pop()
        axis, most = _next_cut(piece.size, space)
        if axis is None:
            done.append(piece)
            continue
        waiting += list(_slabs(piece, axis, most, holes))
    return sorted(done, key=lambda p: tuple(np.round(p.body.bounding_box()[:3], 3)))


def fits(size: Floats, room: Floats) -> bool:
    """Whether a box fits a printer, set down on any of its sides.

    Parameters
    ----------
    size : (3,) [mm]
        Of the box.
    room : (3,) [mm]
        Of the printer.

    Returns
    -------
    fits : bool [-]
    """
    return bool((np.sort(size) <= np.sort(room) + 1e-9).all())


def _next_cut(size: Floats, room: Floats) -> tuple[int | None, float]:
    """The axis to cut along next and the longest piece along it; None where all fits."""
    best: tuple[int, int, int, float] | None = None
    for order in permutations(range(3)):
        counts = [math.ceil(s / room[k] - 1e-9) for s, k in zip(size, order, strict=True)]
        axis = int(np.argmax(counts))
        found = (math.prod(counts), counts[axis], axis, float(room[order[axis]]))
        if best is None or found[:2] < best[:2]:
            best = found
    assert best is not None
    return (None, 0.0) if best[0] == 1 else (best[2], best[3])


def _slabs(piece: Piece, axis: int, most: float, holes: Sequence[Hole]) -> Iterator[Piece]:
    low, high = np.asarray(piece.body.bounding_box(), dtype=float).reshape(2, 3)[:, axis]
    normal = np.eye(3)[axis]
    rest, faces = piece.body, piece.faces
    start: list[Face] = []
    for at in cuts_along(piece.body, axis, (float(low), float(high)), most, holes):
        beyond, part = rest.split_by_plane(normal.tolist(), at)
        yield from _parts(part, [*faces, *start, Face(axis, at, 1)])
        rest, start = beyond, [Face(axis, at, -1)]
    yield from _parts(rest, [*faces, *start])


def _parts(body: Solid, faces: list[Face]) -> Iterator[Piece]:
    """What a cut left, each connected part on its own, with the faces it really has."""
    for part in body.decompose():
        if part.volume() < NOTHING:
            continue
        low, high = np.asarray(part.bounding_box(), dtype=float).reshape(2, 3)
        own = [f for f in faces if abs((high if f.side > 0 else low)[f.axis] - f.at) < 1e-6]
        yield Piece(part, own)


def cuts_along(
    body: Solid, axis: int, ends: tuple[float, float], most: float, holes: Sequence[Hole]
) -> list[float]:
    """The cheapest places for cuts, no two further apart than a piece may be long.

    Parameters
    ----------
    body : Solid [mm]
        What is cut.
    axis : int [-]
        0, 1, 2 for x, y, z.
    ends : (float, float) [mm]
        Where it begins and ends along the axis.
    most : float [mm]
        Longest piece.
    holes : sequence of Hole [mm]
        To keep off.

    Returns
    -------
    cuts : list of float [mm]
        Rising.
    """
    low, high = ends
    count = math.ceil((high - low) / most - 1e-9)
    at = np.arange(low + SHORTEST, high - SHORTEST + 1e-9, STEP)
    price = _grazed(body, axis, at) + 1e6 * _holes_hit(axis, at, holes)
    even = low + (high - low) * np.arange(1, count) / count
    total = np.full((count, len(at)), np.inf)
    came = np.zeros((count, len(at)), dtype=np.int64)
    for k, middle in enumerate(even):
        own = price + EVEN * (at - middle) ** 2
        for j, here in enumerate(at):
            if k == 0:
                total[k, j] = own[j] if here - low <= most else np.inf
                continue
            near = np.flatnonzero((here - at <= most) & (here - at >= SHORTEST))
            if len(near):
                came[k, j] = near[int(total[k - 1, near].argmin())]
                total[k, j] = own[j] + total[k - 1, came[k, j]]
    last = np.where(high - at <= most, total[count - 2], np.inf)
    if not np.isfinite(last).any():
        return [float(c) for c in even]
    j = int(last.argmin())
    cuts = []
    for k in range(count - 2, -1, -1):
        cuts.append(float(at[j]))
        j = int(came[k, j])
    return cuts[::-1]


def _grazed(body: Solid, axis: int, at: Floats) -> Floats:
    """Area [mm^2] of faces along the cut that lie nearer to it than a sliver."""
    mesh = mesh_of(body)
    areas = np.linalg.norm(mesh.area_vectors, axis=1)
    along = np.abs(mesh.area_vectors[:, axis]) > ALONG * np.maximum(areas, 1e-12)
    place, size = mesh.corners[along].mean(axis=1)[:, axis], areas[along]
    order = np.argsort(place)
    run = np.concatenate([[0.0], np.cumsum(size[order])])
    low, high = (np.searchsorted(place[order], at + off) for off in (-SLIVER, SLIVER))
    return np.asarray(run[high] - run[low])


def _holes_hit(axis: int, at: Floats, holes: Sequence[Hole]) -> Floats:
    """How many holes a cut comes too near to; one across an upright hole's axis does no harm."""
    if axis == 2 or not holes:
        return np.zeros(len(at))
    middle = np.array([(h.x, h.y)[axis] for h in holes])
    reach = np.array([h.radius for h in holes]) + BESIDE_HOLE
    return np.asarray((np.abs(at[:, None] - middle) < reach).sum(axis=1), dtype=float)


def upright_holes(body: Solid, depth: float) -> tuple[Hole, ...]:
    """Round holes through the body's flat top.

    Parameters
    ----------
    body : Solid [mm]
        A pan, its rail on top.
    depth : float [mm]
        Under the top where it is looked.

    Returns
    -------
    holes : tuple of Hole [mm]
    """
    top = float(body.bounding_box()[5])
    found = []
    for loop in body.slice(top - depth).to_polygons():
        corners = np.asarray(loop, dtype=float)
        x, y = corners.T
        area = 0.5 * float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
        span = float(np.ptp(corners, axis=0).max())
        round_one = 0.72 < -area / span**2 < 0.8  # a circle 0.785, a square 1
        if span <= WIDEST_HOLE and round_one:
            middle = 0.5 * (corners.min(axis=0) + corners.max(axis=0))
            found.append(Hole(float(middle[0]), float(middle[1]), 0.5 * span))
    return tuple(found)


def section_of(body: Solid, axis: int, at: float) -> Region:
    """The flat section square to an axis, its coordinates those of the next two axes in turn.

    Parameters
    ----------
    body : Solid [mm]
        Closed.
    axis : int [-]
        0, 1, 2 for x, y, z.
    at : float [mm]
        Along it.

    Returns
    -------
    section : Region [mm]
    """
    turn = np.roll(np.eye(3), -(axis + 1), axis=0)  # (u, v, w) = next, after next, axis
    return body.transform(np.column_stack([turn, np.zeros(3)])).slice(at)
