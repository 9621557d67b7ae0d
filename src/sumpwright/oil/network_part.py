# SPDX-License-Identifier: Apache-2.0
"""A network's parts from what a person describes, as the compiled kernels take them."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.level_table import LevelTable, level_stack
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.rim import Rim
from sumpwright.oil.door import Door
from sumpwright.oil.mouth import drawdown_coefficient
from sumpwright.oil.network_array import Hatches, Mouth, Pools, Ways
from sumpwright.oil.passage import Passage
from sumpwright.oil.swing import SwingTable, swing_stack

Floats = NDArray[np.float64]

THIN = 0.1
"""Of a pool's mean surface: a smaller one is weighed as this when a step's error is judged."""


def pools_of(
    meshes: Sequence[Mesh], tables: Sequence[LevelTable], swings: Sequence[SwingTable]
) -> Pools:
    """Compartments as the kernels take them.

    Parameters
    ----------
    meshes : sequence of Mesh [m]
        Oil space of each.
    tables : sequence of LevelTable [m]
        Of the same bodies.
    swings : sequence of SwingTable [SI]
        Of the same bodies.

    Returns
    -------
    pools : Pools [SI]
    """
    capacity = np.array([table.volume for table in tables])
    tall = np.array([np.ptp(mesh.bounds[:, 2]) for mesh in meshes])
    return Pools(
        levels=level_stack(tables),
        capacity=capacity,
        swings=swing_stack(swings),
        middle=np.array([0.5 * mesh.bounds.sum(axis=0) for mesh in meshes]),
        least_area=THIN * capacity / tall,
        lever=np.array([0.5 * np.ptp(mesh.bounds[:, :2], axis=0).max() for mesh in meshes]),
    )


def ways_of(passages: Sequence[Passage], shares: ArrayLike | None = None) -> Ways:
    """Passages as the kernels take them.

    Parameters
    ----------
    passages : sequence of Passage [m]
        Any number.
    shares : (m,) or None [-]
        Open part of each one without a moving door; None: all are open.

    Returns
    -------
    ways : Ways [SI]
    """
    m = len(passages)
    boxes = [_box(p.opening.corners) for p in passages]
    count = [len(p.opening.areas) for p in passages]
    return Ways(
        behind=np.array([p.behind for p in passages], dtype=np.int64),
        ahead=np.array([p.ahead for p in passages], dtype=np.int64),
        door=np.array([p.door for p in passages], dtype=np.int64),
        spot=np.array([p.spot for p in passages], dtype=float).reshape(m, 3),
        middle=np.array([box[0] for box in boxes], dtype=float).reshape(m, 3),
        arms=np.array([box[1:] for box in boxes], dtype=float).reshape(m, 2, 3),
        whole=np.array([p.opening.area for p in passages], dtype=float),
        discharge=np.array([p.discharge for p in passages], dtype=float),
        share=np.ones(m) if shares is None else np.array(shares, dtype=float),
        first=np.concatenate([[0], np.cumsum(count)]).astype(np.int64),
        corners=_joined([p.opening.corners for p in passages], (0, 3, 3)),
        areas=_joined([p.opening.areas for p in passages], (0,)),
        traits=np.array([p.opening.traits for p in passages], dtype=float).reshape(m, 4),
    )


def _box(corners: Floats) -> Floats:
    """(3, 3) middle and two arms of the smallest box round flat triangles, along one's edge."""
    points = corners.reshape(-1, 3)
    edges = (corners - np.roll(corners, 1, axis=1)).reshape(-1, 3)
    normal = np.linalg.svd(points - points.mean(axis=0))[2][2]
    best, least = np.zeros((3, 3)), np.inf
    for edge in edges[np.linalg.norm(edges, axis=1) > 0.0]:
        first = edge / np.linalg.norm(edge)
        axes = np.stack([first, np.cross(normal, first)])
        along = points @ axes.T
        low, high = along.min(axis=0), along.max(axis=0)
        size = float(np.linalg.norm(high - low))
        if size < least:
            across = points.mean(axis=0) @ normal * normal
            middle = 0.5 * (low + high) @ axes + across
            best, least = np.vstack([middle, 0.5 * (high - low)[:, None] * axes]), size
    return best


def _joined(parts: list[Floats], empty: tuple[int, ...]) -> Floats:
    return np.ascontiguousarray(np.concatenate([np.zeros(empty), *parts]))


def hatches_of(doors: Sequence[Door], passages: Sequence[Passage]) -> Hatches:
    """Moving doors as the kernels take them; each has the pools of the passage it is over.

    Parameters
    ----------
    doors : sequence of Door [SI]
        Any number.
    passages : sequence of Passage [m]
        Of which one has each door.

    Returns
    -------
    hatches : Hatches [SI]

    Raises
    ------
    RangeError
        If a door has no passage.
    """
    over = {p.door: p for p in passages if p.door >= 0}
    if set(over) != set(range(len(doors))):
        raise RangeError(f"{len(doors)} doors need a passage each, {len(over)} have one")
    mine = [over[k] for k in range(len(doors))]
    return Hatches(
        rows=np.array([door.row for door in doors], dtype=float).reshape(-1, 21),
        behind=np.array([p.behind for p in mine], dtype=np.int64),
        ahead=np.array([p.ahead for p in mine], dtype=np.int64),
        spot=np.array([p.spot for p in mine], dtype=float).reshape(-1, 3),
    )


def mouth_of(rim: Rim | None, pool: int | None, solid_angle: float) -> Mouth:
    """The pickup as the kernels take it.

    Parameters
    ----------
    rim : Rim or None [m]
        None: no pickup.
    pool : int or None [-]
        That it draws from.
    solid_angle : float [sr]
        Directions that oil comes from, as in drawdown.py.

    Returns
    -------
    mouth : Mouth [SI]
    """
    if rim is None or pool is None:
        return Mouth(-1, np.zeros((1, 3)), np.array([0.0, 0.0, -1.0]), 0.0, 0.0)
    corners = np.ascontiguousarray(rim.corners, dtype=float)
    axis = np.ascontiguousarray(rim.axis, dtype=float)
    return Mouth(pool, corners, axis, float(rim.radius), drawdown_coefficient(solid_angle))
