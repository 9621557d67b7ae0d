# SPDX-License-Identifier: Apache-2.0
"""The static hold on boxes, against the wedge formulas.

Source: closed form of a tilted liquid in a box (hydrostatics, in any handbook of fluid mechanics):
floor wet while a L/2 <= h, else a triangle of wetted length x = sqrt(2 h L / a), wall depth a x.
Draw-down: [Lubin-Springer-1967] with the derived coefficient.
"""

from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from sumpwright.geometry.frame import STANDARD_GRAVITY
from sumpwright.studies.check import check
from sumpwright.studies.result import PanHold
from tests.studies.box_job import JOB, box_job, box_mesh

LENGTH, WIDTH, DEPTH = 0.3, 0.2, 0.04
RISE = 0.01  # inlet over the floor
RADIUS = 0.005
GRID = 0.05 / 2**12  # g; what the halving leaves
TALL = "\nengine:\n  crankcase_height: 1 m\n"
PICKUP = "  pickup: {centre: [150 mm, 0 mm, -90 mm], diameter: 10 mm}\n"


SHALLOW = JOB.replace("3 L", "2.4 L")  # 40 mm deep


def with_pickup(text: str = SHALLOW, pickup: str = PICKUP) -> str:
    return text.replace("oil:\n", pickup + "oil:\n")


def hold_of(folder: Path, text: str) -> PanHold:
    hold = check(box_job(folder, text)).hold
    assert hold is not None
    return hold


def middle_depth(a: float, span: float) -> float:
    """Depth of oil over the middle of the floor of a box of `span` along the acceleration."""
    if a * span / 2 <= DEPTH:
        return DEPTH
    return a * (np.sqrt(2 * DEPTH * span / a) - span / 2)


def limit(span: float, flow: float = 0.0) -> float:
    def spare(a: float) -> float:
        size = np.hypot(1.0, a)
        demand = 0.6884 * (flow**2 / (size * STANDARD_GRAVITY)) ** 0.2
        return (middle_depth(a, span) - RISE - a * RADIUS) / size - demand

    return float(brentq(spare, 1e-3, 3.0, xtol=1e-12))


def test_limits_of_a_box_are_those_of_the_wedge(tmp_path: Path) -> None:
    hold = hold_of(tmp_path, with_pickup() + TALL)
    assert hold.left_g == pytest.approx(limit(WIDTH), abs=GRID)
    assert hold.right_g == pytest.approx(limit(WIDTH), abs=GRID)
    assert hold.brake_g == pytest.approx(limit(LENGTH), abs=GRID)
    assert hold.accelerate_g == pytest.approx(limit(LENGTH), abs=GRID)


def test_the_mouth_stands_off_the_floor_by_what_can_be_read_off(tmp_path: Path) -> None:
    hold = hold_of(tmp_path / "a", with_pickup() + TALL)
    assert hold.floor_gap_m == pytest.approx(RISE, rel=1e-12)
    # tipped by 3-4-5 with its low edge 3 mm nearer: 7 mm down, along an axis 0.8 from straight
    tipped = "  pickup: {centre: [150 mm, 0 mm, -90 mm], diameter: 10 mm, facing: [0.6, 0, -0.8]}\n"
    hold = hold_of(tmp_path / "b", with_pickup(pickup=tipped) + TALL)
    # 24 points round the rim: the lowest is among them
    assert hold.floor_gap_m == pytest.approx(0.007 / 0.8, rel=1e-9)
    sideways = "  pickup: {centre: [150 mm, 0 mm, -90 mm], diameter: 10 mm, facing: [1, 0, 0]}\n"
    result = check(box_job(tmp_path / "c", with_pickup(pickup=sideways) + TALL))
    line = {r.id: r for r in result.requirements}["floor_gap"]
    assert (line.state, line.reason) == ("not judged", "needs a mouth that faces down")


def test_flow_takes_its_draw_down_along_effective_gravity(tmp_path: Path) -> None:
    flow = TALL + "  flow: [{rpm: 0 rpm, flow: 0 L/min}, {rpm: 6000 rpm, flow: 40 L/min}]\n"
    hold = hold_of(tmp_path, with_pickup() + flow)
    # 0.6884: the derivation's coefficient to four digits, so 1e-4 of about 20 mm of draw-down,
    # which moves the limit by up to 5e-5 g beside the grid's own
    assert hold.left_g == pytest.approx(limit(WIDTH, 40 / 6e4), abs=1e-4)
    # R2.3c with the derived coefficient and standard gravity: 40 L/min needs 23.4 mm
    assert hold.drawdown_at_rest_m == pytest.approx(23.39e-3, abs=0.01e-3)
    assert hold.cover_at_rest_m == pytest.approx(DEPTH - RISE - 23.39e-3, abs=0.01e-3)


def test_retained_oil_is_not_in_the_pan(tmp_path: Path) -> None:
    curve = TALL + "  retained: [{rpm: 0 rpm, oil: 0 L}, {rpm: 6000 rpm, oil: 1.2 L}]\n"
    hold = hold_of(tmp_path, with_pickup() + curve)
    assert hold.oil_m3 == pytest.approx(1.2e-3, rel=1e-12)
    assert hold.rpm == pytest.approx(6000.0)
    assert hold.left_g < limit(WIDTH)


