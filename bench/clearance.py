# SPDX-License-Identifier: Apache-2.0
"""Smallest gap and distance field of two 100k-triangle bodies, beside libraries' own answers.

Peers: for the gap, the collision library over all triangles; for the field, trimesh's exact nearest
point over all triangles, on a sample of the pan's corners and scaled up, because the whole takes it
twenty minutes or more. Their answers must be ours. The gap starts from the field's distances, which
colouring needs anyway; for a gap alone that saves nothing.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from bench.table import Row, seconds
from sumpwright.geometry.clearance import Clearance
from sumpwright.geometry.frame import rotation_zyx
from sumpwright.geometry.mesh import Mesh

SAMPLE = 12
Floats = NDArray[np.float64]


def rows() -> list[Row]:
    """Gap and field together, each beside its peer, and the gap over a movement of the engine."""
    pan, beam = _bodies()
    moves = [(rotation_zyx(0.01 * k, 0.0, 0.0), [0.0, 0.0, -5e-4 * k]) for k in range(8)]
    clearance, gap = _one_case(pan, beam)
    assert abs(_exact_tree(pan, beam) - gap) < 1e-12  # m: both exact, so only rounding
    some = np.linspace(0, len(pan.vertices) - 1, SAMPLE).astype(int)
    theirs = _nearest(pan.vertices[some], beam)
    assert np.allclose(theirs, np.abs(clearance.field[some]), rtol=0, atol=1e-9)  # m, rounding
    both = seconds(lambda: _one_case(pan, beam))
    field = seconds(lambda: _fresh(pan, beam).field)
    known = iter([_with_field(pan, beam) for _ in range(6)])  # one for each run below
    size = f"{len(pan.faces):,} and {len(beam.faces):,} triangles"
    return [
        Row(f"smallest gap and distance field, {size}", both, must=3.0, aim=1.0),
        Row(
            f"  distance field; peer: trimesh, {SAMPLE} corners timed, scaled up",
            field,
            seconds(lambda: _nearest(pan.vertices[some], beam), times=1)
            * (len(pan.vertices) / SAMPLE),
        ),
        Row(
            "  smallest gap after it; peer: the collision library, all triangles",
            seconds(lambda: next(known).gaps(moves[:1]), times=5),
            seconds(lambda: _exact_tree(pan, beam)),
        ),
        Row(
            f"  gap alone, at {len(moves)} places of the engine",
            seconds(lambda: _fresh(pan, beam).gaps(moves), times=3),
        ),
    ]


def _fresh(pan: Mesh, beam: Mesh) -> Clearance:
    """With nothing remembered from a run before, neither its own trees nor the bodies' corners."""
    return Clearance(replace(pan), replace(beam))


def _with_field(pan: Mesh, beam: Mesh) -> Clearance:
    clearance = _fresh(pan, beam)
    assert len(clearance.field) == len(pan.vertices)
    return clearance


def _one_case(pan: Mesh, beam: Mesh) -> tuple[Clearance, float]:
    clearance = _fresh(pan, beam)
    gap = clearance.gaps([(np.eye(3), np.zeros(3))])[0]
    assert 0 < gap.distance <= clearance.field.min() + 1e-12
    return clearance, gap.distance


def _nearest(points: Floats, body: Mesh) -> Floats:
    """Distance of points to a skin: every triangle for every point, by a mesh library."""
    import trimesh

    found = []
    for point in points:
        here = np.broadcast_to(point, (len(body.faces), 3))
        spots = trimesh.triangles.closest_point(body.corners, here)
        found.append(np.linalg.norm(spots - point, axis=1).min())
    return np.asarray(found)


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
