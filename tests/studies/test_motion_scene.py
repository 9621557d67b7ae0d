# SPDX-License-Identifier: Apache-2.0
"""The shapes of a film: doors that turn as the network's do, panels as far as the pan goes."""

import numpy as np
import pytest

from sumpwright.geometry.panel import Opening, Panel, rectangle
from sumpwright.oil.door import Door
from sumpwright.studies.motion_scene import door_shape, panel_shapes
from tests.geometry.bodies import box

DOOR = Door(
    hinge=np.array([0.1, 0.02, -0.05]), reach=np.array([0.0, 0.0, -1.0]),
    swing=np.array([1.0, 0.0, 0.0]), width=0.04, length=0.03, thickness=0.001, mass=0.01,
    stop=np.radians(70.0),
)  # fmt: skip


def test_a_shut_door_hangs_in_its_panel_and_an_open_one_stands_out_of_it() -> None:
    shape = door_shape("flap", DOOR, (0, 1))
    shut = shape.leaf(0.0)
    np.testing.assert_allclose(shut[:, 0], 0.1, atol=1e-15)
    np.testing.assert_allclose(sorted(shut[:, 1]), [0.0, 0.0, 0.04, 0.04], atol=1e-15)
    np.testing.assert_allclose(sorted(shut[:, 2]), [-0.08, -0.08, -0.05, -0.05], atol=1e-15)
    open_ = shape.leaf(np.pi / 2.0)
    np.testing.assert_allclose(sorted(open_[:, 0]), [0.1, 0.1, 0.13, 0.13], atol=1e-15)
    np.testing.assert_allclose(open_[:, 2], -0.05, atol=1e-15)


@pytest.mark.parametrize("angle", [0.0, 0.3, 1.2])
def test_a_door_keeps_its_size_and_its_hinge_at_every_angle(angle: float) -> None:
    leaf = door_shape("flap", DOOR, None).leaf(angle)
    sides = np.linalg.norm(leaf - np.roll(leaf, -1, axis=0), axis=1)
    np.testing.assert_allclose(sides, [0.04, 0.03, 0.04, 0.03], rtol=1e-12)
    np.testing.assert_allclose(leaf[:2].mean(axis=0), DOOR.hinge, rtol=1e-12)


def _area(outlines: tuple[np.ndarray, ...], normal: np.ndarray) -> float:
    vectors = [0.5 * np.cross(o, np.roll(o, -1, axis=0)).sum(axis=0) for o in outlines]
    return float(np.sum(vectors, axis=0) @ normal)


def test_a_panel_is_shown_as_far_as_the_pan_goes_less_its_windows() -> None:
    pan = box([0, 0, 0], [0.4, 0.3, 0.1])
    window = Opening("window", rectangle([0.15, 0.03], width=0.05, height=0.02))
    whole = Panel("wall", [0.1, 0, 0], [1, 0, 0], None, 0.001, 0.0, (window,))  # type: ignore[arg-type]
    low = Panel("low wall", [0.2, 0, 0], [1, 0, 0], [[-1, -1], [1, -1], [1, 0.04], [-1, 0.04]])  # type: ignore[arg-type]
    shapes = {s.name: s for s in panel_shapes([whole, low], pan)}
    x = np.array([1.0, 0.0, 0.0])
    # 0.3 x 0.1 less 0.05 x 0.02; 0.3 x 0.04
    assert _area(shapes["wall"].outlines, x) == pytest.approx(0.029, rel=1e-9)
    assert _area(shapes["low wall"].outlines, x) == pytest.approx(0.012, rel=1e-9)
    assert all(np.allclose(o[:, 0], 0.1) for o in shapes["wall"].outlines)
    assert len(shapes["wall"].outlines) == 2
