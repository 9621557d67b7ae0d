# SPDX-License-Identifier: Apache-2.0
"""Straight runs put in order, with fewer corners."""

import numpy as np
import pytest

from sumpwright.geometry.chain import paths_of, thinned, thinned_loop
from tests.geometry.bodies import regular_outline


def arc(sides: int, radius: float, turn: float = np.pi / 2) -> np.ndarray:
    angle = np.linspace(0.0, turn, sides + 1)
    return np.stack([radius * np.cos(angle), radius * np.sin(angle), 0.0 * angle], axis=1)


def runs_of(path: np.ndarray) -> np.ndarray:
    return np.stack([path[:-1], path[1:]], axis=1)


def length(runs: np.ndarray) -> float:
    return float(np.linalg.norm(runs[:, 1] - runs[:, 0], axis=1).sum())


def test_runs_in_any_order_become_paths() -> None:
    one, other = arc(5, 1.0), arc(3, 2.0) + np.array([5.0, 0.0, 0.0])
    mixed = np.concatenate([runs_of(one), runs_of(other)])
    mixed = mixed[np.random.default_rng(3).permutation(len(mixed))]
    found = sorted(paths_of(mixed), key=len)
    np.testing.assert_array_equal(found[0], other)
    np.testing.assert_array_equal(found[1], one)


def test_a_closed_path_ends_where_it_starts() -> None:
    ring = np.column_stack([regular_outline(7, 1.0), np.zeros(7)])
    (path,) = paths_of(runs_of(np.concatenate([ring, ring[:1]])))
    assert len(path) == 8
    np.testing.assert_array_equal(path[0], path[-1])


def test_a_straight_line_in_pieces_becomes_one_run() -> None:
    line = np.linspace([0.0, 0.0, 0.0], [1.0, 2.0, 3.0], 9)
    found = thinned(runs_of(line), slack=1e-6)
    np.testing.assert_allclose(found, [line[[0, -1]]], atol=1e-15)


def test_no_corner_is_left_out_that_lies_further_off_than_the_slack() -> None:
    path, slack = arc(64, 0.012), 5e-4
    found = thinned(runs_of(path), slack=slack)
    assert len(found) < 8
    # each corner's distance to the nearest of the new runs
    a, b = found[:, 0], found[:, 1]
    way = b - a
    share = np.einsum("pij,ij->pi", path[:, None] - a, way) / np.einsum("ij,ij->i", way, way)
    near = a + np.clip(share, 0.0, 1.0)[..., None] * way
    off = np.linalg.norm(path[:, None] - near, axis=2).min(axis=1)
    assert off.max() <= slack
    # a chord is shorter than its arc by (angle)^2 / 24: three chords of 30 degrees, 1.1 %
    assert length(found) == pytest.approx(0.012 * np.pi / 2, rel=0.012)


def test_nothing_comes_of_nothing() -> None:
    assert thinned(np.zeros((0, 2, 3)), slack=1e-3).shape == (0, 2, 3)


def test_a_thinned_loop_keeps_its_area_and_middle() -> None:
    ring = np.column_stack([regular_outline(48, 0.01), np.full(48, 0.3)])
    ring += np.array([1.0, 2.0, 0.0])
    found = thinned_loop(ring, slack=4e-4)
    assert 6 <= len(found) <= 16

    def area(loop: np.ndarray) -> float:
        turned = np.cross(loop, np.roll(loop, -1, axis=0)).sum(axis=0)
        return 0.5 * float(turned[2])

    flat = [loop - [1.0, 2.0, 0.3] for loop in (ring, found)]
    assert area(flat[1]) == pytest.approx(area(flat[0]), rel=1e-12)
    np.testing.assert_allclose(found.mean(axis=0), [1.0, 2.0, 0.3], atol=1e-3)
    np.testing.assert_allclose(found[:, 2], 0.3, atol=1e-15)


def test_a_loop_of_few_corners_stays_as_it_is() -> None:
    square = np.column_stack([regular_outline(4, 0.02), np.zeros(4)])
    assert thinned_loop(square, slack=1e-3) is square
