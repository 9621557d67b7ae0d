# SPDX-License-Identifier: Apache-2.0
"""Random pans that are not convex: wells of different depths, kick-outs wider than the rail."""

import manifold3d as m3
import numpy as np

from sumpwright.geometry.mesh import Mesh


def rough_pan(rng: np.random.Generator) -> Mesh:
    """Three wells and two kick-outs under the rail [m], one body with a flat top at z = 0."""
    body = m3.Manifold.cube((260.0, 180.0, 50.0)).translate((0.0, -90.0, -50.0))
    for _ in range(3):  # wells of different floors
        size = rng.uniform((60, 50, 60), (160, 120, 120))
        at = rng.uniform((0, -90, 0), (260 - size[0], 90 - size[1], 0))
        body += m3.Manifold.cube(size.tolist()).translate((at[0], at[1], -size[2]))
    for side in (-1.0, 1.0):  # kick-outs wider than the rail, their roofs under it
        size = rng.uniform((80, 60, 20), (200, 120, 35))
        at = rng.uniform(0, 260 - size[0])
        y = 90 - 20 if side > 0 else -90 + 20 - size[1]
        body += m3.Manifold.cube(size.tolist()).translate((at, y, -48.0))
    found = body.to_mesh64()
    assert body.status() == m3.Error.NoError
    return Mesh(np.asarray(found.vert_properties)[:, :3] / 1e3, np.asarray(found.tri_verts))
