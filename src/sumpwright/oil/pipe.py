# SPDX-License-Identifier: Apache-2.0
"""Speed and friction in a round tube, laminar to turbulent, from a cold start to hot oil.

Up to Re 2300 the flow is laminar, from Re 4000 it is turbulent. Between, nobody knows; here the
turbulent friction is faded in by a smooth step in log Re and joined to the laminar one by the
12th-power rule of [Churchill-1977]. So pressure loss rises with flow without a step or a dip,
which is what makes "the largest flow that the inlet can stand" one number. Laminar friction is
untouched below Re 2300; turbulent friction is met to 2e-6 of itself above Re 4000.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.table import not_negative, positive, within

Floats = NDArray[np.float64]

LAMINAR_END, TURBULENT_START = 2300.0, 4000.0  # Reynolds number; [White-2011], from memory
FASTEST = 1e8  # Reynolds number; end of the friction chart, from memory
ROUGHEST = 0.05  # roughness over bore; end of the friction chart, from memory
_JOIN = 12.0  # power of the joining rule
_NEWTON = 6  # steps; from the start used here the 4th is already at rounding error


@dataclass(frozen=True)
class Bend:
    """A round bend in a tube."""

    angle: float
    """Turned by the bend, above 0 to pi [rad]."""
    radius: float
    """Of the tube's centre line [m]."""


@dataclass(frozen=True)
class Tube:
    """A run of one bore: straight lengths and bends."""

    bore: float
    """Inside diameter [m]."""
    length: float
    """Straight lengths together, without the bends [m]."""
    bends: tuple[Bend, ...] = ()
    roughness: float = 0.0
    """Height of the wall's roughness [m]; 0 for drawn tube."""


def mean_speed(flow: ArrayLike, bore: ArrayLike) -> Floats:
    r"""Speed of the oil in a tube, averaged over its bore.

    .. math:: V = 4 Q / (\pi d^2)

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    bore : (...) [m]
        d.

    Returns
    -------
    speed : (...) [m/s]

    Raises
    ------
    RangeError
        If the flow is negative or the bore not positive.

    Source
    ------
    Definition. Checked by tests/oil/test_pipe.py.
    """
    d = positive(bore, "bore", "m")
    return np.asarray(4.0 * not_negative(flow, "flow", "m^3/s") / (math.pi * d**2))


def bore_for_speed(flow: ArrayLike, speed: ArrayLike) -> Floats:
    r"""Bore that carries a flow at a speed.

    .. math:: d = \sqrt{4 Q / (\pi V)}

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q.
    speed : (...) [m/s]
        V. Hydraulics practice for suction is 0.5 to 1.5 m/s, engine pickups run at 2 to 3 m/s.

    Returns
    -------
    bore : (...) [m]

    Raises
    ------
    RangeError
        If the flow is negative or the speed not positive.

    Source
    ------
    Definition; speeds [common-practice]. Checked by tests/oil/test_pipe.py.
    """
    q = not_negative(flow, "flow", "m^3/s")
    return np.asarray(np.sqrt(4.0 * q / (math.pi * positive(speed, "speed", "m/s"))))


def reynolds_number(flow: ArrayLike, bore: ArrayLike, viscosity: ArrayLike) -> Floats:
    r"""Reynolds number of the flow in a tube.

    .. math:: Re = V d / \nu

    Parameters
    ----------
    flow : (...) [m^3/s]
    bore : (...) [m]
        d.
    viscosity : (...) [m^2/s]
        nu, kinematic.

    Returns
    -------
    reynolds : (...) [-]

    Raises
    ------
    RangeError
        If the flow is negative, or bore or viscosity not positive.

    Source
    ------
    Definition. Checked by tests/oil/test_pipe.py.
    """
    nu = positive(viscosity, "viscosity", "m^2/s")
    return np.asarray(mean_speed(flow, bore) * np.asarray(bore, dtype=float) / nu)


def friction_factor(reynolds: ArrayLike, relative_roughness: ArrayLike = 0.0) -> Floats:
    r"""Darcy friction factor of developed flow in a round tube.

    .. math:: f = 64/Re, \qquad
       1/\sqrt{f} = -2 \log_{10}[\epsilon/(3.7 d) + 2.51/(Re \sqrt{f})]

    Parameters
    ----------
    reynolds : (...) [-]
        Re, above 0 to 1e8.
    relative_roughness : (...) [-]
        Roughness over bore, 0 to 0.05.

    Returns
    -------
    f : (...) [-]
        Between Re 2300 and 4000 joined as this module says, no source.

    Raises
    ------
    RangeError
        Outside those ranges.

    Source
    ------
    [White-2011] laminar; [Colebrook-1939] turbulent. Checked by tests/oil/test_pipe.py.
    """
    re = within(positive(reynolds, "Reynolds number", ""), 0.0, FASTEST, "Reynolds number", "")
    rough = within(relative_roughness, 0.0, ROUGHEST, "roughness over bore", "")
    return np.asarray(resistance(re, rough) / re)


