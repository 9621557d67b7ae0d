# SPDX-License-Identifier: Apache-2.0
r"""Flow between two pools through an opening in a flat panel: windows, weirs, gaps.

The pools' surfaces stand normal to effective gravity. At height z along it the head that drives
oil through the opening is

.. math:: d(z) = \max(H_1, z) - \max(H_2, z)

constant under the lower surface (submerged orifice), falling to nothing at the higher one (weir,
free orifice), zero in the air. Each point of the opening passes the speed v that costs that head:

.. math:: d = \frac{v^2}{2 g C_d^2} + \frac{\nu v}{2 g} \left(\frac{E}{D} + \frac{F t}{D^2}\right)

an inertial loss and a viscous one in series. Near d = 0 the flow is linear, so it stays smooth
without a made-up number; between is no jump and no kink. E and F come from exact slow flows: hole
in a plate and pipe, or slit and slot, so a gap is the same formula and its flow is smaller than
both its viscous and its orifice limit. The two losses are equal at `laminar_head`.

Every integral over z is exact for polygons: rounding is the only error. Left out: speed of
approach, the pull-down of the surface before a weir, contraction by a wall or floor close by, and
the hump of Cd near a Reynolds number of 100. Flow slopes are exact; they jump only where a surface
passes a level edge of the opening, as the pools' own areas do at a flat floor.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.oil.opening_shape import DUST, Opening
from sumpwright.oil.table import positive, within

Floats = NDArray[np.float64]

SHARP = math.pi / (math.pi + 2.0)
"""Cd of a sharp-edged slit by Kirchhoff's free streamline; round holes 0.60 to 0.62."""


@dataclass(frozen=True)
class Flow:
    """Flow through an opening from pool 1 to pool 2, and how it changes."""

    flow: float
    """[m^3/s]"""
    by_head_1: float
    """[m^2/s] per height of pool 1's surface; never negative."""
    by_head_2: float
    """[m^2/s] per height of pool 2's surface; never positive."""
    by_share: float
    """[m^3/s] per open share."""


def opening_flow(
    opening: Opening,
    *,
    head_1: float,
    head_2: float,
    gravity: ArrayLike,
    viscosity: float,
    discharge: float,
    share: float = 1.0,
) -> Flow:
    r"""Flow from pool 1 to pool 2 through an opening, submerged, free or in between.

    .. math:: Q = \int b(z) \, v(d(z)) \, dz

    with b the opening's width over height along effective gravity, at any tilt of the panel.

    Parameters
    ----------
    opening : Opening [-]
        From `window` or `gap`.
    head_1 : float [m]
        H_1, height of pool 1's surface, x . up for a point x on it. Above the opening, or the
        roof, where a full pool carries head; minus infinity where there is no oil.
    head_2 : float [m]
        H_2, of pool 2's.
    gravity : (3,) [m/s^2]
        Effective: gravity less the car's acceleration, in the frame of the corners. It points
        down, and `up` is against it.
    viscosity : float [m^2/s]
        nu, kinematic, of the oil.
    discharge : float [-]
        Cd at high Reynolds number: `SHARP` for a sheet's cut edge, 0.8 for a short tube.
    share : float [-]
        Part of the area that is open, 0 to 1: what a door leaves. The diameter shrinks with it.

    Returns
    -------
    flow : Flow [-]

    Raises
    ------
    RangeError
        If there is no effective gravity, viscosity or Cd is not positive or share not 0 to 1.

    Source
    ------
    [closed-form] for the integrals; [Kirchhoff-1869] for `SHARP`; [Idelchik-1986] for losses that
    add up, [Sampson-1891] and [Dagan-1982] for the hole, [Hasimoto-1958] and [White-2011] for the
    slit. Checked by tests/oil/test_opening.py.
    """
    pull = np.asarray(gravity, dtype=float)
    g = float(positive(np.linalg.norm(pull), "effective gravity", "m/s^2"))
    cd = float(positive(discharge, "discharge coefficient", "(no unit)"))
    nu = float(positive(viscosity, "viscosity", "m^2/s"))
    part = float(within(share, 0.0, 1.0, "open share", "(no unit)"))
    heights = np.sort(opening.corners @ (-pull / g), axis=1)
    # minus infinity will not do: any height under the opening has its flow
    high, low = max(head_1, head_2), max(min(head_1, head_2), float(heights.min()) - 1.0)
    flow, by_high, by_low, by_share = _downhill(opening, heights, high, low, g, nu, cd, part)
    if head_1 >= head_2:
        return Flow(flow, by_high, by_low, by_share)
    return Flow(-flow, -by_low, -by_high, -by_share)


def _downhill(
    opening: Opening,
    heights: Floats,
    high: float,
    low: float,
    g: float,
    nu: float,
    cd: float,
    share: float,
) -> tuple[float, float, float, float]:
    """Flow from the higher pool, its slopes by the higher head, the lower head and the share."""
    whole, areas = opening.area, opening.areas
    part, rise = _under(heights, high)
    wet = float(areas @ part)
    if not (share > DUST and wet > DUST * whole):
        return 0.0, 0.0, 0.0, 0.0
    d_whole, entry, duct, thins = opening.traits
    width = d_whole * (share * wet / whole if thins else 1.0)
    a, k = 1.0 / (2.0 * g * cd**2), nu / (2.0 * g)
    b = k * (entry + duct / width) / width
    b_by_width = -k * (entry + 2.0 * duct / width) / width**2
    sunk = float(areas @ _under(heights, low)[0])
    v = float(_speed(np.float64(high - low), a, b))
    fall = sunk / (2.0 * a * v + b)
    flow, slope, drag = _free(heights, areas, high, low, a, b)
    gain = -(drag + fall * v) * b_by_width * thins
    by_high = slope + fall + gain * d_whole * share * float(areas @ rise) / whole
    flow += sunk * v
    return share * flow, share * by_high, -share * fall, flow + gain * width


