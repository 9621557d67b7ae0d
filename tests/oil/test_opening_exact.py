# SPDX-License-Identifier: Apache-2.0
"""Flow through an opening in random cases: against quadrature, compiled, sloped, turned, swapped.

scipy's quadrature and shapely's cuts share nothing with the code that is checked.
"""

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from sumpwright.oil.opening import SHARP, opening_flow
from sumpwright.oil.opening_shape import Opening, gap, window
from tests.oil.opening_case import DOWN, DRY, THIN, flow, round_hole, upright


def by_quadrature(outline: np.ndarray, thickness: float, case: "Case") -> float:
    """Width cut by cut, speed root by root: nothing shared with the code that is checked."""
    pull = np.linalg.norm(case.gravity)
    up = -case.gravity / pull
    z = outline @ up
    across = np.cross(outline[1] - outline[0], outline[2] - outline[0])
    across /= np.linalg.norm(across)
    along = up - (up @ across) * across
    steep = np.linalg.norm(along)
    along /= steep
    side = np.cross(across, along)
    shape = shapely.Polygon(np.array([outline @ side, z]).T)
    high, low = max(case.head_1, case.head_2), min(case.head_1, case.head_2)
    box = shapely.box(-1.0, -1.0, 1.0, high)
    wet = shape.intersection(box).area / shape.area
    rim = np.linalg.norm(np.roll(outline, -1, axis=0) - outline, axis=1).sum()
    d = 4.0 * shape.area / steep / rim * wet * case.share
    b = case.nu / (2.0 * pull) * (12.0 * math.pi / d + 64.0 * thickness / d**2)
    a = 1.0 / (2.0 * pull * case.cd**2)

    def speed(level: float) -> float:
        head = max(high, level) - max(low, level)
        return (-b + math.sqrt(b * b + 4.0 * a * head)) / (2.0 * a)

    def strip(level: float) -> float:
        cut = shapely.LineString([(-1.0, level), (1.0, level)])
        return speed(level) * shape.intersection(cut).length / steep

    marks = sorted({*np.clip([*z, low], z.min(), min(high, z.max())), min(high, z.max())})
    parts = (
        quad(strip, p, q, epsabs=0.0, epsrel=1e-10)[0]
        for p, q in itertools.pairwise(marks)
        if q > p
    )
    return math.copysign(case.share * sum(parts), case.head_1 - case.head_2)


class Case:
    """Opening, surfaces and oil of one random case."""

    def __init__(self, seed: int) -> None:
        rng = np.random.default_rng(seed)
        corners = int(rng.integers(4, 8))
        turn = (np.arange(corners) + rng.uniform(0.0, 0.9, corners)) * math.tau / corners
        radius = rng.uniform(0.008, 0.05, len(turn))  # stars: mostly hollow somewhere
        flat = np.array([radius * np.cos(turn), radius * np.sin(turn), 0.0 * turn]).T
        self.outline = flat @ np.linalg.qr(rng.normal(size=(3, 3)))[0]
        self.thickness = float(rng.choice([0.0, 0.002]))
        self.gravity = rng.normal(size=3) * 8.0
        up = -self.gravity / np.linalg.norm(self.gravity)
        z = self.outline @ up
        self.head_1, self.head_2 = rng.uniform(z.min() - 0.005, z.max() + 0.02, 2)
        self.nu, self.cd = 10.0 ** rng.uniform(-6.0, -3.0), rng.uniform(0.5, 0.8)
        self.share = rng.uniform(0.1, 1.0)

    def arguments(self, **other: float) -> dict[str, object]:
        return {
            "head_1": self.head_1,
            "head_2": self.head_2,
            "gravity": self.gravity,
            "viscosity": self.nu,
            "discharge": self.cd,
            "share": self.share,
            **other,
        }


@pytest.mark.parametrize("seed", range(25))
def test_any_outline_at_any_tilt_is_its_integral(seed: int) -> None:
    case = Case(seed)
    opening = window(case.outline, thickness=case.thickness)
    expected = by_quadrature(case.outline, case.thickness, case)
    got = opening_flow(opening, **case.arguments()).flow  # type: ignore[arg-type]
    assert got == pytest.approx(expected, rel=1e-8, abs=1e-16)  # the quadrature's own 1e-10


def compiled_flow(opening: Opening, case: Case) -> np.ndarray:
    from sumpwright.oil.opening_kernel import opening_flow_of

    pull = float(np.linalg.norm(case.gravity))
    row = (case.head_1, case.head_2, -case.gravity / pull, pull, case.nu, case.cd, case.share)
    return np.array(opening_flow_of(opening.corners, opening.areas, opening.traits, *row))


def shapes_of(case: Case) -> list[Opening]:
    slot = gap(case.outline, height=5e-4, thickness=2e-3)
    return [window(case.outline, thickness=case.thickness), slot]


def test_the_compiled_kernel_gives_the_same_flow_and_slopes() -> None:
    for seed in range(200):
        case = Case(seed)
        case.head_2 = DRY if seed % 10 == 0 else case.head_2
        for opening in shapes_of(case):
            plain = opening_flow(opening, **case.arguments())  # type: ignore[arg-type]
            expected = [plain.flow, plain.by_head_1, plain.by_head_2, plain.by_share]
            # rounding of heights; a flow of under a drop a year is none
            np.testing.assert_allclose(
                compiled_flow(opening, case), expected, rtol=1e-10, atol=1e-18
            )


