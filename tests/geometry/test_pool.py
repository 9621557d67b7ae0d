# SPDX-License-Identifier: Apache-2.0
"""Pools that do not touch, against manifold3d's trim and decompose, and boxes by hand."""

import manifold3d as m3
import numpy as np
import pytest

from sumpwright.geometry.inside import inside
from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.pool import pool_at
from tests.geometry.bodies import box, prism, random_rotation, star, upright

UP = np.array([0.0, 0.0, 1.0])
# two wells of 0.1 m with a saddle 40 mm up between them, 0.2 m long: x 0 to 0.3, z 0 to 0.1
SADDLE = prism(
    [(0, 0), (0.1, 0), (0.1, 0.04), (0.2, 0.04), (0.2, 0), (0.3, 0), (0.3, 0.1), (0, 0.1)], 0.2
)


def at(mesh: Mesh, point: tuple[float, float, float], height: float) -> tuple[float, float]:
    pool = pool_at(mesh, point, UP[None], [height])
    return float(pool.volume[0]), float(pool.apart[0])


def decomposed(mesh: Mesh, up: np.ndarray, height: float) -> list[m3.Manifold]:
    body = m3.Manifold(m3.Mesh64(mesh.vertices.copy(), mesh.faces.astype(np.uint64)))
    assert body.status() == m3.Error.NoError
    return list(body.trim_by_plane((-up).tolist(), -height).decompose())


def test_wells_below_their_saddle_are_apart() -> None:
    own, apart = at(SADDLE, (0.05, 0.1, 0.01), 0.03)
    assert own == pytest.approx(0.1 * 0.2 * 0.03, rel=1e-12)
    assert apart == pytest.approx(0.1 * 0.2 * 0.03, rel=1e-12)


def test_wells_above_their_saddle_are_one() -> None:
    own, apart = at(SADDLE, (0.05, 0.1, 0.01), 0.05)
    assert own == pytest.approx(0.2 * (0.2 * 0.04 + 0.3 * 0.01), rel=1e-12)
    assert apart == 0.0


def test_an_island_and_a_hanging_post_do_not_split_a_pool() -> None:
    pan = box([0, 0, 0], [0.3, 0.2, 0.1])
    block = box([0.1, 0.05, 0.02], [0.2, 0.15, 0.04]).flipped()  # drowned
    post = box([0.22, 0.05, 0.03], [0.28, 0.15, 0.09]).flipped()  # stands out of the oil
    own, apart = at(joined([pan, block, post]), (0.05, 0.1, 0.01), 0.06)
    by_hand = 0.3 * 0.2 * 0.06 - 0.1 * 0.1 * 0.02 - 0.06 * 0.1 * 0.03
    assert own == pytest.approx(by_hand, rel=1e-12)
    assert apart == pytest.approx(0.0, abs=1e-15)


def test_a_cup_in_the_oil_is_a_pool_of_its_own() -> None:
    pan = box([0, 0, 0], [0.3, 0.2, 0.1])
    wall = [(-0.04, 0.02), (0.04, 0.02), (0.04, 0.08), (0.03, 0.08), (0.03, 0.03), (-0.03, 0.03)]
    cup = prism([*wall, (-0.03, 0.08), (-0.04, 0.08)], 0.1)
    ends = [box([0.11, y, 0.02], [0.19, y + 0.01, 0.08]) for y in (0.04, 0.14)]
    cup = cup.moved(np.eye(3), [0.15, 0.045, 0.0])
    body = m3.Manifold(m3.Mesh64(cup.vertices.copy(), cup.faces.astype(np.uint64)))
    for end in ends:
        body += m3.Manifold(m3.Mesh64(end.vertices.copy(), end.faces.astype(np.uint64)))
    solid = body.to_mesh64()
    mesh = joined(
        [pan, Mesh(np.asarray(solid.vert_properties), np.asarray(solid.tri_verts)).flipped()]
    )
    inner = 0.06 * 0.09 * 0.03  # 30 mm deep inside, at 60 mm
    outer = 0.3 * 0.2 * 0.06 - 0.08 * 0.11 * 0.04
    assert at(mesh, (0.15, 0.1, 0.05), 0.06) == pytest.approx((inner, outer), rel=1e-9)
    assert at(mesh, (0.05, 0.1, 0.05), 0.06) == pytest.approx((outer, inner), rel=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_rough_bodies_fall_into_the_pools_of_another_library(seed: int) -> None:
    rng = np.random.default_rng(seed)
    mesh = star(rng, 3, 0.7)
    up = random_rotation(rng)[2]
    heights = np.quantile(mesh.vertices @ up, [0.1, 0.3, 0.5, 0.7])
    several = 0
    for height in heights:
        pools = decomposed(mesh, up, float(height))
        total = sum(p.volume() for p in pools)
        several += len(pools) > 1
        for pool in pools:
            if pool.volume() < 1e-4 * total:
                continue
            point = _within(pool, mesh, up, float(height), rng)
            found = pool_at(mesh, point, up[None], [height])
            # 1e-7: one library cuts, the other sums; both round at the size of the body
            assert found.volume[0] == pytest.approx(pool.volume(), rel=1e-7)
            assert found.apart[0] == pytest.approx(
                total - pool.volume(), rel=1e-7, abs=1e-7 * total
            )
    assert several, "no plane met two pools: nothing was tested"


def _within(
    pool: m3.Manifold, mesh: Mesh, up: np.ndarray, height: float, rng: np.random.Generator
) -> np.ndarray:
    """A point inside a pool, found by trying."""
    own = pool.to_mesh64()
    skin = Mesh(np.asarray(own.vert_properties)[:, :3], np.asarray(own.tri_verts))
    low, high = skin.bounds
    tries = rng.uniform(low, high, size=(4000, 3))
    good = tries[inside(skin, tries) & (tries @ up < height)]
    assert len(good)
    assert inside(mesh, good[:1])[0]
    return np.asarray(good[0])


def test_a_pan_that_stands_upright_counts_the_same() -> None:
    own, apart = at(upright(SADDLE), (0.05, 0.0, 0.1), 0.15)
    assert apart == 0.0
    assert own == pytest.approx(SADDLE.volume * 0.15 / 0.2, rel=1e-12)