def _under(heights: Floats, level: float) -> tuple[Floats, Floats]:
    """Share of each triangle under a level, and how that share grows with it."""
    z0, z1, z2 = heights.T
    span = np.where(z2 > z0, z2 - z0, 1.0)
    up = (level - z0) / np.where(z1 > z0, z1 - z0, 1.0)
    down = (z2 - level) / np.where(z2 > z1, z2 - z1, 1.0)
    rising, falling = (level > z0) & (level <= z1), (level > z1) & (level < z2)
    cut = [level <= z0, level >= z2, rising, falling]
    share = np.select(cut, [0.0, 1.0, up * (level - z0) / span, 1.0 - down * (z2 - level) / span])
    return share, np.select(cut, [0.0, 0.0, 2.0 * up / span, 2.0 * down / span])


def _free(
    heights: Floats, areas: Floats, high: float, low: float, a: float, b: float
) -> tuple[float, float, float]:
    """Integrals of v, v' and v v' over what lies between the surfaces: `_strip` of every piece."""
    z0, z1, z2 = heights.T
    flat = (z2 == z0) & (z0 >= low) & (z0 < high)
    span = np.where(z2 > z0, z2 - z0, 1.0)
    found = _strip(areas[flat], areas[flat], high - z0[flat], high - z0[flat], a, b)
    for foot, head, tip in ((z0, z1, z0), (z1, z2, z2)):
        bottom, top = np.maximum(foot, low), np.minimum(head, high)
        cut = top > bottom
        f, t, tip = bottom[cut], top[cut], tip[cut]
        c = 2.0 * areas[cut] * ((t - f) / (head - foot)[cut]) / span[cut]
        ends = c * np.abs(t - tip), c * np.abs(f - tip)
        found = found + _strip(*ends, high - t, high - f, a, b)
    return float(found[0]), float(found[1]), float(found[2])


def _strip(
    top: Floats, bottom: Floats, head_top: Floats, head_bottom: Floats, a: float, b: float
) -> Floats:
    """Integrals of v, v' and v v' over strips of area density `top` to `bottom`, summed."""
    p, q = _speed(head_top, a, b), _speed(head_bottom, a, b)
    s = a * (p + q) + b
    # not q - p: the heads' difference keeps its digits where a strip is thin
    d = (head_bottom - head_top) / s
    x = a * d / s
    more, lever = bottom - top, 0.5 - x / 6.0
    flow = top * (p + d * (0.5 + x / 6.0)) + more * (p / 2.0 + d * (1 / 3 + x / 12.0 - x**2 / 60.0))
    slope = (top + more * lever) / s
    drag = (top * (p + d / 2.0) + more * (p * lever + d * (1 / 3 - x / 12.0))) / s
    return np.array([flow.sum(), slope.sum(), drag.sum()])


def _speed(head: ArrayLike, a: float, b: float) -> Floats:
    """Root of a v^2 + b v = head that is zero with it, without a difference of near equals."""
    d = np.asarray(head, dtype=float)
    return np.asarray(2.0 * d / (b + np.sqrt(b**2 + 4.0 * a * d)))


def laminar_head(opening: Opening, *, gravity: float, viscosity: float, discharge: float) -> float:
    r"""Head difference at which the viscous and the inertial loss of a full opening are equal.

    .. math:: d = 4 g C_d^2 b^2

    with b v the viscous loss. Well under it the flow is in proportion to the head, well over it to
    the head's square root. A 30 mm window: 0.007 mm at 10 mm^2/s, 70 mm at 1000 mm^2/s.

    Parameters
    ----------
    opening : Opening [-]
        From `window` or `gap`.
    gravity : float [m/s^2]
        Size of effective gravity.
    viscosity : float [m^2/s]
        nu, kinematic.
    discharge : float [-]
        Cd at high Reynolds number.

    Returns
    -------
    head : float [m]

    Raises
    ------
    RangeError
        If a number is not positive.

    Source
    ------
    [closed-form] from the two losses. Checked by tests/oil/test_opening.py.
    """
    g = float(positive(gravity, "effective gravity", "m/s^2"))
    cd = float(positive(discharge, "discharge coefficient", "(no unit)"))
    d, entry, duct, _ = opening.traits
    b = float(positive(viscosity, "viscosity", "m^2/s")) / (2.0 * g) * (entry + duct / d) / d
    return float(4.0 * g * (cd * b) ** 2)


def slot_flow(
    *, length: float, height: float, thickness: float, pressure: float, dynamic_viscosity: float
) -> float:
    r"""Slow flow through a long narrow slot: the viscous limit of a gap, without its edges.

    .. math:: Q = \frac{h^3 \, \Delta p}{12 \mu t} L

    Parameters
    ----------
    length : float [m]
        L, across the flow.
    height : float [m]
        h, clear width.
    thickness : float [m]
        t, along the flow.
    pressure : float [Pa]
        Difference of pressure.
    dynamic_viscosity : float [Pa s]
        mu.

    Returns
    -------
    flow : float [m^3/s]

    Raises
    ------
    RangeError
        If a size or the viscosity is not positive.

    Source
    ------
    [White-2011] flow between plates. Checked by tests/oil/test_opening.py.
    """
    h = float(positive(height, "gap height", "m"))
    mu = float(positive(dynamic_viscosity, "viscosity", "Pa s"))
    t = float(positive(thickness, "gap thickness", "m"))
    return float(positive(length, "gap length", "m")) * h**3 * pressure / (12.0 * mu * t)
