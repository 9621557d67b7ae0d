# SPDX-License-Identifier: Apache-2.0
"""Compiled flow through one opening; opening.py is the door and holds the theory.

An opening is triangles: ``corners`` (m, 3, 3), signed ``areas`` (m,) and ``traits`` (4,), as in
`sumpwright.oil.opening.Opening`. The head d that a speed v costs is ``a v^2 + b v``. Over a strip
whose head falls linearly from q's to p's, every integral is a polynomial in p, q - p and x, the
share of the fall that is inertial; all terms are positive, so nothing cancels in a thin strip.
"""

import math

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean
from sumpwright.oil.opening_shape import DUST

Floats = NDArray[np.float64]
Four = tuple[float, float, float, float]


@compiled_lean
def opening_flow_of(
    corners: Floats,
    areas: Floats,
    traits: Floats,
    head_1: float,
    head_2: float,
    up: Floats,
    gravity: float,
    viscosity: float,
    discharge: float,
    share: float,
) -> Four:
    """Flow from pool 1 to pool 2 and its slopes. No argument is checked.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Of the triangles.
    areas : (m,) [m^2]
        Signed.
    traits : (4,) [m, -, m, -]
        Hydraulic diameter, entry and duct numbers, 1 where the diameter shrinks with wetted area.
    head_1 : float [m]
        Height of pool 1's surface along `up`; minus infinity where the pool is empty.
    head_2 : float [m]
        Of pool 2's.
    up : (3,) [-]
        Unit vector against effective gravity.
    gravity : float [m/s^2]
        Its size; zero or less gives no flow.
    viscosity : float [m^2/s]
        nu, kinematic, above zero.
    discharge : float [-]
        Cd.
    share : float [-]
        Open part of the opening, 0 to 1.

    Returns
    -------
    flow, by_head_1, by_head_2, by_share : float [m^3/s], [m^2/s], [m^2/s], [m^3/s]

    Source
    ------
    As `sumpwright.oil.opening.opening_flow`. Checked by tests/oil/test_opening.py.
    """
    if head_1 >= head_2:
        flow, high, low, opened = _downhill(
            corners, areas, traits, head_1, head_2, up, gravity, viscosity, discharge, share
        )
        return flow, high, low, opened
    flow, high, low, opened = _downhill(
        corners, areas, traits, head_2, head_1, up, gravity, viscosity, discharge, share
    )
    return -flow, -low, -high, -opened


@compiled_lean
def _downhill(
    corners: Floats,
    areas: Floats,
    traits: Floats,
    high: float,
    low: float,
    up: Floats,
    gravity: float,
    viscosity: float,
    discharge: float,
    share: float,
) -> Four:
    """Flow from the higher pool, its slopes by the higher head, the lower head and the share."""
    if not (gravity > 0.0 and share > DUST):
        return 0.0, 0.0, 0.0, 0.0
    whole, wet, rise, bottom = _wetted(corners, areas, up, high)
    if not wet > DUST * whole:
        return 0.0, 0.0, 0.0, 0.0
    thins = traits[3] * share * wet / whole + (1.0 - traits[3])
    width = traits[0] * thins
    a = 1.0 / (2.0 * gravity * discharge * discharge)
    k = viscosity / (2.0 * gravity)
    b = k * (traits[1] + traits[2] / width) / width
    b_by_width = -k * (traits[1] + 2.0 * traits[2] / width) / (width * width)
    # minus infinity will not do: any height under the opening has its flow
    low = max(low, bottom - 1.0)
    flow, slope, fall, drag = _integrals(corners, areas, up, high, low, a, b)
    # what a wider wetted opening gains by the smaller share of viscous loss
    gain = -drag * b_by_width * traits[3]
    by_high = slope + gain * traits[0] * share * rise / whole
    return share * flow, share * by_high, -share * fall, flow + gain * width


@compiled_lean
def _wetted(corners: Floats, areas: Floats, up: Floats, level: float) -> Four:
    """Area of the opening, area under a level, that area's slope, lowest height."""
    whole, wet, rise, bottom = 0.0, 0.0, 0.0, math.inf
    for k in range(areas.shape[0]):
        z0, z1, z2 = _heights(corners[k], up)
        bottom = min(bottom, z0)
        whole += areas[k]
        span = z2 - z0
        if level >= z2:
            wet += areas[k] * (1.0 if level > z0 else 0.0)
        elif level > z1:
            part = (z2 - level) / (z2 - z1)
            wet += areas[k] * (1.0 - part * ((z2 - level) / span))
            rise += areas[k] * 2.0 * part / span
        elif level > z0:
            part = (level - z0) / (z1 - z0)
            wet += areas[k] * part * ((level - z0) / span)
            rise += areas[k] * 2.0 * part / span
    return whole, wet, rise, bottom


