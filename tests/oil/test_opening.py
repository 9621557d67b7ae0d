# SPDX-License-Identifier: Apache-2.0
"""Flow through an opening against handbook orifices, weirs, draining tanks and exact slow flows.

Sources beside each check; the general fluid-mechanics library `fluids` and scipy are oracles.
Cut by cut and in random cases: test_opening_exact.py.
"""

import math

import fluids
import numpy as np
import pytest
from scipy.integrate import solve_ivp

from sumpwright.errors import RangeError
from sumpwright.oil.opening import SHARP, laminar_head, opening_flow, slot_flow
from sumpwright.oil.opening_shape import Opening, gap, slots, window
from tests.oil.opening_case import DOWN, DRY, NO_VISCOSITY, THIN, G, flow, round_hole, upright

L_MIN = 1e-3 / 60.0


def test_a_submerged_round_hole_is_the_handbooks_orifice() -> None:
    # Q = Cd A sqrt(2 g dh), d 25 mm, dh 40 mm, Cd 0.61: 15.916 L/min, worked apart
    q = flow(round_hole(0.025), 0.14, 0.10, 0.61)
    assert q / L_MIN == pytest.approx(15.916, abs=5e-4)  # digits as given


def test_a_submerged_hole_is_the_librarys_orifice_in_a_wide_pipe() -> None:
    # ISO 5167 form with the hole far narrower than the pipe: 1 - beta^4 differs by 1e-8
    rho = 850.0
    expected = fluids.flow_meter.flow_meter_discharge(
        D=2.5, Do=0.025, P1=1e5 + rho * G * 0.04, P2=1e5, rho=rho, C=0.61
    )
    mass = rho * flow(round_hole(0.025), 0.14, 0.10, 0.61)
    assert mass == pytest.approx(expected, rel=NO_VISCOSITY)


def test_a_small_deep_free_hole_runs_at_torricellis_speed() -> None:
    # sqrt(2 g h) at 0.1 m: 1.4007 m/s, worked apart
    hole = round_hole(0.001)
    assert flow(hole, 0.1, DRY, 1.0) / hole.area == pytest.approx(1.4007, abs=5e-5)  # digits


def test_a_level_hole_drains_at_its_one_depth() -> None:
    hole = round_hole(0.02, level=True)
    expected = 0.61 * math.pi * 0.01**2 * math.sqrt(2.0 * G * 0.08)
    assert flow(hole, 0.08, DRY, 0.61) == pytest.approx(expected, rel=NO_VISCOSITY)


FRANCIS = 1.84 * 1.5 / math.sqrt(2.0 * G)  # the Cd that the weir's coefficient 1.84 stands for


def test_the_way_over_a_panel_is_francis_weir_at_the_weirs_own_coefficient() -> None:
    # Francis 1.84 b H^1.5: 0.1 m, 20 mm: 31.226 L/min, worked apart. That weir is meant for
    # H > 25 mm of water, so it is the formula that is checked, not its use on 20 mm.
    assert pytest.approx(0.6231, abs=5e-5) == FRANCIS  # digits as given
    q = flow(upright(0.1, 0.0, 0.06), 0.020, DRY, FRANCIS)
    assert q / L_MIN == pytest.approx(31.226, abs=5e-4)  # digits as given
    # the sheet's own Cd, free of any weir, gives 2 % less
    assert flow(upright(0.1, 0.0, 0.06), 0.020, DRY, SHARP) / q == pytest.approx(0.9806, abs=5e-5)


@pytest.mark.parametrize("head", [0.02, 0.05, 0.1])
def test_a_high_weir_lies_within_a_few_percent_of_the_librarys(head: float) -> None:
    # Rehbock, crest 10 m over the floor so that no speed of approach counts. He adds 1.1 mm
    # to the head for surface tension, which no slit integral has: 8 % at 20 mm.
    expected = fluids.open_flow.Q_weir_rectangular_full_Rehbock(h1=head, h2=10.0, b=0.1)
    ours = flow(upright(0.1, 0.0, 0.2), head, DRY, SHARP)
    bare = expected * (head / (head + 0.0011)) ** 1.5
    assert ours / bare == pytest.approx(1.0, abs=0.02)  # Cd 0.602 of Rehbock against 0.611
    assert 0.90 < ours / expected < 1.01


