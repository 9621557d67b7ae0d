# SPDX-License-Identifier: Apache-2.0
"""A network's right-hand side once more, in plain Python from its docstring's theory.

Public, uncompiled functions and exact levels; a box's first swing from the section of its surface,
cut and measured here. Doors are caught by seat and stop between short runs of a general solver.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.level import LevelBody, level_body, levels_of
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.rim import Rim
from sumpwright.oil.door import Door, open_area
from sumpwright.oil.door_motion import door_acceleration, on_stops
from sumpwright.oil.drawdown import FLOOR
from sumpwright.oil.mouth import air_fraction
from sumpwright.oil.network_array import Fluid
from sumpwright.oil.opening import opening_flow
from sumpwright.oil.passage import Passage

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Plain:
    """All that a network is made of, untabulated; the pools are boxes."""

    pools: Sequence[Mesh]
    passages: Sequence[Passage]
    doors: Sequence[Door]
    fluid: Fluid
    rim: Rim
    pickup: int
    shares: Floats
    force: Callable[[float], Floats]
    flow: float
    rate: float

    def bodies(self) -> list[LevelBody]:
        return [level_body(pool) for pool in self.pools]


def axes(up: Floats) -> tuple[Floats, Floats]:
    """The frame's x laid into the plane square to `up`, and square to that."""
    along = np.array([1.0, 0.0, 0.0]) - up[0] * up
    along /= np.linalg.norm(along)
    return along, np.cross(up, along)


def section(pool: Mesh, up: Floats, height: float) -> Floats:
    """Corners of a plane's section of a box, in the plane's axes about its middle, in order."""
    corner = np.array(np.meshgrid(*pool.bounds.T, indexing="ij")).reshape(3, 8).T
    found = []
    for i in range(8):
        for bit in (1, 2, 4):
            a, b = corner[i] @ up - height, corner[i ^ bit] @ up - height
            if not i & bit and (a < 0.0) != (b < 0.0):
                found.append(corner[i] + a / (a - b) * (corner[i ^ bit] - corner[i]))
    flat = np.array(found) @ np.stack(axes(up)).T
    flat -= flat.mean(axis=0)
    return np.asarray(flat[np.argsort(np.arctan2(flat[:, 1], flat[:, 0]))])


def swings(pool: Mesh, up: Floats, height: float, volume: float, nu: float, g: float) -> Floats:
    """(2, 2) stiffness and damping along both axes of the box of the same area and moments."""
    x, y = section(pool, up, height).T
    nx, ny = np.roll(x, -1), np.roll(y, -1)
    cross = x * ny - nx * y
    area = cross.sum() / 2
    rows = []
    for a, b in ((x, nx), (y, ny)):
        mean = ((a + b) * cross).sum() / (6 * area)
        second = ((a * a + a * b + b * b) * cross).sum() / 12 - area * mean**2
        long = math.sqrt(12 * second / area)
        broad, deep, k = area / long, volume / area, math.pi / long
        omega = math.sqrt(g * k * math.tanh(k * deep))
        floor = k * (1 - 2 * deep / long) / math.sinh(2 * k * deep)
        wall = 2 * omega * math.sqrt(nu / (2 * omega)) * (1 / broad + 1 / long + floor)
        creep = 3 * nu / deep**2 + 12 * nu / broad**2
        rows.append([omega**2, max(wall, creep) + 4 * nu * k**2])
    return np.array(rows)


def door_turns(
    door: Door, angle: float, speed: float, heads: Floats, f: Floats, oil: Fluid
) -> float:
    """Acceleration of a door that bears what the curtain round it takes of the heads."""
    up = f / np.linalg.norm(f)
    share = float(open_area(door, angle)) / (door.width * door.length)
    along = np.cross(door.reach, door.swing)
    ends = [
        (door.hinge + r * door.reach + w * along) @ up
        for r in (0.0, door.length)
        for w in (-door.width / 2, door.width / 2)
    ]
    under = max(heads.min(), min(ends))
    high, low = (under + (1 - share**2) * (h - under) if h > under else h for h in heads)
    return door_acceleration(
        door,
        angle,
        speed,
        head_1=high,
        head_2=low,
        gravity=-f,
        density=oil.density,
        viscosity=oil.viscosity,
    )


