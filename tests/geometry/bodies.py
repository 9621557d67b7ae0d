# SPDX-License-Identifier: Apache-2.0
"""Closed test bodies whose volumes are known, and an exact answer for any of them."""

from fractions import Fraction

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.mesh import Mesh

Floats = NDArray[np.float64]


def box(low: ArrayLike, high: ArrayLike) -> Mesh:
    """Twelve triangles between two corners."""
    start, end = np.asarray(low, float), np.asarray(high, float)
    grid = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], float)
    quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    faces = [t for a, b, c, d in quads for t in ((a, b, c), (a, c, d))]
    return Mesh(np.where(grid > 0.5, end, start), np.array(faces))


def prism(outline: ArrayLike, length: float) -> Mesh:
    """A polygon (n, 2) in x and z, counter-clockwise seen from -y, drawn along +y."""
    import manifold3d as m3

    points = np.asarray(outline, float)
    count = len(points)
    flat = np.asarray(m3.triangulate([points]), dtype=int)
    front = np.stack([points[:, 0], np.zeros(count), points[:, 1]], axis=1)
    i = np.arange(count)
    j = (i + 1) % count
    sides = np.concatenate([np.stack([i, i + count, j + count], 1), np.stack([i, j + count, j], 1)])
    faces = np.concatenate([flat, flat[:, ::-1] + count, sides])
    return Mesh(np.concatenate([front, front + np.array([0.0, length, 0.0])]), faces)


def regular_outline(sides: int, radius: float, turn: float = 0.0) -> Floats:
    """A regular polygon about the origin, first corner at angle `turn`."""
    angle = turn + 2.0 * np.pi * np.arange(sides) / sides
    return radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)


def upright(mesh: Mesh) -> Mesh:
    """A prism along y set up along z: its y becomes z."""
    return mesh.moved([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]], [0.0, 0.0, 0.0])


def prismoid(bottom: tuple[float, float], top: tuple[float, float], height: float) -> Mesh:
    """Two rectangles, centred over each other, joined by flat sides."""
    mesh = box([-0.5, -0.5, 0.0], [0.5, 0.5, height])
    size = np.where(mesh.vertices[:, 2:] > 0.0, top, bottom)
    return Mesh(np.column_stack([mesh.vertices[:, :2] * size, mesh.vertices[:, 2]]), mesh.faces)


def icosphere(halvings: int, radius: float = 1.0) -> Mesh:
    """20 * 4**halvings triangles with their corners on a sphere."""
    g = 0.5 * (1.0 + 5.0**0.5)
    points = np.array([[0, a, b * g] for a in (-1, 1) for b in (-1, 1)], float)
    points = np.concatenate([np.roll(points, k, axis=1) for k in range(3)])
    near = np.abs(np.linalg.norm(points[:, None] - points[None], axis=2) - 2.0) < 0.1
    triples = [
        (i, j, k)
        for i in range(12)
        for j in range(i + 1, 12)
        for k in range(j + 1, 12)
        if near[i, j] and near[j, k] and near[i, k]
    ]
    faces = np.array(triples)
    out = np.einsum("ij,ij->i", *_normal_and_middle(points, faces)) > 0.0
    faces[~out] = faces[~out][:, ::-1]
    for _ in range(halvings):
        points, faces = _halved(points, faces)
    return Mesh(radius * points / np.linalg.norm(points, axis=1, keepdims=True), faces)


def star(rng: np.random.Generator, halvings: int = 2, roughness: float = 0.6) -> Mesh:
    """A closed, generally non-convex body: a sphere whose every corner has its own radius."""
    sphere = icosphere(halvings)
    scale = rng.uniform(1.0 - roughness, 1.0 + roughness, size=(len(sphere.vertices), 1))
    return Mesh(0.1 * sphere.vertices * scale, sphere.faces)