def test_a_v_notch_is_the_handbooks_integral() -> None:
    # (8/15) Cd sqrt(2 g) tan(theta/2) H^2.5, Chow 1959 (from memory); 60 degrees
    half = math.tan(math.radians(30.0))
    notch = window([(0.0, 0.0, 0.0), (0.2 * half, 0.0, 0.2), (-0.2 * half, 0.0, 0.2)])
    expected = 8.0 / 15.0 * 0.58 * math.sqrt(2.0 * G) * half * 0.1**2.5
    assert flow(notch, 0.1, DRY, 0.58) == pytest.approx(expected, rel=NO_VISCOSITY)


@pytest.mark.parametrize(
    ("ratio", "deviation"),
    [(0.1, 0.009), (0.3, 0.031), (0.5, 0.046), (0.7, 0.038), (0.8, 0.016), (0.9, -0.039)],
)
def test_a_drowned_weir_is_within_five_percent_of_villemonte(
    ratio: float, deviation: float
) -> None:
    # Villemonte 1947 (from memory): Q/Q0 = (1 - r^1.5)^0.385. The slit gives Dubuat's
    # (1 - r)^0.5 (1 + r/2): more oil at middling drowning, less when nearly level.
    crest = upright(1.0, 0.0, 0.2)
    drowned = flow(crest, 0.1, 0.1 * ratio, SHARP) / flow(crest, 0.1, DRY, SHARP)
    dubuat = math.sqrt(1.0 - ratio) * (1.0 + ratio / 2.0)
    assert drowned == pytest.approx(dubuat, rel=NO_VISCOSITY)
    villemonte = (1.0 - ratio**1.5) ** 0.385
    assert drowned / villemonte - 1.0 == pytest.approx(deviation, abs=5e-4)  # recorded; its digits


def drained(
    tank: float, opening: Opening, cd: float, start: float, end: float, g: float = G
) -> float:
    def fall(_: float, level: np.ndarray) -> list[float]:
        return [-flow(opening, float(level[0]), DRY, cd, g=g) / tank]

    def empty(_: float, level: np.ndarray) -> float:
        return float(level[0]) - end

    empty.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(fall, (0.0, 1e4), [start], events=empty, rtol=1e-9, atol=1e-12)
    return float(run.t_events[0][0])


def test_a_tank_drains_in_the_time_of_the_textbook() -> None:
    # Cengel and Cimbala (book from memory): 3 ft tank, 0.5 in jet, 4 to 2 ft: 757 s; 756.8 s
    # worked apart with the book's Cd of 1 and 32.2 ft/s^2 (with 9.81 m/s^2 it is 757.0 s)
    foot, inch = 0.3048, 0.0254
    jet = round_hole(0.5 * inch, level=True)
    tank = math.pi * (1.5 * foot) ** 2
    time = drained(tank, jet, 1.0, 4.0 * foot, 2.0 * foot, 32.2 * foot)
    assert time == pytest.approx(756.8, abs=0.05)  # digits as given


def test_a_tank_of_a_pan_runs_dry_in_the_time_worked_apart() -> None:
    # A/(Cd a) sqrt(2/g) sqrt(h): 0.06 m^2 over 5 cm^2, Cd 0.61, from 80 mm: 25.123 s
    hole = window([(0, 0, 0), (0.025, 0, 0), (0.025, 0.02, 0), (0, 0.02, 0)])
    # the last 0.1 mm by the closed form: an orifice without viscosity ends in a corner
    time = drained(0.06, hole, 0.61, 0.080, 1e-4)
    last = 0.06 / (0.61 * 5e-4) * math.sqrt(2.0 / G * 1e-4)
    assert time + last == pytest.approx(25.123, abs=5e-4)  # digits as given


