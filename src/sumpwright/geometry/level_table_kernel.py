# SPDX-License-Identifier: Apache-2.0
"""Compiled answers from level tables; level_table.py makes them and holds the theory."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled_lean

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

CENTRE = 0.45
"""Nodes stand ever wider apart from where a stereographic coordinate is this."""
FINE = 256
"""Steps of the volume coordinate; a table keeps some of them."""
END = 1e-5
"""Share of the volume, at either end, over which height is straight: its slope stays finite."""
STEEP = 20.0
"""m for a filling: how height goes on past empty and past full. So a full body
carries head, about 0.1 m of it for 0.7 % more oil than it has room for: there is air about. In a
corner that fills height rises faster still, but does not go on so: with metres of head for a drop
a solver could hardly stop at full."""
SOFT = 5e-3
"""Share of the volume past empty or full over which the slope grows to that, so that a solver of
the oil's motion meets no corner."""


class LevelStack(NamedTuple):
    """Level tables of n bodies, for compiled callers."""

    values: Floats
    """(v, 2) [m] height, and its slope over the volume coordinate"""
    first: Ints
    """(n,) where each table starts"""
    directions: Ints
    """(n,) nodes along each side of its grid"""
    volumes: Ints
    """(n,) how many are kept"""
    knots: Floats
    """(n, FINE + 1) kept volume coordinates, rising"""
    place: Ints
    """(n, FINE + 1) number of the knot at or before each fine step"""
    capacity: Floats
    """(n,) [m^3]"""
    side: Floats
    """(n,) stereographic coordinate of the tilt that each reaches"""


@compiled_lean
def level_of(
    levels: LevelStack, row: int, p: float, q: float, volume: float
) -> tuple[float, float]:
    """Height of the surface in one of several bodies, and its slope over volume.

    Never refuses: below empty and above full the height runs on steeply; past the table's reach
    it is that of the rim (`beyond_reach` tells).

    Parameters
    ----------
    levels : LevelStack [m, m^3]
        From `level_stack`.
    row : int [-]
        Which body.
    p : float [-]
        ux / (1 + uz) of the direction up.
    q : float [-]
        uy / (1 + uz).
    volume : float [m^3]
        Of liquid.

    Returns
    -------
    height, slope : float [m], float [1/m^2]
    """
    capacity = levels.capacity[row]
    fill = volume / capacity
    size, count, side = levels.directions[row], levels.volumes[row], levels.side[row]
    far = p * p + q * q
    if far > side * side:
        back = side / math.sqrt(far)
        p, q = p * back, q * back
    w, bend = _coordinate(min(max(fill, END), 1.0 - END))
    k = levels.place[row, int(w * FINE)]
    low = levels.knots[row, k]
    span = levels.knots[row, k + 1] - low
    x, y = node_of(p, side, size), node_of(q, side, size)
    i, j = min(max(int(x), 1), size - 3), min(max(int(y), 1), size - 3)
    at = levels.first[row] + ((i - 1) * size + j - 1) * count + k
    h0, s0, h1, s1 = _gathered(levels.values, at, size * count, count, x - i, y - j)
    height, slope = _rising(h0, s0 * span, h1, s1 * span, (w - low) / span)
    if fill < END:
        slope = (height - h0) / END
        if fill < 0.0:
            more, slope = _past(-fill, slope)
            return h0 - more, slope / capacity
        return h0 + slope * fill, slope / capacity
    if fill > 1.0 - END:
        slope = (h1 - height) / END
        if fill > 1.0:
            more, slope = _past(fill - 1.0, slope)
            return h1 + more, slope / capacity
        return h1 + slope * (fill - 1.0), slope / capacity
    return height, slope / (span * bend * capacity)


@compiled_lean
def _past(beyond: float, slope: float) -> tuple[float, float]:
    """Height gained past an end, and its slope, both over the filling."""
    if slope >= STEEP:
        return STEEP * beyond, STEEP
    if beyond >= SOFT:
        return 0.5 * (slope + STEEP) * SOFT + STEEP * (beyond - SOFT), STEEP
    grown = (STEEP - slope) / SOFT * beyond
    return (slope + 0.5 * grown) * beyond, slope + grown


