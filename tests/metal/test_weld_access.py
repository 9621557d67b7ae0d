# SPDX-License-Identifier: Apache-2.0
"""Room for a torch under a flange, by trigonometry. [closed-form]"""

import math

import numpy as np
import pytest

from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.solid import mesh_of
from sumpwright.metal.reach import height_map
from sumpwright.metal.weld_access import LEAN, Access, weld_access, weld_points

CELL = 5e-4
SQUARE = [(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)]


def block(low: list[float], high: list[float]) -> object:
    from manifold3d import Manifold

    size = [b - a for a, b in zip(low, high, strict=True)]
    return Manifold.cube(size).translate(low)


def flanged(over: float, out: float) -> Access:
    """A box with a flange `over` the weld that stands `out` all round."""
    body = block([0.0, 0.0, 0.0], [0.1, 0.1, over + 0.008])
    flange = block([-out, -out, over], [0.1 + out, 0.1 + out, over + 0.008])
    upper: Mesh = mesh_of(body + flange)  # type: ignore[operator]
    lower = mesh_of(block([0.0, 0.0, -0.05], [0.1, 0.1, 0.0]))
    points, way = weld_points(SQUARE, each=0.02)
    maps = [height_map(m, s, cell=CELL, margin=0.01) for m, s in ((upper, -1), (lower, 1))]
    return weld_access(maps[0], maps[1], points, way, 0.0)


def test_points_lie_evenly_on_the_outline_and_look_out() -> None:
    points, out = weld_points(SQUARE, each=0.02)
    assert len(points) == 20
    np.testing.assert_allclose(points[0], [0.01, 0.0], atol=1e-12)
    np.testing.assert_allclose(out[0], [0.0, -1.0], atol=1e-12)


def test_a_flange_leaves_the_angle_up_to_its_edge() -> None:
    over, out = 0.03, 0.02
    access = flanged(over, out)
    # square out; slantwise the edge is further off and the angle less
    expected = math.atan2(over, out)
    middle = np.abs(access.points - 0.05).min(axis=1) < 0.02
    assert access.over[middle].max() == pytest.approx(expected, abs=CELL / out)


def test_the_cone_leans_down_no_further_than_a_torch_does() -> None:
    access = flanged(0.03, 0.02)
    over, cone = access.over, access.cone
    lean = np.clip(0.5 * (over - 0.5 * math.pi), -LEAN, LEAN)
    np.testing.assert_allclose(cone, over - lean, atol=1e-9)


def test_a_lower_and_wider_flange_leaves_less() -> None:
    cones = [float(flanged(over, out).cone.min()) for over, out in ((0.04, 0.01), (0.01, 0.04))]
    assert cones[1] < cones[0]


def test_nothing_in_the_way_leaves_a_half_turn() -> None:
    access = flanged(0.03, 0.0)
    np.testing.assert_allclose(access.cone, 0.5 * math.pi, atol=1e-9)
    assert np.isinf(access.near).all()