def test_two_tanks_level_out_in_the_time_of_the_closed_form() -> None:
    # t = 2 A1 A2/(A1 + A2) (sqrt dh0 - sqrt dh1) / (Cd a sqrt(2 g)), White (from memory)
    first, second, hole = 0.04, 0.02, upright(0.02, 0.0, 0.02)

    def level_out(_: float, h: np.ndarray) -> list[float]:
        q = flow(hole, float(h[0]), float(h[1]), 0.61)
        return [-q / first, q / second]

    def near(_: float, h: np.ndarray) -> float:
        return float(h[0] - h[1]) - 0.01

    near.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(level_out, (0.0, 1e3), [0.09, 0.03], events=near, rtol=1e-10, atol=1e-13)
    pair = 2.0 * first * second / (first + second)
    expected = pair * (math.sqrt(0.06) - math.sqrt(0.01)) / (0.61 * 4e-4 * math.sqrt(2.0 * G))
    assert run.t_events[0][0] == pytest.approx(expected, rel=NO_VISCOSITY)


def test_a_slow_round_hole_is_sampsons_exact_flow() -> None:
    # Sampson 1891: Q = dp d^3 / (24 mu), a hole in a plate without thickness
    hole, nu, head = round_hole(0.02), 0.1, 1e-6
    expected = G * head / nu * 0.02**3 / 24.0
    # the ring's perimeter is 4e-4 longer than the circle's, and D with it shorter
    assert flow(hole, 0.1 + head, 0.1, 0.61, nu) == pytest.approx(expected, rel=1e-3)


def test_a_slow_short_pipe_is_dagans_sum() -> None:
    # Dagan, Weinbaum and Pfeffer 1982 (from memory): dp = mu Q (3/a^3 + 8 t/(pi a^4)), within 1 %
    turn, a, t, nu, head = np.arange(256) * math.tau / 256, 0.01, 0.005, 0.1, 1e-6
    hole = window(a * np.array([np.cos(turn), np.zeros(256), np.sin(turn)]).T, thickness=t)
    expected = G * head / nu / (3.0 / a**3 + 8.0 * t / (math.pi * a**4))
    assert flow(hole, 0.1 + head, 0.1, 0.61, nu) == pytest.approx(expected, rel=1e-3)  # 256 corners


def test_a_gap_s_viscous_limit_is_the_value_worked_apart() -> None:
    # h^3 dp / (12 mu L): 1 mm x 80 mm x 5 mm, 30 mm head, 10 mPa s, 830 kg/m^3: 1.9542 L/min
    pressure = 830.0 * G * 0.03
    q = slot_flow(
        length=0.080, height=1e-3, thickness=5e-3, pressure=pressure, dynamic_viscosity=0.010
    )
    assert q / L_MIN == pytest.approx(1.9542, abs=5e-5)  # digits as given


def leak(height: float, thickness: float, nu: float, head: float = 0.03) -> float:
    slot = gap([(0.0, 0.0, 0.0), (0.08, 0.0, 0.0)], height=height, thickness=thickness)
    return flow(slot, 0.05 + head, 0.05, SHARP, nu)


def test_a_real_gap_leaks_less_than_either_limit() -> None:
    nu = 0.010 / 830.0
    viscous = 1.9542 * L_MIN
    orifice = SHARP * 0.08 * 1e-3 * math.sqrt(2.0 * G * 0.03)
    q = leak(1e-3, 5e-3, nu)
    assert q < viscous
    assert q < orifice
    # both losses in one: a v^2 + b v = head, solved apart
    b = nu / (2.0 * G) * (128.0 / math.pi / 2e-3 + 96.0 * 5e-3 / 4e-6)
    v = np.roots([1.0 / (2.0 * G * SHARP**2), b, -0.03]).max()
    assert q == pytest.approx(v * 8e-5, rel=1e-12)


def test_slots_that_do_not_meet_add_up_to_the_gap_that_they_are_pieces_of() -> None:
    height, thickness = 3e-4, 1.5e-3
    path = np.array([(0.0, 0.0, 0.0), (0.05, 0.0, 0.0), (0.05, 0.0, 0.04)])
    whole = gap(path, height=height, thickness=thickness)
    runs = np.stack([path[1:], path[:-1]], axis=1)[::-1]  # any order, either way round
    pieces = slots(runs, height=height, thickness=thickness)
    assert pieces.area == pytest.approx(0.09 * height, rel=1e-12)
    for head_1, head_2 in ((0.08, 0.05), (0.03, 0.01), (0.02, DRY)):
        expected = flow(whole, head_1, head_2, 0.61, 1e-5)
        assert flow(pieces, head_1, head_2, 0.61, 1e-5) == pytest.approx(expected, rel=1e-12)
    with pytest.raises(RangeError, match="two ends of 3 coordinates"):
        slots(path, height=height, thickness=thickness)