@compiled_lean
def many_levels(levels: LevelStack, row: int, ups: Floats, volumes: Floats, found: Floats) -> None:
    """`level_of` for several questions about one body.

    Parameters
    ----------
    levels : LevelStack [m, m^3]
        From `level_stack`.
    row : int [-]
        Which body.
    ups : (k, 3) [-]
        Unit vectors.
    volumes : (k,) [m^3]
        Of liquid.
    found : (k, 2) [m, 1/m^2]
        Where the answers go.
    """
    for k in range(len(volumes)):
        w = 1.0 / (1.0 + ups[k, 2])
        height, slope = level_of(levels, row, ups[k, 0] * w, ups[k, 1] * w, volumes[k])
        found[k, 0], found[k, 1] = height, slope


@compiled_lean
def beyond_reach(levels: LevelStack, row: int, p: float, q: float) -> bool:
    """Whether a direction is past the tilt that a table reaches.

    Parameters
    ----------
    levels : LevelStack [m, m^3]
        From `level_stack`.
    row : int [-]
        Which body.
    p : float [-]
        As for `level_of`.
    q : float [-]
        As for `level_of`.

    Returns
    -------
    beyond : bool [-]
    """
    return bool(p * p + q * q > levels.side[row] * levels.side[row])


@compiled_lean
def _coordinate(fill: float) -> tuple[float, float]:
    """Volume coordinate of a filling, and the rate of filling over it."""
    if fill <= 0.5:
        w = (0.25 * fill) ** (1.0 / 3.0)
        return w, 12.0 * w * w
    w = (0.25 * (1.0 - fill)) ** (1.0 / 3.0)
    return 1.0 - w, 12.0 * w * w


@compiled_lean
def _gathered(
    values: Floats, at: int, stride: int, count: int, x: float, y: float
) -> tuple[float, float, float, float]:
    """Height and slope at the volumes on either side, bicubic over sixteen directions."""
    b0, b1, b2, b3 = _weights(y)
    h0, s0, h1, s1 = 0.0, 0.0, 0.0, 0.0
    for a in _weights(x):
        n = at
        for b in (b0, b1, b2, b3):
            weight = a * b
            h0 += weight * values[n, 0]
            s0 += weight * values[n, 1]
            h1 += weight * values[n + 1, 0]
            s1 += weight * values[n + 1, 1]
            n += count
        at += stride
    return h0, s0, h1, s1


@compiled_lean
def _rising(h0: float, s0: float, h1: float, s1: float, t: float) -> tuple[float, float]:
    """Cubic between two heights and slopes, and its slope; slopes held so that it never falls.

    Between 0 and 3 rises is enough: Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238.
    """
    rise = h1 - h0
    most = 3.0 * max(rise, 0.0)
    s0, s1 = min(max(s0, 0.0), most), min(max(s1, 0.0), most)
    c, d = 3.0 * rise - 2.0 * s0 - s1, s0 + s1 - 2.0 * rise
    return h0 + t * (s0 + t * (c + t * d)), s0 + t * (2.0 * c + 3.0 * t * d)


@compiled_lean
def node_of(p: float, side: float, size: int) -> float:
    """Where a stereographic coordinate lies on a table's grid; one node stands past either end.

    Parameters
    ----------
    p : float [-]
        Coordinate, -side to side.
    side : float [-]
        The table's.
    size : int [-]
        Nodes along the grid.

    Returns
    -------
    place : float [-]
        1 to size - 2.
    """
    t = (1.0 + CENTRE / side) * p / (CENTRE + abs(p))
    return 0.5 * (t + 1.0) * (size - 3) + 1.0


@compiled_lean
def _weights(t: float) -> tuple[float, float, float, float]:
    """Of four neighbours at -1, 0, 1, 2 for the cubic whose slopes are central differences."""
    u = 1.0 - t
    return (
        -0.5 * t * u * u,
        1.0 + t * t * (1.5 * t - 2.5),
        1.0 + u * u * (1.5 * u - 2.5),
        -0.5 * u * t * t,
    )
