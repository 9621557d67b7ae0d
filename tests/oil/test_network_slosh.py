# SPDX-License-Identifier: Apache-2.0
"""How oil in a network swings: worked boxes, closed forms of a damped oscillator, linear theory.

Sources: [Abramson-1966] and [Keulegan-1959] by their worked values for a box of 0.30 x 0.20 m with
0.06 m of oil of 15 mm2/s; the linear wave under gravity that changes is [Lamb-1932] with g(t).
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from sumpwright.oil.network import LEVEL, Course, run, start_state
from sumpwright.oil.network_array import Fluid, Forcing, Net
from sumpwright.oil.network_forcing import forcing_of
from tests.geometry.bodies import box
from tests.oil.pan import net_of

Floats = NDArray[np.float64]

G = 9.81  # as the checks were worked
UP = np.array([0.0, 0.0, G])
FREQUENCY, SHARE = 1.2038, 0.01217 + 4.35e-4  # Hz; of critical damping, walls and bulk
OMEGA = 2.0 * math.pi * FREQUENCY
OIL = 0.3 * 0.2 * 0.06
SMALL = 0.002
"""A slope at which the plane answer is that of linear theory to 1e-4."""


@pytest.fixture(scope="module")
def tub() -> Net:
    return net_of([box([0, 0, 0], [0.3, 0.2, 0.12])], [], fluid=Fluid(850.0, 15e-6))


def swung(net: Net, forcing: Forcing, samples: Floats, start: Floats, level: float) -> Course:
    """From a surface at rest under the force `start`."""
    begun = start_state(net, [OIL] * len(net.pools.capacity), 0.0, start)
    return run(net, forcing, begun, samples, level=level)[0]


def tilt(course: Course, pool: int = 0) -> Floats:
    """Slope of a surface along x."""
    return np.asarray(course.normal[:, pool, 0] / course.normal[:, pool, 2])


def lateral(time: Floats, accel: Floats, vertical: Floats | float = 0.0) -> Forcing:
    force = np.stack([accel, 0.0 * accel, G + vertical + 0.0 * accel], axis=1)
    return forcing_of(time, force)


def test_a_small_tilt_swings_out_as_worked(tub: Net) -> None:
    time = np.linspace(0.0, 10.0, 10001)
    start = np.array([SMALL * G, 0.0, G])
    slope = tilt(swung(tub, forcing_of([0, 10], [UP, UP]), time, start, 1e-8))
    rises = np.flatnonzero((slope[:-1] < 0.0) & (slope[1:] >= 0.0))
    at = time[rises] - slope[rises] * 1e-3 / (slope[rises + 1] - slope[rises])
    damped = FREQUENCY * math.sqrt(1.0 - SHARE**2)
    # straight between its nodes, the table is off by a twentieth of the tilt
    assert (len(at) - 1) / (at[-1] - at[0]) == pytest.approx(damped, rel=SMALL / 20)
    crests = [slope[a:b].max() for a, b in pairwise(rises)]
    lost = np.log(crests[0] / crests[-1]) / (len(crests) - 1)
    # printed to 4 digits; the crests are read off every millisecond
    assert lost == pytest.approx(2.0 * math.pi * SHARE / math.sqrt(1.0 - SHARE**2), rel=1e-3)


def test_a_reversal_overshoots_by_what_damping_leaves(tub: Net) -> None:
    """From +a to -a at once: the first crest is 2 a exp(-pi zeta / sqrt(1 - zeta^2)) beyond."""
    a = SMALL
    time = np.linspace(0.0, 2.0, 4001)
    turn = lateral(np.array([0.0, 1e-4, 2.0]), np.array([a, -a, -a]) * G)
    slope = tilt(swung(tub, turn, time, np.array([a * G, 0.0, G]), 1e-8))
    beyond = -slope.min() - a
    left = math.exp(-math.pi * SHARE / math.sqrt(1.0 - SHARE**2))
    # the table is off by up to a twentieth of the tilt in each of length, breadth and depth
    assert beyond == pytest.approx(2.0 * a * left, rel=SMALL / 4)


def test_at_resonance_the_swing_grows_as_an_oscillator_does(tub: Net) -> None:
    """Under a sin(w t) from rest crests grow to (a / 2 zeta)(1 - exp(-zeta w t))."""
    a, end = 1e-3, 12.0
    time = np.linspace(0.0, end, 6001)
    course = swung(tub, lateral(time, a * G * np.sin(OMEGA * time)), time, UP, 1e-8)
    size = a / (2.0 * SHARE) * (1.0 - np.exp(-SHARE * OMEGA * time))
    late = time > end - 1.0 / FREQUENCY
    # the frequency is known to 4e-5, which over 14 swings turns the phase by 4 mrad
    assert np.abs(tilt(course))[late].max() == pytest.approx(size[late].mean(), rel=0.01)


def test_a_pulse_from_below_tilts_the_surface_as_linear_theory_says(tub: Net) -> None:
    """A kerb in a turn, 5 g for 50 ms: t'' + 2 z w(t) t' + w(t)^2 (t - a/g(t)) = 0, w^2 ~ g(t)."""
    from scipy.integrate import solve_ivp

    a, peak, long, begin = SMALL * G, 5.0 * G, 0.05, 0.2
    time = np.linspace(0.0, 2.0, 4001)
    inside = (time > begin) & (time < begin + long)
    pulse = np.where(inside, peak * np.sin(math.pi * (time - begin) / long), 0.0)
    course = swung(tub, lateral(time, a + 0.0 * time, pulse), time, np.array([a, 0, G]), 1e-8)

    def rate(t: float, y: Floats) -> list[float]:
        g = G + float(np.interp(t, time, pulse))
        w = OMEGA * math.sqrt(g / G)
        # what walls cost goes with the root of w
        z = (0.01217 * (G / g) ** 0.25 + 4.35e-4 * (G / g) ** 0.5) * w
        return [y[1], -2.0 * z * y[1] - w * w * (y[0] - a / g)]

    fine = {"rtol": 1e-9, "atol": 1e-12, "max_step": 1e-3}
    wanted = solve_ivp(rate, (0, 2), [SMALL, 0.0], t_eval=time, **fine).y[0]
    assert np.ptp(wanted) > 1.2 * SMALL  # it swings by more than the tilt that was there
    # 15 rad by then, each off by a twentieth of the tilt as above
    np.testing.assert_allclose(tilt(course), wanted, atol=15 * SMALL / 20 * 2 * SMALL)


