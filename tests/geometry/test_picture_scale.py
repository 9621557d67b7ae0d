# SPDX-License-Identifier: Apache-2.0
"""Scales of pictures: closed forms, and a view of known points through a pinhole camera."""

import math

import numpy as np
import pytest
from scipy.ndimage import map_coordinates

from sumpwright.errors import RangeError
from sumpwright.geometry.picture_circle import picture_circles
from sumpwright.geometry.picture_scale import bar_scale, dpi_scale, flat_view, flattened
from tests.geometry.picture import discs


def pinhole(points, *, tilt=0.5, turn=0.4, far=0.8, focal=1500.0, middle=(700.0, 520.0)):
    """(n, 2) picture elements of points on a plane [m], seen by a camera leaning by `tilt`."""
    p = np.asarray(points, dtype=float) - [0.1, 0.07]
    c, s = math.cos(turn), math.sin(turn)
    x, y = p[:, 0] * c - p[:, 1] * s, p[:, 0] * s + p[:, 1] * c
    up, depth = y * math.cos(tilt), far + y * math.sin(tilt)
    return np.column_stack([middle[0] + focal * x / depth, middle[1] - focal * up / depth])


RECTANGLE = np.array([[0.0, 0.0], [0.2, 0.0], [0.2, 0.14], [0.0, 0.14]])


def test_a_bar_gives_its_length_over_its_elements() -> None:
    scale = bar_scale((100.0, 100.0), (1300.0, 1000.0), 0.15)  # 1500 elements: 3, 4, 5
    assert scale.element == pytest.approx(1e-4, rel=1e-12)
    assert scale.spread == pytest.approx(math.sqrt(2.0) / 1500.0, rel=1e-12)


def test_dots_to_the_inch() -> None:
    assert dpi_scale(254.0).element == pytest.approx(1e-4, rel=1e-12)
    with pytest.raises(RangeError, match="30 to 4800 dpi, got 7"):
        dpi_scale(7.0)


def test_four_corners_give_the_camera_s_own_view_of_every_point() -> None:
    view = flat_view(pinhole(RECTANGLE), 0.2, 0.14)
    points = np.random.default_rng(2).uniform([-0.05, -0.05], [0.25, 0.2], (40, 2))
    np.testing.assert_allclose(view.in_picture(points), pinhole(points), atol=1e-6)


def test_holes_seen_askew_are_found_where_they_are() -> None:
    # drawn square from above, then seen through the camera; 3.3 mm holes in a 200 x 140 mm plate
    holes = np.array([[0.02, 0.02], [0.18, 0.02], [0.18, 0.12], [0.02, 0.12], [0.1, 0.07]])
    step = 1e-4
    plate = discs(
        1800, 2400, [((x + 0.02) / step, (0.16 - y) / step, 33.0) for x, y in holes], noise=0.0
    )
    view = flat_view(pinhole(RECTANGLE), 0.2, 0.14)
    rows, columns = np.mgrid[0:1040, 0:1400]
    back = np.linalg.inv(view.matrix)
    q = np.stack([columns, rows, np.ones_like(rows)], axis=-1) @ back.T
    on = q[..., :2] / q[..., 2:]
    at = np.stack([(0.16 - on[..., 1]) / step, (on[..., 0] + 0.02) / step])
    seen = map_coordinates(plate, at, order=1, cval=0.9).astype(np.float32)
    seen += np.random.default_rng(1).normal(0, 0.02, seen.shape).astype(np.float32)
    flat, corner, element = flattened(seen, view)
    found = picture_circles(flat, smallest=0.0025 / element, largest=0.0045 / element)
    got = np.array(
        [[corner[0] + element * c.circle.x, corner[1] - element * c.circle.y] for c in found]
    )
    assert len(got) == len(holes)
    for hole in holes:
        # a fifth of an element: 0.1 mm in this picture
        assert np.linalg.norm(got - hole, axis=1).min() < 0.2 * element
    assert [2e3 * element * c.circle.radius for c in found] == pytest.approx([6.6] * 5, abs=0.1)


def test_nothing_behind_the_horizon_comes_into_the_flat_picture() -> None:
    view = flat_view(pinhole(RECTANGLE, tilt=1.35, turn=0.0, far=0.4), 0.2, 0.14)
    flat, _, element = flattened(np.full((1040, 1400), 0.9, dtype=np.float32), view)
    assert flat.size < 90_000_000
    assert element > 0.0
    assert (flat[0] == 0.5).all() or (flat[-1] == 0.5).all() or flat.max() <= 0.9 + 1e-6


def test_refuses_corners_in_another_order_and_a_short_bar() -> None:
    corners = pinhole(RECTANGLE)
    with pytest.raises(RangeError, match="lower left, lower right, upper right, upper left"):
        flat_view(corners[::-1], 0.2, 0.14)
    with pytest.raises(RangeError, match="lower left"):
        flat_view(corners[[0, 2, 1, 3]], 0.2, 0.14)
    with pytest.raises(RangeError, match="at least 20 elements apart, got 5"):
        bar_scale((0.0, 0.0), (3.0, 4.0), 0.1)
