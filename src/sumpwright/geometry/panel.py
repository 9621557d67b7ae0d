# SPDX-License-Identifier: Apache-2.0
"""Flat panels in a pan: baffles, trays and scrapers with their windows and trap doors.

A panel's outline and openings are drawn on its plane from its `point`: first coordinate *along*,
second *up*. Up is as near the frame's +z as the plane allows; on a level plane, where nothing is
up, it is as near +y (left). Along is at right angles, so that along, up and the normal are
right-handed: for a wall whose normal is +x (forward), along is +y (left); for one whose normal is
+y, along is -x; for a level tray with its normal up, along is +x.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import RangeError
from sumpwright.geometry.region import SPECK, Region, region_area, region_of

Floats = NDArray[np.float64]

_LEVEL = 1e-3
"""Sine of the tilt under which a plane counts as level: 0.06 degrees."""


@dataclass(frozen=True)
class Door:
    """A flap over an opening; what it weighs and how far it opens is not geometry."""

    hinge: int
    """Number of the outline's side it hangs on: from corner `hinge` to the next."""
    side: int = 1
    """1: it swings toward the panel's normal, and oil passes that way only; -1: against it."""


@dataclass(frozen=True, eq=False)
class Opening:
    """A hole in a panel."""

    name: str
    outline: Floats
    """(k, 2) [m] corners in the panel's along and up, either way round"""
    door: Door | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "outline", _kept(self.outline, (-1, 2)))

    @property
    def kind(self) -> str:
        """``window`` or ``door``."""
        return "door" if self.door else "window"


@dataclass(frozen=True, eq=False)
class Panel:
    """A flat sheet; its material is centred on the plane."""

    name: str
    point: Floats
    """(3,) [m] where along and up are zero"""
    normal: Floats
    """(3,) [-] made a unit vector"""
    outline: Floats | None = None
    """(k, 2) [m] in along and up; None: it reaches the cavity's wall everywhere on its plane"""
    thickness: float = 0.0
    gap: float = 0.0
    """m between the panel's edge and the cavity's wall, wherever the edge runs along the wall"""
    openings: tuple[Opening, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "point", _kept(self.point, (3,)))
        normal = np.asarray(self.normal, dtype=float).reshape(3)
        size = float(np.linalg.norm(normal))
        if not size > 0.0 or not np.isfinite(size):
            raise RangeError(f"panel '{self.name}' needs a normal that is not zero")
        object.__setattr__(self, "normal", _kept(normal / size, (3,)))
        if self.outline is not None:
            object.__setattr__(self, "outline", _kept(self.outline, (-1, 2)))
        object.__setattr__(self, "openings", tuple(self.openings))

    @cached_property
    def basis(self) -> Floats:
        """(2, 3) unit vectors along and up."""
        return plane_basis(self.normal)

    def flat(self, points: ArrayLike) -> Floats:
        """`points` (..., 3) [m] seen along the normal: (..., 2) [m], along and up."""
        return np.asarray((np.asarray(points, dtype=float) - self.point) @ self.basis.T)

    def space(self, flat: ArrayLike) -> Floats:
        """Points (..., 2) [m] on the plane, in space: (..., 3) [m]."""
        return np.asarray(self.point + np.asarray(flat, dtype=float) @ self.basis)

    def hinge_line(self, opening: Opening) -> Floats:
        """(2, 3) both ends of the side that a door of this panel hangs on, in space [m]."""
        if opening.door is None:
            raise RangeError(f"'{opening.name}' is a window: it has no hinge")
        start = opening.door.hinge
        ends = [start, (start + 1) % len(opening.outline)]
        return self.space(opening.outline[ends])


def plane_basis(normal: ArrayLike) -> Floats:
    """Unit vectors along and up on a plane, right-handed with its normal.

    Parameters
    ----------
    normal : (3,) [-]
        Of any length above zero.

    Returns
    -------
    basis : (2, 3) [-]
        Up is nearest to +z, or to +y where the plane is level within 0.06 degrees.
    """
    n = np.asarray(normal, dtype=float) / np.linalg.norm(normal)
    upright = np.hypot(n[0], n[1]) > _LEVEL
    toward = np.array([0.0, 0.0, 1.0] if upright else [0.0, 1.0, 0.0])
    up = toward - (toward @ n) * n
    up /= np.linalg.norm(up)
    return np.stack([np.cross(up, n), up])


