# SPDX-License-Identifier: Apache-2.0
"""Flat parts laid on sheets: the largest first, each as low and as far left as it goes.

Parts turn by right angles; one whose grain matters turns by half turns only. The outcome depends
on nothing but what is asked: same parts, same places.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sumpwright.metal.flat_pattern import Polygon, turned

Floats = NDArray[np.float64]

_NUDGES = 12
"""Halvings of the way a part is pushed down and left."""
_SLACK = 1e-7
_HAIR = 2e-6
"""m; parts may be this much nearer to each other than asked."""
_COARSE = 2e-3
"""m; corners of an outline that stand out less are no place to lay a part by."""


@dataclass(frozen=True, eq=False)
class Blank:
    """A flat part to be laid."""

    name: str
    polygon: Polygon
    """In its own coordinates [m]"""
    count: int = 1
    grain: float | None = None
    """rad from the part's first axis to the way its sheet was rolled; None where it may be any"""


@dataclass(frozen=True)
class Laid:
    """Where a part lies: turned, then moved."""

    blank: int
    """Number of the blank"""
    turn: float
    """rad, counter-clockwise"""
    shift: tuple[float, float]
    """m"""


@dataclass(frozen=True)
class NestedSheet:
    """One sheet with what is cut from it."""

    size: tuple[float, float]
    laid: tuple[Laid, ...]


@dataclass(frozen=True)
class Nest:
    """All sheets of one kind that parts need."""

    sheets: tuple[NestedSheet, ...]
    left_out: tuple[int, ...]
    """Numbers of the blanks that no sheet is large enough for"""


def nested(
    blanks: Sequence[Blank], size: tuple[float, float], *, spacing: float, margin: float
) -> Nest:
    """Parts laid on as many sheets of one size as they need.

    Parameters
    ----------
    blanks : sequence of Blank [m]
        Of one metal and thickness.
    size : (float, float) [m]
        Of a sheet; it was rolled along the first.
    spacing : float [m]
        Left between two parts.
    margin : float [m]
        Left along the edge of a sheet.

    Returns
    -------
    nest : Nest [m]
    """
    order = sorted(
        ((k, copy) for k, blank in enumerate(blanks) for copy in range(blank.count)),
        key=lambda item: (-_bulk(blanks[item[0]].polygon), blanks[item[0]].name, item[1]),
    )
    open_sheets: list[_Sheet] = []
    left_out: list[int] = []
    for k, _ in order:
        if k in left_out:
            continue
        forms = list(_forms(blanks[k], k, size, margin))
        if not forms:
            left_out.append(k)
            continue
        if not any(sheet.take(forms) for sheet in open_sheets):
            open_sheets.append(_Sheet(size, spacing, margin))
            open_sheets[-1].take(forms)
    sheets = tuple(NestedSheet(size, tuple(sheet.laid)) for sheet in open_sheets)
    return Nest(sheets, tuple(sorted(left_out)))


def _bulk(polygon: Polygon) -> float:
    a, b, c, d = polygon.bounds
    return float(round(max(c - a, d - b) * 1e6) + (c - a) * (d - b))


@dataclass(frozen=True, eq=False)
class _Form:
    """A blank turned one way, its lower left corner at the origin."""

    blank: int
    turn: float
    polygon: Polygon
    shift: Floats
    size: Floats
    corners: Floats
    """Of the outline, closed"""


def _forms(blank: Blank, number: int, size: tuple[float, float], margin: float) -> Iterator[_Form]:
    from shapely import affinity

    room = np.array(size) - 2.0 * margin + _SLACK
    for quarter in range(4):
        turn = quarter * 0.5 * math.pi
        if blank.grain is not None and abs(math.sin(turn + blank.grain)) > 0.5:
            continue
        c, s = np.round(turned(turn)[:, 0]).tolist()
        turned_about = affinity.affine_transform(blank.polygon, [c, -s, s, c, 0.0, 0.0])
        low = np.array(turned_about.bounds[:2])
        extent = np.array(turned_about.bounds[2:]) - low
        if (extent <= room).all():
            moved = affinity.translate(turned_about, *(-low))
            corners = np.asarray(moved.exterior.coords)
            yield _Form(number, turn, moved, -low, extent, corners)


