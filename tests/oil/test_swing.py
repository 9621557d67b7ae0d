# SPDX-License-Identifier: Apache-2.0
"""Tabulated swing against worked boxes, the exact viscous wave, and each state on its own.

Sources: [Abramson-1966], [Keulegan-1959] by their worked values; the viscous wave on a shallow
layer is the no-slip solution of u_t = -g eta_x + nu u_zz with a free top, [Lamb-1932] article 345.
"""

import math
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from sumpwright.errors import RangeError
from sumpwright.geometry.cad import read_step
from sumpwright.geometry.level import LevelBody, level_body, levels_of
from sumpwright.geometry.surface_moment import surface_moments
from sumpwright.oil.slosh_damping import box_bulk_damping, box_wall_damping
from sumpwright.oil.slosh_plane import first_mode_of_plane
from sumpwright.oil.swing import level_axis, swing_stack, swing_table
from sumpwright.oil.swing_kernel import SHORTEST, SwingStack, swing_of, swing_of_box
from tests.geometry.bodies import Floats, box

G, HOT, COLD = 9.81, 15e-6, 1e-3
EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "demo-b" / "geometry"
PAN = (0.3, 0.2, 0.1)
ROUND = 1e-5  # heights of a sweep are off a grain, 4e-6 of the height


@pytest.fixture(scope="module")
def tub() -> SwingStack:
    return swing_stack([swing_table(level_body(box([0, 0, 0], PAN)))])


def ask(
    stack: SwingStack, up: Floats, volume: float, nu: float = HOT, gravity: float = G
) -> Floats:
    w = 1.0 / (1.0 + up[2])
    return np.array(swing_of(stack, 0, up[0] * w, up[1] * w, volume, nu, gravity))


def test_level_oil_in_a_box_swings_as_worked(tub: SwingStack) -> None:
    # R5.1c: 0.30 m long, 0.06 m deep: 1.2038 Hz; printed to 5 digits
    stiff = ask(tub, np.array([0.0, 0.0, 1.0]), 0.3 * 0.2 * 0.06)[0]
    assert math.sqrt(stiff) / (2.0 * math.pi) == pytest.approx(1.2038, abs=5e-5)


def test_hot_oil_in_a_box_is_damped_as_worked(tub: SwingStack) -> None:
    # R5.4c: share of critical 0.01217 by walls and 4.350e-4 in the bulk, printed digits
    stiff, _, damp, _ = ask(tub, np.array([0.0, 0.0, 1.0]), 0.3 * 0.2 * 0.06)
    assert damp / (2.0 * math.sqrt(stiff)) == pytest.approx(0.01217 + 4.35e-4, abs=5.5e-6)


@pytest.mark.parametrize("depth", [0.02, 0.05, 0.09])
def test_across_the_box_its_sides_change_places(tub: SwingStack, depth: float) -> None:
    got = ask(tub, np.array([0.0, 0.0, 1.0]), 0.06 * depth)
    for axis, (length, breadth) in enumerate([(0.3, 0.2), (0.2, 0.3)]):
        size = {"length": length, "depth": depth, "gravity": G}
        mode = first_mode_of_plane(
            area=0.06, second_moment=breadth * length**3 / 12.0, volume=0.06 * depth, gravity=G
        )
        share = box_wall_damping(**size, breadth=breadth, viscosity=HOT)
        share = share + box_bulk_damping(**size, viscosity=HOT)
        np.testing.assert_allclose(got[axis], mode.frequency**2, rtol=ROUND)
        np.testing.assert_allclose(got[2 + axis], 2.0 * share * mode.frequency, rtol=ROUND)


