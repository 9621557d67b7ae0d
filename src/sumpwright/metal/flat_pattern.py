# SPDX-License-Identifier: Apache-2.0
"""A sheet part before it is bent: what is cut out of the flat, and where it is bent.

Seen from the face that *up* bends rise toward. Every bend uses a strip of the flat as long as its
allowance and as wide as its line; what lies past the strip turns with it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.profile import CHORD, Profile
from sumpwright.metal.bend import allowance

Floats = NDArray[np.float64]
Polygon = Any
"""shapely's, in metres."""

FINE = 2e-6
"""m; distance of a side from its arc where patterns are folded and nested."""


@dataclass(frozen=True, eq=False)
class FlatBend:
    """One bend: where it starts, and how it turns."""

    name: str
    line: Floats
    """(2, 2) [m] where the bend starts; what turns lies on its left"""
    angle: float
    """rad"""
    radius: float
    """m, inside"""
    up: bool
    k: float
    k_from: str
    """Who says so: ``DIN 6935``, ``table`` or ``test strip``"""
    thickness: float
    """m"""
    rolled: bool = False
    """Round a pin, by hand or in a roll; no press brake holds it"""

    def __post_init__(self) -> None:
        line = np.array(self.line, dtype=float).reshape(2, 2)
        line.setflags(write=False)
        object.__setattr__(self, "line", line)

    @cached_property
    def length(self) -> float:
        """Along the bend [m]."""
        return float(np.linalg.norm(self.line[1] - self.line[0]))

    @cached_property
    def along(self) -> Floats:
        """(2,) unit vector."""
        return np.asarray((self.line[1] - self.line[0]) / self.length)

    @cached_property
    def out(self) -> Floats:
        """(2,) unit vector square to the line, to what turns."""
        d = self.along
        return np.array([-d[1], d[0]])

    @cached_property
    def allowance(self) -> float:
        """Of flat sheet that the bend uses [m]."""
        return allowance(self.angle, self.radius, self.thickness, self.k)

    @property
    def middle(self) -> Floats:
        """(2, 2) [m] the line that is drawn, scribed and set to the press's blade."""
        return np.asarray(self.line + 0.5 * self.allowance * self.out)

    @property
    def strip(self) -> Floats:
        """(4, 2) [m] corners of what the bend uses."""
        far = self.line + self.allowance * self.out
        return np.array([self.line[0], self.line[1], far[1], far[0]])


@dataclass(frozen=True, eq=False)
class FlatPattern:
    """What is cut, scribed and bent."""

    outline: Profile
    holes: tuple[Profile, ...]
    thickness: float
    """m"""
    bends: tuple[FlatBend, ...] = ()
    marks: tuple[tuple[str, Floats], ...] = ()
    """What to scribe: its name and (2, 2) [m] both ends"""
    overlaps: tuple[tuple[float, float], ...] = field(default=())
    """Where the flat would have to lie on itself [m]"""

    @cached_property
    def area(self) -> float:
        """Of one face [m^2]."""
        return self.outline.area + sum(hole.area for hole in self.holes)

    @property
    def cut_length(self) -> float:
        """All that the cutter runs [m]."""
        return self.outline.length + sum(hole.length for hole in self.holes)

    @cached_property
    def polygon(self) -> Polygon:
        """Within a fifth of what a folded part must return to of the outline."""
        return polygon_of(self.outline, self.holes, FINE)

    @property
    def size(self) -> Floats:
        """(2,) [m] of the flat as drawn."""
        points = self.outline.polygon()
        return np.asarray(points.max(axis=0) - points.min(axis=0))


def polygon_of(outline: Profile, holes: Sequence[Profile], chord: float = CHORD) -> Polygon:
    """An outline with holes as a polygon.

    Parameters
    ----------
    outline : Profile [m]
        All round.
    holes : sequence of Profile [m]
        Inside it.
    chord : float [m]
        How far a side may lie from its arc.

    Returns
    -------
    polygon : Polygon [m]
    """
    from shapely import Polygon as Ring

    return Ring(outline.polygon(chord), [hole.polygon(chord) for hole in holes])


def frame_polygon(corner: ArrayLike, x: ArrayLike, y: ArrayLike) -> Polygon:
    """A parallelogram from a corner and its two sides.

    Parameters
    ----------
    corner : (2,) [m]
        Any of them.
    x : (2,) [m]
        One side.
    y : (2,) [m]
        The other.

    Returns
    -------
    polygon : Polygon [m]
    """
    from shapely import Polygon as Ring

    at, a, b = (np.asarray(v, dtype=float) for v in (corner, x, y))
    return Ring([at, at + a, at + a + b, at + b])


def turned(angle: float) -> Floats:
    """(2, 2) that turns counter-clockwise.

    Parameters
    ----------
    angle : float [rad]
        Any.

    Returns
    -------
    rotation : (2, 2) [-]
    """
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s], [s, c]])
