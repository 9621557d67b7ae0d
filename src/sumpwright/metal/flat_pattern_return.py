# SPDX-License-Identifier: Apache-2.0
"""Does a flat pattern, folded, come back to the sheet it was made from?"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sumpwright.metal.flat_pattern import FlatPattern, Polygon
from sumpwright.metal.flat_pattern_tab import SeatedTab
from sumpwright.metal.fold import folded

Floats = NDArray[np.float64]

RETURNS = 1e-5
"""m; within which a folded part must come back."""
_BESIDE = 2e-4
"""m round a tab and its slits where the sheet was meant to change."""
_HAIR = 1e-9


def stray(pattern: FlatPattern, region: Polygon, tabs: Sequence[SeatedTab]) -> float:
    """How far the folded part is from what was asked for [m].

    Edges are compared both ways, but where tabs and slits took their place; of every tab, where its
    tip's outer face comes to, with where the edge, the flange and the angle put it.

    Parameters
    ----------
    pattern : FlatPattern [m]
        As it is cut.
    region : Polygon [m]
        The sheet it is to be, without tabs.
    tabs : sequence of SeatedTab [m]
        That it is to have.

    Returns
    -------
    stray : float [m]
    """
    from shapely import Polygon as Ring
    from shapely import union_all

    body = folded(pattern)
    web = body.faces[0].polygon
    moved = [body.faces[0].placed([[*p, 0.0] for p in np.asarray(web.exterior.coords).tolist()])]
    web = Ring(moved[0][:, :2], [hole.coords for hole in web.interiors])
    gone = union_all([p.buffer(_BESIDE) for t in tabs for p in (t.under(), *t.slits())])
    # an arc's own rise over the chords it was found from is no stray: corners count, both ways
    corners = np.concatenate([p.points for p in (pattern.outline, *pattern.holes)])
    beyond = union_all([gone, *(tab.strip().buffer(_BESIDE) for tab in tabs)])
    worst = [_apart(_corners(region), web, gone), _apart(corners, region, beyond)]
    for tab in tabs:
        worst.append(_tip(tab, body.placed(_tips(tab), _outer(tab))))
    return max(worst)


def _corners(region: Polygon) -> Floats:
    rings = (region.exterior, *region.interiors)
    return np.concatenate([np.asarray(ring.coords) for ring in rings])


def _apart(corners: Floats, other: Polygon, gone: Polygon) -> float:
    """How far corners lie off an outline, where it was not meant to change."""
    from shapely import covers, distance, points

    spots = points(corners)
    kept = spots if gone.is_empty else spots[~covers(gone, spots)]
    return float(distance(other.boundary, kept).max()) if len(kept) else 0.0


def _outer(tab: SeatedTab) -> float:
    return -0.5 * tab.thickness if tab.spec.up else 0.5 * tab.thickness


def _tips(tab: SeatedTab) -> Floats:
    out = (tab.reach - _HAIR) * tab.edge.out
    inside = np.array([[_HAIR], [-_HAIR]]) * tab.edge.along
    return np.asarray(tab.bend.line + out + inside)


def _tip(tab: SeatedTab, found: Floats) -> float:
    angle, sign = tab.spec.angle, 1.0 if tab.spec.up else -1.0
    way = np.append(np.cos(angle) * tab.edge.out, sign * np.sin(angle))
    half = 0.5 * tab.spec.width * tab.edge.along
    edge = np.array([[*(tab.middle + s * half), _outer(tab)] for s in (-1.0, 1.0)])
    return float(np.linalg.norm(found - (edge + tab.spec.flange * way), axis=1).max())
