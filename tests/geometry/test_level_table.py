# SPDX-License-Identifier: Apache-2.0
"""Level tables and the sweep that fills them, against closed forms and the exact level engine."""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.errors import RangeError
from sumpwright.geometry.cad import read_step
from sumpwright.geometry.cavity import with_crankcase
from sumpwright.geometry.compartment import compartments
from sumpwright.geometry.level import LevelBody, extent_along, level_body, levels_of
from sumpwright.geometry.level_grid import Swept
from sumpwright.geometry.level_sweep import GRAIN
from sumpwright.geometry.level_table import (
    LevelTable,
    level_stack,
    level_table,
    sampled_error,
    table_level,
)
from sumpwright.geometry.level_table_kernel import END, FINE, SOFT, STEEP, beyond_reach
from sumpwright.geometry.panel import Panel, rectangle
from tests.geometry.bodies import (
    Floats,
    box,
    icosphere,
    prism,
    prismoid,
    random_rotation,
    random_up,
    regular_outline,
    rippled_pan,
    star,
    upright,
)

SIZE = np.array([0.3, 0.2, 0.1])
STEPS = np.arange(0, FINE + 1, 4)
EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "demo-b" / "geometry"


def tilted(degrees: float, way: float) -> Floats:
    t, a = np.radians([degrees, way])
    return np.array([np.sin(t) * np.cos(a), np.sin(t) * np.sin(a), np.cos(t)])


@pytest.fixture(scope="module")
def tub() -> LevelBody:
    return level_body(box(-0.5 * SIZE, 0.5 * SIZE))


@pytest.fixture(scope="module")
def table(tub: LevelBody) -> LevelTable:
    return level_table(tub)


@pytest.mark.parametrize("seed", range(6))
def test_a_sweep_finds_the_levels_that_the_level_engine_finds(seed: int) -> None:
    rng = np.random.default_rng(seed)
    shapes = [
        box(np.zeros(3), SIZE),
        star(rng),
        icosphere(3, 0.1),
        upright(prism(regular_outline(24, 0.1, 0.3), 0.25)),
        rippled_pan(12),
        prismoid((0.3, 0.2), (0.24, 0.14), 0.08),
    ]
    body = level_body(shapes[seed].moved(random_rotation(rng), rng.uniform(-0.2, 0.2, 3)))
    ups = np.array([*(random_up(rng) for _ in range(40)), *np.eye(3), *-np.eye(3)])
    w = STEPS / FINE
    fill = np.where(w <= 0.5, 4.0 * w**3, 1.0 - 4.0 * (1.0 - w) ** 3)
    height, _ = Swept(body).heights(ups, STEPS)
    exact = levels_of(
        body, np.repeat(ups, len(w), axis=0), np.tile(fill * body.volume, len(ups))
    ).height
    span = np.diff(extent_along(body, ups), axis=1)
    # corners move by up to half a grain, the whole volume with them, which a narrow tip magnifies
    np.testing.assert_allclose(
        height, exact.reshape(height.shape), rtol=0.0, atol=8.0 * GRAIN * span.max()
    )


def test_level_oil_in_a_box_stands_as_high_as_its_share(tub: LevelBody, table: LevelTable) -> None:
    fill = np.linspace(0.0, 1.0, 201)
    height, slope = table_level(table, [0.0, 0.0, 1.0], fill * tub.volume)
    # upright is a node, so only the volumes between those kept are off
    np.testing.assert_allclose(height, SIZE[2] * (fill - 0.5), rtol=0.0, atol=5e-5)  # limit / 4
    np.testing.assert_allclose(slope[40:160], 1.0 / (0.3 * 0.2), rtol=0.02)  # of the cubic between