@pytest.mark.parametrize("name", ["head_1", "head_2", "share"])
def test_slopes_are_those_of_the_flow(name: str) -> None:
    step = 1e-7
    for seed in range(100):
        case = Case(seed)
        for opening in shapes_of(case):
            here = opening_flow(opening, **case.arguments())  # type: ignore[arg-type]
            at = getattr(case, name)

            def moved(
                by: float, opening: Opening = opening, case: Case = case, at: float = at
            ) -> float:
                return opening_flow(opening, **case.arguments(**{name: at + by})).flow  # type: ignore[arg-type]

            slope = (moved(step) - moved(-step)) / (2.0 * step)
            scale = max(abs(here.by_head_1), abs(here.by_head_2), abs(here.by_share), 1e-9)
            # central difference: curvature over 1e-7, and digits of the flow over the step
            assert getattr(here, f"by_{name}") == pytest.approx(slope, abs=2e-5 * scale)


levels = st.floats(-0.02, 0.08)
SHAPES: list[Callable[[], Opening]] = [
    lambda: upright(0.05, 0.0, 0.04),
    lambda: round_hole(0.03),
    lambda: round_hole(0.03, level=True),
    lambda: gap([(0.0, 0.0, 0.0), (0.0, 0.0, 0.04)], height=5e-4, thickness=2e-3),
]
whole = st.integers(0, len(SHAPES) - 1)
oils = st.sampled_from([THIN, 1e-6, 1e-5, 1e-3])


@given(whole, levels, levels, oils)
def test_swapping_the_pools_turns_the_flow_round(k: int, one: float, two: float, nu: float) -> None:
    there, back = flow(SHAPES[k](), one, two, SHARP, nu), flow(SHAPES[k](), two, one, SHARP, nu)
    assert there == -back
    assert (there > 0.0) <= (one > two)


@given(whole, levels, oils)
def test_no_oil_flows_between_surfaces_at_one_height(k: int, level: float, nu: float) -> None:
    assert flow(SHAPES[k](), level, level, SHARP, nu) == 0.0


@given(whole, levels, levels, st.floats(0.0, 0.02), oils)
def test_more_oil_in_the_first_pool_never_sends_less(
    k: int, one: float, two: float, more: float, nu: float
) -> None:
    low, high = (flow(SHAPES[k](), one + by, two, SHARP, nu) for by in (0.0, more))
    assert high >= low - 1e-12 * abs(low)  # rounding


@given(whole, levels, levels, oils, st.integers(0, 2**31))
def test_turning_panel_and_gravity_together_changes_nothing(
    k: int, one: float, two: float, nu: float, seed: int
) -> None:
    turn, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
    flat = SHAPES[k]()
    turned = Opening(flat.corners @ turn, flat.areas, flat.traits)
    # a level hole lies at 0: nearer to it than rounding, the turn decides which side a level is on
    one, two = (h + 1e-3 * (abs(h) < 1e-9) for h in (one, two))
    rest = {"head_1": one, "head_2": two, "viscosity": nu, "discharge": SHARP}
    got = opening_flow(turned, gravity=DOWN @ turn, **rest)  # type: ignore[arg-type]
    expected = opening_flow(flat, gravity=DOWN, **rest)  # type: ignore[arg-type]
    assert got.flow == pytest.approx(expected.flow, rel=1e-9, abs=1e-15)  # rounding of heights


def test_the_flow_is_straight_through_nothing_and_its_slope_has_no_jump() -> None:
    hole, nu = upright(0.03, 0.0, 0.03), 1e-5
    tiny = 1e-9
    slopes = []
    for by in (-tiny, 0.0, tiny):
        answer = opening_flow(
            hole, head_1=0.02 + by, head_2=0.02, gravity=DOWN, viscosity=nu, discharge=SHARP
        )
        slopes.append(answer.by_head_1)
    assert slopes[1] > 0.0
    np.testing.assert_allclose(
        slopes, slopes[1], rtol=2e-3
    )  # 1e-9 m against 5e-6 m of laminar head


def test_an_outline_s_turning_sense_and_first_corner_do_not_matter() -> None:
    case = Case(3)
    answers = [
        opening_flow(window(outline), **case.arguments()).flow  # type: ignore[arg-type]
        for outline in (case.outline, case.outline[::-1], np.roll(case.outline, 2, axis=0))
    ]
    np.testing.assert_allclose(answers, answers[0], rtol=1e-12)


def test_under_oil_on_both_sides_the_shape_does_not_matter() -> None:
    from sumpwright.oil.opening_kernel import sunk_flow_of

    for seed in range(100):
        case = Case(seed)
        pull = float(np.linalg.norm(case.gravity))
        top = float((case.outline @ -case.gravity / pull).max())
        case.head_1, case.head_2 = top + 1e-3 * (1 + seed % 7), top + 1e-3 * (1 + seed % 5)
        for opening in shapes_of(case):
            row = (case.head_1, case.head_2, pull, case.nu, case.cd, case.share)
            np.testing.assert_allclose(
                sunk_flow_of(opening.area, opening.traits, *row),
                compiled_flow(opening, case),
                rtol=1e-9,  # rounding of heights over a fall of millimetres
                atol=1e-18,
            )
