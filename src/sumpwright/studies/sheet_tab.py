# SPDX-License-Identifier: Apache-2.0
"""Does each tab lie on what it is fixed to: the pan's wall, another sheet, a body in the pan?

The job does not say what a tab is fixed to: it is what stands behind its outer face.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import MM
from sumpwright.metal.flat_pattern_tab import SeatedTab
from sumpwright.metal.fold_seat import behind, flange_of
from sumpwright.studies.bodies import RAIL_FLATNESS, PanBodies
from sumpwright.studies.sheet_assembly import Standing
from sumpwright.units import figure, shown, unit_name

Floats = NDArray[np.float64]

LIES = 0.5
"""Thicknesses over the baffle's own gap that rivets or a weld still bridge; common practice, no
source."""
FAR = 0.02
"""m behind a tab where one looks for what it is fixed to."""
_INTO = 5e-5
"""m into the wall that sheets dressed by hand may reach."""
_SUNK = 2e-4
"""m under its face where one starts to look: faces that touch are nearest then."""
_WORTH = math.radians(0.5)
"""A wall that leans less is no reason to bend a tab otherwise."""
_HALF = 0.5
"""Of a flange that must lie on something."""


@dataclass(frozen=True, eq=False)
class Ground:
    """What tabs of one baffle may lie on."""

    wall: Floats
    """(k, 3, 3) [m] the pan's inside, closed"""
    others: tuple[tuple[str, Floats], ...]
    """Of everything else: its name, and its skin's triangles"""

    @cached_property
    def top(self) -> float:
        """Of the inside; there is no wall up there [m]."""
        return float(self.wall[..., 2].max())


def ground_of(pan: PanBodies, placed: Sequence[Standing], name: str) -> Ground:
    """What tabs of a baffle may lie on: all but itself."""
    sheets = [(f"'{s.name}'", _skin(s)) for s in placed if s.name != name and s.solids]
    bodies = [
        (n, _triangles(m)) for n, m in zip(pan.displacing_names, pan.displacing, strict=False)
    ]
    return Ground(_triangles(pan.oil_space), (*sheets, *bodies))


def tabs_lie(
    name: str, panel: Panel, tabs: Sequence[SeatedTab], ground: Ground, units: str
) -> Iterator[Finding]:
    """One sentence of each tab that goes through the pan's wall, or lies on nothing."""
    for tab in tabs:
        seat = _Seat(tab, panel, ground)
        place = f"{name}, {tab.spec.name}"
        if seat.deepest > _INTO:
            yield _through(place, seat, units)
        elif not seat.holds:
            yield _off(place, seat, units)


class _Seat:
    """A tab and what is behind it."""

    def __init__(self, tab: SeatedTab, panel: Panel, ground: Ground) -> None:
        self.tab, self.flange = tab, flange_of(tab)
        turn = np.stack([*panel.basis, panel.normal])
        self.spots = self.flange.spots @ turn + panel.point
        self.way = self.flange.way @ turn
        self.near = panel.gap + LIES * tab.thickness
        wall = _close(ground.wall, self.spots)
        ahead, leaving = behind(self.spots, self.way, wall)
        depth, back = behind(self.spots, -self.way, wall)
        sunk = np.where(np.isfinite(depth) & ~back, -depth, np.inf)
        self.wall = np.where(leaving, ahead, sunk)
        """Of each spot to the pan's wall [m]; negative: so far in it"""
        with np.errstate(invalid="ignore"):  # of infinite ways along a level one
            high = self.spots[:, 2] + self.wall * self.way[2]
        self.wall[high > ground.top - RAIL_FLATNESS] = np.inf
        self.gap, self.on = self.wall.copy(), np.full(len(self.spots), "the pan's wall", object)
        for name, skin in ground.others:
            found, _ = behind(self.spots - _SUNK * self.way, self.way, _close(skin, self.spots))
            nearer = found - _SUNK < self.gap
            self.gap[nearer], self.on[nearer] = found[nearer] - _SUNK, name

    @property
    def deepest(self) -> float:
        """Farthest into the pan's wall [m]."""
        return float(-self.wall.min())

    @property
    def holds(self) -> bool:
        """Whether half of it, and every hole of it, lies on something."""
        lies = self.gap <= self.near
        return bool(lies.mean() >= _HALF and lies[len(lies) - self.flange.holes :].all())

    def angle(self, gap: Floats) -> float | None:
        """To bend it by instead, so that it lies along what is behind it [rad]; None if as it is,
        or if that is not flat."""
        known = np.isfinite(gap) & (np.abs(gap) < FAR)
        run = self.flange.run[known]
        if known.mean() < _HALF or np.ptp(run) <= 0.0:
            return None
        slope, foot = np.polyfit(run, gap[known], 1)
        lean = math.atan(slope)
        flat = np.abs(gap[known] - slope * run - foot).max() <= self.near
        return None if abs(lean) < _WORTH or not flat else self.tab.spec.angle - lean


