# SPDX-License-Identifier: Apache-2.0
"""What must hold for any closed body: checked on random ones, most of them not convex."""

import os

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.geometry.level import LevelBody, extent_along, level_body, levels_of, liquid_below
from sumpwright.geometry.level import volume_below as below
from sumpwright.geometry.mesh import Mesh, joined
from tests.geometry.bodies import Floats, box, icosphere, random_rotation, random_up, star

EPS = np.finfo(float).eps

seeds = st.integers(0, 10_000)
fills = st.one_of(st.floats(0.0, 1.0), st.sampled_from([1e-9, 1e-6, 0.5, 1.0 - 1e-6, 1.0 - 1e-9]))
few = settings(max_examples=60, deadline=None)  # the first call loads the compiled kernels


def random_body(rng: np.random.Generator) -> Mesh:
    """A star, a box less some balls, balls run together, or several bodies apart."""
    kind = rng.integers(4)
    if kind == 0:
        return star(rng, halvings=int(rng.integers(1, 4)))
    if kind == 1:
        return _carved(rng, "-")
    if kind == 2:
        return _carved(rng, "+")
    return joined([star(rng, 1).moved(np.eye(3), [0.4 * k, 0.0, 0.1 * k]) for k in range(3)])


def noise(body: LevelBody) -> float:
    """What the roundings of a sum over the skin come to, as a volume."""
    return float(4.0 * EPS * body.skin * np.linalg.norm(body.nodes[1, 3:6]))


@few
@given(seeds)
def test_more_height_never_means_less_liquid(seed: int) -> None:
    rng = np.random.default_rng(seed)
    body, up = level_body(random_body(rng)), random_up(rng)
    low, high = extent_along(body, up)[0]
    volume = below(body, up, np.linspace(low, high, 200))
    assert (np.diff(volume) >= -noise(body)).all()
    np.testing.assert_allclose(volume[[0, -1]], [0.0, body.volume], rtol=0.0, atol=noise(body))


@few
@given(seeds, fills)
def test_volume_to_level_and_back(seed: int, fill: float) -> None:
    rng = np.random.default_rng(seed)
    body, up = level_body(random_body(rng)), random_up(rng)
    levels = levels_of(body, up, fill * body.volume)
    # and one rounding of the height, which counts from the frame's origin
    unsure = noise(body) + 2.0 * EPS * np.abs(levels.height) * levels.surface_area
    assert abs(below(body, up, levels.height) - fill * body.volume) <= unsure


@few
@given(seeds, fills)
def test_level_to_volume_and_back(seed: int, share: float) -> None:
    rng = np.random.default_rng(seed)
    body, up = level_body(random_body(rng)), random_up(rng)
    low, high = extent_along(body, up)[0]
    height = low + share * (high - low)
    liquid = liquid_below(body, up, height)
    again = levels_of(body, up, liquid.volume)
    # where the surface is small, little volume decides much height: judged as volume
    assert abs(below(body, up, again.height) - liquid.volume) <= 2.0 * noise(body)
    assert again.height <= height + 2.0 * noise(body) / max(liquid.surface_area[0], 1e-12)


@few
@given(seeds)
def test_bodies_add_up(seed: int) -> None:
    rng = np.random.default_rng(seed)
    parts = [star(rng, 1).moved(random_rotation(rng), [0.4 * k, 0.0, 0.05 * k]) for k in range(3)]
    whole, up = level_body(joined(parts)), random_up(rng)
    heights = np.linspace(*extent_along(whole, up)[0], 9)
    together = liquid_below(whole, up, heights)
    apart = [liquid_below(level_body(part), up, heights) for part in parts]
    volume = sum(a.volume for a in apart)
    np.testing.assert_allclose(together.volume, volume, rtol=0.0, atol=noise(whole))
    surface = sum(a.surface_area for a in apart)
    np.testing.assert_allclose(together.surface_area, surface, rtol=0.0, atol=1e-14 * whole.skin)
    moment = sum(a.volume[:, None] * np.nan_to_num(a.centroid) for a in apart)
    np.testing.assert_allclose(
        together.volume[-1:, None] * together.centroid[-1:], moment[-1:], rtol=0.0, atol=1e-15
    )  # moments here are about 1e-3 m^4


