# SPDX-License-Identifier: Apache-2.0
"""The parts of a trap door: its flap, the leaf it hangs on, the pin, and a stop."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, Problem, RangeError
from sumpwright.geometry.panel import Opening
from sumpwright.job.baffle import BaffleOpening
from sumpwright.job.load import LoadedJob
from sumpwright.job.shop import Shop
from sumpwright.metal.flat_pattern import FlatPattern, Polygon
from sumpwright.metal.flat_pattern_arc import profile_of
from sumpwright.metal.hinge import HingeSpec, Stop, knuckled, stop_for
from sumpwright.studies.sheet_part_result import Pin, StripResult
from sumpwright.studies.sheet_web import Web, k_of, metal_of
from sumpwright.studies.size_words import in_units

Floats = NDArray[np.float64]

OVERLAP = 3e-3
"""m; default of how far a flap covers the edge of its opening; common practice, no source."""
RIVETED_OVER = 3e-3
"""m that a pin is longer than its hinge, to rivet its ends over; common practice, no source."""
_ROOM = 3.0
"""Thicknesses of leaf left behind the bend of its stop; [common-practice]."""


@dataclass(frozen=True, eq=False)
class Seat:
    """Where a hinge sits on its baffle: from its own u and v to the baffle's along and up."""

    foot: Floats
    """(2,) [m] under the middle of the pin"""
    u: Floats
    v: Floats

    def on_panel(self, points: Sequence[Sequence[float]]) -> Floats:
        """Points (n, 2) [m] in u and v, on the panel."""
        flat = np.asarray(points, dtype=float).reshape(-1, 2)
        return np.asarray(self.foot + flat[:, :1] * self.u + flat[:, 1:] * self.v)

    def from_panel(self, points: Floats) -> Floats:
        """Points (n, 2) [m] on the panel, in u and v."""
        off = np.asarray(points, dtype=float) - self.foot
        return np.stack([off @ self.u, off @ self.v], axis=1)


@dataclass(frozen=True, eq=False)
class DoorPart:
    """A flat pattern of a door, and what to say of it."""

    name: str
    kind: str
    metal: str
    pattern: FlatPattern
    seat: Seat
    web: Web
    opening: Opening
    warnings: tuple[Finding, ...] = ()
    note: str = ""

    @property
    def stop(self) -> float:
        """Largest angle the door opens to [rad]."""
        given = next(o.door for o in self.web.baffle.openings if o.name == self.opening.name)
        assert given is not None
        return given.stop

    @property
    def pin_height(self) -> float:
        """Of the pin's axis over the middle of the sheet [m]; 0 without a hinge."""
        rolls = [bend.radius for bend in self.pattern.bends if bend.rolled]
        return rolls[0] + 0.5 * self.pattern.thickness if rolls else 0.0


@dataclass
class DoorParts:
    """All that doors are made of."""

    loaded: LoadedJob
    strips: Sequence[StripResult]
    parts: list[DoorPart] = field(default_factory=list)
    pins: list[Pin] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    holes: dict[str, list[tuple[Floats, float]]] = field(default_factory=dict)
    """By baffle: middle and diameter of what is drilled behind a leaf"""

    def add(self, web: Web, number: int, given: BaffleOpening, opening: Opening) -> None:
        """The parts of one door."""
        assert given.door is not None
        door = given.door
        family = door.material or web.baffle.material
        thickness = door.thickness if door.thickness is not None else web.baffle.thickness
        metal = metal_of(family, thickness, self.loaded.job.shop or Shop())
        overlap = OVERLAP if door.overlap is None else door.overlap
        if door.butt_hinge is None:
            seat = _seat(opening, overlap)
            flap = _grown(opening, seat, overlap)
            pattern = FlatPattern(profile_of(np.asarray(flap.exterior.coords)[:-1]), (), thickness)
            note = "the job gives no hinge: flap only"
            self._part(f"{given.name} flap", "flap", metal, pattern, seat, web, opening, note=note)
            return
        keys = ("new", "baffles", web.number, "openings", number, "door", "butt_hinge")
        try:
            self._hung(web, given, opening, metal, thickness, overlap)
        except RangeError as err:
            needed = "a hinge that the door's side has room for"
            do = "mend `length`, `knuckles`, `pin` or `leaf`"
            self.problems.append(
                Problem("SHEE-506", self.loaded.where(*keys), self._words(err), needed, do)
            )

    def _hung(
        self,
        web: Web,
        given: BaffleOpening,
        opening: Opening,
        metal: str,
        thickness: float,
        overlap: float,
    ) -> None:
        assert given.door is not None
        assert given.door.butt_hinge is not None
        hinge = given.door.butt_hinge
        side = _side_length(opening)
        length = side if hinge.length is None else hinge.length
        if length > side + 1e-9:
            raise RangeError(f"a hinge of {1e3 * length:.4g} mm on a side of {1e3 * side:.4g} mm")
        inside = 0.5 * hinge.pin + hinge.play
        k = k_of(metal, thickness, inside, self.strips)
        how = (length, hinge.knuckles, hinge.pin, hinge.play, thickness, k.value, k.source)
        spec = HingeSpec(*how)
        seat = _seat(opening, overlap + spec.clear)
        flap = _grown(opening, seat, overlap)
        self._part(
            f"{given.name} flap",
            "flap",
            metal,
            knuckled(spec, flap, leaf=False),
            seat,
            web,
            opening,
        )
        stop, said = self._stop(web, given, spec, flap)
        holes = _leaf_holes(spec, given, stop)
        leaf = knuckled(
            spec,
            _leaf(spec, hinge.leaf),
            leaf=True,
            stop=stop,
            holes=holes,
            stop_k=(0.4, "table") if stop is None else _k_pair(metal, spec, stop, self.strips),
        )
        self._part(f"{given.name} leaf", "leaf", metal, leaf, seat, web, opening, said)
        drilled = self.holes.setdefault(web.panel.name, [])
        for u, v, diameter in holes:
            drilled.append((seat.on_panel([[u, v]])[0], diameter))
        name = f"{given.name} pin"
        self.pins.append(Pin(name, name, hinge.pin, length + RIVETED_OVER))

    def _words(self, err: RangeError) -> str:
        return in_units(str(err), self.loaded.job.units)

    def _part(
        self,
        name: str,
        kind: str,
        metal: str,
        pattern: FlatPattern,
        seat: Seat,
        web: Web,
        opening: Opening,
        warnings: tuple[Finding, ...] = (),
        note: str = "",
    ) -> None:
        made = DoorPart(name, kind, metal, pattern, seat, web, opening, warnings, note)
        self.parts.append(made)

    def _stop(
        self, web: Web, given: BaffleOpening, spec: HingeSpec, flap: Polygon
    ) -> tuple[Stop | None, tuple[Finding, ...]]:
        assert given.door is not None
        assert given.door.butt_hinge is not None
        hinge, where = given.door.butt_hinge, f"door '{given.name}' of '{web.panel.name}'"
        if not hinge.stop_tab:
            return None, ()
        try:
            stop = stop_for(spec, given.door.stop, spec.thickness)
            needed = stop.start + _ROOM * spec.thickness
            reach = -float(flap.bounds[1])
            if hinge.leaf < needed:
                leaf, least = (f"{1e3 * v:.1f} mm" for v in (hinge.leaf, needed))
                raise RangeError(f"a leaf of {leaf} is too short for it; it needs {least}")
            if stop.touches > reach:
                raise RangeError("the flap is too short to reach it")
            knuckled(spec, _leaf(spec, hinge.leaf), leaf=True, stop=stop)
        except RangeError as err:
            found = f"no stop tab is drawn: {self._words(err)}"
            mend = "give the leaf more reach, or stop the door another way (`stop_tab: false`)"
            return None, (Finding("SHEE-518", where, found, mend, "warning"),)
        return stop, ()


