# SPDX-License-Identifier: Apache-2.0
"""Folded baffles and doors put in their places: does one stand in another?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, islice, product
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, RangeError
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import MM
from sumpwright.geometry.solid import solid_of
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.fold import folded
from sumpwright.metal.fold_clash import part_solids, shared_by
from sumpwright.studies.bodies import PanBodies
from sumpwright.studies.sheet_door import DoorPart
from sumpwright.units import shown

Floats = NDArray[np.float64]

_ANGLES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Shares of its stop at which a flap is looked at."""
_RUB = 5e-11
"""m^3; sheets that share less rub at a corner and are dressed by hand."""


@dataclass(frozen=True, eq=False)
class Standing:
    """A folded baffle in the pan."""

    name: str
    solids: tuple[Any, ...]

    @cached_property
    def box(self) -> Floats:
        """(2, 3) [mm] round it; of nothing, one that meets nothing."""
        boxes = np.array([s.bounding_box() for s in self.solids]).reshape(-1, 2, 3)
        low, high = (
            boxes[:, 0].min(axis=0, initial=np.inf),
            boxes[:, 1].max(axis=0, initial=-np.inf),
        )
        return np.array([low, high])


def assembled(name: str, pattern: FlatPattern, panel: Panel) -> Standing:
    """A baffle folded and put where it belongs."""
    try:
        solids = part_solids(folded(pattern))
    except RangeError:
        return Standing(name, ())
    turn = np.column_stack([*panel.basis, panel.normal])
    place = np.column_stack([turn, MM * panel.point])
    return Standing(name, tuple(solid.transform(place) for solid in solids))


def assembly_findings(
    placed: Sequence[Standing], doors: Sequence[DoorPart], pan: PanBodies, units: str
) -> list[Finding]:
    """All that stands, or on its way would stand, where something else is."""
    bodies, hung = bodies_in(pan), [Hung(part) for part in doors]
    return [
        *stands_in(placed, bodies, units),
        *doors_strike(hung, [*placed, *bodies], units),
        *doors_meet(hung, units),
        *doors_poke(hung, pan, units),
    ]


def bodies_in(pan: PanBodies) -> tuple[Standing, ...]:
    """What else stands in the pan: the pickup's housing, its tube."""
    named = zip(pan.displacing_names, pan.displacing, strict=False)
    return tuple(Standing(n, (solid_of(mesh, what=n).scale([MM] * 3),)) for n, mesh in named)


@dataclass(frozen=True, eq=False)
class Hung:
    """A flap or a leaf of a door, to be turned about its pin."""

    part: DoorPart

    @property
    def door(self) -> tuple[str, str]:
        """What it is a part of: its baffle, and its opening."""
        return self.part.web.panel.name, self.part.opening.name

    @property
    def angles(self) -> tuple[float, ...]:
        """At which it is looked at, shut first [rad]."""
        shares = _ANGLES if self.part.kind == "flap" else _ANGLES[:1]
        return tuple(share * self.part.stop for share in shares)

    @cached_property
    def _flat(self) -> tuple[Any, ...]:
        try:
            return tuple(part_solids(folded(self.part.pattern)))
        except RangeError:
            return ()

    @cached_property
    def postures(self) -> tuple[Standing, ...]:
        """On the face of its baffle, at each of its angles."""
        return tuple(self._at(angle) for angle in self.angles)

    def _at(self, angle: float) -> Standing:
        part, panel, seat = self.part, self.part.web.panel, self.part.seat
        side = 1.0 if part.opening.door is None else float(part.opening.door.side)
        off = 0.5 * (panel.thickness + part.pattern.thickness) * side
        turn = np.column_stack([seat.u @ panel.basis, seat.v @ panel.basis, side * panel.normal])
        foot = panel.space(seat.foot) + off * panel.normal
        if angle > 0.0:
            axis = foot + part.pin_height * turn[:, 2]
            c, s = np.cos(angle), np.sin(angle)
            about = turn @ np.array([[1.0, 0.0, 0.0], [0.0, c, s], [0.0, -s, c]])
            foot = axis - part.pin_height * about[:, 2]
            turn = about
        place = np.column_stack([turn, MM * foot])
        return Standing(part.name, tuple(solid.transform(place) for solid in self._flat))

    def posture(self, number: int) -> str:
        """In words."""
        if self.part.kind != "flap":
            return "in its place"
        angle = self.angles[number]
        return "shut" if angle == 0.0 else f"{np.degrees(angle):.0f} deg open"


