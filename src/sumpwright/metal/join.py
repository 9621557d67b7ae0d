# SPDX-License-Identifier: Apache-2.0
"""Where two flat sheets meet, and what is cut so that they go together.

Two sheets meet on the line that their planes share. Where both go on past it they cross: each is
slit half way (half-lap). Where one ends there it is cut back to the other's face, and may send
tongues through slots in it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.panel import Panel
from sumpwright.metal.flat_pattern import Polygon

Floats = NDArray[np.float64]
Span = tuple[float, float]
Meeting = Literal["cross", "first ends", "second ends"]

REACH = 1e-3
"""m; a sheet that ends this near to another's face can still be joined to it; [common-practice]."""
SHORTEST = 4e-3
"""m; sheets that meet over less are let be; [common-practice]."""
PAST = 3e-3
"""m behind a sheet's face where one looks whether the other goes on."""
_FAR = 10.0
_PARALLEL = 1e-3


@dataclass(frozen=True, eq=False)
class Seam:
    """The line two sheets share. Where on it: m from its origin, up, or ahead where it is level."""

    first: Panel
    second: Panel
    origin: Floats
    way: Floats
    """(3,) unit vector"""
    kind: Meeting
    spans: tuple[Span, ...]
    """Where they meet"""
    stands_in: bool
    """Whether one's metal would stand in the other's as they are"""

    @property
    def length(self) -> float:
        """Over which they meet [m]."""
        return sum(b - a for a, b in self.spans)

    def line(self, panel: Panel) -> tuple[Floats, Floats, Floats]:
        """On a panel: where the seam's origin is, its way, and the way square to it that leads to
        the other's front."""
        start = panel.flat(self.origin)
        along = self.way @ panel.basis.T
        other = self.second if panel is self.first else self.first
        across = other.normal @ panel.basis.T
        return start, along, np.asarray(across / np.linalg.norm(across))

    def half(self, panel: Panel, thickness: float = 0.0) -> float:
        """From the seam to where the other's face cuts this panel's face [m]."""
        other = self.second if panel is self.first else self.first
        cos = abs(float(panel.normal @ other.normal))
        sin = max(float(np.sqrt(1.0 - cos**2)), _PARALLEL)
        return 0.5 * (other.thickness + (thickness or panel.thickness) * cos) / sin

    def strip(self, panel: Panel, span: Span, low: float, high: float) -> Polygon:
        """On a panel: a rectangle over a span of the seam, from `low` to `high` across it."""
        from shapely import Polygon as Ring

        start, along, across = self.line(panel)
        return Ring(
            [start + s * along + h * across for s, h in
             ((span[0], low), (span[1], low), (span[1], high), (span[0], high))]
        )  # fmt: skip


def seam_of(first: Panel, one: Polygon, second: Panel, other: Polygon) -> Seam | None:
    """Where two sheets meet; None where they do not.

    Parameters
    ----------
    first : Panel [m]
        Its plane.
    one : Polygon [m]
        Its metal, along and up.
    second : Panel [m]
        The other's plane.
    other : Polygon [m]
        Its metal.

    Returns
    -------
    seam : Seam or None [m]
    """
    way = np.cross(first.normal, second.normal)
    size = float(np.linalg.norm(way))
    if size < _PARALLEL:
        return None
    way = way / size
    lead = way[2] if abs(way[2]) > _PARALLEL else way[int(np.argmax(np.abs(way) > _PARALLEL))]
    way = way if lead > 0.0 else -way
    planes = np.stack([first.normal, second.normal, way])
    heights = np.array([first.normal @ first.point, second.normal @ second.point, 0.0])
    origin = np.linalg.solve(planes, heights)
    bare = Seam(first, second, origin, way, "cross", (), False)
    return _judged(bare, one, other)


def _judged(seam: Seam, one: Polygon, other: Polygon) -> Seam | None:
    past = [[spans_on(seam, p, r, side * (seam.half(p) + PAST)) for side in (-1, 1)]
            for p, r in ((seam.first, one), (seam.second, other))]  # fmt: skip
    through = [both(*sides) for sides in past]
    cross = _long(both(*through))
    if cross:
        return Seam(seam.first, seam.second, seam.origin, seam.way, "cross", cross, True)
    kinds: tuple[tuple[Panel, Polygon, int, Meeting], ...] = (
        (seam.first, one, 1, "first ends"),
        (seam.second, other, 0, "second ends"),
    )
    found = []
    for panel, region, host, kind in kinds:
        for side in (-1, 1):
            for share, stands in ((0.8, True), (1.0, False)):
                off = side * (share * seam.half(panel) + (0.0 if stands else REACH))
                near = _long(both(spans_on(seam, panel, region, off), through[host]))
                if near:
                    how = (seam.origin, seam.way, kind, near, stands)
                    found.append(Seam(seam.first, seam.second, *how))
                    break
    if not any(f.stands_in for f in found):
        corner = _corner(seam, one, other)
        found += [corner] if corner is not None else []
    return max(found, key=lambda s: (s.stands_in, s.length), default=None)


def _corner(seam: Seam, one: Polygon, other: Polygon) -> Seam | None:
    """Both end there: the second gives way."""
    ends = []
    for panel, region in ((seam.first, one), (seam.second, other)):
        sides = [spans_on(seam, panel, region, side * 0.8 * seam.half(panel)) for side in (-1, 1)]
        ends.append(sides[0] if sum(b - a for a, b in sides[0]) > 0.0 else sides[1])
    near = _long(both(*ends))
    if not near:
        return None
    return Seam(seam.first, seam.second, seam.origin, seam.way, "second ends", near, True)


def spans_on(seam: Seam, panel: Panel, region: Polygon, off: float) -> list[Span]:
    """Where a line along the seam runs in a panel's metal.

    Parameters
    ----------
    seam : Seam [m]
        Of two panels.
    panel : Panel [m]
        One of them.
    region : Polygon [m]
        Its metal.
    off : float [m]
        Of the line from the seam, across it.

    Returns
    -------
    spans : list of (float, float) [m]
    """
    from shapely import LineString

    start, along, across = seam.line(panel)
    foot = start + off * across
    met = region.intersection(LineString([foot - _FAR * along, foot + _FAR * along]))
    spans = []
    for part in getattr(met, "geoms", [met]):
        if part.geom_type == "LineString" and part.length > 0.0:
            ends = (np.asarray(part.coords) - start) @ along
            spans.append((float(ends.min()), float(ends.max())))
    return sorted(spans)


def both(one: Iterable[Span], other: Sequence[Span]) -> list[Span]:
    """What is in one list of spans and in the other.

    Parameters
    ----------
    one : iterable of (float, float) [m]
        Apart from one another.
    other : sequence of (float, float) [m]
        Apart from one another.

    Returns
    -------
    spans : list of (float, float) [m]
    """
    found = [(max(a, c), min(b, d)) for a, b in one for c, d in other]
    return sorted((a, b) for a, b in found if b > a)


def _long(spans: list[Span]) -> tuple[Span, ...]:
    return tuple((a, b) for a, b in spans if b - a >= SHORTEST)
