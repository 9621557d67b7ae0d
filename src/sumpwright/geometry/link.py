# SPDX-License-Identifier: Apache-2.0
"""Ways between compartments: windows, doors, what a panel leaves open, and gaps at its edge."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.cell import Cells, net_sides
from sumpwright.geometry.edge import Ints, sides_of
from sumpwright.geometry.interface import face_region
from sumpwright.geometry.panel import Door, Panel
from sumpwright.geometry.region import (
    MM,
    SPECK,
    Region,
    broad_parts,
    is_narrow,
    one_walk,
    outlines_of,
    region_area,
    region_of,
    spans_within,
    walk_centroid,
)
from sumpwright.geometry.sheet import Sheet

Floats = NDArray[np.float64]

_SCRAP = 0.01
"""Share of an opening: a narrow strip of less that shows in another compartment is overshoot."""

_STRAIGHT = 1e-9
"""m; a corner that turns its outline by less is left out."""


@dataclass(frozen=True, eq=False)
class Link:
    """One way for oil between two compartments, through or past one panel."""

    behind: int
    """Number of the compartment on the panel's back"""
    ahead: int
    """Number of the one that the panel's normal points into"""
    panel: str
    opening: str
    """Name of the window or door; empty for what the panel leaves open, and for its gap"""
    kind: str
    """``window``, ``door``, ``open`` or ``gap``"""
    polygon: Floats
    """(k, 3) [m] on the panel's plane, counter-clockwise seen from ahead; holes and separate parts
    are tied in by seams without area"""
    area: float
    """m^2; of a gap, its length times its width"""
    centroid: Floats
    lowest: Floats
    highest: Floats
    normal: Floats
    """(3,) from behind to ahead"""
    gap_length: float = 0.0
    """m of panel edge along the wall; 0 for other kinds"""
    edge: Floats | None = None
    """(n, 2, 3) [m] ends of the pieces of wall that a gap runs along; None for other kinds"""
    door: Door | None = None


@dataclass(frozen=True, eq=False)
class _Face:
    """All that parts two compartments on one sheet."""

    sheet: Sheet
    behind: int
    ahead: int
    region: Region
    wall: Floats
    """(s, 2, 2) [m] flat sides that lie on the cavity's wall; the face on their left"""


def links_of(
    cells: Cells, group: Ints, sheets: Sequence[Sheet], *, slit: float
) -> tuple[list[Link], dict[str, float]]:
    """Every way between compartments, in an order that does not depend on the panels'.

    Parameters
    ----------
    cells : Cells [m]
        The cut cavity.
    group : (count,) [-]
        Number of each cell's compartment.
    sheets : sequence of Sheet [m]
        Whose planes cut it.
    slit : float [m]
        What a panel leaves open is no way where it is narrower than this everywhere.

    Returns
    -------
    links : list of Link [m]
    slits : dict of panel's name to float [m^2]
        What was left out for being narrow.
    """
    links: list[Link] = []
    slits: dict[str, float] = {}
    for face in _faces(cells, group, sheets):
        for number, panel in enumerate(face.sheet.panels):
            links += _openings(face, panel, slit)
            links += _gap(face, number, slit)
        bare = face.region - face.sheet.cover
        parts, wide = broad_parts(bare, slit)
        panel = _main_panel(face)
        slits[panel.name] = slits.get(panel.name, 0.0) + region_area(bare) - wide
        links += [_link(face, panel, part, kind="open") for part in parts]
    return sorted(links, key=_rank), slits


def spans_along(outline: Region, wall: Floats, slit: float) -> Floats:
    """The pieces of a wall that a panel's edge runs along, within a slit's width.

    Parameters
    ----------
    outline : Region [mm]
        Of the panel.
    wall : (s, 2, 2) [m]
        Both ends of each side; the cavity on its left.
    slit : float [m]
        An edge this near to the wall runs along it.

    Returns
    -------
    pieces : (n, 2, 2) [m]
    """
    sides = wall[(wall[:, 0] != wall[:, 1]).any(axis=1)]
    shift = slit * _left(sides)[:, None]
    pieces, owner = spans_within(sides + shift, outline)
    found = pieces - shift[owner]
    return np.asarray(found[(found[:, 0] != found[:, 1]).any(axis=1)])


