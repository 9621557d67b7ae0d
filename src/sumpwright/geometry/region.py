# SPDX-License-Identifier: Apache-2.0
"""Flat regions with holes: union, difference, inset, and the closed walks round them."""

from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.geometry.section import outline_area

Floats = NDArray[np.float64]
Region = Any
"""manifold3d's CrossSection, in millimetres: the library rounds to 1e-8 of whatever its unit is."""

MM = 1e3
SPECK = 1e-9
"""m^2; a region under a thousandth of a square millimetre is rounding."""


def region_of(outlines: Iterable[ArrayLike], *, even_odd: bool = False) -> Region:
    """The region that outlines enclose.

    Parameters
    ----------
    outlines : iterable of (k, 2) [m]
        Closed; solid on the left of each.
    even_odd : bool [-]
        Whichever way they run: what lies within an odd number of them.

    Returns
    -------
    region : Region [mm]
    """
    from manifold3d import CrossSection, FillRule

    rule = FillRule.EvenOdd if even_odd else FillRule.Positive
    loops = [MM * np.asarray(o, dtype=float) for o in outlines]
    return CrossSection(loops, rule) if loops else CrossSection()


def outlines_of(region: Region) -> list[Floats]:
    """The outlines of a region, solid on the left.

    Parameters
    ----------
    region : Region [mm]
        Any.

    Returns
    -------
    outlines : list of (k, 2) [m]
    """
    return [np.asarray(loop, dtype=float) / MM for loop in region.to_polygons()]


def region_area(region: Region) -> float:
    """Area of a region.

    Parameters
    ----------
    region : Region [mm]
        Any.

    Returns
    -------
    area : float [m^2]
    """
    return float(region.area()) / MM**2


def inset(region: Region, distance: float) -> Region:
    """The region moved in from its edge; negative distances move it out. Corners stay sharp.

    Parameters
    ----------
    region : Region [mm]
        Any.
    distance : float [m]
        Square to each side.

    Returns
    -------
    region : Region [mm]
    """
    from manifold3d import JoinType

    return region.offset(-distance * MM, JoinType.Miter)


def is_narrow(region: Region, width: float) -> bool:
    """Whether no place of a region is as wide as `width`; true of an empty one.

    Parameters
    ----------
    region : Region [mm]
        Any.
    width : float [m]
        Of the strip that must not fit.

    Returns
    -------
    narrow : bool [-]
    """
    if region_area(region) <= SPECK:
        return True
    return region_area(inset(region, 0.5 * width)) <= SPECK


def broad_parts(region: Region, width: float) -> tuple[list[Region], float]:
    """The connected parts of a region without its narrow strips, and the area of these parts.

    Parameters
    ----------
    region : Region [mm]
        Any.
    width : float [m]
        A strip that is narrower than this and longer is left out; corners stay as they are.

    Returns
    -------
    parts : list of Region [mm]
    kept : float [m^2]
    """
    opened = inset(inset(region, 0.5 * width), -0.5 * width)
    for strip in (region - opened).decompose():
        if region_area(strip) > width**2:  # less is what the inset lost of a sharp corner
            region = region - strip
    broad = [part for part in region.decompose() if not is_narrow(part, width)]
    return broad, sum(region_area(part) for part in broad)


def one_walk(outlines: list[Floats]) -> Floats:
    """All outlines in one closed walk, holes and separate parts tied in by seams without area.

    Any integral over the walk by the signed rule (such as the shoelace) is that over the region.

    Parameters
    ----------
    outlines : list of (k, 2) [m]
        At least one; solid on the left.

    Returns
    -------
    walk : (n, 2) [m]
    """
    order = sorted(outlines, key=lambda loop: -outline_area([loop]))
    walk = order[0]
    for loop in order[1:]:
        apart = np.linalg.norm(walk[:, None] - loop[None], axis=2)
        i, j = np.unravel_index(int(apart.argmin()), apart.shape)
        ring = np.concatenate([loop[j:], loop[: j + 1]])
        walk = np.concatenate([walk[: i + 1], ring, walk[i:]])
    return walk


def walk_centroid(walk: Floats) -> Floats:
    """Centroid of the region inside a closed walk.

    Parameters
    ----------
    walk : (n, 2) [m]
        Of a region that is not empty.

    Returns
    -------
    centroid : (2,) [m]
    """
    local = walk - walk[0]
    after = np.roll(local, -1, axis=0)
    turn = local[:, 0] * after[:, 1] - after[:, 0] * local[:, 1]
    return np.asarray(walk[0] + turn @ (local + after) / (3.0 * turn.sum()))


def spans_within(spans: ArrayLike, region: Region) -> tuple[Floats, NDArray[np.int64]]:
    """The pieces of straight spans that lie inside a region, and which span each is of.

    Parameters
    ----------
    spans : (s, 2, 2) [m]
        Both ends of each.
    region : Region [mm]
        Any.

    Returns
    -------
    pieces : (n, 2, 2) [m]
        In the direction of their spans.
    owner : (n,) [-]
        Number of the span.
    """
    ends = np.asarray(spans, dtype=float).reshape(-1, 2, 2)
    loops = outlines_of(region)
    if not loops or not len(ends):
        return np.zeros((0, 2, 2)), np.zeros(0, dtype=np.int64)
    start = np.concatenate(loops)
    side = np.concatenate([np.roll(loop, -1, axis=0) for loop in loops]) - start
    cuts = _cuts(ends, start, side)
    owner, piece = np.nonzero(np.diff(cuts, axis=1) > 0.0)
    low, high = cuts[owner, piece], cuts[owner, piece + 1]
    first, way = ends[owner, 0], ends[owner, 1] - ends[owner, 0]
    kept = _encloses(first + (0.5 * (low + high))[:, None] * way, start, side)
    found = first[:, None] + np.stack([low, high], axis=1)[..., None] * way[:, None]
    return found[kept], owner[kept]


def _cuts(spans: Floats, start: Floats, side: Floats) -> Floats:
    """(s, k) where each span meets the region's sides, as shares of it, in order from 0 to 1."""
    way = (spans[:, 1] - spans[:, 0])[:, None]
    away = start - spans[:, :1]
    slant = way[..., 0] * side[:, 1] - way[..., 1] * side[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):  # a side along the span crosses nowhere
        t = (away[..., 0] * side[:, 1] - away[..., 1] * side[:, 0]) / slant
        s = (away[..., 0] * way[..., 1] - away[..., 1] * way[..., 0]) / slant
    met = (t > 0.0) & (t < 1.0) & (s >= 0.0) & (s <= 1.0)
    ends = np.tile([0.0, 1.0], (len(spans), 1))
    return np.sort(np.concatenate([ends, np.where(met, t, 1.0)], axis=1), axis=1)


def _encloses(points: Floats, start: Floats, side: Floats) -> NDArray[np.bool_]:
    """Even-odd rule: how many of the sides a line to the right of each point crosses."""
    y = points[:, 1:]
    end = start + side
    spans = (start[:, 1] > y) != (end[:, 1] > y)
    rise = np.where(side[:, 1] == 0.0, 1.0, side[:, 1])
    x = start[:, 0] + (y - start[:, 1]) * side[:, 0] / rise
    return np.asarray(np.sum(spans & (x > points[:, :1]), axis=1) % 2 == 1)