def test_stands_askew_as_the_wedge_that_it_is(tub: SwingStack) -> None:
    # 45 degrees about y, 0.4 L: a triangle of oil along an edge, its surface 0.089 m by 0.2 m
    up = np.array([np.sqrt(0.5), 0.0, np.sqrt(0.5)])
    volume = 4e-4
    leg = math.sqrt(2.0 * volume / 0.2)
    area = 0.2 * leg * math.sqrt(2.0)
    mode = first_mode_of_plane(
        area=area, second_moment=0.2 * (leg * math.sqrt(2.0)) ** 3 / 12.0, volume=volume, gravity=G
    )
    got = ask(tub, up, volume)
    # 45 degrees is between nodes, about 7 degrees apart there
    np.testing.assert_allclose(math.sqrt(got[0]), mode.frequency, rtol=0.05)


def exact_drag(nu: float) -> float:
    """C of x'' + C x' + x = 0 that goes as the slowest wave on a viscous layer of depth 1 does."""

    def off(s: complex) -> complex:
        m = np.sqrt(s / nu + 0j)
        return complex(s * s + 1.0 - np.tanh(m) / m)

    if nu > 1.0:  # creeping: sigma = -r, tanh turns into tan

        def real(r: float) -> float:
            x = math.sqrt(r / nu)
            return r * r + 1.0 - math.tan(x) / x

        r = brentq(real, 0.1 / nu, 0.9 / nu)
        return (r * r + 1.0) / r
    s = -0.5 * math.sqrt(nu / 2.0) + 1j
    for _ in range(200):  # secants in the plane
        step = 1e-7
        s -= off(s) * 2.0 * step / (off(s + step) - off(s - step))
    assert abs(off(s)) < 1e-9
    assert abs(s.imag) > 0.1  # it swings; either of the pair will do
    return -2.0 * s.real


@pytest.mark.parametrize("nu", [1e-5, 1e-4, 1e-3, 0.01, 0.03, 0.05, 0.1, 0.3, 0.6, 1.5, 5.0, 30.0])
def test_thin_and_thick_oil_are_dragged_as_the_exact_viscous_wave(nu: float) -> None:
    # a shallow layer, wide and 400 depths long; depth 0.1 m, gravity so that omega is 1
    length, depth = 40.0, 0.1
    k = math.pi / length
    gravity = 1.0 / (k * math.tanh(k * depth))
    _, damp = swing_of_box(length, 1e6, depth, nu * depth**2, gravity)
    # the join is 15 % low to 21 % high at worst, where the layer fills a third of the depth or all
    assert 0.84 < damp / exact_drag(nu) < 1.23


def test_creeping_oil_is_dragged_by_floor_and_by_narrow_walls() -> None:
    # film 3 nu / h^2; between plates 12 nu / B^2 (plane Poiseuille): both closed forms
    _, film = swing_of_box(0.3, 10.0, 0.004, COLD, G)
    k = math.pi / 0.3
    assert film - 4.0 * COLD * k**2 == pytest.approx(3.0 * COLD / 0.004**2, rel=1e-4)  # 12/B^2
    _, slot = swing_of_box(0.3, 0.004, 10.0, COLD, G)
    assert slot - 4.0 * COLD * k**2 == pytest.approx(12.0 * COLD / 0.004**2, rel=1e-5)  # 3/h^2


def test_thick_oil_does_not_jump_where_the_formula_changes() -> None:
    depth = np.geomspace(0.002, 0.1, 4000)
    for nu in (HOT, 1e-4, COLD):
        damp = np.array([swing_of_box(0.3, 0.2, h, nu, G)[1] for h in depth])
        assert (np.abs(np.diff(np.log(damp))) < 4e-3).all()  # depth grows 0.1 % a step


@pytest.mark.parametrize("gravity", [2.0, 9.81, 20.0])
def test_stiffness_goes_as_gravity_and_wall_drag_as_its_fourth_root(
    tub: SwingStack, gravity: float
) -> None:
    up, volume = np.array([0.0, 0.0, 1.0]), 0.06 * 0.05
    one, other = ask(tub, up, volume), ask(tub, up, volume, gravity=gravity)
    np.testing.assert_allclose(other[:2], one[:2] * gravity / G, rtol=1e-12)
    bulk = 4.0 * HOT * (math.pi / np.array(PAN[:2])) ** 2
    want = bulk + (one[2:] - bulk) * (gravity / G) ** 0.25
    np.testing.assert_allclose(other[2:], want, rtol=1e-12)


