# SPDX-License-Identifier: Apache-2.0
"""What is wrong with a pickup housing's numbers, each with its place in the job."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Problem, RangeError
from sumpwright.geometry.profile import CHORD, Profile
from sumpwright.job.load import LoadedJob
from sumpwright.studies.housing_shape import SEAT_PLAY, HousingShape
from sumpwright.studies.housing_socket import socket_of
from sumpwright.studies.size_words import in_units
from sumpwright.units import shown

Floats = NDArray[np.float64]
Keys = tuple[str | int, ...]

THIN = 1e-3
"""m; least metal beside a bolt's hole; [common-practice]."""


class HousingCheck:
    """One housing of the job, held against itself."""

    def __init__(self, loaded: LoadedJob, key: str, shape: HousingShape) -> None:
        self.loaded, self.shape, self.housing = loaded, shape, shape.housing
        self.at: Keys = (key, "housing")

    def problems(self) -> list[Problem]:
        """All that keeps it from being drawn; the plan first, since the rest stands on it."""
        plan = list(self._plan())
        return plan or [*self._heights(), *self._opening(), *self._bolts(), *self._socket()]

    def _length(self, value: float) -> str:
        return shown(value, "length", self.loaded.job.units)

    def _problem(self, code: str, keys: Keys, needed: str, do: str, found: str = "") -> Problem:
        place = (*self.at, *keys)
        found = found or self.loaded.typed(*place)
        return Problem(code, self.loaded.where(*place), found, needed, do)

    def _plan(self) -> Iterator[Problem]:
        key = next(k for k in ("diameter", "box", "outline") if getattr(self.housing, k))
        try:
            outer, inner = self.shape.plan(), self.shape.inside
        except RangeError as err:
            yield self._crossed(key, str(err))
            return
        if key == "diameter" and 2.0 * self.housing.wall >= (self.housing.diameter or 0.0):
            yield self._crossed(key, f"walls of {self._length(self.housing.wall)} leave no inside")
        elif outer.area <= 0.0 or _crosses(outer):
            yield self._crossed(key, "its outline crosses itself")
        elif inner.area <= 0.0 or _crosses(inner):
            said = f"walls of {self._length(self.housing.wall)} meet in the middle"
            yield self._crossed(key, said)

    def _crossed(self, key: str, why: str) -> Problem:
        needed = "an outline that leaves room inside its walls"
        do = "make the plan larger, or the walls or the rounding smaller"
        said = in_units(why, self.loaded.job.units)
        found = said if key == "outline" else f"{self.loaded.typed(*self.at, key)}: {said}"
        return self._problem("HOUS-502", (key,), needed, do, found)

    def _heights(self) -> Iterator[Problem]:
        shape = self.shape
        room = shape.ceiling - shape.seat
        if room < 1e-3:
            taken = self._length(self.housing.height - room)
            needed = f"more than {taken}, which the roof and the flange take up"
            yield self._problem("HOUS-503", ("height",), needed, "make it higher, or those thinner")
        if self.housing.lap >= self.housing.wall - SEAT_PLAY and self.housing.screen is not None:
            needed = f"less than the wall, {self._length(self.housing.wall)}"
            do = "let the screen end within the wall"
            yield self._problem("HOUS-504", ("lap",), needed, do)

    def _opening(self) -> Iterator[Problem]:
        retainer = self.housing.retainer
        if retainer is None or retainer.opening is None:
            return
        out = -_depths(self.shape.inside, self.shape.opening.polygon(CHORD)).min()
        if out > CHORD:
            needed = "an inlet within the housing's inside"
            found = f"{self.loaded.typed(*self.at, 'retainer', 'opening')}, which reaches "
            found += f"{self._length(out)} under a wall"
            do = "make the opening smaller, or the housing larger"
            yield self._problem("HOUS-505", ("retainer", "opening"), needed, do, found)

    def _bolts(self) -> Iterator[Problem]:
        shape, screw = self.shape, self.shape.thread
        if screw is None:
            return
        key = "circle" if self.housing.retainer and self.housing.retainer.circle else "at"
        for number, bolt in enumerate(shape.bolts):
            keys: Keys = ("retainer", key) if key == "circle" else ("retainer", key, number)
            wrong = self._bolt(bolt)
            if wrong:
                found = f"bolt {number + 1}: {wrong}"
                do = "move the bolt, or change its size, the lug or the flange"
                needed = "metal all round each bolt"
                yield self._problem("HOUS-506", keys, needed, do, found)
                break  # the others of a pattern say the same
        if shape.hole_depth > shape.crown - shape.seat - THIN:
            found = f"tapped holes {self._length(shape.hole_depth)} deep, drill's point included"
            needed = f"at most {self._length(shape.crown - shape.seat - THIN)}: they end in metal"
            do = "give a shorter `engagement`, or a smaller thread"
            yield self._problem("HOUS-506", ("retainer", "engagement"), needed, do, found)

    def _bolt(self, bolt: Floats) -> str:
        """What is wrong with one bolt's place; empty where it is right."""
        shape, screw, retainer = self.shape, self.shape.thread, self.housing.retainer
        assert screw is not None
        assert retainer is not None
        hole = 0.5 * screw.clearance
        inner = -float(_depths(shape.inside, bolt[None])[0])
        if inner < 0.5 * screw.drill + THIN:
            left = inner - 0.5 * screw.drill
            if left < 0.0:
                return f"its thread is {self._length(-left)} within the inside"
            return f"its thread is {self._length(left)} from the inside"
        if -float(_depths(shape.opening, bolt[None])[0]) < hole + THIN:
            return "its hole breaks into the inlet"
        if shape.housing.screen is not None:
            off = -float(_depths(shape.screen_plan, bolt[None])[0]) - hole
            if off < 0.0:
                return f"its hole runs {self._length(-off)} into the screen"
        reach = float(np.linalg.norm(bolt - shape.centre)) + hole + THIN
        if retainer.diameter is not None and reach > 0.5 * retainer.diameter:
            over = self._length(reach - 0.5 * retainer.diameter)
            return f"its hole comes {over} too near the flange's edge, or off it"
        if shape.lug < hole + THIN:
            return f"a lug of {self._length(shape.lug)} leaves no metal round its hole"
        if float(_depths(shape.plan(), bolt[None])[0]) < THIN - shape.lug:
            return "its lug does not meet the housing"
        apart = np.sort(np.linalg.norm(shape.bolts - bolt, axis=1))
        if len(apart) > 1 and apart[1] < 2.0 * hole + THIN:
            return f"another stands {self._length(float(apart[1]))} from it"
        return ""

    def _socket(self) -> Iterator[Problem]:
        socket, shape = self.housing.socket, self.shape
        if socket.tube <= socket.bore:
            needed = f"more than its bore, {self.loaded.typed(*self.at, 'socket', 'bore')}"
            yield self._problem("HOUS-507", ("socket", "tube"), needed, "mend one of the two")
        radius = 0.5 * socket.bore + socket.edge_radius
        if socket.leaves == "top":
            middle = shape.centre + np.asarray(socket.offset)
            if float(_depths(shape.inside, middle[None])[0]) < radius:
                needed = "a hole that lies, with its rounding, within the inside"
                do = "move it, or make it smaller"
                yield self._problem("HOUS-507", ("socket", "bore"), needed, do)
            elif float(_depths(shape.plan(), middle[None])[0]) < 0.5 * socket.tube:
                needed = "a tube that stands on the roof, no wider than the housing there"
                do = "thin the tube, move it, or make the housing larger"
                yield self._problem("HOUS-507", ("socket", "tube"), needed, do)
            return
        try:
            found = socket_of(shape)
        except RangeError as err:
            needed = "a direction that leaves the inside through a wall"
            yield self._problem("HOUS-507", ("socket", "direction"), needed, "change it", str(err))
            return
        height, tall = float(found.entry[2]), radius / np.cos(socket.rise)
        boss = (0.5 * socket.tube + socket.wall) / np.cos(socket.rise)
        low, high = height - shape.seat, shape.ceiling - height
        if min(low, high) < tall or low < boss:
            need = self._length(max(tall, boss) + tall)
            needed = f"an inside {need} high or more, and the tube's middle at least "
            needed += f"{self._length(max(tall, boss))} up it"
            found_text = f"an inside {self._length(low + high)} high, for a hole of "
            found_text += f"{self._length(2.0 * radius)} with its rounding, its middle "
            found_text += f"{self._length(low)} up"
            do = "raise the housing, thin the tube, or let it leave through the roof"
            yield self._problem("HOUS-507", ("socket", "leaves"), needed, do, found_text)