@few
@given(seeds, fills)
def test_turning_body_and_gravity_together_changes_nothing(seed: int, fill: float) -> None:
    rng = np.random.default_rng(seed)
    mesh, up, turn = random_body(rng), random_up(rng), random_rotation(rng)
    plain, turned = level_body(mesh), level_body(mesh.moved(turn, [0.1, -0.2, 0.3]))
    height = float(levels_of(plain, up, fill * plain.volume).height[0])
    other = turn @ up
    shifted = height + other @ np.array([0.1, -0.2, 0.3])
    one, two = liquid_below(plain, up, height), liquid_below(turned, other, shifted)
    # turning rounds every coordinate by up to EPS of half a metre, over the whole skin
    unsure = noise(plain) + EPS * plain.skin
    assert abs(one.volume - two.volume) <= unsure
    if fill > 1e-3:  # a centroid, within 1 m, is as unsure as the volume's share
        there = turn @ one.centroid[0] + [0.1, -0.2, 0.3]
        share = float(unsure / one.volume[0])
        np.testing.assert_allclose(two.centroid[0], there, rtol=0.0, atol=2.0 * share + 1e-15)


@few
@given(seeds, st.floats(1e-3, 1e3), fills)
def test_volume_goes_as_the_cube_of_size_and_surface_as_the_square(
    seed: int, factor: float, fill: float
) -> None:
    rng = np.random.default_rng(seed)
    mesh, up = random_body(rng), random_up(rng)
    plain, scaled = level_body(mesh), level_body(mesh.scaled(factor))
    low, high = extent_along(plain, up)[0]
    height = low + fill * (high - low)
    one, two = liquid_below(plain, up, height), liquid_below(scaled, up, height * factor)
    assert abs(two.volume / factor**3 - one.volume) <= 2.0 * noise(plain)
    # the surface of a star may change fast with height; a rounding moves it by EPS of the skin
    unsure = 1e-12 * plain.skin
    assert abs(two.surface_area / factor**2 - one.surface_area) <= unsure


@few
@given(seeds, fills)
def test_oil_and_air_share_the_body(seed: int, share: float) -> None:
    # below a plane seen from above, plus below the same plane seen from under, is the whole
    rng = np.random.default_rng(seed)
    body, up = level_body(random_body(rng)), random_up(rng)
    low, high = extent_along(body, up)[0]
    height = low + share * (high - low)
    oil, air = liquid_below(body, up, height), liquid_below(body, -up, -height)
    assert abs(oil.volume + air.volume - body.volume) <= noise(body)
    assert abs(oil.surface_area - air.surface_area) <= 1e-12 * body.skin
    if 0.01 < share < 0.99:
        whole = liquid_below(body, up, high + 1.0)
        moment = oil.volume * oil.centroid[0] + air.volume * air.centroid[0]
        np.testing.assert_allclose(
            moment, whole.volume * whole.centroid[0], rtol=0.0, atol=10.0 * noise(body)
        )  # metres are about 1 here, so a moment rounds as a volume does


@few
@given(seeds)
def test_a_mirror_keeps_volumes(seed: int) -> None:
    rng = np.random.default_rng(seed)
    mesh, up = random_body(rng), random_up(rng)
    flip = np.array([1.0, -1.0, 1.0])
    other = Mesh(mesh.vertices * flip, mesh.faces[:, ::-1])
    plain, mirrored = level_body(mesh), level_body(other)
    heights = np.linspace(*extent_along(plain, up)[0], 9)
    want = below(plain, up, heights)
    np.testing.assert_allclose(
        below(mirrored, up * flip, heights), want, rtol=0.0, atol=noise(plain)
    )


