# SPDX-License-Identifier: Apache-2.0
"""Folded baffles put in their places: does one stand in another?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from sumpwright.errors import Finding, RangeError
from sumpwright.geometry.panel import Panel
from sumpwright.geometry.region import MM
from sumpwright.metal.flat_pattern import FlatPattern
from sumpwright.metal.fold import folded
from sumpwright.metal.fold_clash import part_solids, shared_by
from sumpwright.studies.sheet_door import DoorPart
from sumpwright.units import shown

_ANGLES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Shares of its stop at which a flap is looked at."""
_RUB = 5e-11
"""m^3; sheets that share less rub at a corner and are dressed by hand."""


@dataclass(frozen=True, eq=False)
class Standing:
    """A folded baffle in the pan."""

    name: str
    solids: tuple[Any, ...]


def assembled(name: str, pattern: FlatPattern, panel: Panel) -> Standing:
    """A baffle folded and put where it belongs."""
    try:
        solids = part_solids(folded(pattern))
    except RangeError:
        return Standing(name, ())
    turn = np.column_stack([*panel.basis, panel.normal])
    place = np.column_stack([turn, MM * panel.point])
    return Standing(name, tuple(solid.transform(place) for solid in solids))


def hung(part: DoorPart, angle: float) -> Standing:
    """A flap or a leaf on the face of its baffle, turned open about its pin by an angle."""
    try:
        solids = part_solids(folded(part.pattern))
    except RangeError:
        return Standing(part.name, ())
    panel, seat = part.web.panel, part.seat
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
    return Standing(part.name, tuple(solid.transform(place) for solid in solids))


def doors_strike(
    parts: Sequence[DoorPart], placed: Sequence[Standing], units: str
) -> Iterator[Finding]:
    """Flaps and leaves that stand in a baffle: shut, and flaps on their way to their stop."""
    for part in parts:
        for angle in _ANGLES if part.kind == "flap" else (0.0,):
            body = hung(part, angle * part.stop)
            hit = next((f for other in placed if (f := _strikes(body, other, units))), None)
            if hit is None:
                continue
            how = "shut" if angle == 0.0 else f"{np.degrees(angle * part.stop):.0f} deg open"
            how = how if part.kind == "flap" else "in its place"
            mend = "move the door or what it meets, or stop it earlier"
            yield Finding("SHEE-525", part.name, f"{how}, it stands in {hit}", mend, "error")
            break


def _strikes(body: Standing, other: Standing, units: str) -> str | None:
    both = shared_by(body.solids, other.solids)
    if both is None or both[1] < _RUB:
        return None
    x, y, z = (shown(float(v), "length", units) for v in both[0])
    return f"'{other.name}' near x {x}, y {y}, z {z}"


def stands_in(placed: Sequence[Standing], units: str) -> Iterator[Finding]:
    """Every two baffles of which one stands in the other."""
    for i, one in enumerate(placed):
        for other in placed[:i]:
            both = shared_by(one.solids, other.solids)
            if both is None or both[1] < _RUB:
                continue
            x, y, z = (shown(float(v), "length", units) for v in both[0])
            found = f"as folded they stand in each other near x {x}, y {y}, z {z}"
            mend = "move a tab to the other side, shorten it, or give the two a join"
            names = f"baffles '{other.name}' and '{one.name}'"
            yield Finding("SHEE-519", names, found, mend, "error")