@pytest.mark.parametrize("accel", [0.3, 0.6, 1.0])
@pytest.mark.parametrize("hertz", [1.0, 1.2, 1.4, 1.6])
def test_no_slalom_throws_the_surface_over(tub: Net, accel: float, hertz: float) -> None:
    """However near to its own frequency oil is swung, floor and lid make the surface shorter."""
    time = np.linspace(0.0, 15.0, 3001)
    force = accel * G * np.sin(2 * math.pi * hertz * time) * np.minimum(time * hertz, 1.0)
    course = swung(tub, lateral(time, force), time, UP, 2e-4)
    assert course.normal[:, 0, 2].min() > math.cos(math.radians(80.0))  # 3 x 26 deg of 0.5 g


@pytest.mark.parametrize("hertz", [0.5, 1.0, 1.5, 2.0, 3.0])
def test_no_shaking_makes_a_surface_whirl(tub: Net, hertz: float) -> None:
    """2 g round and round, as no car does: the swing stays a swing, whatever oil and fill."""
    time = np.linspace(0.0, 20.0, 4001)
    turn = 2 * math.pi * hertz * time
    grown = 2.0 * G * np.minimum(time, 1.0)
    force = np.stack([grown * np.sin(turn), 0.5 * grown * np.cos(turn), G + 0 * time], axis=1)
    for share in (0.05, 0.3, 0.9):
        begun = start_state(tub, [share * tub.pools.capacity[0]], 0.0, UP)
        thin = tub._replace(fluid=Fluid(850.0, 1e-9))
        for net in (tub, thin):
            state = run(net, forcing_of(time, force), begun, [])[1]
            # a chord is 2 at most, as between up and down
            assert np.linalg.norm(state[3:6]) < 2.0


def test_at_rest_no_swing_gains(tub: Net) -> None:
    """Both ways at once and far over: amplitude and speed only fall."""
    time = np.linspace(0.0, 20.0, 4001)
    still = forcing_of([0, 20], [UP, UP])
    begun = start_state(tub, [OIL], 0.0, np.array([0.5 * G, 0.3 * G, G]))
    slope = run(tub, still, begun, time, level=1e-6)[0].normal[:, 0, :2]
    crest = np.abs(slope[1:]).reshape(10, 400, 2).max(axis=1)  # of every 2 s, more than 2 swings
    assert (np.diff(crest, axis=0) < 0.0).all()


def test_pools_without_a_way_between_them_swing_each_on_its_own() -> None:
    bodies = [box([0, 0, 0], [0.3, 0.2, 0.12]), box([0.4, 0, 0], [0.6, 0.4, 0.12])]
    time = np.linspace(0.0, 3.0, 301)
    push = lateral(time, 0.2 * G * np.sin(5.0 * time))
    both = swung(net_of(bodies, []), push, time, UP, 1e-7)
    for k, body in enumerate(bodies):
        alone = swung(net_of([body], []), push, time, UP, 1e-7)
        # steps differ: 1e-7 m of level is 1e-6 of slope in a step, some hundred of them
        np.testing.assert_allclose(tilt(both, k), tilt(alone), atol=2e-5)


def test_long_steps_do_not_quieten_the_swing(tub: Net) -> None:
    """After half a g came on oil rings for 15 s; the drive's own steps against ever finer ones."""
    time = np.linspace(0.0, 15.0, 301)
    push = lateral(np.array([0.0, 0.3, 15.0]), np.array([0.0, 0.5, 0.5]) * G)
    fine, usual = (tilt(swung(tub, push, time, UP, level)) for level in (1e-8, LEVEL))
    assert np.ptp(fine[-30:]) > 0.15  # it still rings: 0.5 of slope to begin with
    # 0.2 mm of wall a step, 150 mm from the middle, counted ten times: 1 mm in all, to a half
    np.testing.assert_allclose(usual, fine, atol=1.5e-3 / 0.15)
