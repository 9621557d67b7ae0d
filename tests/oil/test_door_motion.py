# SPDX-License-Identifier: Apache-2.0
"""A trap door in motion: pendulum of a plate, oil that goes along, brakes, stops.

Sources beside each check; scipy's general integrator runs the same pendulum written apart.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.special import ellipk

from sumpwright.errors import RangeError
from sumpwright.oil.door import Door, static_angle
from sumpwright.oil.door_motion import door_acceleration, door_brake, door_inertia, on_stops
from tests.oil.door_case import DOWN, DRY, LENGTH, OIL, THICK, WIDTH, G, hung

TILTED = np.array([G, 0.0, -G])  # a dry door hangs at 45 degrees in it


def run(door: Door, start: float, heads: tuple[float, float], until: float, **other: float):
    """Angle and speed over time by scipy, without seat and stop."""
    pull = TILTED if heads == (DRY, DRY) else DOWN

    def rates(_: float, state: np.ndarray) -> list[float]:
        angle, speed = map(float, state)
        wanted = {"head_1": heads[0], "head_2": heads[1], "gravity": pull, "density": OIL}
        return [speed, door_acceleration(door, angle, speed, **wanted, **other)]

    return solve_ivp(rates, (0.0, until), [start, 0.0], rtol=1e-10, atol=1e-12, dense_output=True)


@pytest.mark.parametrize("swing", [0.01, 0.5])
def test_a_dry_door_swings_in_the_period_of_a_plate_pendulum(swing: float) -> None:
    # T = 4 K(sin(a/2)) sqrt(I / (m g L/2)), I = m (L^2/3 + t^2/12); small a: 2 pi sqrt(2 L/3 g)
    middle = math.radians(45.0)
    length = 2.0 * (LENGTH**2 / 3.0 + THICK**2 / 12.0) / LENGTH
    wide = 4.0 * float(ellipk(math.sin(swing / 2.0) ** 2))
    period = wide * math.sqrt(length / (math.sqrt(2.0) * G))
    if swing == 0.01:
        thin = math.tau * math.sqrt(2.0 * LENGTH / (3.0 * math.sqrt(2.0) * G))
        assert period == pytest.approx(thin, rel=3e-4)  # thickness and the swing's own 6e-6
    path = run(hung(), middle + swing, (DRY, DRY), period, viscosity=0.0)
    assert path.y[0, -1] == pytest.approx(middle + swing, abs=1e-7 * swing + 1e-9)  # rtol above
    half = path.sol(period / 2.0)[0]
    assert half == pytest.approx(middle - swing, abs=1e-6 * swing + 1e-9)


def test_a_drowned_door_moves_as_the_pendulum_written_apart() -> None:
    nu, start, until = 1e-4, 0.9, 0.4
    mass, area = hung().mass, WIDTH * LENGTH
    square = WIDTH**2 + LENGTH**2
    along = math.pi / 4.0 * OIL * area**2 / math.sqrt(square) * (1.0 - 0.425 * area / square)
    inertia = mass * (LENGTH**2 / 3.0 + THICK**2 / 12.0) + 9.0 / 32.0 * along * LENGTH**2
    viscous = 16.0 * OIL * nu * WIDTH * LENGTH**3 / (3.0 * math.pi * math.sqrt(area / math.pi))
    thrown = 1.17 * OIL * WIDTH * LENGTH**4 / 8.0
    closing = (mass - OIL * area * THICK) * G * LENGTH / 2.0
    pushing = OIL * G * 0.005 * area * LENGTH / 2.0

    def pendulum(_: float, y: np.ndarray) -> list[float]:
        brake = viscous * y[1] + thrown * y[1] * abs(y[1])
        return [y[1], (pushing - closing * math.sin(y[0]) - brake) / inertia]

    apart = solve_ivp(pendulum, (0.0, until), [start, 0.0], rtol=1e-10, atol=1e-12)
    ours = run(hung(), start, (0.105, 0.1), until, viscosity=nu)
    np.testing.assert_allclose(ours.y[:, -1], apart.y[:, -1], rtol=1e-7)  # both at 1e-10


def test_a_braked_door_comes_to_rest_at_its_static_angle() -> None:
    door = hung(damping=2e-3)
    path = run(door, 0.2, (0.108, 0.1), 20.0, viscosity=1e-4)
    rest = static_angle(door, head_1=0.108, head_2=0.1, gravity=DOWN, density=OIL)
    assert path.y[0, -1] == pytest.approx(rest, abs=1e-8)
    assert path.y[1, -1] == pytest.approx(0.0, abs=1e-7)


@pytest.mark.parametrize(
    ("aspect", "coefficient"),
    [(1.0, 0.579), (1.25, 0.642), (2.0, 0.757), (2.5, 0.801), (4.0, 0.872), (10.0, 0.947)],
)
def test_oil_that_goes_along_is_near_the_offshore_table(aspect: float, coefficient: float) -> None:
    # DNV-RP-H103 table for rectangular plates (from memory): C pi/4 rho a^2 b, a the short side.
    # The closed formula is up to 4 % lower for a square plate.
    short = 0.04
    door = replace(hung(), width=aspect * short, length=short)
    oil = door_inertia(door, density=OIL, wet=1.0) - door_inertia(door, density=OIL, wet=0.0)
    mass = oil / (9.0 / 32.0 * short**2)
    assert mass == pytest.approx(
        coefficient * math.pi / 4.0 * OIL * short**3 * aspect, rel=0.05
    )  # difference of the two sources


def test_a_very_wide_door_carries_the_oil_of_a_strip_about_its_edge() -> None:
    # (9/128) pi rho L^4 per width, Newman 1977 (from memory): pi rho c^4 (1 + 1/8), c = L/2
    door = replace(hung(), width=400.0)
    oil = door_inertia(door, density=OIL, wet=1.0) - door_inertia(door, density=OIL, wet=0.0)
    assert oil / 400.0 == pytest.approx(9.0 / 128.0 * math.pi * OIL * LENGTH**4, rel=1e-3)  # ends


def test_a_dry_door_is_braked_by_its_bearing_alone() -> None:
    door = hung(damping=1e-3)
    assert door_brake(door, -2.0, density=OIL, viscosity=1e-3, wet=0.0) == -2e-3


def test_thick_oil_brakes_as_a_disk_in_slow_flow() -> None:
    # force 16 mu a U on a disk moved squarely, Happel and Brenner (from memory): with the door's
    # area, strips at their own speed s omega take it at pi a^2 of area
    radius = math.sqrt(WIDTH * LENGTH / math.pi)
    slow, nu = 1e-9, 1e-3
    strips = 16.0 * OIL * nu * radius / (math.pi * radius**2) * WIDTH * LENGTH**3 / 3.0 * slow
    got = door_brake(hung(), slow, density=OIL, viscosity=nu, wet=1.0)
    assert got == pytest.approx(strips, rel=1e-6)  # oil thrown aside is 1e-8 of it


def test_fast_doors_throw_oil_aside_by_the_square_of_speed() -> None:
    one, two = (door_brake(hung(), v, density=OIL, viscosity=0.0, wet=1.0) for v in (3.0, -6.0))
    assert two == pytest.approx(-4.0 * one, rel=1e-12)
    assert one == pytest.approx(1.17 / 2.0 * OIL * WIDTH * LENGTH**4 / 4.0 * 9.0, rel=1e-12)


def pushed(angle: float, speed: float, one: float, two: float) -> float:
    return door_acceleration(
        hung(), angle, speed, head_1=one, head_2=two, gravity=DOWN, density=OIL, viscosity=1e-5
    )


def test_seat_and_stop_hold_the_door() -> None:
    assert pushed(0.0, 0.0, 0.05, 0.1) == 0.0
    assert pushed(0.0, 0.0, 0.11, 0.1) > 0.0
    assert pushed(hung().stop, 0.0, 0.15, 0.05) == 0.0
    assert pushed(hung().stop, 0.0, 0.10, 0.10) < 0.0


def test_stops_catch_without_a_bounce_and_leave_the_rest_alone() -> None:
    assert on_stops(hung(), -0.02, -3.0) == (0.0, 0.0)
    assert on_stops(hung(), -0.02, 1.0) == (0.0, 1.0)
    assert on_stops(hung(), 2.0, 3.0) == (hung().stop, 0.0)
    assert on_stops(hung(), 0.4, -3.0) == (0.4, -3.0)


@given(st.integers(0, 2**31))
def test_a_stepped_door_never_passes_its_seat_or_its_stop(seed: int) -> None:
    rng = np.random.default_rng(seed)
    angle, speed = 0.0, 0.0
    for _ in range(20):
        one, two = rng.uniform(0.0, 0.15, 2)
        speed += 2e-3 * pushed(angle, speed, one, two)
        angle, speed = on_stops(hung(), angle + 2e-3 * speed, speed)
        assert 0.0 <= angle <= hung().stop


def test_refuses_oil_that_makes_no_sense() -> None:
    with pytest.raises(RangeError, match=r"wet share 1\.5"):
        door_inertia(hung(), density=OIL, wet=1.5)
    with pytest.raises(RangeError, match=r"viscosity must be 0 m\^2/s or more"):
        door_brake(hung(), 1.0, density=OIL, viscosity=-1.0, wet=1.0)
