# SPDX-License-Identifier: Apache-2.0
"""Tabs on the edge of a flat sheet, developed: the flange laid out flat, a slit on either side.

A tab's outer face comes to where the edge of the flat sheet is, so the bend starts one setback
short of it. Slits keep the sheet beside a tab from tearing: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.profile import Profile, circle_profile
from sumpwright.metal.bend import setback
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern, Polygon, frame_polygon
from sumpwright.metal.flat_pattern_arc import profile_of
from sumpwright.metal.flat_pattern_edge import STRAIGHT, Edge, Side, straight_edge

Floats = NDArray[np.float64]

PAST = 5e-4
"""m; how far a slit goes past the start of the bend; common practice, no source."""
_WELL_OUT = 10e-3
_LAP = 1e-9
"""m^2; pieces of flat that share less touch."""


@dataclass(frozen=True)
class TabSpec:
    """A tab as asked for. SI."""

    name: str
    edge: Side
    at: float
    width: float
    flange: float
    up: bool
    angle: float
    radius: float
    k: float
    k_from: str
    relief: float
    hole: float = 0.0
    """Diameter"""
    holes: int = 0


@dataclass(frozen=True, eq=False)
class SeatedTab:
    """A tab where it sits."""

    spec: TabSpec
    middle: Floats
    """(2,) [m] on the edge"""
    edge: Edge

    @property
    def back(self) -> float:
        """From the edge to where the bend starts [m]."""
        return setback(self.spec.angle, self.spec.radius, self.thickness)

    thickness: float = 0.0

    @property
    def bend(self) -> FlatBend:
        """Its bend, in the flat."""
        s = self.spec
        start = self.middle - self.back * self.edge.out
        half = 0.5 * s.width * self.edge.along
        line = np.array([start - half, start + half])
        how = (s.angle, s.radius, s.up, s.k, s.k_from, self.thickness)
        return FlatBend(s.name, line, *how)

    @property
    def reach(self) -> float:
        """Of the flat past the start of the bend [m]."""
        return self.bend.allowance + self.spec.flange - self.back

    def strip(self) -> Polygon:
        """The tab in the flat."""
        line = self.bend.line
        return frame_polygon(line[0], line[1] - line[0], self.reach * self.edge.out)

    def slits(self) -> list[Polygon]:
        """What is taken out of the sheet on either side, round at the bottom."""
        from shapely import LineString

        found = []
        radius = 0.5 * self.spec.relief
        for sign in (-1.0, 1.0):
            line = self.middle + sign * (0.5 * self.spec.width + radius) * self.edge.along
            foot = line - (self.back + PAST - radius) * self.edge.out
            path = LineString([foot, line + _WELL_OUT * self.edge.out])
            found.append(path.buffer(radius, quad_segs=12, cap_style="round"))
        return found

    def under(self) -> Polygon:
        """What the bend and flange take the place of."""
        line = self.bend.line
        return frame_polygon(line[0], line[1] - line[0], (self.back + PAST) * self.edge.out)

    def holes(self) -> list[Profile]:
        """Along the middle of what is flat of the flange."""
        s = self.spec
        past = self.bend.allowance
        middle = self.bend.line.mean(axis=0) + 0.5 * (past + self.reach) * self.edge.out
        steps = (np.arange(s.holes) + 0.5) / max(s.holes, 1) - 0.5
        return [
            circle_profile(middle + step * s.width * self.edge.along, 0.5 * s.hole).reversed()
            for step in steps
        ]


def seated(region: Polygon, spec: TabSpec, thickness: float) -> SeatedTab:
    """A tab on its edge.

    Parameters
    ----------
    region : Polygon [m]
        The flat sheet, along and up.
    spec : TabSpec [m]
        What is asked for.
    thickness : float [m]
        Of the sheet.

    Returns
    -------
    tab : SeatedTab [m]

    Raises
    ------
    RangeError
        Where it reaches off the straight piece of its edge, or its flange is all bend.
    """
    edge = straight_edge(region, spec.edge, spec.at)
    axis = 0 if spec.edge in ("top", "bottom") else 1
    if abs(edge.along[axis]) < 0.05:
        raise RangeError(f"the edge at {1e3 * spec.at:.4g} mm runs square to the {spec.edge}")
    middle = edge.start + (spec.at - edge.start[axis]) / edge.along[axis] * edge.along
    reach = [(end - middle) @ edge.along for end in (edge.start, edge.end)]
    half = 0.5 * spec.width
    if reach[0] > -half + STRAIGHT or reach[1] < half - STRAIGHT:
        low, high = sorted((edge.start[axis], edge.end[axis]))
        raise RangeError(
            f"the edge is straight from {1e3 * low:.4g} to {1e3 * high:.4g} mm there; the tab "
            f"reaches from {1e3 * (spec.at - half):.4g} to {1e3 * (spec.at + half):.4g} mm"
        )
    tab = SeatedTab(spec, middle, edge, thickness)
    if spec.flange <= tab.back + STRAIGHT:
        raise RangeError(
            f"a flange of {1e3 * spec.flange:.4g} mm is all bend: a radius of "
            f"{1e3 * spec.radius:.4g} mm takes up the first {1e3 * tab.back:.4g} mm"
        )
    return tab


def developed(
    region: Polygon,
    tabs: Sequence[SeatedTab],
    thickness: float,
    marks: Sequence[tuple[str, Floats]] = (),
) -> FlatPattern:
    """A flat sheet with its tabs laid out.

    Parameters
    ----------
    region : Polygon [m]
        The sheet without tabs, with its holes.
    tabs : sequence of SeatedTab [m]
        On its edge.
    thickness : float [m]
        Of the sheet.
    marks : sequence of (str, (2, 2)) [m]
        Lines to scribe.

    Returns
    -------
    pattern : FlatPattern [m]
        In the sheet's own coordinates.
    """
    from shapely import orient_polygons, union_all

    web = region
    for tab in tabs:
        web = web.difference(tab.under()).difference(union_all(tab.slits()))
    web = max(getattr(web, "geoms", [web]), key=lambda part: part.area)
    strips = [tab.strip() for tab in tabs]
    overlaps = _overlaps(web, strips)
    whole = union_all([web, *(_tied(tab, s) for tab, s in zip(tabs, strips, strict=True))])
    whole = orient_polygons(max(getattr(whole, "geoms", [whole]), key=lambda part: part.area))
    holes = [profile_of(np.asarray(ring.coords)[:-1]) for ring in whole.interiors]
    return FlatPattern(
        outline=profile_of(np.asarray(whole.exterior.coords)[:-1]),
        holes=(*holes, *(hole for tab in tabs for hole in tab.holes())),
        thickness=thickness,
        bends=tuple(tab.bend for tab in tabs),
        marks=tuple(marks),
        overlaps=overlaps,
    )


def _tied(tab: SeatedTab, strip: Polygon) -> Polygon:
    """The strip, a hair into the sheet: parts that only touch do not grow together."""
    line = tab.bend.line
    return strip.union(frame_polygon(line[0], line[1] - line[0], -1e-7 * tab.edge.out))


def _overlaps(web: Polygon, strips: list[Polygon]) -> tuple[tuple[float, float], ...]:
    found = []
    for k, strip in enumerate(strips):
        for other in (web, *strips[:k]):
            both = strip.intersection(other)
            if both.area > _LAP:
                found.append((float(both.centroid.x), float(both.centroid.y)))
    return tuple(found)