@pytest.mark.parametrize("accel", [0.3, 0.6, 1.2])
@pytest.mark.parametrize("way", [0.0, 180.0])
def test_a_wedge_in_a_cornering_box_stands_where_hydrostatics_says(
    accel: float, way: float
) -> None:
    # box 300 mm long, filled 50 mm: a wedge 95.0, 134.16 and 189.74 mm deep at the wall; a
    # textbook's accelerated tank, worked out anew
    tall = level_table(level_body(box([-0.15, -0.1, 0.0], [0.15, 0.1, 0.3])))
    depth = {0.3: 0.095, 0.6: 0.13416, 1.2: 0.18974}[accel]
    up = tilted(np.degrees(np.arctan(accel)), way)
    height, _ = table_level(tall, up, 0.3 * 0.2 * 0.05)
    wall = np.array([-0.15 if way == 0.0 else 0.15, 0.0, depth])  # printed to 5 digits
    np.testing.assert_allclose(height, up @ wall, rtol=0.0, atol=2e-4 + 5e-6)  # the table's limit
    assert tall.worst <= 2e-4


@pytest.mark.parametrize(
    "shape", [icosphere(3, 0.08), upright(prism(regular_outline(32, 0.09, 0.1), 0.12))]
)
def test_says_its_own_error_and_holds_its_limit(shape: object) -> None:
    body = level_body(shape)  # type: ignore[arg-type]
    found = level_table(body, limit=1e-4)
    assert found.worst <= 1e-4
    # other random levels: the largest of 8000 may be somewhat over that of 4000
    assert sampled_error(body, found, count=8000, seed=77) <= 2e-4


@pytest.mark.slow
def test_tables_of_a_real_pan_are_within_half_a_millimetre() -> None:
    pan = with_crankcase(read_step(EXAMPLE / "new-cavity.step").mesh, 0.070)
    sheet = rectangle([0, 0.045], width=0.16, height=0.09)
    side = rectangle([0, 0.045], width=0.13, height=0.09)
    walls = [
        Panel("front", [0.23, 0, -0.124], [1, 0, 0], sheet, 0.002, 0.001),
        Panel("rear", [0.10, 0, -0.124], [1, 0, 0], sheet, 0.002, 0.001),
        Panel("left", [0.165, 0.08, -0.124], [0, 1, 0], side, 0.002, 0.001),
        Panel("right", [0.165, -0.08, -0.124], [0, 1, 0], side, 0.002, 0.001),
        Panel("tray", [0, 0, -0.012], [0, 0, 1], thickness=0.0015),
        Panel("mid", [0.32, 0, 0], [1, 0, 0.2], thickness=0.002),
    ]
    for mesh in compartments(pan, walls).bodies:
        body = level_body(mesh)
        error = sampled_error(body, level_table(body), count=20_000, seed=5)
        assert error < 5e-4  # what a network of compartments needs


def test_a_table_too_small_says_how_wrong_it_is() -> None:
    body = level_body(rippled_pan(12))
    small = level_table(body, directions=13, volumes=9)
    assert small.heights.shape == (13, 13, 9)
    assert small.worst > 2e-4
    assert small.worst == sampled_error(body, small, count=4000, seed=1)


def test_a_box_stands_alike_however_it_is_mirrored(tub: LevelBody, table: LevelTable) -> None:
    rng = np.random.default_rng(3)
    up = np.array([tilted(t, a) for t, a in rng.uniform([0, 0], [95, 90], (50, 2))])
    volume = rng.uniform(0.0, tub.volume, 50)
    first, _ = table_level(table, up, volume)
    for flip in ([-1.0, 1.0, 1.0], [1.0, -1.0, 1.0], [-1.0, -1.0, 1.0]):
        # sweeps of mirrored directions round heights to grains from other ends
        other, _ = table_level(table, up * flip, volume)
        np.testing.assert_allclose(other, first, rtol=0.0, atol=4.0 * GRAIN * 0.4)


def test_its_slope_is_that_of_its_height(tub: LevelBody, table: LevelTable) -> None:
    rng = np.random.default_rng(4)
    up = np.array([tilted(t, a) for t, a in rng.uniform([0, 0], [110, 360], (300, 2))])
    up[up[:, 2] < np.cos(np.radians(100.0))] = [0.0, 0.0, 1.0]
    volume = tub.volume * rng.uniform(-0.1, 1.1, 300)
    step = 1e-7 * tub.volume
    low, high = (table_level(table, up, volume + d)[0] for d in (-step, step))
    slope = table_level(table, up, volume)[1]
    # central differences of a cubic: off by step^2; less than a part in 1e4 off rounding
    np.testing.assert_allclose((high - low) / (2.0 * step), slope, rtol=1e-4)


