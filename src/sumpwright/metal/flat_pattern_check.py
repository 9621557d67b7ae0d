# SPDX-License-Identifier: Apache-2.0
"""What a press brake cannot do with a flat pattern, or does badly: each with its place."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.metal.bend_table import least_radius
from sumpwright.metal.flat_pattern import FlatBend, FlatPattern

Floats = NDArray[np.float64]
Kind = Literal["radius", "unknown radius", "near", "short", "grain", "thin"]

HELD = 4.0
"""Thicknesses; a shorter flange slips off the die. Common practice, no source."""
CLEAR = 2.0
"""Thicknesses beside the radius that a hole keeps off a bend. Common practice, no source."""
_ACROSS = 0.5
"""Cosine between a bend and the rolling direction over which the bend runs along it."""
_SLACK = 1e-7
"""m; of a comparison."""


@dataclass(frozen=True, eq=False)
class Doubt:
    """One thing to mind about a bend."""

    kind: Kind
    bend: str
    place: tuple[float, float]
    """In the flat [m]"""
    found: float
    """m"""
    needed: float
    """m"""


def doubts(
    pattern: FlatPattern, metal: str, flanges: dict[str, float], grain: Floats | None = None
) -> tuple[Doubt, ...]:
    """What to mind about the bends of a pattern.

    Parameters
    ----------
    pattern : FlatPattern [m]
        As it is cut.
    metal : str [-]
        What it is made of, as in material.csv.
    flanges : dict of float [m]
        Outside length of each bend's flange, by the bend's name.
    grain : (2,) or None [-]
        Rolling direction in the flat; None where it may be any.

    Returns
    -------
    doubts : tuple of Doubt [m]

    Source
    ------
    [common-practice] but for the least radius, which is `least_radius`'s.
    """
    of_bends = (
        doubt for bend in pattern.bends for doubt in _doubts(pattern, bend, metal, flanges, grain)
    )
    return (*of_bends, *_thin(pattern))


def _doubts(
    pattern: FlatPattern,
    bend: FlatBend,
    metal: str,
    flanges: dict[str, float],
    grain: Floats | None,
) -> Iterator[Doubt]:
    x, y = bend.middle.mean(axis=0).tolist()
    least = least_radius(metal, pattern.thickness)
    if least is None:
        yield Doubt("unknown radius", bend.name, (x, y), bend.radius, 0.0)
    elif bend.radius < least - _SLACK:
        yield Doubt("radius", bend.name, (x, y), bend.radius, least)
    if grain is not None and abs(float(grain @ bend.along)) > _ACROSS:
        yield Doubt("grain", bend.name, (x, y), bend.radius, 0.0)
    if bend.rolled:
        return
    flange = flanges.get(bend.name)
    if flange is not None and flange < HELD * pattern.thickness - _SLACK:
        yield Doubt("short", bend.name, (x, y), flange, HELD * pattern.thickness)
    yield from _near(pattern, bend)


def _thin(pattern: FlatPattern) -> Iterator[Doubt]:
    """Holes with less metal than the sheet is thick to the edge or to one another."""
    from shapely import LinearRing, Polygon

    edge = LinearRing(pattern.outline.polygon())
    rings = [Polygon(hole.polygon()) for hole in pattern.holes]
    for k, ring in enumerate(rings):
        left = min(float(ring.distance(other)) for other in (edge, *rings[:k]))
        if left < pattern.thickness - _SLACK:
            at = ring.centroid
            yield Doubt("thin", "hole", (float(at.x), float(at.y)), left, pattern.thickness)


def _near(pattern: FlatPattern, bend: FlatBend) -> Iterator[Doubt]:
    """Holes too near to where the sheet is bent; one that lies in the bend is nearer than near."""
    from shapely import Polygon

    strip = Polygon(bend.strip)
    needed = CLEAR * pattern.thickness + bend.radius
    for hole in pattern.holes:
        ring = Polygon(hole.polygon())
        apart = float(strip.distance(ring))
        if apart < needed - _SLACK:
            at = ring.centroid
            yield Doubt("near", bend.name, (float(at.x), float(at.y)), apart, needed)
