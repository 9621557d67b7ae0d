# SPDX-License-Identifier: Apache-2.0
r"""Tables of how high oil stands in a body, over direction and volume, for millions of questions.

Direction goes by the stereographic coordinates :math:`p = u_x / (1 + u_z)` and
:math:`q = u_y / (1 + u_z)`, on a square grid that is closest near upright, where pans have the
flat floors that a film of oil tips over; bicubic between nodes. Volume goes by a coordinate w with
a filling of :math:`4 w^3` up to half full and :math:`1 - 4 (1 - w)^3` above, in which height is
smooth near empty and near full, be it a corner, an edge or a face that fills. Of 256 steps of w a
table keeps those that a cubic with the exact slopes :math:`dh/dV = 1/A` needs between them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.level import LevelBody, levels_of
from sumpwright.geometry.level_grid import Swept, grid_heights, kept_steps
from sumpwright.geometry.level_table_kernel import FINE, LevelStack, many_levels

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

REACH = np.radians(100.0)
FARTHEST = np.radians(120.0)
SIZES = (33, 49, 65, 97)
"""Nodes along a grid that are tried, until one is good enough."""
TILT = np.radians(60.0)
"""How far from upright the error of a table is sampled."""


@dataclass(frozen=True, eq=False)
class LevelTable:
    """Heights in one body over direction and volume."""

    heights: Floats
    """(p, p, k) [m] at each node"""
    slopes: Floats
    """(p, p, k) [m] over the volume coordinate"""
    knots: Ints
    """(k,) steps of the volume coordinate that are kept, of `FINE`"""
    volume: float
    """Whole [m^3]"""
    side: float
    """Stereographic coordinate of the tilt that it reaches"""
    worst: float
    """Largest error of height that sampling found within 60 degrees of upright [m]"""


def level_table(
    body: LevelBody,
    *,
    limit: float = 2e-4,
    reach: float = REACH,
    directions: int = SIZES[-1],
    volumes: int = 65,
    samples: int = 4000,
) -> LevelTable:
    """Table of one body, as coarse as its allowed error lets it be.

    Parameters
    ----------
    body : LevelBody [m]
        From `level_body`.
    limit : float [m]
        Error of height within 60 degrees of upright that is looked for; where the largest table
        has more, its `worst` says so.
    reach : float [rad]
        Tilt from upright that the table goes to.
    directions : int [-]
        Most nodes along each side of the grid.
    volumes : int [-]
        Most volumes that are kept.
    samples : int [-]
        Random levels that the error is taken from.

    Returns
    -------
    table : LevelTable [m, m^3]

    Raises
    ------
    RangeError
        If the reach is not between 60 and 120 degrees, or there are fewer than 13 directions or 9
        volumes.
    """
    if not TILT <= reach <= FARTHEST:
        raise RangeError(f"a level table reaches 60 to 120 deg, asked {np.degrees(reach):.4g} deg")
    if directions < 13 or volumes < 9:
        raise RangeError(
            f"a level table needs 13 directions and 9 volumes, asked {directions} and {volumes}"
        )
    side = float(np.tan(0.5 * reach))
    swept = Swept(body)
    steps = kept_steps(swept, side, most=volumes, limit=0.25 * limit)
    for size in [*(n for n in SIZES if n < directions), directions]:
        heights, slopes = grid_heights(swept, steps, size=size, side=side)
        table = LevelTable(heights, slopes, steps, body.volume, side, np.inf)
        worst = sampled_error(body, table, count=samples, seed=1)
        if worst <= limit:
            break
    return replace(table, worst=worst)


def table_level(table: LevelTable, up: ArrayLike, volume: ArrayLike) -> tuple[Floats, Floats]:
    """Heights of the surface by a table, and their slopes over volume.

    Parameters
    ----------
    table : LevelTable [m, m^3]
        From `level_table`.
    up : (k, 3) or (3,) [-]
        Unit vectors against effective gravity.
    volume : (k,) or scalar [m^3]
        Of liquid; below empty and above full the height runs on steeply.

    Returns
    -------
    height, slope : (k,) [m], (k,) [1/m^2]
        Signed distance from the frame's origin along up, and its rate over volume.

    Raises
    ------
    RangeError
        If a direction is past the table's reach.
    """
    ups = np.atleast_2d(np.asarray(up, dtype=float))
    volumes = np.atleast_1d(np.asarray(volume, dtype=float))
    tilt = np.arccos(np.clip(ups[:, 2], -1.0, 1.0))
    reach = 2.0 * np.arctan(table.side)
    if not (tilt <= reach + 1e-9).all():
        raise RangeError(
            f"the table reaches {np.degrees(reach):.4g} deg from upright, asked "
            f"{np.degrees(tilt.max()):.4g}"
        )
    count = max(len(ups), len(volumes))
    ups, volumes = (
        np.ascontiguousarray(np.broadcast_to(a, shape))
        for a, shape in ((ups, (count, 3)), (volumes, (count,)))
    )
    found = np.zeros((count, 2))
    many_levels(level_stack([table]), 0, ups, volumes, found)
    return found[:, 0], found[:, 1]


def level_stack(tables: Sequence[LevelTable]) -> LevelStack:
    """Tables of several bodies in one set of arrays, for `level_of` in compiled callers.

    Parameters
    ----------
    tables : sequence of LevelTable [m, m^3]
        At least one.

    Returns
    -------
    levels : LevelStack [m, m^3]
    """
    values = [np.stack([t.heights, t.slopes], axis=-1).reshape(-1, 2) for t in tables]
    sizes = np.cumsum([0] + [len(v) for v in values])
    knots, place = np.zeros((len(tables), FINE + 1)), np.zeros((len(tables), FINE + 1), np.int64)
    for row, table in enumerate(tables):
        knots[row, : len(table.knots)] = table.knots / FINE
        steps = np.searchsorted(table.knots, np.arange(FINE + 1), side="right") - 1
        place[row] = np.minimum(steps, len(table.knots) - 2)
    return LevelStack(
        values=np.ascontiguousarray(np.concatenate(values)),
        first=sizes[:-1],
        directions=np.array([len(t.heights) for t in tables]),
        volumes=np.array([len(t.knots) for t in tables]),
        knots=knots,
        place=place,
        capacity=np.array([t.volume for t in tables]),
        side=np.array([t.side for t in tables]),
    )


def sampled_error(
    body: LevelBody, table: LevelTable, *, count: int, seed: int, tilt: float = TILT
) -> float:
    """Largest error of a table over random directions and volumes.

    Parameters
    ----------
    body : LevelBody [m]
        What the table is of.
    table : LevelTable [m, m^3]
        From `level_table`.
    count : int [-]
        Levels to compare.
    seed : int [-]
        Of the random numbers.
    tilt : float [rad]
        Largest, from upright; directions are spread evenly over that cap of the sphere.

    Returns
    -------
    error : float [m]
    """
    rng = np.random.default_rng(seed)
    up = _random_ups(rng, count, tilt)
    volume = rng.uniform(0.0, body.volume, count)
    exact = levels_of(body, up, volume).height
    return float(np.abs(table_level(table, up, volume)[0] - exact).max())


def _random_ups(rng: np.random.Generator, count: int, tilt: float) -> Floats:
    z = rng.uniform(np.cos(tilt), 1.0, count)
    angle, flat = rng.uniform(0.0, 2.0 * np.pi, count), np.sqrt(1.0 - z * z)
    return np.stack([flat * np.cos(angle), flat * np.sin(angle), z], axis=1)
