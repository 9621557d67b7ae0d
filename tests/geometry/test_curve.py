# SPDX-License-Identifier: Apache-2.0
"""The curve that orders neighbours: its definition, taken bit by bit."""

import numpy as np

from sumpwright.geometry.curve import along_curve


def interleaved(x: int, y: int, z: int) -> int:
    """Morton's own definition: bit k of x, y, z is bit 3 k, 3 k + 1, 3 k + 2 of the place."""
    bits = [f"{n:020b}" for n in (z, y, x)]
    return int("".join(a + b + c for a, b, c in zip(*bits, strict=True)), 2)


def test_places_are_the_interleaved_bits_of_the_cells() -> None:
    rng = np.random.default_rng(8)
    cells = rng.integers(1, 2**20 - 2, size=(200, 3))
    points = cells + 0.25  # so that rounding moves none into the next cell
    cells[0], cells[1] = 0, 2**20 - 1  # so that the box's cells are the numbers themselves
    points[:2] = cells[:2]
    places = along_curve(points)
    assert [int(p) for p in places] == [interleaved(*map(int, c)) for c in cells]


def test_one_point_and_points_on_one_spot_have_a_place() -> None:
    assert along_curve(np.array([[3.0, -1.0, 2.0]])).tolist() == [0]
    assert along_curve(np.full((4, 3), 0.25)).tolist() == [0] * 4
