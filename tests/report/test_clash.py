# SPDX-License-Identifier: Apache-2.0
"""Bodies share space in a cut where their insides do, and only there. All by plane geometry."""

import numpy as np
import pytest

from sumpwright.report.clash import share_space, silhouette


def box(x0: float, y0: float, x1: float, y1: float, *, hole: bool = False) -> np.ndarray:
    loop = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
    return loop[::-1] if hole else loop


BIG = [box(0, 0, 10, 10)]


@pytest.mark.parametrize(
    ("other", "low", "high"),
    [
        ([box(8, 8, 14, 14)], (8, 8), (10, 10)),  # corner in corner
        ([box(4, -5, 6, 15)], (4, 0), (6, 10)),  # right through: no corner of one in the other
        ([box(3, 3, 4, 4)], (3, 3), (4, 4)),  # swallowed
        ([box(-5, -5, 15, 15)], (0, 0), (10, 10)),  # swallowing
        ([box(90, 90, 91, 91), box(9, 4, 12, 5)], (9, 4), (10, 5)),  # its second piece
    ],
)
def test_the_place_lies_in_both(other: list[np.ndarray], low: tuple, high: tuple) -> None:
    place = share_space(BIG, other)
    assert place is not None
    assert (np.array(low) <= place).all()
    assert (place <= np.array(high)).all()


@pytest.mark.parametrize(
    "other", [[], [box(11, 0, 14, 10)], [box(10, 0, 14, 10)], [box(20, 20, 30, 30)]]
)
def test_bodies_apart_or_only_touching_share_nothing(other: list[np.ndarray]) -> None:
    assert share_space(BIG, other) is None


def test_a_body_in_the_hollow_of_another_is_not_in_its_way() -> None:
    shell = [box(0, 0, 10, 10), box(1, 1, 9, 9, hole=True)]
    assert share_space(shell, [box(4, 4, 6, 6)]) is None
    assert share_space(shell, [box(4, 4, 9.5, 6)]) is not None


def test_a_silhouette_has_the_lowest_point_and_leaves_out_what_is_inside() -> None:
    angle = np.radians(np.arange(0.0, 360.0, 7.5))
    ring = np.stack([3.0 + np.cos(angle), np.sin(angle) - 2.0], axis=1)
    outline = silhouette(np.concatenate([0.5 * (ring - ring.mean(0)) + ring.mean(0), ring]))
    assert outline[:, 1].min() == ring[:, 1].min()
    assert {tuple(p) for p in outline} == {tuple(p) for p in ring}
    x, y = outline.T
    area = 0.5 * (x @ np.roll(y, -1) - y @ np.roll(x, -1))
    assert area == pytest.approx(24.0 * np.sin(np.radians(7.5)), rel=1e-12)  # 48 triangles