def _through(place: str, seat: _Seat, units: str) -> Finding:
    worst = int(seat.wall.argmin())
    deep = shown(seat.deepest, "length", units)
    found = f"it goes {deep} into the pan's wall near {_at(seat.spots[worst], units)}"
    mend = _bend_by(seat.angle(seat.wall)) or "shorten its flange or move it"
    return Finding("SHEE-529", place, found, mend, "error")


def _off(place: str, seat: _Seat, units: str) -> Finding:
    lies = seat.gap <= seat.near
    if not np.isfinite(seat.gap).any():
        far = shown(FAR, "length", units, finer=-1)
        found = f"nothing to fix it to within {far} of its outer face"
        mend = "bend it the other way, or move it to where it lies on something"
        if not seat.flange.holes:
            return Finding("SHEE-528", place, found, f"{mend}; to stiffen, leave it", "note")
        return Finding("SHEE-528", place, found, mend, "warning")
    if lies.mean() >= _HALF:
        worst = len(lies) - seat.flange.holes + int(lies[len(lies) - seat.flange.holes :].argmin())
        found = f"nothing lies behind its hole near {_at(seat.spots[worst], units)}"
        return Finding("SHEE-528", place, found, "move the tab or its holes", "warning")
    reach = seat.gap[np.isfinite(seat.gap)]
    low, high = (figure(max(float(v), 0.0), "length", units) for v in (reach.min(), reach.max()))
    on = max(dict.fromkeys(seat.on), key=list(seat.on).count)
    found = f"its outer face stands off {on} by {low} to {high} {unit_name('length', units)}"
    mend = _bend_by(seat.angle(seat.gap)) or "move it to where it lies on something"
    return Finding("SHEE-528", place, found, mend, "warning")


def _bend_by(angle: float | None) -> str:
    return "" if angle is None else f"bend it by {math.degrees(angle):.1f} deg"


def _at(spot: Floats, units: str) -> str:
    x, y, z = (shown(float(v), "length", units) for v in spot)
    return f"x {x}, y {y}, z {z}"


def _close(triangles: Floats, spots: Floats) -> Floats:
    """Those that a look from the spots can meet."""
    low, high = spots.min(axis=0) - FAR, spots.max(axis=0) + FAR
    within = (triangles.min(axis=1) <= high) & (triangles.max(axis=1) >= low)
    return np.asarray(triangles[within.all(axis=1)])


def _triangles(mesh: Mesh) -> Floats:
    return np.asarray(mesh.vertices[mesh.faces])


def _skin(standing: Standing) -> Floats:
    found = []
    for solid in standing.solids:
        raw = solid.to_mesh64()
        corners = np.asarray(raw.vert_properties)[:, :3] / MM
        found.append(corners[np.asarray(raw.tri_verts, dtype=np.int64)])
    return np.concatenate(found)