def _left(sides: Floats) -> Floats:
    """(s, 2) unit vectors to the left of each side."""
    way = sides[:, 1] - sides[:, 0]
    way = way / np.linalg.norm(way, axis=1, keepdims=True)
    return np.stack([-way[:, 1], way[:, 0]], axis=1)


def _faces(cells: Cells, group: Ints, sheets: Sequence[Sheet]) -> Iterator[_Face]:
    behind, ahead = group[cells.behind], group[cells.ahead]
    wall = _side_keys(np.sort(sides_of(cells.faces[cells.ahead < 0]), axis=1))
    for number, sheet in enumerate(sheets):
        parting = (cells.plane == number) & (behind != ahead)
        for a, b in np.unique(np.stack([behind, ahead], axis=1)[parting], axis=0).tolist():
            faces = np.flatnonzero(parting & (behind == a) & (ahead == b))
            region = face_region(cells, faces, sheet)
            sides = net_sides(cells.faces[faces])
            on_wall = np.isin(_side_keys(np.sort(sides, axis=1)), wall)
            flat = sheet.lead.flat(cells.vertices[sides[on_wall]])
            if region_area(region) > SPECK:
                yield _Face(sheet, a, b, region, flat)


def _side_keys(sides: Ints) -> Ints:
    return np.asarray(sides[:, 0] * (1 << 31) + sides[:, 1])


def _openings(face: _Face, panel: Panel, slit: float) -> Iterator[Link]:
    for opening in panel.openings:
        whole = face.sheet.opening(panel, opening)
        part = face.region ^ whole
        area = region_area(part)
        scrap = area < _SCRAP * region_area(whole) and is_narrow(part, slit)
        if area > SPECK and not scrap:
            link = _link(face, panel, part, kind=opening.kind)
            yield replace(link, opening=opening.name, door=opening.door)


def _gap(face: _Face, number: int, slit: float) -> Iterator[Link]:
    panel = face.sheet.panels[number]
    if not panel.gap:
        return
    pieces = spans_along(face.sheet.metal[number], face.wall, slit)
    length = float(np.linalg.norm(pieces[:, 1] - pieces[:, 0], axis=1).sum())
    if length <= panel.gap:
        return
    inner = pieces + panel.gap * _left(pieces)[:, None]
    strip = region_of(np.concatenate([pieces, inner[:, ::-1]], axis=1)) ^ face.region
    if region_area(strip) > SPECK:
        link = _link(face, panel, strip, kind="gap")
        edge = face.sheet.lead.space(pieces)
        yield replace(link, area=length * panel.gap, gap_length=length, edge=edge)


def _main_panel(face: _Face) -> Panel:
    """The panel of the sheet that covers most of a face."""
    covered = [region_area(face.region ^ outline) for outline in face.sheet.outlines]
    return face.sheet.panels[int(np.argmax(covered))]


def _link(face: _Face, panel: Panel, region: Region, *, kind: str) -> Link:
    walk = one_walk(outlines_of(region.simplify(_STRAIGHT * MM)))
    lead = face.sheet.lead
    polygon, centre = lead.space(walk), lead.space(walk_centroid(walk))
    behind, ahead = face.behind, face.ahead
    if panel.normal @ lead.normal < 0.0:
        behind, ahead, polygon = ahead, behind, polygon[::-1]
    return Link(
        behind=behind,
        ahead=ahead,
        panel=panel.name,
        opening="",
        kind=kind,
        polygon=polygon,
        area=region_area(region),
        centroid=centre,
        lowest=polygon[polygon[:, 2].argmin()],
        highest=polygon[polygon[:, 2].argmax()],
        normal=panel.normal,
    )


def _rank(link: Link) -> tuple[str, str, str, tuple[float, ...]]:
    return link.panel, link.kind, link.opening, tuple(np.round(link.centroid, 6).tolist())
