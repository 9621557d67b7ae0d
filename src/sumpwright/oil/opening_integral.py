# SPDX-License-Identifier: Apache-2.0
"""Compiled integrals over an opening's triangles, for opening_kernel.py.

The head d that a speed v costs is ``a v^2 + b v``. Over a strip whose head falls linearly from q's
to p's, every integral is a polynomial in p, q - p and x, the share of the fall that is inertial;
all terms are positive, so nothing cancels in a thin strip.
"""

import math

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean

Floats = NDArray[np.float64]
Four = tuple[float, float, float, float]


@compiled_lean
def wetted(corners: Floats, areas: Floats, up: Floats, level: float) -> Four:
    """Area of the opening, area under a level, that area's slope, lowest height.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Of the triangles.
    areas : (m,) [m^2]
        Signed.
    up : (3,) [-]
        Unit vector.
    level : float [m]
        Height along it.

    Returns
    -------
    whole, wet, rise, bottom : float [m^2], [m^2], [m], [m]
    """
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
def flow_integrals(
    corners: Floats, areas: Floats, up: Floats, high: float, low: float, a: float, b: float
) -> Four:
    """Flow, slope by the higher head, the submerged part of that slope, and integral of v v'.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Of the triangles.
    areas : (m,) [m^2]
        Signed.
    up : (3,) [-]
        Unit vector.
    high : float [m]
        Height of the higher surface along it.
    low : float [m]
        Of the lower one.
    a : float [s^2/m]
        Inertial loss.
    b : float [s]
        Viscous loss, above zero.

    Returns
    -------
    flow, slope, fall, drag : float [m^3/s], [m^2/s], [m^2/s], [m^4/s^2]
    """
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
def slot_integrals(
    corners: Floats, areas: Floats, up: Floats, high: float, low: float, a: float, b: float
) -> Four:
    """As `flow_integrals` for straight runs, whose two triangles are even all along together.

    Parameters
    ----------
    corners : (m, 3, 3) [m]
        Of the triangles, as `slots` lays them: half of them start runs, half end the same runs.
    areas : (m,) [m^2]
        Signed.
    up : (3,) [-]
        Unit vector.
    high : float [m]
        Height of the higher surface along it.
    low : float [m]
        Of the lower one; minus infinity will do.
    a : float [s^2/m]
        Inertial loss.
    b : float [s]
        Viscous loss, above zero.

    Returns
    -------
    flow, slope, fall, drag : float [m^3/s], [m^2/s], [m^2/s], [m^4/s^2]
    """
    sunk, flow, slope, drag = 0.0, 0.0, 0.0, 0.0
    half = areas.shape[0] // 2
    for k in range(half):
        area = areas[k] + areas[half + k]
        one, other = corners[k, 0], corners[k, 2]
        z0 = up[0] * one[0] + up[1] * one[1] + up[2] * one[2]
        z1 = up[0] * other[0] + up[1] * other[1] + up[2] * other[2]
        if z0 > z1:
            z0, z1 = z1, z0
        if high <= z0:
            continue
        if z1 < low or (z1 == low and z1 > z0):
            sunk += area
        elif z1 == z0:
            parts = _strip(area, area, high - z0, high - z0, a, b)
            flow, slope, drag = flow + parts[0], slope + parts[1], drag + parts[2]
        else:
            bottom, top = max(z0, low), min(z1, high)
            sunk += area * (bottom - z0) / (z1 - z0)
            c = area * (top - bottom) / (z1 - z0)
            parts = _strip(c, c, high - top, high - bottom, a, b)
            flow, slope, drag = flow + parts[0], slope + parts[1], drag + parts[2]
    if not sunk > 0.0:
        return flow, slope, 0.0, drag
    v = speed_of(high - low, a, b)
    fall = sunk / (2.0 * a * v + b)
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
