# SPDX-License-Identifier: Apache-2.0
"""Finer triangles keep the skin: same volume, same area, no cracks, short sides."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.geometry.edge import is_closed
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.refine import refined
from tests.geometry.bodies import box, star


def longest(mesh: Mesh) -> float:
    sides = mesh.corners - np.roll(mesh.corners, 1, axis=1)
    return float(np.linalg.norm(sides, axis=2).max())


@given(st.integers(0, 10_000), st.floats(0.005, 0.2))
@settings(max_examples=30, deadline=None)
def test_sides_are_short_and_the_skin_is_the_same(seed: int, limit: float) -> None:
    body = star(np.random.default_rng(seed), 1)
    fine = refined(body, limit)
    assert longest(fine) <= limit
    assert is_closed(fine)
    assert fine.volume == pytest.approx(body.volume, rel=1e-11)  # rounding over many faces
    assert fine.area == pytest.approx(body.area, rel=1e-11)
    np.testing.assert_array_equal(fine.vertices[: len(body.vertices)], body.vertices)


def test_a_square_meter_in_centimetres() -> None:
    fine = refined(box([0, 0, 0], [1, 1, 1e-3]), 0.02)
    assert 2 * 2 / 0.02**2 < len(fine.faces) < 8 * 2 / 0.02**2
    assert longest(fine) <= 0.02


def test_stays_within_the_count_it_is_given() -> None:
    fine = refined(box([0, 0, 0], [1, 1, 1]), 1e-4, most=1000)
    assert len(fine.faces) <= 1000
    assert is_closed(fine)


def test_leaves_alone_what_is_fine_already() -> None:
    body = box([0, 0, 0], [1, 1, 1])
    np.testing.assert_array_equal(refined(body, 2.0).faces, body.faces)