@few
@given(seeds)
def test_surface_is_the_slope_of_volume_over_height(seed: int) -> None:
    rng = np.random.default_rng(seed)
    body, up = level_body(star(rng, 1)), random_up(rng)
    low, high = extent_along(body, up)[0]
    height = low + rng.uniform(0.2, 0.8) * (high - low)
    # between corners volume is a cubic, of which this five-point slope is exact
    corners = (body.corners.reshape(-1, 3) + body.reference) @ up
    step = np.abs(corners - height).min() / 2.1
    v = below(body, up, height + step * np.array([-2.0, -1.0, 1.0, 2.0]))
    slope = (8.0 * (v[2] - v[1]) - (v[3] - v[0])) / (12.0 * step)
    surface = liquid_below(body, up, height).surface_area[0]
    # the volumes' rounding over the step, and one rounding of each height
    unsure = 2.0 * noise(body) / step + 1e-14 * body.skin
    assert abs(slope - surface) <= unsure


def test_the_slope_of_a_cubic_is_met_at_second_order() -> None:
    body, up = level_body(icosphere(0, 0.1)), np.array([0.48, 0.6, 0.64])
    height, steps = 0.03, np.array([4e-3, 2e-3, 1e-3])
    ahead, behind = below(body, up, height + steps), below(body, up, height - steps)
    surface = liquid_below(body, up, height).surface_area[0]
    error = np.abs((ahead - behind) / (2.0 * steps) - surface)
    np.testing.assert_allclose(np.log2(error[:-1] / error[1:]), 2.0, atol=1e-4)  # a pure cubic


@pytest.mark.parametrize("count", [1, 31, 33, 500])
def test_threads_do_not_change_a_bit(count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    rng = np.random.default_rng(count)
    body = level_body(random_body(rng))
    up = np.array([random_up(rng) for _ in range(count)])
    volume = rng.uniform(0.0, body.volume, count)
    answers = []
    for threads in ("1", "2", "7"):
        monkeypatch.setitem(os.environ, "SUMPWRIGHT_THREADS", threads)
        levels = levels_of(body, up, volume)
        liquid = liquid_below(body, up, levels.height)
        answers.append(np.column_stack([levels.height, liquid.volume, liquid.centroid]))
    np.testing.assert_array_equal(answers[0], answers[1])
    np.testing.assert_array_equal(answers[0], answers[2])


@few
@given(seeds)
def test_the_order_of_questions_matters_only_to_rounding(seed: int) -> None:
    rng = np.random.default_rng(seed)
    body = level_body(random_body(rng))
    up = np.array([random_up(rng) for _ in range(40)])
    volume = rng.uniform(0.01, 0.99, 40) * body.volume
    shuffled = rng.permutation(40)
    one = levels_of(body, up, volume)
    two = levels_of(body, up[shuffled], volume[shuffled])
    moved = np.abs(two.height - one.height[shuffled])
    assert (moved * one.surface_area[shuffled] <= 2.0 * noise(body)).all()


def _carved(rng: np.random.Generator, how: str) -> Mesh:
    """A box with balls added or taken away, by a library of booleans."""
    import manifold3d as m3

    def solid(mesh: Mesh) -> m3.Manifold:
        return m3.Manifold(m3.Mesh64(mesh.vertices.copy(), mesh.faces.astype(np.uint64)))

    body = solid(box([0.0, 0.0, 0.0], [0.3, 0.2, 0.1]))
    for _ in range(4):
        place: Floats = rng.uniform(0.0, 1.0, 3) * [0.3, 0.2, 0.1]
        ball = icosphere(1, rng.uniform(0.02, 0.06)).moved(random_rotation(rng), place)
        body = body - solid(ball) if how == "-" else body + solid(ball)
    mesh = body.to_mesh64()
    return Mesh(mesh.vert_properties[:, :3], mesh.tri_verts)