@compiled_lean
def _integrals(
    corners: Floats, areas: Floats, up: Floats, high: float, low: float, a: float, b: float
) -> Four:
    """Flow, slope by the higher head, the submerged part of that slope, and integral of v v'."""
    v = speed_of(high - low, a, b)
    stiff = 1.0 / (2.0 * a * v + b)
    sunk, flow, slope, drag = 0.0, 0.0, 0.0, 0.0
    for k in range(areas.shape[0]):
        z0, z1, z2 = _heights(corners[k], up)
        area, span = areas[k], z2 - z0
        if z2 < low or (z2 == low and span > 0.0):
            sunk += area
            continue
        if span == 0.0:
            parts = _strip(area, area, high - z0, high - z0, a, b)
            flow, slope, drag = flow + parts[0], slope + parts[1], drag + parts[2]
            continue
        bottom, top = max(z0, low), min(z1, high)
        if low > z0:
            sunk += area * _under(z0, z1, z2, low)
        if top > bottom:
            c = 2.0 * area * ((top - bottom) / (z1 - z0))
            ends = c * ((top - z0) / span), c * ((bottom - z0) / span)
            parts = _strip(ends[0], ends[1], high - top, high - bottom, a, b)
            flow, slope, drag = flow + parts[0], slope + parts[1], drag + parts[2]
        bottom, top = max(z1, low), min(z2, high)
        if top > bottom:
            c = 2.0 * area * ((top - bottom) / (z2 - z1))
            ends = c * ((z2 - top) / span), c * ((z2 - bottom) / span)
            parts = _strip(ends[0], ends[1], high - top, high - bottom, a, b)
            flow, slope, drag = flow + parts[0], slope + parts[1], drag + parts[2]
    fall = sunk * stiff
    return flow + sunk * v, slope + fall, fall, drag + fall * v


@compiled_lean
def _under(z0: float, z1: float, z2: float, level: float) -> float:
    """Share of a triangle of these sorted heights under a level between its ends."""
    if level <= z1:
        return (level - z0) / (z1 - z0) * ((level - z0) / (z2 - z0))
    return 1.0 - (z2 - level) / (z2 - z1) * ((z2 - level) / (z2 - z0))


@compiled_lean
def _strip(
    top: float, bottom: float, head_top: float, head_bottom: float, a: float, b: float
) -> tuple[float, float, float]:
    """Integrals of v, v' and v v' over a strip of area density `top` to `bottom`."""
    if not head_bottom > 0.0:
        return 0.0, 0.0, 0.0
    p, q = speed_of(head_top, a, b), speed_of(head_bottom, a, b)
    s = a * (p + q) + b
    # not q - p: the heads' difference keeps its digits where the strip is thin
    d = (head_bottom - head_top) / s
    x = a * d / s
    more = bottom - top
    flow = top * (p + d * (0.5 + x / 6.0)) + more * (
        p / 2.0 + d * (1.0 / 3.0 + x / 12.0 - x * x / 60.0)
    )
    lever = 0.5 - x / 6.0
    slope = (top + more * lever) / s
    drag = (top * (p + d / 2.0) + more * (p * lever + d * (1.0 / 3.0 - x / 12.0))) / s
    return flow, slope, drag


@compiled_lean
def speed_of(head: float, a: float, b: float) -> float:
    """Speed that a head drives: the root of a v^2 + b v = head that is zero with it.

    Parameters
    ----------
    head : float [m]
        Not negative.
    a : float [s^2/m]
        Inertial loss.
    b : float [s]
        Viscous loss, above zero.

    Returns
    -------
    speed : float [m/s]
        Flow per area of the opening.
    """
    return 2.0 * head / (b + math.sqrt(b * b + 4.0 * a * head))


@compiled_lean
def _heights(triangle: Floats, up: Floats) -> tuple[float, float, float]:
    """Heights of the three corners, sorted."""
    z0 = up[0] * triangle[0, 0] + up[1] * triangle[0, 1] + up[2] * triangle[0, 2]
    z1 = up[0] * triangle[1, 0] + up[1] * triangle[1, 1] + up[2] * triangle[1, 2]
    z2 = up[0] * triangle[2, 0] + up[1] * triangle[2, 1] + up[2] * triangle[2, 2]
    if z0 > z1:
        z0, z1 = z1, z0
    if z1 > z2:
        z1, z2 = z2, z1
    if z0 > z1:
        z0, z1 = z1, z0
    return z0, z1, z2
