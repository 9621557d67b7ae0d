# SPDX-License-Identifier: Apache-2.0
"""What the oil pump moves, what it moves once it takes air, and what pressure follows.

Steady: the pressure that belongs to a flow, without the time an engine's galleries take to empty.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.oil.table import not_negative, positive, within

Floats = NDArray[np.float64]

PSI = 6894.757293168361  # Pa, [NIST-SP-811]
RULE_PRESSURE, RULE_SPEED = 10.0 * PSI, 1000.0 * math.pi / 30.0  # common practice, no source


@dataclass(frozen=True)
class Pump:
    """A positive-displacement pump as it sits on the engine."""

    displacement: float
    """Volume moved by one turn of the pump [m^3]."""
    drive_ratio: float = 1.0
    """Turns of the pump for one of the crankshaft [-]."""
    efficiency: float = 0.95
    """Flow over displacement [-]; common practice for a sound pump, less as it wears."""


def displaced_flow(pump: Pump, speed: ArrayLike) -> Floats:
    r"""Flow that a pump draws at an engine speed, air or oil, relief open or not.

    .. math:: Q = V i n \eta, \quad n = \Omega / 2 \pi

    A relief valve that spills to the pump's inlet or the pan does not change what the pump moves;
    one that spills to its inlet spares the pickup that part: see `delivery`.

    Parameters
    ----------
    pump : Pump [m^3, -]
        V, i and eta.
    speed : (...) [rad/s]
        Omega, of the crankshaft.

    Returns
    -------
    flow : (...) [m^3/s]

    Raises
    ------
    RangeError
        If the speed is negative, displacement or ratio not positive, or the efficiency not above
        0 and up to 1.

    Source
    ------
    Definition; efficiency [common-practice]. Checked by tests/oil/test_pump.py.
    """
    return np.asarray(_per_radian(pump) * not_negative(speed, "engine speed", "rad/s"))


def speed_of_flow(pump: Pump, flow: ArrayLike) -> Floats:
    """Engine speed at which a pump draws a flow, such as the largest that its inlet stands.

    Parameters
    ----------
    pump : Pump [m^3, -]
    flow : (...) [m^3/s]

    Returns
    -------
    speed : (...) [rad/s]
        Of the crankshaft.

    Raises
    ------
    RangeError
        As `displaced_flow`.

    Source
    ------
    The inverse of `displaced_flow`. Checked by tests/oil/test_pump.py.
    """
    return np.asarray(not_negative(flow, "flow", "m^3/s") / _per_radian(pump))


def oil_flow(flow: ArrayLike, air_fraction: ArrayLike) -> Floats:
    r"""Oil in what a pump draws when its pickup takes some air.

    .. math:: Q_{oil} = (1 - \alpha) Q

    Parameters
    ----------
    flow : (...) [m^3/s]
        Q, all that the pump draws.
    air_fraction : (...) [-]
        alpha, air in it by volume at the inlet's pressure, 0 to 1.

    Returns
    -------
    flow : (...) [m^3/s]

    Raises
    ------
    RangeError
        If the flow is negative or the air fraction outside 0 to 1.

    Source
    ------
    Definition. Checked by tests/oil/test_pump.py.
    """
    air = within(air_fraction, 0.0, 1.0, "air fraction", "")
    return np.asarray((1.0 - air) * not_negative(flow, "flow", "m^3/s"))


def squeezed_air_fraction(
    air_fraction: ArrayLike, *, pressure: ArrayLike, new_pressure: ArrayLike
) -> Floats:
    r"""Air by volume once a mixture of oil and bubbles is brought to another pressure.

    .. math:: \alpha_2 = \frac{\alpha}{\alpha + (1 - \alpha) p_2 / p_1}

    At one temperature; nothing dissolves, though under pressure some air does within seconds.

    Parameters
    ----------
    air_fraction : (...) [-]
        alpha, at ``pressure``, 0 to 1.
    pressure : (...) [Pa]
        p_1, absolute.
    new_pressure : (...) [Pa]
        p_2, absolute.

    Returns
    -------
    air_fraction : (...) [-]

    Raises
    ------
    RangeError
        If the air fraction is outside 0 to 1 or a pressure not positive.

    Source
    ------
    Boyle's law. Checked by tests/oil/test_pump.py.
    """
    air = within(air_fraction, 0.0, 1.0, "air fraction", "")
    ratio = positive(new_pressure, "pressure", "Pa") / positive(pressure, "pressure", "Pa")
    return np.asarray(air / (air + (1.0 - air) * ratio))


@dataclass(frozen=True)
class Gallery:
    """One reading of an engine's oil pressure, and what limits it."""

    pressure: float
    """Gauge, with the relief valve shut [Pa]."""
    flow: float
    """Oil flow then [m^3/s]."""
    viscosity: float
    """Kinematic, of the oil then [m^2/s]."""
    relief: float = math.inf
    """Gauge pressure at which the relief valve opens [Pa]."""