def rippled_pan(steps: int) -> Mesh:
    """A cavity like a stepped pan's: flat lid, shallow end, deep end, ripples on the floor.

    About 4 steps**2 triangles; steps 158 gives 99,852. Not convex: each ripple is a puddle.
    """
    x, y = np.linspace(0.0, 0.6, steps), np.linspace(0.0, 0.4, steps)
    xs, ys = (a.ravel() for a in np.meshgrid(x, y, indexing="ij"))
    ripple = 0.004 * np.sin(60.0 * xs) * np.sin(45.0 * ys)
    floor = -(0.06 + 0.06 / (1.0 + np.exp(-(xs - 0.4) / 0.004)) + ripple)
    n = np.arange(steps * steps).reshape(steps, steps)
    a, b, c, d = n[:-1, :-1].ravel(), n[1:, :-1].ravel(), n[1:, 1:].ravel(), n[:-1, 1:].ravel()
    lid = np.concatenate([np.stack([a, b, c], 1), np.stack([a, c, d], 1)])
    rim = np.concatenate([n[:, 0], n[-1, 1:], n[-2::-1, -1], n[0, -2::-1]])
    p, q, under = rim[:-1], rim[1:], steps * steps
    walls = np.concatenate([np.stack([p + under, q + under, q], 1), np.stack([p + under, q, p], 1)])
    corners = [np.stack([xs, ys, z], axis=1) for z in (np.zeros_like(xs), floor)]
    return Mesh(np.concatenate(corners), np.concatenate([lid, lid[:, ::-1] + under, walls]))


def random_rotation(rng: np.random.Generator) -> Floats:
    """A proper rotation, uniform over all."""
    q, r = np.linalg.qr(rng.normal(size=(3, 3)))
    q *= np.sign(np.diag(r))
    return np.asarray(q * np.sign(np.linalg.det(q)))


def random_up(rng: np.random.Generator) -> Floats:
    """A unit vector, uniform over the sphere."""
    v = rng.normal(size=3)
    return np.asarray(v / np.linalg.norm(v))


def exact_volume_below(mesh: Mesh, up: ArrayLike, height: float) -> float:
    """By rational arithmetic: the skin is cut at the plane and closed from a point of the plane.

    Nothing is rounded before the last line. Slow: for bodies of up to some hundred triangles.
    """
    u = [Fraction(float(x)) for x in np.asarray(up, float)]
    lift = Fraction(float(height)) / sum(x * x for x in u)
    apex = [x * lift for x in u]
    vertices = [
        [Fraction(float(x)) - a for x, a in zip(v, apex, strict=True)] for v in mesh.vertices
    ]
    over = [sum(a * b for a, b in zip(u, v, strict=True)) for v in vertices]
    total = Fraction(0)
    for face in mesh.faces.tolist():
        ring: list[list[Fraction]] = []
        for i, j in zip(face, face[1:] + face[:1], strict=True):
            if over[i] <= 0:
                ring.append(vertices[i])
            if (over[i] < 0 < over[j]) or (over[j] < 0 < over[i]):
                t = over[i] / (over[i] - over[j])
                ends = zip(vertices[i], vertices[j], strict=True)
                ring.append([a + t * (b - a) for a, b in ends])
        for k in range(1, len(ring) - 1):
            total += _determinant(ring[0], ring[k], ring[k + 1])
    return float(total / 6)


def _determinant(a: list[Fraction], b: list[Fraction], c: list[Fraction]) -> Fraction:
    return (
        a[0] * (b[1] * c[2] - b[2] * c[1])
        + a[1] * (b[2] * c[0] - b[0] * c[2])
        + a[2] * (b[0] * c[1] - b[1] * c[0])
    )


def _normal_and_middle(points: Floats, faces: NDArray[np.int64]) -> tuple[Floats, Floats]:
    a, b, c = (points[faces[:, k]] for k in range(3))
    return np.cross(b - a, c - a), a + b + c


def _halved(points: Floats, faces: NDArray[np.int64]) -> tuple[Floats, NDArray[np.int64]]:
    edges = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    unique, number = np.unique(edges, axis=0, return_inverse=True)
    middle = points[unique].mean(axis=1)
    middle *= np.linalg.norm(points[0]) / np.linalg.norm(middle, axis=1, keepdims=True)
    m = (number.reshape(3, -1) + len(points)).T
    a, b, c = faces.T
    small = [(a, m[:, 0], m[:, 2]), (m[:, 0], b, m[:, 1]), (m[:, 2], m[:, 1], c), tuple(m.T)]
    return np.concatenate([points, middle]), np.concatenate([np.stack(t, 1) for t in small])