def _depths(profile: Profile, points: Floats) -> Floats:
    """(n,) how deep points lie within an outline; negative outside."""
    corners = profile.polygon(1e-6)
    side = np.roll(corners, -1, axis=0) - corners
    local = points[:, None] - corners[None]
    share = (local * side).sum(axis=2) / (side * side).sum(axis=1)
    off = local - np.clip(share, 0.0, 1.0)[..., None] * side
    away = np.linalg.norm(off, axis=2).min(axis=1)
    y, above = points[:, 1:2], corners[:, 1]
    spans = (above > y) != (np.roll(above, -1) > y)
    rise = np.where(side[:, 1] == 0.0, 1.0, side[:, 1])
    x = corners[:, 0] + (y - above) * side[:, 0] / rise
    within = ((x > points[:, :1]) & spans).sum(axis=1) % 2 == 1
    return np.asarray(np.where(within, away, -away))


def _crosses(profile: Profile) -> bool:
    """Whether an outline runs through itself: its region then has another area."""
    from sumpwright.geometry.region import region_area, region_of

    polygon = profile.polygon(CHORD)
    region = region_area(region_of([polygon], even_odd=True))
    x, y = polygon.T
    flat = 0.5 * float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
    return abs(region - flat) > 1e-6 * abs(flat)