def rates(plain: Plain, bodies: Sequence[LevelBody], t: float, y: Floats) -> Floats:
    """Rate of change of the state, laid out as network_array.py says."""
    n, d = len(bodies), len(plain.doors)
    first = n + 2 + 2 * d
    f = plain.force(t)
    g = float(np.linalg.norm(f))
    up, out = f / g, np.zeros_like(y)
    lean = y[first : first + 3 * n].reshape(n, 3)
    turn = y[first + 3 * n :].reshape(n, 3)
    normal = lean / np.linalg.norm(lean, axis=1, keepdims=True)
    height = [
        float(levels_of(b, v, q).height[0]) for b, v, q in zip(bodies, normal, y, strict=False)
    ]

    def head(pool: int, spot: Floats) -> float:
        """Height along up of the point of the surface that lies straight over a spot."""
        over = (height[pool] - normal[pool] @ spot) / (normal[pool] @ up)
        return float(up @ (spot + over * up))

    for p in plain.passages:
        heads = np.array([head(p.behind, p.spot), head(p.ahead, p.spot)])
        share = 1.0
        if p.door >= 0:
            door = plain.doors[p.door]
            angle, speed = min(max(y[n + 1 + p.door], 0.0), door.stop), y[n + 1 + d + p.door]
            share = float(open_area(door, angle)) / (door.width * door.length)
            out[n + 1 + p.door] = speed
            out[n + 1 + d + p.door] = door_turns(door, angle, speed, heads, f, plain.fluid)
        passed = opening_flow(
            p.opening,
            head_1=heads[0],
            head_2=heads[1],
            gravity=-f,
            viscosity=plain.fluid.viscosity,
            discharge=p.discharge,
            share=share,
        ).flow
        out[p.behind] -= passed
        out[p.ahead] += passed
    _engine(plain, height, normal, up, g, y, out)
    for i in range(n):
        rows = swings(plain.pools[i], normal[i], height[i], y[i], plain.fluid.viscosity, g)
        quick = rows[:, 0].max()
        rows = np.vstack([rows, [quick, 2 * math.sqrt(quick)]])  # along up it follows at once
        pull = np.zeros(3)
        for axis, (stiff, damp) in zip((*axes(up), up), rows, strict=True):
            pull -= axis * (stiff * (axis @ (lean[i] - up)) + damp * (axis @ turn[i]))
        out[first + 3 * i : first + 3 * i + 3] = turn[i]
        out[first + 3 * (n + i) : first + 3 * (n + i) + 3] = pull
    return out


def _engine(
    plain: Plain, height: list[float], normal: Floats, up: Floats, g: float, y: Floats, out: Floats
) -> None:
    """What the pump draws, and what comes home."""
    n, d, k = len(plain.pools), len(plain.doors), plain.pickup
    ring = plain.rim.points(720)
    cover = (height[k] - ring @ normal[k]) / (normal[k] @ up)
    air = air_fraction(
        cover_of_highest=float(cover.min()),
        cover_of_lowest=float(cover.max()),
        flow=plain.flow,
        gravity=g,
        solid_angle=FLOOR,
    )
    home = plain.rate * y[n]
    out[:n] += plain.shares * home
    out[n] += plain.flow * (1 - air) - home
    out[k] -= plain.flow * (1 - air)
    out[n + 1 + 2 * d] = plain.flow * air


def followed(plain: Plain, start: Floats, times: Floats, *, piece: float, rtol: float) -> Floats:
    """(k, s) states at times, by scipy in pieces between which seat and stop catch the doors."""
    from scipy.integrate import solve_ivp

    bodies, n, d = plain.bodies(), len(plain.pools), len(plain.doors)
    y, kept = start.copy(), [start.copy()]
    for a, b in pairwise(times):
        pieces = round((b - a) / piece)
        for k in range(pieces):
            span = a + (b - a) * k / pieces, a + (b - a) * (k + 1) / pieces
            found = solve_ivp(
                lambda t, z: rates(plain, bodies, t, z), span, y, rtol=rtol, atol=1e-9
            )
            y = found.y[:, -1].copy()
            for j, door in enumerate(plain.doors):
                y[n + 1 + j], y[n + 1 + d + j] = on_stops(door, y[n + 1 + j], y[n + 1 + d + j])
        kept.append(y.copy())
    return np.array(kept)
