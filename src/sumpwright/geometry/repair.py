# SPDX-License-Identifier: Apache-2.0
"""Mends for a mesh that is not sound: offered, counted, and never made unasked.

The caller shows the findings and asks `soundness` again: what cannot be mended safely stays.
"""

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding
from sumpwright.geometry.hole import closed_holes
from sumpwright.geometry.merge import merged_within
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.nesting import body_volumes, turns_round
from sumpwright.geometry.place import counted
from sumpwright.geometry.skin import skin_of
from sumpwright.geometry.soundness import LARGEST_HOLE

Flags = NDArray[np.bool_]

MERGE = 1e-6
"""Points nearer than this become one [m]; far below any detail of a pan."""


def repaired(
    mesh: Mesh, *, tolerance: float = MERGE, widest_hole: float = LARGEST_HOLE
) -> tuple[Mesh, tuple[Finding, ...]]:
    """The mesh mended as far as is safe, and each thing that was done to it.

    In this order: near points made one, triangles of repeated corners and second copies dropped,
    winding made the same throughout each skin, small holes closed, skins turned outward. A skin
    inside another keeps its way relative to it (a void stays a void), unless its own triangles
    disagreed; then it is taken for a void.

    Parameters
    ----------
    mesh : Mesh [m]
        Any triangles.
    tolerance : float [m]
        Points nearer than this become one.
    widest_hole : float [m]
        Holes up to this diagonal are closed.

    Returns
    -------
    mesh : Mesh [m]
        To be judged again.
    findings : tuple of Finding
        What was done; empty where nothing was.
    """
    merged, gone = merged_within(mesh, tolerance=tolerance)
    skin = skin_of(merged)
    turned, _ = skin.turned
    wound = skin_of(_turned(skin.mesh, turned))
    turned = turned[wound.source]
    patches, closed, left = closed_holes(wound, widest=widest_hole)
    whole = Mesh(wound.mesh.vertices, np.concatenate([wound.mesh.faces, patches]))
    disagreed = np.concatenate([turned, np.zeros(len(patches), dtype=bool)])
    faced, skins = _outward(whole, disagreed)
    near, wide = (f"{length * 1e3:g} mm" for length in (tolerance, widest_hole))
    copies = len(skin.copies) + len(wound.copies)
    return faced, (
        *_said("GEO-321", gone, "point", f"made one with another nearer than {near}"),
        *_said("GEO-322", skin.repeated, "triangle", "of repeated corners dropped"),
        *_said(
            "GEO-323",
            copies,
            "further copy of a triangle",
            "dropped",
            "further copies of triangles",
        ),
        *_said("GEO-324", int(turned.sum()), "triangle", "turned to face as the skin round it"),
        *_said(
            "GEO-325",
            closed,
            "hole",
            f"up to {wide} across closed, {counted(len(patches), 'triangle')}",
        ),
        *_left_open(left, wide),
        *_said("GEO-327", skins, "skin", "turned over, so that the outermost faces outward"),
    )


def _outward(mesh: Mesh, disagreed: Flags) -> tuple[Mesh, int]:
    """The mesh with its skins turned outward, and how many were turned."""
    skin = skin_of(mesh)
    volumes = body_volumes(skin)
    over = volumes < 0.0  # right for skins beside each other, and the best guess for open ones
    bodies, turns = turns_round(skin)
    around = turns != 0
    depth = around.sum(axis=1)
    mixed = np.bincount(skin.labels, disagreed[skin.source], skin.bodies) > 0
    for row in np.argsort(depth, kind="stable"):
        body = bodies[row]
        if depth[row] and mixed[body]:
            over[body] = (volumes[body] < 0.0) != (depth[row] % 2 == 1)
        elif depth[row]:
            outermost = bodies[around[row] & (depth == 0)]
            over[body] = len(outermost) > 0 and over[outermost[0]]
    return _turned(skin.mesh, over[skin.labels]), int(over.sum())


def _turned(mesh: Mesh, chosen: Flags) -> Mesh:
    return Mesh(mesh.vertices, np.where(chosen[:, None], mesh.faces[:, ::-1], mesh.faces))


def _said(code: str, count: int, one: str, done: str, more: str = "") -> list[Finding]:
    if not count:
        return []
    return [Finding(code, "the whole mesh", f"{counted(count, one, more)} {done}", "done", "note")]


def _left_open(count: int, wide: str) -> list[Finding]:
    if not count:
        return []
    found = f"{counted(count, 'hole')} left open: wider than {wide}, folded, or without a whole rim"
    return [Finding("GEO-326", "the whole mesh", found, "", "note")]