def doors_strike(
    doors: Sequence[Hung], placed: Sequence[Standing], units: str
) -> Iterator[Finding]:
    """Flaps and leaves that stand in something: shut, and flaps on their way to their stop."""
    for door in doors:
        hits = (
            (number, hit)
            for number, body in enumerate(door.postures)
            for other in placed
            if (hit := _strikes(body, other, units))
        )
        for number, hit in islice(hits, 1):
            found = f"{door.posture(number)}, it stands in {hit}"
            mend = "move the door or what it meets, or stop it earlier"
            yield Finding("SHEE-525", door.part.name, found, mend, "error")


def doors_meet(doors: Sequence[Hung], units: str) -> Iterator[Finding]:
    """Flaps and leaves of two doors that meet: shut, or one or both of them on their way."""
    for one, other in combinations(doors, 2):
        if one.door == other.door:
            continue
        ways = product(range(len(one.angles)), range(len(other.angles)))
        hits = (
            (i, k, hit)
            for i, k in sorted(ways, key=lambda w: (sum(w), w))
            if (hit := _meet(one.postures[i], other.postures[k], units))
        )
        for i, k, hit in islice(hits, 1):
            where = f"'{other.part.name}', {other.posture(k)}, near {hit}"
            found = f"{one.posture(i)}, it meets {where}"
            mend = "move one of the two doors, or stop one of them earlier"
            severity: Literal["error", "warning"] = "warning" if i or k else "error"
            yield Finding("SHEE-525", one.part.name, found, mend, severity)


def doors_poke(doors: Sequence[Hung], pan: PanBodies, units: str) -> Iterator[Finding]:
    """Flaps and leaves that reach into the pan's wall: shut, or on their way to their stop."""
    from manifold3d import Manifold

    space = solid_of(pan.oil_space, what="the pan's inside").scale([MM] * 3)
    for door in doors:
        for number, body in enumerate(door.postures):
            past = Manifold.compose(list(body.solids)) - space
            if past.volume() * MM**-3 < _RUB:
                continue
            box = np.asarray(past.bounding_box()).reshape(2, 3)
            found = f"{door.posture(number)}, it reaches into the pan's wall near "
            found += _place(box.mean(axis=0) / MM, units)
            mend = "move the door, stop it earlier, or make its overlap less"
            yield Finding("SHEE-525", door.part.name, found, mend, "error")
            break


def _strikes(body: Standing, other: Standing, units: str) -> str | None:
    near = _meet(body, other, units)
    return None if near is None else f"'{other.name}' near {near}"


def _meet(one: Standing, other: Standing, units: str) -> str | None:
    """Where one stands in the other, in words."""
    if (one.box[0] >= other.box[1]).any() or (other.box[0] >= one.box[1]).any():
        return None
    both = shared_by(one.solids, other.solids)
    if both is None or both[1] < _RUB:
        return None
    return _place(both[0], units)


def _place(spot: Floats, units: str) -> str:
    x, y, z = (shown(float(v), "length", units) for v in spot)
    return f"x {x}, y {y}, z {z}"


def stands_in(
    placed: Sequence[Standing], bodies: Sequence[Standing], units: str
) -> Iterator[Finding]:
    """Every two baffles of which one stands in the other, and baffles in what else is there."""
    sheets = ((f"baffles '{a.name}' and '{b.name}'", a, b) for a, b in combinations(placed, 2))
    others = ((f"baffle '{a.name}' and '{b.name}'", a, b) for a, b in product(placed, bodies))
    for names, one, other in (*sheets, *others):
        near = _meet(one, other, units)
        if near is not None:
            found = f"as folded they stand in each other near {near}"
            mend = "move a tab to the other side, shorten it, or give the two a join"
            yield Finding("SHEE-519", names, found, mend, "error")
