# SPDX-License-Identifier: Apache-2.0
"""One part of a pan's inside: an outline, sides that may lean, a floor that may slope, and over a
kick-out a roof. The wall round it comes from the same numbers moved out.
"""

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.outline_side import crossing, moved_sides
from sumpwright.geometry.profile import Profile, corner_turns
from sumpwright.geometry.profile_round import rounded_corners

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Slope:
    """A floor or roof: its height over the rail at x = y = 0, its rise ahead and to the left."""

    height: float
    ahead: float = 0.0
    left: float = 0.0

    @property
    def steep(self) -> float:
        """Length of the plane's normal that rises by 1."""
        return math.sqrt(1.0 + self.ahead**2 + self.left**2)

    def at(self, points: Floats) -> Floats:
        """(n,) heights [m] over (n, 2) points of the plan [m]."""
        return np.asarray(self.height + points @ np.array([self.ahead, self.left]))

    def raised(self, distance: float) -> "Slope":
        """The plane moved up, square to itself."""
        return replace(self, height=self.height + distance * self.steep)


@dataclass(frozen=True)
class Flaw:
    """What is wrong with a zone's numbers."""

    kind: str
    """``crossing``, ``floor``, ``radius`` or ``lean``"""
    found: str
    needed: str
    do: str


@dataclass(frozen=True, eq=False)
class ZoneForm:
    """A zone in numbers. Engine frame, SI."""

    name: str
    outline: Profile
    """Sharp corners, counter-clockwise, at the height `level`"""
    level: float
    leans: Floats
    """(n,) [rad] by which each side leans in below its outline, from each corner to the next"""
    radii: Floats
    """(n,) [m] of the upright corners"""
    floor: Slope
    roof: Slope | None
    """None where it is open to the rail"""
    floor_radius: float
    """Along the floor, and along a roof"""

    @property
    def straight(self) -> bool:
        """Whether no side is an arc."""
        return not self.outline.bulges.any()

    def plan(self, height: float) -> Profile:
        """The outline at a height over the rail [m]; RangeError where the lean has used it up."""
        return moved_sides(self.outline, (height - self.level) * np.tan(self.leans))

    @cached_property
    def span(self) -> tuple[float, float]:
        """Lowest point of the floor and highest of the roof or rail, over the outline [m]."""
        points = self.outline.polygon()
        top = 0.0 if self.roof is None else float(self.roof.at(points).max())
        return float(self.floor.at(points).min()), top

    def grown(self, wall: float, floor: float) -> "ZoneForm":
        """The zone with a wall round it and a floor of its own thickness under it.

        Concentric roundings keep the wall even round convex corners; a re-entrant one loses it.
        """
        reentrant = np.sign(corner_turns(self.outline))
        radii = np.maximum(self.radii + np.where(reentrant < 0.0, -wall, wall), 0.0)
        return replace(
            self,
            outline=moved_sides(self.outline, wall / np.cos(self.leans)),
            radii=radii,
            floor=self.floor.raised(-floor),
            roof=None if self.roof is None else self.roof.raised(wall),
            floor_radius=self.floor_radius + min(wall, floor),
        )

    def flaw(self) -> Flaw | None:
        """What is wrong with the numbers; None where nothing is."""
        return self._crossing() or self._heights() or self._sides()

    def _crossing(self) -> Flaw | None:
        place = crossing(self.outline)
        if place is None:
            return None
        x, y = 1e3 * place
        found = f"an outline that crosses itself at x {x:.1f} mm, y {y:.1f} mm"
        return Flaw("crossing", found, "an outline that does not", "mend the corners round there")

    def _heights(self) -> Flaw | None:
        points = self.outline.polygon()
        top = np.zeros(len(points)) if self.roof is None else self.roof.at(points)
        tall = top - self.floor.at(points)
        k = int(tall.argmin())
        x, y = 1e3 * points[k]
        here = f"at x {x:.1f} mm, y {y:.1f} mm"
        if tall[k] <= 0.0:
            what = "rail" if self.roof is None else "roof"
            found = f"a floor {-1e3 * tall[k]:.1f} mm over the {what} {here}"
            return Flaw("floor", found, f"a floor below the {what}", "mend depth, top or slope")
        needs = self.floor_radius * (1.0 if self.roof is None else 2.0)
        if tall[k] >= needs:
            return None
        both = "" if self.roof is None else " and as much at the roof"
        found = f"a floor radius of {1e3 * self.floor_radius:.4g} mm{both}, and a height of "
        found += f"{1e3 * tall[k]:.1f} mm {here}"
        fits = f"at most {1e3 * self.floor_radius * tall[k] / needs:.1f} mm there"
        return Flaw("radius", found, fits, "make `floor_radius` smaller, or the zone higher")

    def _sides(self) -> Flaw | None:
        for height in self.span[::-1]:
            below = f"{abs(1e3 * height):.1f} mm below the rail"
            do = "lean them less, or make the zone larger or less deep"
            needed = "a floor that is reached before its sides meet"
            try:
                plan = self.plan(height)
            except RangeError as err:
                return Flaw("lean", f"sides that lean in until {err}, {below}", needed, do)
            if crossing(plan) is not None or plan.area <= 0.0:
                return Flaw("lean", f"sides that lean in until they meet, {below}", needed, do)
            try:
                rounded_corners(plan, self.radii)
            except RangeError as err:
                fits = "corner radii that its sides have room for"
                return Flaw("radius", f"{err}, {below}", fits, "make `radius` smaller")
        return None
