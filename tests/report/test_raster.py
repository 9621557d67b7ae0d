# SPDX-License-Identifier: Apache-2.0
"""The painters against triangles whose pixels can be counted by hand."""

import numpy as np
import pytest

from sumpwright.geometry.mesh import Mesh
from sumpwright.report import raster
from sumpwright.report.shade import Camera, Layer, camera, plain_paint


def painted(
    corners: list[list[list[float]]], tones: list[list[float]]
) -> tuple[np.ndarray, np.ndarray]:
    depth = np.full((10, 10), raster.NOTHING, dtype=np.float32)
    rgb = np.zeros((10, 10, 3), dtype=np.uint8)
    one = np.ones((1, 3), dtype=np.float32)
    for corner, tone in zip(corners, tones, strict=True):
        raster.fill_triangles(
            np.array([corner], dtype=np.float32), one, one, one, np.zeros(0, np.float32),
            np.array([tone] * 3, dtype=np.float32), 2, depth, rgb,
        )  # fmt: skip
    return depth, rgb


def test_half_a_square_covers_the_elements_whose_middle_is_inside() -> None:
    # x + y <= 8: of the 8 x 8 middles (i + 1/2, j + 1/2) those with i + j <= 7, that is 36
    depth, _ = painted([[[0, 0, 1], [8, 0, 1], [0, 8, 1]]], [[255.0, 0, 0]])
    assert int((depth > raster.NOTHING).sum()) == 36
    rows, columns = np.nonzero(depth > raster.NOTHING)
    assert (rows + columns <= 7).all()


def test_the_nearer_triangle_wins_whichever_comes_first() -> None:
    near = [[0, 0, 5], [10, 0, 5], [0, 10, 5]]
    far = [[0, 0, 1], [10, 0, 1], [0, 10, 1]]
    red, blue = [255.0, 0, 0], [0, 0, 255.0]
    for order in ([near, far], [red, blue]), ([far, near], [blue, red]):
        _, rgb = painted(*order)  # type: ignore[arg-type]
        assert rgb[2, 2].tolist() == [255, 0, 0]


def test_depth_is_mixed_linearly_over_a_triangle() -> None:
    depth, _ = painted([[[0, 0, 0], [10, 0, 10], [0, 10, 0]]], [[255.0] * 3])
    assert depth[1, 3] == pytest.approx(3.5, abs=1e-5)  # z = x; single precision


def test_turning_sense_does_not_matter() -> None:
    one, _ = painted([[[1, 1, 1], [8, 2, 1], [3, 9, 1]]], [[255.0] * 3])
    two, _ = painted([[[1, 1, 1], [3, 9, 1], [8, 2, 1]]], [[255.0] * 3])
    np.testing.assert_array_equal(one, two)


def test_stripes_are_painted_where_the_gap_falls_short_and_only_there() -> None:
    depth = np.full((40, 40), raster.NOTHING, dtype=np.float32)
    rgb = np.zeros((40, 40, 3), dtype=np.uint8)
    square = np.array([[[0, 0, 0], [40, 0, 0], [40, 40, 0]], [[0, 0, 0], [40, 40, 0], [0, 40, 0]]])
    along = square[:, :, 0].astype(np.float32)  # short = x - 20: below zero on the left half
    tones = np.array([[1.0] * 3, [2.0] * 3, [8.0] * 3, [9.0] * 3], np.float32)
    raster.fill_triangles(
        square.astype(np.float32), np.ones((2, 3), np.float32), along, along - 20.0,
        np.array([30.0], np.float32), tones, 4, depth, rgb,
    )  # fmt: skip
    assert set(np.unique(rgb[:, :20])) == {8, 9}
    assert set(np.unique(rgb[:, 20:30])) == {1}
    assert set(np.unique(rgb[:, 30:])) == {2}


def test_a_hidden_line_is_not_drawn_and_a_free_one_is() -> None:
    depth = np.full((10, 10), raster.NOTHING, dtype=np.float32)
    depth[:, 5:] = 50.0
    ink = np.zeros((10, 10), dtype=np.uint8)
    ends = np.array([[[1.0, 4.5, 10.0], [8.5, 4.5, 10.0]]], dtype=np.float32)
    raster.trace_lines(ends, depth, 1.0, 1, ink)
    assert ink[4, 1:5].all()
    assert not ink[4, 6:].any()


def test_a_camera_shows_a_known_box_where_it_should() -> None:
    corners = np.array([[x, y, z] for x in (0, 2.0) for y in (0, 1.0) for z in (0, 1.0)])
    view = camera(corners, azimuth=0.0, elevation=0.0, size=(100, 100))  # from the front
    assert isinstance(view, Camera)
    assert view.right.tolist() == pytest.approx([0, 1, 0])  # seen from the front, left is right
    seen = view.seen(corners)
    assert np.ptp(seen[:, 0]) == pytest.approx(90.0)  # 0.90 of the height, both are 1 m
    assert seen[:, :2].mean(axis=0).tolist() == pytest.approx([50.0, 50.0])
    front = seen[corners[:, 0] == 2.0, 2]
    assert (front > seen[corners[:, 0] == 0.0, 2].max()).all()


def test_a_round_tube_is_shaded_smoothly_and_its_ends_stay_flat() -> None:
    from manifold3d import Manifold

    data = Manifold.cylinder(1.0, 0.3, circular_segments=48).to_mesh()
    tube = Mesh(np.asarray(data.vert_properties, dtype=float)[:, :3], np.asarray(data.tri_verts))
    view = camera(tube.vertices, azimuth=0.4, elevation=0.0, size=(200, 200))
    layer = Layer(view)
    layer.add(tube, plain_paint(tube, "#808080"))
    row = layer.rgb[100, :, 0][layer.depth[100] > raster.NOTHING].astype(int)
    assert len(row) > 50
    assert np.abs(np.diff(row[3:-3])).max() <= 6  # of 255: no facet of the 48 shows as a step
