# SPDX-License-Identifier: Apache-2.0
"""Where oil comes home from the engine, over the way that down is: shares of the compartments."""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.compartment import Compartments
from sumpwright.geometry.fall import landing_shares, stereographic_ups
from sumpwright.geometry.inside import inside
from sumpwright.geometry.mesh import Mesh
from sumpwright.job.model import Job
from sumpwright.oil.network_array import Landing
from sumpwright.studies.cache import Entry, kept, mesh_key

Floats = NDArray[np.float64]

DIRECTIONS = 13
SIDE = float(np.tan(np.radians(40.0)))
"""Of the table: it reaches a tilt of 80 degrees; beyond, oil comes home as at its edge."""
ACROSS = 9
"""Drops along each side of the rail's opening, where the job names no returns."""
UNDER = 1e-3
"""m under the rail that they start."""
RING = 8
"""Drops round each return, besides the one at its middle."""


def landing(folder: Path, job: Job, parted: Compartments, rail: Mesh) -> Landing:
    """Shares of the compartments in what comes home.

    `rail` is the body below the pan rail: without returns in the job, oil drizzles evenly over its
    opening. A direction in which nothing falls into the pan is taken as straight down.
    """
    places = [_round(np.array(r.at), r.spread) for r in job.engine.returns or ()]
    weights = [r.share for r in job.engine.returns or ()]
    if not places:
        places, weights = [_drizzle(rail)], [1.0]
    how = ("landing", DIRECTIONS, SIDE, [p.tolist() for p in places], weights)
    ways = [(k.behind, k.ahead, k.kind, k.polygon.tolist()) for k in parted.links]
    key = mesh_key(*parted.bodies, how=(*how, ways))
    entry = kept(folder, key, lambda: Entry({"shares": _shares(parted, places, weights)}))
    return Landing(np.ascontiguousarray(entry.arrays["shares"]), SIDE)


def _shares(parted: Compartments, places: list[Floats], weights: list[float]) -> Floats:
    ups = stereographic_ups(DIRECTIONS, SIDE)
    whole = np.zeros((DIRECTIONS, DIRECTIONS, len(parted.bodies)))
    for points, weight in zip(places, weights, strict=True):
        share = landing_shares(parted, points, ups)
        upright = share[DIRECTIONS // 2, DIRECTIONS // 2]
        nearest = upright if np.isfinite(upright).all() else _largest(parted)
        lost = ~np.isfinite(share).all(axis=-1)
        share[lost] = nearest
        whole += weight * share
    return np.asarray(whole / whole.sum(axis=-1, keepdims=True))


def _largest(parted: Compartments) -> Floats:
    """All of it into the largest compartment: where a return hangs beside the pan."""
    return np.asarray(np.eye(len(parted.bodies))[int(np.argmax(parted.volumes))])


def _round(middle: Floats, spread: float) -> Floats:
    """(k, 3) drops at a place and on a level ring round it."""
    angle = 2.0 * np.pi * np.arange(RING) / RING
    ring = np.stack([np.cos(angle), np.sin(angle), np.zeros(RING)], axis=1)
    return np.vstack([middle, middle + spread * ring]) if spread > 0.0 else middle[None]


def _drizzle(rail: Mesh) -> Floats:
    """(k, 3) drops over the opening at the rail."""
    low, high = rail.bounds
    x, y = (low[k] + (high[k] - low[k]) * (np.arange(ACROSS) + 0.5) / ACROSS for k in (0, 1))
    grid = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
    points = np.column_stack([grid, np.full(len(grid), high[2] - UNDER)])
    return np.asarray(points[inside(rail, points)])
