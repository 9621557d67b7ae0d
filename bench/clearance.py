# SPDX-License-Identifier: Apache-2.0
"""Smallest gap and distance field of two 100k-triangle bodies, beside a mesh library's own answer.

Peers: for the field, trimesh's exact nearest point over all triangles, on a sample of the pan's
corners and scaled up, because the whole takes it minutes; for the gap, the collision library over
all triangles.
"""

import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.clearance import Clearance
from sumpwright.geometry.frame import rotation_zyx
from sumpwright.geometry.mesh import Mesh

SAMPLE = 12
MUST, AIM = 3.0, 1.0
T = TypeVar("T")
Floats = NDArray[np.float64]


def rows() -> list[tuple[str, str]]:
    """Label and text of each line."""
    pan, beam = _bodies()
    moves = [(rotation_zyx(0.01 * k, 0.0, 0.0), [0.0, 0.0, -5e-4 * k]) for k in range(8)]
    _one_case(pan.scaled(0.5), beam)  # loads the libraries
    ours, (clearance, gap) = _timed(lambda: _one_case(pan, beam))
    several, _ = _timed(lambda: Clearance(pan, beam).gaps(moves))
    plain, theirs = _timed(lambda: _exact_tree(pan, beam))
    assert abs(theirs - gap) < 1e-12
    field = _peer(pan, beam, clearance.field)
    size = f"{len(pan.faces) // 1000}k and {len(beam.faces) // 1000}k triangles"
    return [
        (f"gap and field, {size}", f"{ours:.2f} s (must {MUST:g}, aim {AIM:g})"),
        ("gap over 8 moves", f"{several:.2f} s"),
        ("peer: gap, all triangles in the collision library's trees", f"{plain:.2f} s"),
        ("peer: field, all triangles for each corner", f"{field:.0f} s: {field / ours:.0f}x ours"),
    ]


def _one_case(pan: Mesh, beam: Mesh) -> tuple[Clearance, float]:
    clearance = Clearance(pan, beam)
    gap = clearance.gaps([(np.eye(3), np.zeros(3))])[0]
    assert 0 < gap.distance <= clearance.field.min() + 1e-12
    return clearance, gap.distance


def _peer(pan: Mesh, beam: Mesh, field: Floats) -> float:
    """Seconds that every triangle for every corner would take; its answers must be ours."""
    import trimesh

    some = np.linspace(0, len(pan.vertices) - 1, SAMPLE).astype(int)

    def searched() -> list[float]:
        found = []
        for point in pan.vertices[some]:
            spots = trimesh.triangles.closest_point(
                beam.corners, np.broadcast_to(point, (len(beam.faces), 3))
            )
            found.append(float(np.linalg.norm(spots - point, axis=1).min()))
        return found

    taken, distance = _timed(searched)
    assert np.allclose(distance, np.abs(field[some]), rtol=0, atol=1e-9)
    return taken * len(pan.vertices) / SAMPLE


def _exact_tree(pan: Mesh, beam: Mesh) -> float:
    """The gap by the collision library, with no triangle left out beforehand."""
    import fcl

    trees = []
    for body in (pan, beam):
        tree = fcl.BVHModel()
        tree.beginModel(len(body.vertices), len(body.faces))
        tree.addSubModel(body.vertices, body.faces)
        tree.endModel()
        trees.append(fcl.CollisionObject(tree))
    return float(fcl.distance(*trees, fcl.DistanceRequest(), fcl.DistanceResult()))


def _timed(work: Callable[[], T]) -> tuple[float, T]:
    start = time.perf_counter()
    answer = work()
    return time.perf_counter() - start, answer


def _bodies() -> tuple[Mesh, Mesh]:
    """A rounded pan over a bent crossmember, curved all over: a flat would make it easy."""
    pan = _tube(160, 312, lambda s: (0.28 * np.sin(s), 0.18 * np.sin(s), -0.06 * np.cos(s)))
    beam = _tube(480, 104, lambda s: (0.04 * np.sin(s) ** 0.1, 0.03 * np.sin(s) ** 0.1, 0.5 * s))
    turn = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]])
    lying = beam.moved(turn, [0.0, 0.5 * np.pi / 2, -0.13]).vertices.copy()
    lying[:, 2] += 0.3 * lying[:, 1] ** 2
    return pan, Mesh(lying, beam.faces)


def _tube(along: int, around: int, shape: Callable[[Floats], tuple[Floats, ...]]) -> Mesh:
    """A closed skin of ellipses (half width, half depth, height) over 0 < s < pi."""
    s = np.linspace(0.0, np.pi, along + 2)[1:-1, None]
    angle = np.linspace(0.0, 2.0 * np.pi, around, endpoint=False)
    wide, deep, high = shape(s)
    rings = np.stack(np.broadcast_arrays(wide * np.cos(angle), deep * np.sin(angle), high), axis=2)
    ends = np.array([[0.0, 0.0, float(high[0, 0])], [0.0, 0.0, float(high[-1, 0])]])
    n = np.arange(along * around).reshape(along, around)
    a, b, c, d = n[:-1], np.roll(n[:-1], -1, 1), np.roll(n[1:], -1, 1), n[1:]
    first, last = along * around, along * around + 1
    under = np.stack([np.full(around, first), np.roll(n[0], -1), n[0]], 1)
    over = np.stack([np.full(around, last), n[-1], np.roll(n[-1], -1)], 1)
    sides = [np.stack([x.ravel() for x in t], 1) for t in ((a, b, c), (a, c, d))]
    vertices = np.concatenate([rings.reshape(-1, 3), ends])
    return Mesh(vertices, np.concatenate([under, over, *sides]))


if __name__ == "__main__":
    for label, text in rows():
        print(f"{label:60} {text}")