@dataclass(frozen=True)
class Delivery:
    """What becomes of the oil that a pump moves, each (...)."""

    pressure: Floats
    """In the gallery, gauge [Pa]."""
    to_engine: Floats
    """[m^3/s]"""
    spilled: Floats
    """Through the relief valve [m^3/s]."""


def delivery(gallery: Gallery, flow: ArrayLike, viscosity: ArrayLike) -> Delivery:
    r"""Gallery pressure that a flow of oil makes, and what the relief valve spills.

    .. math:: p = p_0 \frac{\nu Q}{\nu_0 Q_0} \le p_{relief}

    Bearings leak as narrow gaps do, in proportion to pressure and against viscosity. Taken for oil
    only: give it `oil_flow` when there is air, which counts the air as lost without resistance.
    The relief valve is taken as flat; real ones rise some tenths above their opening.

    Parameters
    ----------
    gallery : Gallery [Pa, m^3/s, m^2/s]
        p_0, Q_0, nu_0 of one reading.
    flow : (...) [m^3/s]
        Q, oil that the pump moves.
    viscosity : (...) [m^2/s]
        nu, kinematic; density is taken as that of the reading.

    Returns
    -------
    delivery : Delivery [Pa, m^3/s]

    Raises
    ------
    RangeError
        If the flow is negative, or a viscosity or a number of the reading not positive.

    Source
    ------
    Flow between parallel walls [White-2011]; its use for a whole engine [common-practice]. Checked
    by tests/oil/test_pump.py.
    """
    q, nu = not_negative(flow, "flow", "m^3/s"), positive(viscosity, "viscosity", "m^2/s")
    reading = positive(gallery.flow, "flow", "m^3/s") * gallery.viscosity
    stiff = positive(gallery.pressure, "pressure", "Pa") / positive(reading, "viscosity", "m^2/s")
    if not gallery.relief > 0.0:
        raise RangeError(f"relief pressure must be above 0 Pa, got {gallery.relief:.6g}")
    free = stiff * nu * q
    pressure = np.minimum(free, gallery.relief)
    to_engine = np.where(free > gallery.relief, pressure / (stiff * nu), q)
    return Delivery(pressure=pressure, to_engine=to_engine, spilled=np.asarray(q - to_engine))


def relief_pressure(*, force: ArrayLike, diameter: ArrayLike) -> Floats:
    r"""Pressure that lifts a relief valve off its seat.

    .. math:: p = 4 F / (\pi d^2)

    Parameters
    ----------
    force : (...) [N]
        F, of the spring on the closed valve.
    diameter : (...) [m]
        d, that the pressure acts on.

    Returns
    -------
    pressure : (...) [Pa]
        Over the pressure behind the valve.

    Raises
    ------
    RangeError
        If a value is not positive.

    Source
    ------
    Definition. Checked by tests/oil/test_pump.py.
    """
    area = math.pi / 4.0 * positive(diameter, "diameter", "m") ** 2
    return np.asarray(positive(force, "spring force", "N") / area)


def pressure_wanted(speed: ArrayLike) -> Floats:
    """Oil pressure that people want to see hot: 10 psi for each 1000 rpm.

    Parameters
    ----------
    speed : (...) [rad/s]
        Of the crankshaft.

    Returns
    -------
    pressure : (...) [Pa]
        Gauge. A rule of thumb; the engine's maker has the last word.

    Raises
    ------
    RangeError
        If the speed is negative.

    Source
    ------
    [common-practice], no source. Checked by tests/oil/test_pump.py.
    """
    return np.asarray(RULE_PRESSURE / RULE_SPEED * not_negative(speed, "engine speed", "rad/s"))


def _per_radian(pump: Pump) -> float:
    """Volume moved for each radian of the crankshaft."""
    moved = positive(pump.displacement, "displacement", "m^3")
    ratio = positive(pump.drive_ratio, "drive ratio", "")
    share = within(positive(pump.efficiency, "efficiency", ""), 0.0, 1.0, "efficiency", "")
    return float(moved * ratio * share / (2.0 * math.pi))
