# SPDX-License-Identifier: Apache-2.0
r"""Compiled heights of many volumes along one direction, in one sweep over a body's corners.

The mean of :math:`\max(s - h, 0)` over a triangle is a divided difference of cubes over the heights
of its corners, so the volume below a plane is :math:`V(s) = \sum_v \beta_v \max(s - h_v, 0)^3`: as
the plane rises past a corner only the third derivative of V jumps, by what the triangles round the
corner say. Two corners of a triangle at one height make the second derivative jump, three the
first. A table of many volumes costs one sort of the corners, whatever their number.

Heights are rounded to `GRAIN` of the body's height first, so that corners are at one height or
clearly apart: divided differences of corners that are nearly level would lose all their digits.
"""

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

GRAIN = 2.0**-18
"""Of the body's height: half of it, a micrometre in half a metre, is what a level is off."""


@compiled
def many_sweeps(
    vertices: Floats,
    faces: Ints,
    areas: Floats,
    ups: Floats,
    fills: Floats,
    items: Ints,
    height: Floats,
    surface: Floats,
) -> None:
    """Heights at which shares of a body's volume stand, and the surface there.

    Parameters
    ----------
    vertices : (v, 3) [m]
        Corners of the body.
    faces : (m, 3) [-]
        Their numbers in each triangle.
    areas : (m, 3) [m^2]
        Area vectors, outward.
    ups : (d, 3) [-]
        Unit vectors.
    fills : (k,) [-]
        Rising shares of the volume, 0 to 1.
    items : (j,) [-]
        Which directions to answer.
    height : (d, k) [m]
        Where the heights go, from the vertices' own origin; the lowest where several would do.
    surface : (d, k) [m^2]
        Where the areas go.
    """
    h = np.zeros(vertices.shape[0])
    jumps = np.zeros((vertices.shape[0], 3))
    for d in items:
        foot, grain = _rounded_heights(vertices, ups[d], h)
        whole = _jumps(faces, areas, ups[d], h, jumps)
        _sweep(h, np.argsort(h), jumps, fills, whole, height[d], surface[d])
        for k in range(fills.shape[0]):
            height[d, k] = foot + grain * height[d, k]
            surface[d, k] = max(surface[d, k], 0.0)


@compiled
def _rounded_heights(vertices: Floats, up: Floats, h: Floats) -> tuple[float, float]:
    """Whole grains of each corner over the lowest; its height and what a grain is."""
    low, high = np.inf, -np.inf
    for v in range(vertices.shape[0]):
        h[v] = up[0] * vertices[v, 0] + up[1] * vertices[v, 1] + up[2] * vertices[v, 2]
        low, high = min(low, h[v]), max(high, h[v])
    grain = (high - low) * GRAIN
    for v in range(vertices.shape[0]):
        h[v] = np.rint((h[v] - low) / grain)
    return low, grain


@compiled
def _jumps(faces: Ints, areas: Floats, up: Floats, h: Floats, jumps: Floats) -> float:
    """Jumps of the first, second and third derivative of volume at each corner; the whole volume.

    Volume here is area times grains.
    """
    jumps[:] = 0.0
    whole = 0.0
    for t in range(faces.shape[0]):
        a, b, c = faces[t, 0], faces[t, 1], faces[t, 2]
        if h[a] > h[b]:
            a, b = b, a
        if h[b] > h[c]:
            b, c = c, b
        if h[a] > h[b]:
            a, b = b, a
        seen = -(up[0] * areas[t, 0] + up[1] * areas[t, 1] + up[2] * areas[t, 2])
        whole -= seen * (h[a] + h[b] + h[c]) / 3.0
        low, high, span = h[b] - h[a], h[c] - h[b], h[c] - h[a]
        if span == 0.0:
            jumps[a, 0] += seen
        elif low == 0.0:
            jumps[a, 1] += 2.0 * seen / span
            jumps[a, 2] -= 2.0 * seen / (span * span)
            jumps[c, 2] += 2.0 * seen / (span * span)
        elif high == 0.0:
            jumps[a, 2] += 2.0 * seen / (span * span)
            jumps[c, 2] -= 2.0 * seen / (span * span)
            jumps[c, 1] -= 2.0 * seen / span
        else:
            jumps[a, 2] += 2.0 * seen / (low * span)
            jumps[b, 2] -= 2.0 * seen / (low * high)
            jumps[c, 2] += 2.0 * seen / (span * high)
    return whole


@compiled
def _sweep(
    h: Floats,
    order: Ints,
    jumps: Floats,
    fills: Floats,
    whole: float,
    height: Floats,
    surface: Floats,
) -> None:
    """Follows volume and its derivatives up; writes down each fill as it is passed."""
    volume, first, second, third = 0.0, 0.0, 0.0, 0.0
    at, k, count = 0.0, 0, fills.shape[0]
    while k < count and fills[k] <= 0.0:
        height[k], surface[k] = 0.0, 0.0
        k += 1
    for v in order:
        step = h[v] - at
        if step > 0.0:
            after = volume + step * (first + step * (second / 2.0 + step * third / 6.0))
            while k < count and fills[k] < 1.0 and fills[k] * whole <= after:
                x = _passed(fills[k] * whole - volume, first, second, third, step)
                height[k] = at + x
                surface[k] = first + x * (second + x * third / 2.0)
                k += 1
            first += step * (second + step * third / 2.0)
            second += step * third
            volume, at = after, h[v]
        first += jumps[v, 0]
        second += jumps[v, 1]
        third += jumps[v, 2]
    while k < count:
        height[k], surface[k] = at, 0.0
        k += 1


@compiled
def _passed(rise: float, first: float, second: float, third: float, step: float) -> float:
    """Where a cubic that rises from 0 reaches `rise`: Newton inside a bracket."""
    low, high = 0.0, step
    x = 0.5 * step
    for _ in range(60):
        miss = x * (first + x * (second / 2.0 + x * third / 6.0)) - rise
        if miss >= 0.0:
            high = x
        else:
            low = x
        slope = first + x * (second + x * third / 2.0)
        following = x - miss / slope if slope > 0.0 else 0.5 * (low + high)
        if not low < following < high:
            following = 0.5 * (low + high)
        if abs(following - x) <= 1e-6:  # of a grain
            return following
        x = following
    return x