def test_a_gap_comes_to_either_limit() -> None:
    nu = 1e-3
    long, head = 0.5, 1e-4  # 0.2 mm wide: edges and inertia are nothing to 500 mm of slot
    pressure = 830.0 * G * head
    viscous = slot_flow(
        length=0.08, height=2e-4, thickness=long, pressure=pressure, dynamic_viscosity=830.0 * nu
    )
    assert leak(2e-4, long, nu, head) == pytest.approx(viscous, rel=1e-3)  # edges: 0.2 mm / 500 mm
    orifice = SHARP * 0.08 * 5e-3 * math.sqrt(2.0 * G * 0.03)
    assert leak(5e-3, 0.0, THIN) == pytest.approx(orifice, rel=NO_VISCOSITY)


def test_a_slow_slit_is_hasimotos_exact_flow() -> None:
    # Hasimoto 1958 (from memory): Q per length = pi h^2 dp / (32 mu), a slit without thickness
    nu, head = 0.1, 1e-6
    expected = 0.08 * math.pi * 1e-6 * G * head / (32.0 * nu)
    assert leak(1e-3, 0.0, nu, head) == pytest.approx(expected, rel=1e-6)  # inertia left over


def test_at_laminar_head_viscosity_takes_half() -> None:
    hole = upright(0.03, 0.0, 0.03)
    head = laminar_head(hole, gravity=G, viscosity=1e-4, discharge=SHARP)
    assert flow(hole, 0.1 + head, 0.1, SHARP, 1e-4) == pytest.approx(
        flow(hole, 0.1 + head, 0.1, SHARP) / math.sqrt(2.0), rel=NO_VISCOSITY
    )


def test_full_pools_drive_by_their_heads_alone() -> None:
    hole = upright(0.03, 0.0, 0.03)
    assert flow(hole, 0.30, 0.25, SHARP) == pytest.approx(flow(hole, 0.10, 0.05, SHARP), rel=1e-12)


def test_a_thin_cold_film_creeps_over_a_panel() -> None:
    # 3 mm over a 100 mm panel at 1000 mm^2/s: a film on a wall as high as it is deep would pass
    # g h^3 / (3 nu) per width (Bird), which is an upper bound on what gets over an edge
    over = upright(0.1, 0.0, 0.05)
    film = 0.1 * G * 0.003**3 / (3.0 * 1e-3)
    assert 0.0 < flow(over, 0.003, DRY, SHARP, 1e-3) < film


def test_refuses_what_is_no_opening() -> None:
    with pytest.raises(RangeError, match="needs at least 3 points"):
        window([(0, 0, 0), (1, 0, 0)])
    with pytest.raises(RangeError, match="encloses no area"):
        window([(0, 0, 0), (1, 0, 0), (2, 0, 0)])
    with pytest.raises(RangeError, match=r"up to 9\.9 mm off their plane"):
        window([(0, 0, 0), (0.1, 0, 0), (0.1, 0.1, 0.02), (0, 0.1, 0)])
    with pytest.raises(RangeError, match="gap height must be above 0 m"):
        gap([(0, 0, 0), (1, 0, 0)], height=0.0, thickness=1e-3)


def test_refuses_oil_and_shares_that_make_no_sense() -> None:
    hole = upright(0.03, 0.0, 0.03)
    good = {"head_1": 0.1, "head_2": 0.0, "gravity": DOWN, "viscosity": 1e-5, "discharge": 0.6}
    for name, value, text in (
        ("gravity", np.zeros(3), "effective gravity must be above 0"),
        ("viscosity", 0.0, "viscosity must be above 0"),
        ("discharge", -1.0, "discharge coefficient must be above 0"),
        ("share", 1.1, "open share 1.1 .* outside 0 to 1"),
    ):
        with pytest.raises(RangeError, match=text):
            opening_flow(hole, **{**good, name: value})  # type: ignore[arg-type]