class _Sheet:
    """A sheet being filled."""

    def __init__(self, size: tuple[float, float], spacing: float, margin: float) -> None:
        self.size, self.margin = np.array(size), margin
        self.spacing = max(spacing, 2.0 * _HAIR)
        self.laid: list[Laid] = []
        self.taken: list[Polygon] = []
        """Grown by the spacing, less a hair: parts just as far apart as that are clear"""
        self.wide: list[Polygon] = []
        """Grown by the spacing: where the next one may come to lie"""

    def take(self, forms: Sequence[_Form]) -> bool:
        """Whether one of the forms finds a place; it is then laid there."""
        found = [(self._cost(at, form), k) for k, form in enumerate(forms)
                 if (at := self._place(form)) is not None]  # fmt: skip
        if not found:
            return False
        (_, at), k = min(found, key=lambda f: (f[0][0], f[1]))
        form = forms[k]
        shift = form.shift + at
        self.laid.append(Laid(form.blank, form.turn, (float(shift[0]), float(shift[1]))))
        there = _moved(form.polygon, at)
        self.taken.append(there.buffer(self.spacing - _HAIR, join_style="mitre"))
        self.wide.append(there.buffer(self.spacing, join_style="mitre"))
        return True

    def _cost(self, at: Floats, form: _Form) -> tuple[tuple[float, float], Floats]:
        """The less of the sheet's length is used the better, then the less of its width."""
        corner = np.round(at + form.size, 6)
        return (float(corner[0]), float(corner[1])), at

    def _place(self, form: _Form) -> Floats | None:
        far = self.size - self.margin - form.size + _SLACK
        spots = self._spots()
        spots = spots[(spots <= far).all(axis=1) & (spots >= self.margin - _SLACK).all(axis=1)]
        order = np.lexsort((spots[:, 1], spots[:, 0]))
        for at in spots[order]:
            if self._free(form, at):
                return self._nudged(form, at)
        return None

    def _spots(self) -> Floats:
        """Where a lower left corner may come: in line with what lies there, or in its notches."""
        xs, ys = [self.margin], [self.margin]
        corners = []
        for polygon in self.wide:
            a, b, c, d = polygon.bounds
            xs += [c, a + self.spacing]
            ys += [d, b + self.spacing]
            corners.append(np.asarray(polygon.simplify(_COARSE).exterior.coords))
        grid = np.array([(x, y) for x in xs for y in ys])
        return np.unique(np.round(np.concatenate([grid, *corners]), 9), axis=0)

    def _free(self, form: _Form, at: Floats) -> bool:
        from shapely import box, intersects, polygons, prepare

        if not self.taken:
            return True
        frame = box(*at, *(at + form.size))
        near = [p for p in self.taken if frame.intersects(p)]
        if not near:
            return True
        moved = polygons(form.corners + at)
        prepare(moved)
        return not bool(np.any(intersects(moved, near)))

    def _nudged(self, form: _Form, at: Floats) -> Floats:
        """Pushed left, then down, as far as nothing is in the way."""
        for axis in (0, 1, 0):
            low, high = self.margin, float(at[axis])
            for _ in range(_NUDGES):
                trial = at.copy()
                trial[axis] = 0.5 * (low + high)
                low, high = (low, trial[axis]) if self._free(form, trial) else (trial[axis], high)
            at = at.copy()
            at[axis] = high
        return at


def _moved(polygon: Polygon, at: Floats) -> Polygon:
    from shapely import affinity

    return affinity.translate(polygon, float(at[0]), float(at[1]))