def test_the_rail_as_a_lid_flatters_the_hold(tmp_path: Path) -> None:
    lidded = hold_of(tmp_path / "a", with_pickup())
    free = hold_of(tmp_path / "b", with_pickup() + TALL)
    assert lidded.left_g > free.left_g


def test_an_uphill_limit_is_the_arc_tangent_of_the_level_one(tmp_path: Path) -> None:
    # without flow only the direction of gravity counts: tan slope = a
    hold = hold_of(tmp_path, with_pickup() + TALL)
    steep = np.degrees(np.arctan(limit(LENGTH)))
    grid = 1.0 / 2**12  # degrees
    assert hold.slope_up_deg == pytest.approx(steep, abs=grid)
    assert hold.slope_down_deg == pytest.approx(steep, abs=grid)
    assert hold.slope_left_deg == pytest.approx(np.degrees(np.arctan(limit(WIDTH))), abs=grid)


def test_a_pickup_on_the_right_uncovers_in_a_right_turn(tmp_path: Path) -> None:
    # in a right turn the car accelerates to the right and the oil goes left
    right_side = "  pickup: {centre: [150 mm, -60 mm, -90 mm], diameter: 10 mm}\n"
    hold = hold_of(tmp_path, with_pickup(pickup=right_side) + TALL)
    assert hold.right_g < hold.left_g


def test_a_front_pickup_uncovers_when_accelerating_and_nose_up(tmp_path: Path) -> None:
    front = "  pickup: {centre: [250 mm, 0 mm, -90 mm], diameter: 10 mm}\n"
    hold = hold_of(tmp_path, with_pickup(pickup=front) + TALL)
    assert hold.accelerate_g < hold.brake_g
    assert hold.slope_up_deg < hold.slope_down_deg


def test_a_mirrored_pan_swaps_left_and_right(tmp_path: Path) -> None:
    sides = [
        hold_of(
            tmp_path / side,
            with_pickup(pickup=f"  pickup: {{centre: [120 mm, {y} mm, -90 mm], diameter: 20 mm}}\n")
            + TALL,
        )
        for side, y in (("left", 37), ("right", -37))
    ]
    mirrored = np.array(sides[1].limit_g)[[(-k) % 72 for k in range(72)]]
    np.testing.assert_allclose(sides[0].limit_g, mirrored, atol=2 * GRID)


def test_a_deep_box_holds_to_the_end(tmp_path: Path) -> None:
    hold = hold_of(tmp_path, with_pickup(JOB.replace("3 L", "5.9 L")))
    assert all(hold.held_to_end)
    assert set(hold.limit_g) == {1.6}


def test_a_pickup_that_is_dry_at_rest_holds_nothing(tmp_path: Path) -> None:
    hold = hold_of(tmp_path, with_pickup(JOB.replace("3 L", "0.5 L")))
    assert set(hold.limit_g) == {0.0}
    assert not any(hold.held_to_end)
    assert hold.slope_up_deg == 0.0


def test_the_low_mark_holds_less_than_the_full(tmp_path: Path) -> None:
    hold = hold_of(tmp_path, with_pickup(SHALLOW.replace("2.4 L", "2.4 L\n  low: 2 L")) + TALL)
    assert hold.low_mark is not None
    assert hold.low_mark.left_g < hold.left_g


def test_crank_and_rail_limits_are_those_of_the_tilted_plane(tmp_path: Path) -> None:
    crank = "  crank_sweep: {height: -5 mm, radius: 50 mm, front: 300 mm, rear: 0 mm}\n"
    hold = hold_of(tmp_path, with_pickup() + TALL + crank)
    assert hold.crank_limit_g is not None
    at_left = hold.directions_deg.index(90.0)
    # left turn, a triangle: the wall is wetted a x = sqrt(2 h W a) high, 100 mm at the rail
    # 1e-5: the brackets of the study, 3e-6 g
    assert hold.rail_limit_g[at_left] == pytest.approx(0.1**2 / (2 * DEPTH * WIDTH), abs=1e-5)

    def spare(a: float) -> float:
        """Sweep's axis to the plane less its radius; axis at y 0, z -5 mm."""
        height_there = -0.1 + a * (np.sqrt(2 * DEPTH * WIDTH / a) - WIDTH / 2)
        return (-0.005 - height_there) / np.hypot(1.0, a) - 0.05

    assert hold.crank_limit_g[at_left] == pytest.approx(brentq(spare, 0.41, 0.8), abs=1e-5)


NO_ENGINE = "needs `new.pickup` and `engine.rpm`"


def test_hold_is_judged_against_the_stock_pan(tmp_path: Path) -> None:
    stock = (
        "stock:\n  cavity: {file: geometry/stock.stl, unit: mm}\n"
        "  pickup: {centre: [100 mm, 0 mm, -190 mm], diameter: 10 mm}\noil:\n"
    )
    text = with_pickup().replace("oil:\n", stock) + TALL
    result = check(box_job(tmp_path, text, stock=box_mesh((0, -0.05, -0.2), (0.2, 0.05, 0.0))))
    line = {r.id: r for r in result.requirements}["hold_left"]
    assert result.hold is not None
    assert result.hold.stock is not None
    assert line.limit == result.hold.stock.left_g
    assert line.value == result.hold.left_g
    assert line.state == "not met"
    assert result.verdict == "not met"
    target = {r.id: r for r in result.requirements}["target_left"]
    assert (target.state, target.reason) == ("not judged", NO_ENGINE)