def entry_coefficient(reynolds: ArrayLike, length_ratio: ArrayLike) -> Floats:
    r"""Loss on top of developed laminar friction while the profile forms behind an inlet.

    Hagenbach's correction, in velocity heads. It grows along the tube to 1.25; nine tenths of it
    are spent in the first 0.06 Re bores. The velocity head itself is not in it.

    .. math:: K = 4 x^+ (f_a Re - 16), \quad x^+ = L/(d\,Re), \quad f_a Re = 3.44/\sqrt{x^+} +
       \frac{1.25/(4 x^+) + 16 - 3.44/\sqrt{x^+}}{1 + 0.00021/(x^+)^2}

    The code has the same with z = 1/x+, multiplied out, so that rest is no special case.

    Parameters
    ----------
    reynolds : (...) [-]
        Re, laminar.
    length_ratio : (...) [-]
        L/d, length over bore.

    Returns
    -------
    coefficient : (...) [-]
        K. Below about Re 50 true inlets lose some more, 38/Re, left out: 2 % of the friction of
        a tube of 30 bores.

    Raises
    ------
    RangeError
        If Re is negative or above 2300, or the length ratio not positive.

    Source
    ------
    [Shah-London-1978], from memory. Checked by tests/oil/test_pipe.py.
    """
    re = within(reynolds, 0.0, LAMINAR_END, "Reynolds number", "")
    ratio = positive(length_ratio, "length over bore", "")
    return _entry(re / ratio)


def friction_loss(
    tube: Tube, flow: ArrayLike, *, viscosity: ArrayLike, density: ArrayLike, entry: bool = False
) -> Floats:
    r"""Pressure that friction takes along the straight lengths of a tube.

    .. math:: \Delta p = f \frac{L}{d} \frac{\rho V^2}{2}

    Parameters
    ----------
    tube : Tube [m]
        Its bends are left out here.
    flow : (...) [m^3/s]
    viscosity : (...) [m^2/s]
        nu, kinematic.
    density : (...) [kg/m^3]
        rho.
    entry : bool [-]
        Whether the profile forms in this tube, as behind the mouth. Then the laminar friction is
        Shah's, entry included, at every Re: past 2300 a smooth-mouthed short tube is still laminar
        along its wall, and the larger of the two losses leads.

    Returns
    -------
    loss : (...) [Pa]

    Raises
    ------
    RangeError
        If the flow is negative, another value not positive, or Re above 1e8.

    Source
    ------
    [White-2011], [Colebrook-1939], [Shah-London-1978]. Checked by tests/oil/test_pipe.py.
    """
    d, length = positive(tube.bore, "bore", "m"), not_negative(tube.length, "length", "m")
    rho = positive(density, "density", "kg/m^3")
    re = reynolds_number(flow, d, viscosity)
    within(re, 0.0, FASTEST, "Reynolds number", "")
    rough = within(tube.roughness / float(d), 0.0, ROUGHEST, "roughness over bore", "")
    z = re * d / length if entry and length > 0.0 else np.zeros_like(re)
    shear = resistance(re, rough, z) * rho * np.asarray(viscosity, float) * mean_speed(flow, d)
    return np.asarray(shear * length / (2.0 * d**2))


def resistance(reynolds: Floats, relative_roughness: ArrayLike, entry: ArrayLike = 0.0) -> Floats:
    """Friction factor times Reynolds number; unlike the factor, it is finite at rest.

    Parameters
    ----------
    reynolds : (...) [-]
        Zero or above.
    relative_roughness : (...) [-]
        Roughness over bore.
    entry : (...) [-]
        Re d / L where the profile forms in the tube, 0 where it is developed.

    Returns
    -------
    f_re : (...) [-]

    Source
    ------
    As `friction_factor` and `entry_coefficient`. Checked by tests/oil/test_pipe.py.
    """
    z = np.asarray(entry, dtype=float)
    laminar = 64.0 + z * _entry(z)
    span = math.log(TURBULENT_START / LAMINAR_END)
    past = np.log(np.maximum(reynolds, LAMINAR_END) / LAMINAR_END)
    step = np.minimum(past / span, 1.0)
    share = step**2 * (3.0 - 2.0 * step)  # 0 up to Re 2300, 1 from Re 4000, no kink
    rough = np.asarray(relative_roughness, dtype=float)
    turbulent = share * _colebrook(np.maximum(reynolds, LAMINAR_END), rough) * reynolds
    return np.asarray(laminar * (1.0 + (turbulent / laminar) ** _JOIN) ** (1.0 / _JOIN))


def _entry(z: Floats) -> Floats:
    """`entry_coefficient` of z = Re d / L."""
    return np.asarray((1.25 + 8.4e-4 * z * (3.44 * np.sqrt(z) - 16.0)) / (1.0 + 2.1e-4 * z**2))


def _colebrook(re: Floats, rough: Floats) -> Floats:
    """Turbulent friction factor, by Newton's rule on x = 1 / sqrt(f)."""
    x = -1.8 * np.log10(6.9 / re + (rough / 3.7) ** 1.11)  # Haaland's, within 2 %
    for _ in range(_NEWTON):
        inside = rough / 3.7 + 2.51 * x / re
        slope = 1.0 + 2.0 / math.log(10.0) * 2.51 / re / inside
        x = x - (x + 2.0 * np.log10(inside)) / slope
    return np.asarray(x**-2.0)
