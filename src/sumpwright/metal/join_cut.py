# SPDX-License-Identifier: Apache-2.0
"""Slits, tongues and slots of sheets that meet; where they meet is join.py's."""

from dataclasses import dataclass

from sumpwright.errors import RangeError
from sumpwright.geometry.panel import Panel
from sumpwright.metal.flat_pattern import Polygon
from sumpwright.metal.join import PAST, REACH, Seam, Span, both, spans_on


@dataclass(frozen=True, eq=False)
class Joined:
    """The metal of both sheets, ready to go together."""

    first: Polygon
    second: Polygon


def half_lap(
    seam: Seam, one: Polygon, other: Polygon, *, first_from_below: bool, clearance: float
) -> Joined:
    """Two sheets that cross, each slit half way.

    Parameters
    ----------
    seam : Seam [m]
        Where they cross, in one span.
    one : Polygon [m]
        The first's metal.
    other : Polygon [m]
        The second's.
    first_from_below : bool [-]
        Whether the first is slit from the seam's lower end.
    clearance : float [m]
        On each side of a sheet in its slit.

    Returns
    -------
    joined : Joined [m]

    Raises
    ------
    RangeError
        Where they meet in several spans, or a slit would run through a window.
    """
    if len(seam.spans) != 1:
        raise RangeError(f"they cross in {len(seam.spans)} places; a half-lap has one")
    low, high = seam.spans[0]
    middle = 0.5 * (low + high)
    cut = []
    for panel, region, below in (
        (seam.first, one, first_from_below),
        (seam.second, other, not first_from_below),
    ):
        half = seam.half(panel) + clearance
        (span,) = (s for s in spans_on(seam, panel, region, 0.0) if s[0] < middle < s[1])
        ends = (span[0] - REACH, middle + clearance) if below else (middle - clearance, span[1])
        if not below:
            ends = (ends[0], span[1] + REACH)
        slit = seam.strip(panel, ends, -half, half)
        _refuse_windows(region, slit, panel, open_end=True)
        cut.append(region.difference(slit))
    return Joined(*cut)


def cut_back(seam: Seam, one: Polygon, other: Polygon) -> Joined:
    """Two sheets of which one ends at the other's face.

    Parameters
    ----------
    seam : Seam [m]
        Where they meet.
    one : Polygon [m]
        The first's metal.
    other : Polygon [m]
        The second's.

    Returns
    -------
    joined : Joined [m]
    """
    ending = seam.first if seam.kind == "first ends" else seam.second
    region = one if seam.kind == "first ends" else other
    host = seam.second if seam.kind == "first ends" else seam.first
    side = _side(seam, ending, region, max(seam.spans, key=lambda s: s[1] - s[0]))
    # windows of the other, and its edges, break the seam; the sheet is cut back in one line
    room = seam.half(host) + PAST + REACH
    wide = (seam.spans[0][0] - room, seam.spans[-1][1] + room)
    face = side * seam.half(ending)
    region = _largest(region.difference(seam.strip(ending, wide, face, -face - side * PAST)))
    return Joined(region, other) if seam.kind == "first ends" else Joined(one, region)


def tongued(
    seam: Seam, one: Polygon, other: Polygon, *, count: int, width: float, clearance: float
) -> Joined:
    """As `cut_back`, with tongues of the one that ends through slots in the other.

    Parameters
    ----------
    seam : Seam [m]
        Where they meet.
    one : Polygon [m]
        The first's metal.
    other : Polygon [m]
        The second's.
    count : int [-]
        Of tongues, on the longest span.
    width : float [m]
        Of a tongue.
    clearance : float [m]
        Between tongue and slot, on each side.

    Returns
    -------
    joined : Joined [m]

    Raises
    ------
    RangeError
        Where tongues have no room, or a slot would run through a window.
    """
    cut = cut_back(seam, one, other)
    first_ends = seam.kind == "first ends"
    ending, host = (seam.first, seam.second) if first_ends else (seam.second, seam.first)
    region, sheet = (cut.first, cut.second) if first_ends else (cut.second, cut.first)
    span = max(seam.spans, key=lambda s: s[1] - s[0])
    share = (span[1] - span[0]) / count
    if share < width + 2.0 * (clearance + host.thickness):
        raise RangeError(
            f"{count} tongues of {1e3 * width:.4g} mm need more than the "
            f"{1e3 * (span[1] - span[0]):.4g} mm they meet over"
        )
    side = _side(seam, ending, region, span)
    for k in range(count):
        at = span[0] + (k + 0.5) * share
        ends = (at - 0.5 * width, at + 0.5 * width)
        foot = side * (seam.half(ending) + REACH + 1e-7)
        tongue = seam.strip(ending, ends, foot, -side * seam.half(ending))
        wide = (ends[0] - clearance, ends[1] + clearance)
        half = seam.half(host) + clearance
        slot = seam.strip(host, wide, -half, half)
        _refuse_windows(sheet, slot, host, open_end=False)
        region, sheet = region.union(tongue), sheet.difference(slot)
    return Joined(region, sheet) if first_ends else Joined(sheet, region)


def _side(seam: Seam, panel: Panel, region: Polygon, span: Span) -> float:
    """On which side of the seam a panel that ends there lies."""
    looks = []
    for side in (-1.0, 1.0):
        off = side * (seam.half(panel) + REACH)
        looks.append(sum(b - a for a, b in both(spans_on(seam, panel, region, off), [span])))
    return 1.0 if looks[1] > looks[0] else -1.0


def _refuse_windows(region: Polygon, cut: Polygon, panel: Panel, *, open_end: bool) -> None:
    from shapely import Polygon as Ring

    whole = Ring(region.exterior)
    lost = cut.intersection(whole).area - cut.intersection(region).area
    off = 0.0 if open_end else cut.area - cut.intersection(whole).area
    if lost > 1e-9 or off > 1e-9:
        at = cut.centroid
        what = "through a window or a hole" if lost > 1e-9 else "off the edge"
        raise RangeError(
            f"a slot in '{panel.name}' near {1e3 * at.x:.4g}, {1e3 * at.y:.4g} mm (along, up) "
            f"would run {what}"
        )


def _largest(region: Polygon) -> Polygon:
    return max(getattr(region, "geoms", [region]), key=lambda part: part.area)
