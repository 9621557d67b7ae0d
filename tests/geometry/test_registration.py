# SPDX-License-Identifier: Apache-2.0
"""Registration against scipy's rotation fit, and what must hold whatever the points are."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from sumpwright.errors import RangeError
from sumpwright.geometry.registration import (
    rigid_fit,
    scale_spread,
    similarity_fit,
    stretch,
)

angle, move = st.floats(-math.pi, math.pi), st.floats(-1.0, 1.0)
seed = st.integers(0, 10_000)


def pattern(number: int, count: int = 9, d: int = 2) -> np.ndarray:
    return np.random.default_rng(number).uniform(-0.2, 0.2, (count, d))


def turned(points: np.ndarray, by: float, shift=(0.0, 0.0)) -> np.ndarray:
    c, s = math.cos(by), math.sin(by)
    return points @ np.array([[c, s], [-s, c]]) + shift


@given(seed, st.integers(3, 12))
def test_is_the_rotation_that_scipy_finds_in_three_dimensions(number, count) -> None:
    # oracle: scipy.spatial.transform.Rotation.align_vectors, which has no shift
    rng = np.random.default_rng(number)
    x = pattern(number, count, 3)
    y = Rotation.from_rotvec(rng.uniform(-2, 2, 3)).apply(x) + rng.normal(0, 0.01, x.shape)
    oracle, rssd = Rotation.align_vectors(y - y.mean(axis=0), x - x.mean(axis=0))
    fit = rigid_fit(x, y)
    np.testing.assert_allclose(fit.rotation, oracle.as_matrix(), atol=1e-7)
    assert fit.rms * math.sqrt(count) == pytest.approx(rssd, rel=1e-7)


@given(seed, angle)
def test_is_the_rotation_that_scipy_finds_in_a_plane(number, by) -> None:
    # oracle: the same in three dimensions, held to the plane by a heavy third axis
    x = pattern(number)
    noise = np.random.default_rng(number + 1).normal(0, 3e-4, x.shape)
    y = turned(x, by) + noise
    axis = np.array([[0.0, 0.0, 1.0]])
    a, b = (np.column_stack([p - p.mean(axis=0), np.zeros(len(p))]) for p in (x, y))
    weights = [*np.ones(len(x)), np.inf]
    oracle, _ = Rotation.align_vectors(np.vstack([b, axis]), np.vstack([a, axis]), weights=weights)
    np.testing.assert_allclose(rigid_fit(x, y).rotation, oracle.as_matrix()[:2, :2], atol=1e-7)


@given(seed, angle, move, move)
def test_residuals_do_not_feel_how_the_measured_points_lie(number, by, dx, dy) -> None:
    x = pattern(number)
    y = x + np.random.default_rng(number + 1).normal(0, 2e-4, x.shape)
    here, there = rigid_fit(x, y), rigid_fit(x, turned(y, by, (dx, dy)))
    np.testing.assert_allclose(there.residual, here.residual, atol=1e-12)
    np.testing.assert_allclose(
        there.into_design(turned(y, by, (dx, dy))), x + here.residual, atol=1e-12
    )


@given(seed, st.integers(2, 3))
def test_never_takes_a_mirror_image(number, d) -> None:
    x = pattern(number, 8, d)
    mirrored = x * ([-1.0] + [1.0] * (d - 1))
    fit = rigid_fit(x, mirrored)
    assert np.linalg.det(fit.rotation) == pytest.approx(1.0, abs=1e-12)
    assert fit.rms > 1e-3  # what a mirror would have fitted to nothing


@given(seed, angle, st.floats(0.97, 1.03))
def test_finds_the_scale_that_was_put_in(number, by, scale) -> None:
    x = pattern(number)
    fit = similarity_fit(x, scale * turned(x, by, (0.3, -0.1)))
    assert fit.scale == pytest.approx(scale, rel=1e-12)
    assert fit.rms < 1e-12
    assert scale_spread(x, fit) == pytest.approx(0.0, abs=1e-10)


def test_umeyama_s_own_worked_case() -> None:
    # [Umeyama-1991] section IV, from memory: three points whose best fit without the guard is a
    # mirror image; rotation, shift and scale as printed there
    x = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 2.0]])
    y = np.array([[0.0, 0.0], [-1.0, 0.0], [0.0, 2.0]])
    fit = similarity_fit(x, y)
    np.testing.assert_allclose(fit.rotation, [[0.832, 0.555], [-0.555, 0.832]], atol=5e-4)
    np.testing.assert_allclose(fit.shift, [-0.800, 0.400], atol=5e-4)
    assert fit.scale == pytest.approx(0.721, abs=5e-4)


def test_the_scale_s_standard_error_is_how_much_it_scatters() -> None:
    rng, x = np.random.default_rng(5), pattern(1, 14)
    found = [similarity_fit(x, x + rng.normal(0, 1e-4, x.shape)) for _ in range(2000)]
    said = math.sqrt(np.mean([scale_spread(x, f) ** 2 for f in found]))
    seen = np.std([f.scale for f in found])
    assert said == pytest.approx(seen, rel=0.06)  # 2000 draws: 1.6 % one sigma


@given(seed, angle, st.floats(0.98, 1.02), st.floats(0.98, 1.02), st.floats(-0.01, 0.01))
def test_stretch_finds_what_was_put_in(number, by, along, across, skew) -> None:
    x = pattern(number)
    bent = x @ np.array([[along, across * math.tan(skew)], [0.0, across]]).T
    found = stretch(x, turned(bent, by, (0.1, 0.2)))
    assert found is not None
    assert (found.along, found.across) == pytest.approx((along, across), rel=1e-9)
    assert found.skew == pytest.approx(skew, abs=1e-9)


def test_stretch_says_nothing_of_a_line_or_of_three_points() -> None:
    line = np.column_stack([np.linspace(0, 0.4, 6), np.zeros(6)])
    assert stretch(line, line) is None
    assert stretch(pattern(1, 3), pattern(1, 3)) is None


def test_refuses_one_point_and_a_heap() -> None:
    with pytest.raises(RangeError, match="at least 2 points"):
        rigid_fit([[0.0, 0.0]], [[0.0, 0.0]])
    with pytest.raises(RangeError, match="got all at one place"):
        rigid_fit([[0.0, 0.0]] * 3, [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
