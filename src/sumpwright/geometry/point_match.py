# SPDX-License-Identifier: Apache-2.0
"""Which of the points found is which of the design's, when nobody has said so."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.registration import rigid_fit

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PAIRS = 12
"""Pairs of the design that are tried: the widest, which settle the turn best."""
STRETCH = 0.02
"""A printed or scanned pattern may be this much too large or small."""


@dataclass(frozen=True, eq=False)
class Match:
    """Points found, each with the design's point it is."""

    design: Ints
    """(k,) [-]"""
    found: Ints
    """(k,) [-]"""
    rms: float
    """Of the rigid fit over them [m]"""
    mirrored: bool
    """The points found had to be turned over: they were seen from the other side"""
    others: int
    """Ways of laying them that fit about as well: a symmetric pattern has more than one"""


def point_match(design: ArrayLike, found: ArrayLike, *, reach: float) -> Match | None:
    """The way of laying the points found over the design that joins most of them.

    Every pair of the design's widest is laid on every pair found at about that distance, straight
    and turned over; points then join their nearest where both agree.

    Parameters
    ----------
    design : (n, 2) [m]
        Where points should be.
    found : (m, 2) [m]
        Points in axes of their own; there may be more, or fewer.
    reach : float [m]
        How far apart a point found and its design may lie.

    Returns
    -------
    match : Match or None [m]
        None where fewer than three points come together.
    """
    x, y = (np.asarray(p, dtype=float).reshape(-1, 2) for p in (design, found))
    if len(x) < 3 or len(y) < 3:
        return None
    laid = [
        (*_refined(x, y, flip, turn, shift, reach), flip < 0.0)
        for flip in (1.0, -1.0)
        for turn, shift in _tries(x, y * [1.0, flip], reach)
    ]
    laid = [way for way in laid if len(way[0]) >= 3]
    if not laid:
        return None
    laid.sort(key=lambda way: (-len(way[0]), way[2]))
    a, b, rms, mirrored = laid[0]
    near = max(1.5 * rms, 0.5 * reach)
    alike = {(tuple(w[0]), tuple(w[1]), w[3]) for w in laid if len(w[0]) == len(a) and w[2] <= near}
    return Match(a, b, rms, mirrored, len(alike) - 1)


def _tries(x: Floats, y: Floats, reach: float) -> list[tuple[Floats, Floats]]:
    """Turns and shifts of the points found that lay a pair on a pair, those that join most."""
    ways = []
    apart, between = _distances(x), _distances(y)
    first, second = np.triu_indices(len(x), 1)
    widest = np.argsort(-apart[first, second], kind="stable")[:PAIRS]
    for i, j in zip(first[widest], second[widest], strict=True):
        alike = np.abs(between - apart[i, j]) <= reach + STRETCH * apart[i, j]
        np.fill_diagonal(alike, False)
        for k, m in np.argwhere(alike):
            turn = _turn_of(y[m] - y[k], x[j] - x[i])
            shift = 0.5 * (x[i] + x[j]) - 0.5 * (y[k] + y[m]) @ turn.T
            gap = np.linalg.norm((y @ turn.T + shift)[:, None] - x[None], axis=2).min(axis=0)
            ways.append((int((gap <= 2.0 * reach).sum()), turn, shift))
    most = max((w[0] for w in ways), default=0)
    return [(turn, shift) for n, turn, shift in ways if n >= max(most - 1, 3)][:400]


def _refined(
    x: Floats, y: Floats, flip: float, turn: Floats, shift: Floats, reach: float
) -> tuple[Ints, Ints, float]:
    """Points joined after two fits; numbers in the design, numbers found, rms of the last fit."""
    y = y * [1.0, flip]
    laid, none = y @ turn.T + shift, np.zeros(0, dtype=np.int64)
    rms = np.inf
    a, b = none, none
    for within in (2.0 * reach, reach):
        gap = np.linalg.norm(x[:, None] - laid[None], axis=2)
        a, b = _mutual(gap, within)
        if len(a) < 3:
            return none, none, np.inf
        fit = rigid_fit(x[a], y[b])
        laid, rms = fit.into_design(y), fit.rms
    return a, b, rms


def _mutual(gap: Floats, within: float) -> tuple[Ints, Ints]:
    """Numbers of rows and columns that are each other's nearest."""
    nearest = gap.argmin(axis=1)
    rows = np.arange(len(gap))
    good = (gap.argmin(axis=0)[nearest] == rows) & (gap[rows, nearest] <= within)
    return rows[good], nearest[good]


def _turn_of(a: Floats, b: Floats) -> Floats:
    """The turn that takes the direction of `a` to that of `b`."""
    c, s = float(a @ b), float(a[0] * b[1] - a[1] * b[0])
    size = max(float(np.hypot(c, s)), 1e-30)
    return np.array([[c, -s], [s, c]]) / size


def _distances(p: Floats) -> Floats:
    return np.asarray(np.linalg.norm(p[:, None] - p[None], axis=2))
