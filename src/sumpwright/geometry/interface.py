# SPDX-License-Identifier: Apache-2.0
"""Faces between the cells of a cut cavity, and how much of each the panels cover."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.cell import Cells, cut, net_sides, one_cell, parted
from sumpwright.geometry.edge import Ints, loops, pieces, sides_of
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import SPECK, Region, is_narrow, region_area, region_of
from sumpwright.geometry.sheet import Sheet

Floats = NDArray[np.float64]

STEEP = 0.5
"""Rise of a panel along its up from which a height cuts it in two that mean something."""
FAR = 100.0
"""m; further than any pan."""


@dataclass(frozen=True, eq=False)
class Interface:
    """One connected face between two cells."""

    sheet: int
    behind: int
    ahead: int
    area: float
    covered: float
    """m^2 of the area that panels cover, openings included"""
    narrow: bool
    """It is nowhere as wide as a slit: it neither joins nor parts."""


@dataclass(frozen=True)
class Crossing:
    """Where two faces on one sheet meet at a line on which other sheets cross it."""

    one: int
    other: int
    across: frozenset[int]
    """Numbers of the other sheets' faces at that line"""


def arranged(cavity: Mesh, sheets: Sequence[Sheet]) -> Cells:
    """The cavity cut by the whole plane of every sheet.

    Parameters
    ----------
    cavity : Mesh [m]
        Welded and closed.
    sheets : sequence of Sheet [m]
        Faces carry the sheet's place in it.

    Returns
    -------
    cells : Cells [m]
    """
    cells = one_cell(cavity)
    for number, sheet in enumerate(sheets):
        cells = cut(cells, sheet.lead.normal, sheet.height, plane=number)
    return parted(cells)


def interfaces_of(
    cells: Cells, sheets: Sequence[Sheet], *, slit: float, ceiling: float = np.inf
) -> tuple[list[Interface], list[Crossing]]:
    """Every connected face between two cells, and where they meet.

    Parameters
    ----------
    cells : Cells [m]
        Of `arranged`.
    sheets : sequence of Sheet [m]
        The same.
    slit : float [m]
        Width under which a face is narrow.
    ceiling : float [m]
        Height up to which a face that reaches past it is measured.

    Returns
    -------
    interfaces : list of Interface [m]
    crossings : list of Crossing [-]
        By numbers of the interfaces.
    """
    inner = np.flatnonzero(cells.ahead >= 0)
    sides = np.sort(sides_of(cells.faces[inner]), axis=1)
    labels = [np.tile(a[inner], 3) for a in (cells.plane, cells.behind, cells.ahead)]
    mates = _in_one_row(np.column_stack([*labels, sides])) % max(len(inner), 1)
    piece = pieces(mates, len(inner))
    found = [
        _interface(cells, inner[piece == k], sheets, slit, ceiling)
        for k in range(piece.max(initial=-1) + 1)
    ]
    return found, _crossings(found, sides, np.tile(piece, 3))


def _in_one_row(table: Ints) -> Ints:
    """(k, 2) numbers of rows that are equal and follow each other in that."""
    same = np.unique(table, axis=0, return_inverse=True)[1].reshape(-1)
    order = np.argsort(same, kind="stable")
    return np.asarray(np.stack([order[:-1], order[1:]], axis=1)[np.diff(same[order]) == 0])


def _crossings(found: Sequence[Interface], sides: Ints, owner: Ints) -> list[Crossing]:
    met: dict[int, set[int]] = {}
    key, number = np.unique(sides, axis=0, return_inverse=True)
    number = number.reshape(-1)
    busy = np.bincount(number, minlength=len(key)) > 2
    for side, face in zip(number[busy[number]].tolist(), owner[busy[number]].tolist(), strict=True):
        met.setdefault(side, set()).add(face)
    crossings = set()
    for group in {frozenset(faces) for faces in met.values()}:
        for one, other in combinations(sorted(group), 2):
            sheet = found[one].sheet
            if found[other].sheet == sheet:
                across = frozenset(k for k in group if found[k].sheet != sheet)
                crossings.add(Crossing(one, other, across))
    return sorted(crossings, key=lambda c: (c.one, c.other, sorted(c.across)))


def _interface(
    cells: Cells, faces: Ints, sheets: Sequence[Sheet], slit: float, ceiling: float
) -> Interface:
    sheet = int(cells.plane[faces[0]])
    whole = face_region(cells, faces, sheets[sheet])
    region = _under(whole, sheets[sheet].lead, ceiling)
    covered = region ^ sheets[sheet].cover
    return Interface(
        sheet,
        int(cells.behind[faces[0]]),
        int(cells.ahead[faces[0]]),
        region_area(region),
        region_area(covered),
        is_narrow(whole, slit),
    )


def _under(region: Region, panel: Panel, ceiling: float) -> Region:
    """The part of a face that lies under a height; all of it where hardly any does."""
    rise = float(panel.basis[1, 2])
    if not np.isfinite(ceiling) or rise < STEEP:
        return region
    top = (ceiling - float(panel.point[2])) / rise
    below = region_of([np.array([[-FAR, -FAR], [FAR, -FAR], [FAR, top], [-FAR, top]])])
    part = region ^ below
    return part if region_area(part) > SPECK else region


def face_region(cells: Cells, faces: Ints, sheet: Sheet) -> Region:
    """The flat region that faces on a sheet make.

    Parameters
    ----------
    cells : Cells [m]
        Any.
    faces : (k,) [-]
        Numbers of the faces.
    sheet : Sheet [m]
        On which they lie.

    Returns
    -------
    region : Region [mm]
        In the sheet's flat coordinates.
    """
    rings = loops(net_sides(cells.faces[faces]))
    return region_of([sheet.lead.flat(cells.vertices[ring]) for ring in rings])