def _k_pair(
    metal: str, spec: HingeSpec, stop: Stop, strips: Sequence[StripResult]
) -> tuple[float, str]:
    k = k_of(metal, spec.thickness, stop.bend, strips)
    return k.value, k.source


def _side(opening: Opening) -> Floats:
    assert opening.door is not None
    k = opening.door.hinge
    return np.asarray(opening.outline[[k, (k + 1) % len(opening.outline)]])


def _side_length(opening: Opening) -> float:
    a, b = _side(opening)
    return float(np.hypot(*(b - a)))


def _seat(opening: Opening, off: float) -> Seat:
    """A hinge line that lies `off` past the side the door hangs on."""
    assert opening.door is not None
    a, b = _side(opening)
    u = (b - a) / np.hypot(*(b - a))
    v = np.array([-u[1], u[0]])
    if float(((opening.outline - a) @ v).mean()) > 0.0:
        v = -v
    # seen from where the door swings to, u, v and up are right-handed
    if (u[0] * v[1] - u[1] * v[0]) * opening.door.side < 0.0:
        u = -u
    return Seat(0.5 * (a + b) + off * v, u, v)


def _grown(opening: Opening, seat: Seat, overlap: float) -> Polygon:
    """What of a flap lies flat, in u and v: the opening and its overlap, up to the hinge's room."""
    from shapely import Polygon as Ring
    from shapely import orient_polygons

    whole = Ring(seat.from_panel(opening.outline)).buffer(overlap, join_style="mitre")
    return orient_polygons(whole.simplify(1e-7))


def _leaf(spec: HingeSpec, reach: float) -> Polygon:
    from shapely import box

    if reach < spec.clear + 3.0 * spec.thickness:
        raise RangeError(
            f"a leaf of {1e3 * reach:.4g} mm; beside the knuckles nothing of it is left to fix"
        )
    return box(-0.5 * spec.length, spec.clear, 0.5 * spec.length, reach)


def _leaf_holes(
    spec: HingeSpec, given: BaffleOpening, stop: Stop | None
) -> tuple[tuple[float, float, float], ...]:
    """In a row along the leaf, midway in what is flat of it, or behind its stop."""
    assert given.door is not None
    assert given.door.butt_hinge is not None
    row, leaf = given.door.butt_hinge.holes, given.door.butt_hinge.leaf
    if row is None:
        return ()
    front = spec.clear if stop is None else max(spec.clear, stop.start)
    v = 0.5 * (front + leaf)
    if leaf - front < 2.0 * row.diameter:
        raise RangeError(
            f"holes of {1e3 * row.diameter:.3g} mm in the {1e3 * (leaf - front):.3g} mm of leaf "
            "behind knuckles and stop"
        )
    steps = (np.arange(row.count) + 0.5) / row.count - 0.5
    return tuple((float(step * spec.length), v, row.diameter) for step in steps)