@pytest.mark.parametrize("seed", range(4))
def test_a_surface_rises_with_what_lies_under_it(seed: int) -> None:
    rng = np.random.default_rng(seed)
    shape = [box(np.zeros(3), SIZE), star(rng), rippled_pan(10), icosphere(2, 0.1)][seed]
    body = level_body(shape)
    found = level_table(body, directions=33)
    w = np.linspace(0.0, 1.0, 3001)
    fill = np.where(w <= 0.5, 4.0 * w**3, 1.0 - 4.0 * (1.0 - w) ** 3)
    volume = body.volume * np.concatenate([[-0.2, -1e-9], fill, [1.0 + 1e-9, 1.2]])
    for _ in range(30):
        height, slope = table_level(found, tilted(*rng.uniform([0, 0], [100, 360])), volume)
        assert (np.diff(height) >= 0.0).all()
        assert (slope >= 0.0).all()


@pytest.mark.parametrize("up", [[0.0, 0.0, 1.0], [0.6, 0.0, 0.8], [0.48, 0.6, 0.64]])
def test_runs_on_steeply_past_empty_and_full_without_a_step(
    tub: LevelBody, table: LevelTable, up: list[float]
) -> None:
    v = tub.volume
    edges = v * np.array([0.0, END, 1.0 - END, 1.0])
    below, _ = table_level(table, up, edges - 1e-13 * v)
    above, _ = table_level(table, up, edges + 1e-13 * v)
    # 1e-13 of the volume at the steepest slope there is, under 1e4 m a filling
    np.testing.assert_allclose(above, below, rtol=0.0, atol=2e-9)
    far = 3.0 * SOFT
    height, slope = table_level(table, up, v * np.array([-far, 0.0, 1.0, 1.0 + far]))
    foot, crown = extent_along(tub, up)[0]
    np.testing.assert_allclose(height[1:3], [foot, crown], rtol=0.0, atol=2e-4)  # its limit
    assert (slope[[0, 3]] * v >= STEEP).all()
    head = np.array([height[1] - height[0], height[3] - height[2]])
    assert (head >= 2.5 * SOFT * STEEP).all()
    assert (head <= 3.0 * SOFT * v * slope[[0, 3]]).all()


def test_no_slope_jumps_past_empty_and_full(table: LevelTable) -> None:
    v = table.volume
    for edge in (0.0, 1.0):
        _, slope = table_level(table, [0.0, 0.0, 1.0], v * (edge + np.array([-1e-12, 1e-12])))
        assert slope[0] == pytest.approx(slope[1], rel=1e-6)  # 1e-9 of the way to steep


def test_tells_and_refuses_a_tilt_past_its_reach(table: LevelTable) -> None:
    stack = level_stack([table])
    assert not beyond_reach(stack, 0, table.side, 0.0)
    assert beyond_reach(stack, 0, 0.8 * table.side, 0.7 * table.side)
    with pytest.raises(RangeError, match="reaches 100 deg from upright, asked 120"):
        table_level(table, tilted(120.0, 10.0), 1e-3)


def test_stacked_bodies_answer_as_each_alone(table: LevelTable) -> None:
    from sumpwright.geometry.level_table_kernel import level_of

    ball = level_table(level_body(icosphere(2, 0.1)))
    both = level_stack([table, ball])
    for row, alone in enumerate((table, ball)):
        up, volume = tilted(40.0, 70.0), 0.3 * alone.volume
        place = up[:2] / (1.0 + up[2])
        one = table_level(alone, up, volume)
        assert level_of(both, row, place[0], place[1], volume) == (one[0][0], one[1][0])


def test_refuses_a_reach_or_a_size_it_is_not_made_for(tub: LevelBody) -> None:
    with pytest.raises(RangeError, match="reaches 60 to 120 deg, asked 150 deg"):
        level_table(tub, reach=np.radians(150.0))
    with pytest.raises(RangeError, match="13 directions and 9 volumes, asked 9 and 65"):
        level_table(tub, directions=9)