def rectangle(centre: ArrayLike, *, width: float, height: float) -> Floats:
    """Corners of a rectangle; its side 0 is the lower one, 1 the far end, 2 the upper one.

    Parameters
    ----------
    centre : (2,) [m]
        Along and up.
    width : float [m]
        Along.
    height : float [m]
        Up.

    Returns
    -------
    outline : (4, 2) [m]
        Counter-clockwise from the corner that is lowest in both.
    """
    half = 0.5 * np.array([[-width, -height], [width, -height], [width, height], [-width, height]])
    return np.asarray(np.asarray(centre, dtype=float) + half)


def panel_problems(panels: Sequence[Panel]) -> tuple[str, ...]:
    """What makes panels unusable, a sentence each, naming panel and opening; none if all is well.

    Parameters
    ----------
    panels : sequence of Panel [m]
        Of one pan.

    Returns
    -------
    problems : tuple of str [-]
    """
    often = [n for n, count in Counter(p.name for p in panels).items() if count > 1]
    twice = [f"two panels are named '{name}'; give each its own name" for name in often]
    return (*twice, *(text for panel in panels for text in _problems(panel)))


def _problems(panel: Panel) -> Iterator[str]:
    where = f"panel '{panel.name}'"
    if not (np.isfinite(panel.point).all() and panel.thickness >= 0.0 and panel.gap >= 0.0):
        yield f"{where} needs a point in space, and a thickness and a gap that are not negative"
    crooked = [] if panel.outline is None else list(_outline_problems(panel.outline))
    yield from (f"{where}: its outline {text}" for text in crooked)
    names = Counter(o.name for o in panel.openings)
    yield from (f"{where}: two openings are named '{n}'" for n, k in names.items() if k > 1)
    sound = []
    for opening in panel.openings:
        found = [f"outline {text}" for text in _outline_problems(opening.outline)]
        if opening.door is not None:
            found += _door_problems(opening.door, len(opening.outline))
        yield from (f"{where}, {opening.kind} '{opening.name}': its {text}" for text in found)
        sound += [] if found else [opening]
    yield from _placing_problems(where, None if crooked else panel.outline, sound)


def _outline_problems(outline: Floats) -> Iterator[str]:
    if len(outline) < 3 or not np.isfinite(outline).all():
        yield "needs at least three corners"
    elif _crosses_itself(outline):
        yield "crosses itself; list the corners in order round the edge"
    elif region_area(region_of([outline], even_odd=True)) <= SPECK:
        yield "has no area"


def _door_problems(door: Door, corners: int) -> Iterator[str]:
    if not 0 <= door.hinge < corners:
        yield f"hinge must be one of its sides 0 to {corners - 1}, not {door.hinge}"
    if door.side not in (-1, 1):
        yield f"free side must be 1 (along the panel's normal) or -1, not {door.side}"


def _placing_problems(where: str, outline: Floats | None, sound: list[Opening]) -> Iterator[str]:
    """Openings that reach out of their panel or into each other, by more than rounding."""
    regions = [(o, region_of([o.outline], even_odd=True)) for o in sound]
    sheet = None if outline is None else region_of([outline], even_odd=True)
    for i, (opening, region) in enumerate(regions):
        text = f"{where}, {opening.kind} '{opening.name}'"
        if sheet is not None and _more_than_rounding(region - sheet):
            yield f"{text}: it reaches out of the panel's outline; keep it inside"
        for other, taken in regions[:i]:
            if _more_than_rounding(region ^ taken):
                yield f"{text}: it overlaps '{other.name}'; join them or move them apart"


def _more_than_rounding(region: Region) -> bool:
    return region_area(region) > SPECK


def _crosses_itself(outline: Floats) -> bool:
    """Whether two sides that are not neighbours meet."""
    start, way = outline, np.roll(outline, -1, axis=0) - outline
    away = start[None] - start[:, None]
    slant = _cross(way[:, None], way[None])
    with np.errstate(divide="ignore", invalid="ignore"):  # parallel sides: nan, never inside
        t, s = _cross(away, way[None]) / slant, _cross(away, way[:, None]) / slant
    meet = (t >= 0.0) & (t <= 1.0) & (s >= 0.0) & (s <= 1.0)
    step = np.abs(np.subtract.outer(np.arange(len(start)), np.arange(len(start))))
    return bool((meet & (step > 1) & (step < len(start) - 1)).any())


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _kept(values: ArrayLike, shape: tuple[int, ...]) -> Floats:
    """A read-only copy."""
    array = np.array(values, dtype=float).reshape(shape)
    array.setflags(write=False)
    return array
