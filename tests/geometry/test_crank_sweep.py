# SPDX-License-Identifier: Apache-2.0
"""The crank sweep: support function of a cylinder in closed form, and of bodies by corners."""

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.geometry.crank_sweep import CrankSweep
from sumpwright.geometry.edge import is_closed
from tests.geometry.bodies import box, icosphere, random_up

FRONT, REAR = (0.5, 0.0, 0.06), (0.0, 0.0, 0.06)


def test_lowest_at_rest_is_centreline_less_radius() -> None:
    sweep = CrankSweep.between(REAR, FRONT, radius=0.085)
    np.testing.assert_allclose(sweep.lowest_height([[0, 0, 1.0]]), [0.06 - 0.085], rtol=1e-14)


def test_lowest_under_a_pitched_surface_is_at_an_end() -> None:
    # Cylinder tilted by t about y: the low end's centre, less r cos t
    t = np.radians(30.0)
    up = [np.sin(t), 0.0, np.cos(t)]
    expected = 0.06 * np.cos(t) - 0.085 * np.cos(t)
    low = CrankSweep.between(REAR, FRONT, radius=0.085).lowest_height([up])
    np.testing.assert_allclose(low, [expected], rtol=1e-13)  # rounding


def test_along_its_axis_a_cylinder_ends_at_its_flat_end() -> None:
    sweep = CrankSweep.between(REAR, FRONT, radius=0.085)
    np.testing.assert_allclose(sweep.lowest_height([[1.0, 0, 0], [-1.0, 0, 0]]), [0.0, -0.5])


def test_its_mesh_never_reaches_below_it_and_comes_close() -> None:
    rng = np.random.default_rng(5)
    sweep = CrankSweep.between((0.1, 0.02, 0.05), (0.4, -0.03, 0.09), radius=0.08)
    ups = np.stack([random_up(rng) for _ in range(100)])
    corners = (ups @ sweep.mesh(sides=720).vertices.T).min(axis=1)
    chord = 0.08 * (1 - np.cos(np.pi / 720))  # flats lie inside the circle by this
    exact = sweep.lowest_height(ups)
    assert (exact <= corners + 1e-15).all()
    np.testing.assert_allclose(exact, corners, rtol=0, atol=chord)


def test_its_mesh_is_closed_and_faces_outward() -> None:
    sides = 96
    mesh = CrankSweep.between(REAR, FRONT, radius=0.085).mesh(sides)
    assert is_closed(mesh)
    area = 0.5 * sides * 0.085**2 * np.sin(2 * np.pi / sides)  # regular polygon
    assert mesh.volume == pytest.approx(0.5 * area, rel=1e-12)


def test_a_body_reaches_as_low_as_its_lowest_corner() -> None:
    rng = np.random.default_rng(7)
    ups = np.stack([random_up(rng) for _ in range(100)])
    for body in (box([0, -0.1, 0.02], [0.4, 0.1, 0.2]), icosphere(3, 0.1)):
        low = CrankSweep.of_body(body).lowest_height(ups)
        np.testing.assert_array_equal(low, (ups @ body.vertices.T).min(axis=1))


def test_a_flat_body_has_no_hull_and_is_still_answered() -> None:
    plate = box([0, 0, 0.0], [0.4, 0.1, 0.0])
    np.testing.assert_array_equal(CrankSweep.of_body(plate).lowest_height([[-1.0, 0, 0]]), [-0.4])


def test_refuses_a_sweep_without_length_or_radius() -> None:
    with pytest.raises(InputError, match="GEO-257"):
        CrankSweep.between(REAR, REAR, radius=0.08)
    with pytest.raises(InputError, match="radius 0 mm"):
        CrankSweep.between(REAR, FRONT, radius=0.0)
