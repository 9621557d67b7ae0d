# SPDX-License-Identifier: Apache-2.0
"""A second way to everything that fill and hold answer, sharing no formula with the studies.

The pan is turned into the car and stays there; the surface moves. Volumes are manifold3d's plane
trim, levels and limits scipy's bracketing root finder, rims and sweeps clouds of points. Rotations
are written out from ISO 8855: yaw about z, then pitch about the new y, then roll about the new x,
each by the right-hand rule (from memory of the standard; tests/geometry/test_frame.py). Lengths
are millimetres, volumes litres, so that no unit factor is shared either.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import manifold3d as m3
import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from sumpwright.geometry.mesh import Mesh
from sumpwright.job.model import Job, Pan

Floats = NDArray[np.float64]
MM, LITRE = 1e3, 1e3
ROUND = 7200  # points of a circle: 77 mm (1 - cos(pi/7200)) is 7e-6 mm short of its lowest
SOLID_ANGLE = {"floor": 2.0, "free": 4.0, "corner": 1.0}  # times pi


def turned(p: Floats, roll: float, pitch: float, yaw: float) -> Floats:
    """Engine coordinates (n, 3) in car axes."""
    x, y, z = np.asarray(p, float).T
    y, z = y * np.cos(roll) - z * np.sin(roll), y * np.sin(roll) + z * np.cos(roll)
    x, z = x * np.cos(pitch) + z * np.sin(pitch), -x * np.sin(pitch) + z * np.cos(pitch)
    x, y = x * np.cos(yaw) - y * np.sin(yaw), x * np.sin(yaw) + y * np.cos(yaw)
    return np.column_stack([x, y, z])


def up_on_slope(side: float, steep: float) -> Floats:
    """Up in car axes with the side at angle `side` from +x toward +y raised by `steep`."""
    # the car is turned about the level line square to that side; Rodrigues' formula for z
    axis = np.array([np.sin(side), -np.cos(side), 0.0])
    z = np.array([0.0, 0.0, 1.0])
    return np.cos(steep) * z - np.sin(steep) * np.cross(axis, z)


def up_in_turn(direction: float, size: float) -> Floats:
    """Up in car axes while the car is accelerated: what hangs on a thread points the other way."""
    push = np.array([size * np.cos(direction), size * np.sin(direction), 1.0])
    return push / np.sqrt(size**2 + 1.0)


def solid_of(mesh: Mesh) -> m3.Manifold:
    body = m3.Manifold(m3.Mesh64(mesh.vertices * MM, mesh.faces.astype(np.uint64)))
    assert body.status() == m3.Error.NoError, body.status()
    return body


def with_crankcase(solid: m3.Manifold, height: float) -> m3.Manifold:
    """The solid and a straight shaft over its opening, overlapping it by a hair."""
    if height == 0.0:
        return solid
    *_, top = solid.bounding_box()
    hair = 1e-4
    shaft = m3.Manifold.extrude(solid.slice(top - hair), height + hair)
    return solid + shaft.translate((0.0, 0.0, top - hair))


@dataclass(frozen=True, eq=False)
class Outside:
    """One pan of a job with its oil, to be asked."""

    job: Job
    pan: Pan
    cavity: Mesh
    full: float
    """Cold [L]."""
    low: float | None = None

    def placed(self, points: Any) -> Floats:
        """Engine points [m] in the car, about the engine's origin [mm]."""
        p = self.job.pose
        return turned(np.reshape(points, (-1, 3)) * MM, p.roll, p.pitch, p.yaw)

    @cached_property
    def space(self) -> m3.Manifold:
        whole = with_crankcase(solid_of(self.cavity), self.job.engine.crankcase_height * MM)
        return self.moved(whole)

    def moved(self, solid: m3.Manifold) -> m3.Manifold:
        p = self.job.pose
        matrix = turned(np.eye(3), p.roll, p.pitch, p.yaw).T
        return solid.transform(np.column_stack([matrix, np.zeros(3)]))

    @cached_property
    def expansion(self) -> float:
        """[API-MPMS-11.1] lubricating oils, written out: 0.34878 x 1.8 per degC."""
        rho = self.job.oil.density_15 or 870.0

        def thin(kelvin: float) -> float:
            step = 0.34878 * 1.8 / rho * (kelvin - 288.15)
            return float(np.exp(-step * (1.0 + 0.8 * step)))

        return thin(self.job.oil.cold) / thin(self.job.oil.hot)

    def running(self, cold: float) -> float:
        return cold * self.expansion - self._at_speed("retained", "oil") * LITRE

    def _at_speed(self, curve: str, value: str) -> float:
        points = getattr(self.job.engine, curve) or ()
        if not points:
            return 0.0
        speed = self.job.engine.rpm or points[-1].rpm
        return float(np.interp(speed, [p.rpm for p in points], [getattr(p, value) for p in points]))

    def below(self, up: Floats, height: float) -> float:
        return float(self.space.trim_by_plane((-up).tolist(), -height).volume()) / 1e6

    def level(self, up: Floats, litres: float) -> float:
        """Height along up over the engine's origin [mm]."""
        along = self.corners @ up
        low, high = along.min() + 1e-6, along.max() - 1e-6
        return float(brentq(lambda h: self.below(up, h) - litres, low, high, xtol=1e-8))

    @cached_property
    def corners(self) -> Floats:
        return np.asarray(self.space.to_mesh64().vert_properties)[:, :3]

    @cached_property
    def rim(self) -> Floats:
        pickup = self.pan.pickup
        assert pickup is not None
        if pickup.rim is not None:
            return self.placed(pickup.rim)
        assert pickup.centre is not None
        assert pickup.diameter is not None
        return self.placed(_circle(pickup.centre, pickup.facing, pickup.diameter / 2))

    @cached_property
    def sweep(self) -> Floats:
        s = self.job.engine.crank_sweep
        assert s is not None
        ends = [(s.front, s.side, s.height), (s.rear, s.side, s.height)]
        return self.placed(np.vstack([_circle(e, (1, 0, 0), s.radius) for e in ends]))

    @cached_property
    def rail(self) -> Floats:
        top = self.cavity.vertices[:, 2].max()
        return self.placed(self.cavity.vertices[self.cavity.vertices[:, 2] > top - 1e-6])

    def drawdown(self, size: float) -> float:
        """H = 1.25 (2/omega^2)^(1/5) (Q^2/g)^(1/5), [Lubin-Springer-1967] as derived [mm]."""
        assert self.pan.pickup is not None
        omega = SOLID_ANGLE[self.pan.pickup.place] * np.pi
        flow = self._at_speed("flow", "flow")
        return float(1.25 * (2.0 * flow**2 / (omega**2 * 9.80665 * size)) ** 0.2 * MM)

    def cover(self, up: Floats, size: float, litres: float) -> float:
        return self.level(up, litres) - float((self.rim @ up).max()) - self.drawdown(size)

    def turn_cover(self, direction: float, size: float, litres: float) -> float:
        g = float(np.sqrt(1.0 + size**2))
        return self.cover(up_in_turn(direction, size), g, litres)

    def spare(self, up: Floats, size: float, litres: float) -> float:
        """Oil beyond what the plane at the draw-down over the rim has below it: cover's sign."""
        return litres - self.below(up, float((self.rim @ up).max()) + self.drawdown(size))

    def turn_limit(self, direction: float, litres: float) -> float:
        """First size [g] at which cover is lost; 1.6 if none. Steps are not the study's."""

        def spare(a: float) -> float:
            return self.spare(up_in_turn(direction, a), float(np.sqrt(1.0 + a**2)), litres)

        return _first_root(spare, 1.6, 0.04)

    def slope_limit(self, side: float, litres: float) -> float:
        """Steepest ground [deg]; 60 if never lost."""

        def spare(steep: float) -> float:
            return self.spare(up_on_slope(side, np.radians(steep)), 1.0, litres)

        return _first_root(spare, 60.0, 1.7)


def _circle(centre: Any, axis: Any, radius: float | None) -> Floats:
    """(ROUND, 3) points of a circle; two directions square to the axis by cross products."""
    a = np.asarray(axis, float) / np.linalg.norm(axis)
    first = np.cross(a, [0.3, 0.5, 0.8])
    first /= np.linalg.norm(first)
    turn = np.linspace(0.0, 2.0 * np.pi, ROUND, endpoint=False)[:, None]
    second = np.cross(a, first)
    return np.asarray(centre) + (radius or 0.0) * (np.cos(turn) * first + np.sin(turn) * second)


def _first_root(function: Any, end: float, step: float) -> float:
    last = 0.0
    if function(0.0) < 0.0:
        return 0.0
    while last < end:
        after = min(last + step, end)
        if function(after) < 0.0:
            return float(brentq(function, last, after, xtol=1e-9))
        last = after
    return end