def test_the_ends_follow_at_once_and_nothing_is_infinite(tub: SwingStack) -> None:
    rng = np.random.default_rng(1)
    volume = PAN[0] * PAN[1] * PAN[2]
    most = G * math.pi / SHORTEST
    for fill in (-1.0, 0.0, 1.0, 2.0):
        got = ask(tub, np.array([0.36, 0.48, 0.8]), fill * volume)
        # a rounding of the volume is 5e-6 of its coordinate, the cube root
        want = [most, most, 2.0 * math.sqrt(most), 2.0 * math.sqrt(most)]
        np.testing.assert_allclose(got, want, rtol=1e-4)
    for _ in range(3000):
        p, q = rng.uniform(-3.0, 3.0, 2)
        fill = rng.choice([rng.uniform(), 10.0 ** rng.uniform(-12, 0), 1 - 1e-9 * rng.uniform()])
        got = np.array(swing_of(tub, 0, p, q, fill * volume, rng.choice([HOT, COLD]), G))
        assert np.isfinite(got).all()
        assert (got > 0.0).all()
        assert (got[:2] <= most * (1.0 + 1e-12)).all()


def state(body: LevelBody, up: Floats, volume: float) -> Floats:
    """Frequencies of a state by its own exact surface."""
    height = levels_of(body, up, volume).height
    cut = surface_moments(body, [up], height, level_axis(up[None]))
    second = np.diagonal(cut.second_moments[0])
    mode = first_mode_of_plane(area=cut.area, second_moment=second, volume=volume, gravity=G)
    return np.asarray(mode.frequency)


def test_a_real_pans_swing_is_near_that_of_each_state() -> None:
    body = level_body(read_step(EXAMPLE / "new-cavity.step").mesh)
    stack = swing_stack([swing_table(body)])
    rng = np.random.default_rng(2)
    off = []
    for _ in range(300):
        z, a = rng.uniform(0.5, 1.0), rng.uniform(0.0, 2.0 * np.pi)
        flat = math.sqrt(1.0 - z * z)
        up = np.array([flat * np.cos(a), flat * np.sin(a), z])
        volume = rng.uniform(0.05, 0.95) * body.volume
        off.append(np.sqrt(ask(stack, up, volume)[:2]) / state(body, up, volume) - 1.0)
    # of a table 7 degrees coarse; the box itself is 10 to 20 % off odd shapes (slosh_plane.py)
    assert np.median(np.abs(off)) < 0.03
    assert np.quantile(np.abs(off), 0.95) < 0.1


def test_bodies_in_one_stack_answer_as_each_alone(tub: SwingStack) -> None:
    small = swing_table(level_body(box([0, 0, 0], [0.1, 0.05, 0.05])))
    both = swing_stack([swing_table(level_body(box([0, 0, 0], PAN))), small])
    up, place = np.array([0.36, 0.48, 0.8]), (0.2, 0.48 / 1.8)
    assert swing_of(both, 0, *place, 2e-3, HOT, G) == tuple(ask(tub, up, 2e-3))
    assert swing_of(both, 1, *place, 1e-4, HOT, G) == tuple(ask(swing_stack([small]), up, 1e-4))


def test_refuses_a_table_too_small() -> None:
    body = level_body(box([0, 0, 0], PAN))
    with pytest.raises(RangeError, match="13 directions or more and 3, 5, 9, 17"):
        swing_table(body, directions=9)
    with pytest.raises(RangeError, match="asked 15 and 12"):
        swing_table(body, volumes=12)
