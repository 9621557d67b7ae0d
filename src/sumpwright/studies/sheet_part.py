# SPDX-License-Identifier: Apache-2.0
"""What do I cut and bend? Baffles, flaps and hinge leaves as flat patterns, nested on sheets."""

import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright import __version__
from sumpwright.errors import Finding, InputError, Problem, RangeError
from sumpwright.job.load import LoadedJob, load_job
from sumpwright.job.revision import input_hash
from sumpwright.job.shop import Shop
from sumpwright.metal.flat_pattern_return import RETURNS, stray
from sumpwright.metal.flat_pattern_tab import SeatedTab, TabSpec, developed, seated
from sumpwright.metal.material import material
from sumpwright.studies.baffle import door_of
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.body_file import read_bodies
from sumpwright.studies.grade import grade_problems
from sumpwright.studies.sheet_assembly import Standing, assembled, assembly_findings
from sumpwright.studies.sheet_door import DoorPart, DoorParts
from sumpwright.studies.sheet_doubt import doubts_of
from sumpwright.studies.sheet_join import Joining
from sumpwright.studies.sheet_nest import nested_parts
from sumpwright.studies.sheet_order import in_order
from sumpwright.studies.sheet_part_result import SheetPart, SheetsResult, StripResult
from sumpwright.studies.sheet_tab import ground_of, tabs_lie
from sumpwright.studies.sheet_web import Web, k_of, strips_of, webs_of, with_region
from sumpwright.studies.size_words import in_units
from sumpwright.units import shown

Progress = Callable[[str, float], None]
Floats = NDArray[np.float64]

LEAST_SLIT = 1e-3
"""m; narrower slits beside a tab are no use to a cutter; common practice, no source."""
_MASS = 0.05
"""Share by which a flap's mass may differ from what its door was computed with."""
_GRAIN = {"along": np.array([1.0, 0.0]), "up": np.array([0.0, 1.0])}


def sheets_of_job(folder: Path, progress: Progress | None = None) -> SheetsResult:
    """The sheet parts of the job in `folder`; writes nothing but the cache."""
    say = progress or (lambda _text, _share: None)
    loaded = load_job(folder, (grade_problems,))
    say("reading geometry", 0.0)
    return sheets_with(loaded, read_bodies(loaded, progress), progress)


def sheets_with(
    loaded: LoadedJob, bodies: Bodies, progress: Progress | None = None
) -> SheetsResult:
    """The same for those who have the bodies."""
    say = progress or (lambda _text, _share: None)
    if not loaded.job.new.baffles:
        raise InputError([_no_baffles(loaded)])
    shop = loaded.job.shop or Shop()
    making = _Making(loaded)
    say("clipping the baffles to the pan", 0.4)
    making.take(bodies)
    say("laying out tabs, joins and hinges", 0.5)
    making.make()
    if making.problems:
        raise InputError(making.problems)
    say("folding every part", 0.6)
    items = making.items(bodies)
    making.findings += assembly_findings(
        making.placed, making.doors.parts, bodies.new, loaded.job.units
    )
    say("nesting", 0.85)
    priced, sheets, said = nested_parts(items, shop, loaded.job.units)
    return SheetsResult(
        job=loaded.job.job,
        revision=loaded.job.revision,
        input_hash=input_hash(loaded),
        code_version=__version__,
        units=loaded.job.units,
        currency=shop.prices.currency,
        items=tuple(priced),
        pins=tuple(replace(pin, key=_key(pin.name, making.keys)) for pin in making.doors.pins),
        sheets=tuple(sheets),
        strips=tuple(making.strips),
        findings=(*making.findings, *said),
    )


@dataclass
class _Making:
    """From baffles to parts, step by step, collecting what is wrong."""

    loaded: LoadedJob
    problems: list[Problem] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    keys: set[str] = field(default_factory=set)
    placed: list[Standing] = field(default_factory=list)

    def take(self, bodies: Bodies) -> None:
        """The metal of every baffle, joined where they meet."""
        self.strips: Sequence[StripResult]
        self.strips, problems, findings = strips_of(self.loaded)
        webs, more, said = webs_of(self.loaded, bodies)
        self.problems += [*problems, *more]
        self.findings += [*findings, *said]
        joining = Joining(self.loaded, {web.panel.name: web for web in webs})
        joining.join_all()
        self.problems += joining.problems
        self.findings += joining.findings
        self.webs, self.marks = joining.webs, joining.marks

    def make(self) -> None:
        """Doors, then the tabs of every baffle."""
        self.doors = DoorParts(self.loaded, self.strips)
        for web in self.webs.values():
            openings = {opening.name: opening for opening in web.panel.openings}
            for number, given in enumerate(web.baffle.openings):
                if given.door is not None:
                    self.doors.add(web, number, given, openings[given.name])
        self.problems += self.doors.problems
        self.webs = {n: _drilled(w, self.doors.holes.get(n, ())) for n, w in self.webs.items()}
        self.tabs = {name: self._seated(web) for name, web in self.webs.items()}

    def _seated(self, web: Web) -> list[SeatedTab]:
        found: list[SeatedTab] = []
        for number, tab in enumerate(web.baffle.tabs):
            where = self.loaded.where("new", "baffles", web.number, "tabs", number)
            radius = tab.radius if tab.radius is not None else web.baffle.bend_radius
            radius = web.baffle.thickness if radius is None else radius
            k = k_of(web.metal, web.baffle.thickness, radius, self.strips)
            spec = TabSpec(
                name=tab.name or f"tab {number + 1}",
                edge=tab.edge,
                at=tab.at,
                width=tab.width,
                flange=tab.flange,
                up=tab.bends == "ahead",
                angle=tab.angle,
                radius=radius,
                k=k.value,
                k_from=k.source,
                relief=tab.relief or max(web.baffle.thickness, LEAST_SLIT),
                hole=0.0 if tab.holes is None else tab.holes.diameter,
                holes=0 if tab.holes is None else tab.holes.count,
            )
            try:
                seat = seated(web.region, spec, web.baffle.thickness)
            except RangeError as err:
                self.problems.append(_off(where, in_units(str(err), self.loaded.job.units)))
                continue
            self.problems += [_over(where, o.spec.name) for o in found if _meet(seat, o)]
            found.append(seat)
        return found

    def items(self, bodies: Bodies) -> list[SheetPart]:
        """Every part, with what belongs on its drawing."""
        made = [self._baffle(web) for web in self.webs.values()]
        lying = [self._lying(item, bodies) for item in made]
        return [*lying, *(self._door(part) for part in self.doors.parts)]

    def _baffle(self, web: Web) -> SheetPart:
        tabs = self.tabs[web.panel.name]
        pattern = developed(
            web.region, tabs, web.baffle.thickness, self.marks.get(web.panel.name, ())
        )
        units = self.loaded.job.units
        grain = None if web.baffle.grain is None else _GRAIN[web.baffle.grain]
        flanges = {tab.spec.name: tab.spec.flange for tab in tabs}
        warnings = list(doubts_of(web.panel.name, pattern, web.metal, flanges, grain, units))
        off = stray(pattern, web.region, tabs)
        if off > RETURNS:
            warnings.append(_strays(web.panel.name, off, units))
        self.placed.append(assembled(web.panel.name, pattern, web.panel))
        pattern, order, said = in_order(web.panel.name, pattern, units)
        return SheetPart(
            key=_key(web.panel.name, self.keys),
            name=web.panel.name,
            kind="baffle",
            material=web.metal,
            pattern=pattern,
            mass=_mass(web.metal, pattern.area, pattern.thickness),
            warnings=(*warnings, *said),
            stray=off,
            grain=web.baffle.grain,
            order=order,
        )

    def _lying(self, item: SheetPart, bodies: Bodies) -> SheetPart:
        """A baffle, with its tabs held against what they are fixed to."""
        tabs = self.tabs[item.name]
        if not tabs:
            return item
        ground = ground_of(bodies.new, self.placed, item.name)
        panel, units = self.webs[item.name].panel, self.loaded.job.units
        said = tabs_lie(item.name, panel, tabs, ground, units)
        return replace(item, warnings=(*item.warnings, *said))

    def _door(self, part: DoorPart) -> SheetPart:
        units = self.loaded.job.units
        flat, order, said = in_order(part.name, part.pattern, units)
        mass = _mass(part.metal, flat.area, flat.thickness)
        doubts = doubts_of(part.name, flat, part.metal, {}, None, units)
        warnings = [*part.warnings, *doubts, *said]
        if part.kind == "flap":
            warnings += self._weighed(part, mass)
        return SheetPart(
            key=_key(part.name, self.keys),
            name=part.name,
            kind="flap" if part.kind == "flap" else "leaf",
            material=part.metal,
            pattern=flat,
            mass=mass,
            warnings=tuple(warnings),
            note=part.note,
            order=order,
        )

    def _weighed(self, part: DoorPart, mass: float) -> list[Finding]:
        """Whether the flap weighs what its door was computed with."""
        leaf = door_of(part.web.baffle, part.web.panel, part.opening)
        if abs(mass - leaf.mass) <= _MASS * leaf.mass:
            return []
        units = self.loaded.job.units
        made, taken = (shown(m, "mass", units, finer=1) for m in (mass, leaf.mass))
        found = f"as made it weighs {made}, knuckles and overlap included; the door counts {taken}"
        mend = f"write `mass: {made}` in the door, and see whether the answers on oil change"
        return [Finding("SHEE-517", part.name, found, mend, "note")]


def _mass(metal: str, area: float, thickness: float) -> float:
    return material(metal).density * area * thickness


def _drilled(web: Web, holes: Sequence[tuple[Floats, float]]) -> Web:
    from shapely import Point

    region = web.region
    for at, diameter in holes:
        region = region.difference(Point(at).buffer(0.5 * diameter, quad_segs=24))
    return with_region(web, region)


def _meet(one: SeatedTab, other: SeatedTab) -> bool:
    """Whether two tabs want the same piece of edge, slits included."""
    if one.spec.edge != other.spec.edge:
        return False
    apart = float(np.hypot(*(one.middle - other.middle)))
    room = 0.5 * (one.spec.width + other.spec.width) + min(one.spec.relief, other.spec.relief)
    return apart < room - 1e-9


def _key(name: str, taken: set[str]) -> str:
    """A file's name of it: letters, digits and dashes, another for each."""
    flat = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii").lower()
    base = re.sub(r"[^a-z0-9]+", "-", flat).strip("-")[:50] or "part"
    key, number = base, 2
    while key in taken:
        key, number = f"{base}-{number}", number + 1
    taken.add(key)
    return key


def _no_baffles(loaded: LoadedJob) -> Problem:
    needed = "a baffle of the new pan: walls, trays and their doors are what is cut from sheet"
    return Problem("SHEE-508", loaded.where("new"), "no baffles", needed, "add `new.baffles`")


def _off(where: str, found: str) -> Problem:
    needed = "a straight piece of the baffle's edge under the whole tab, and a flange past its bend"
    do = "move the tab, make it narrower or its flange longer; edges curve where the pan does"
    return Problem("SHEE-501", where, found, needed, do)


def _over(where: str, other: str) -> Problem:
    needed = "tabs that leave each other room, slits included"
    found = f"a tab on the same piece of edge as '{other}'"
    return Problem("SHEE-502", where, found, needed, "move one of the two, or make them narrower")


def _strays(name: str, off: float, units: str) -> Finding:
    found = f"folded, it comes back to its panel only within {shown(off, 'length', units, finer=1)}"
    mend = f"report this: it should be {shown(RETURNS, 'length', units, finer=1)}"
    return Finding("SHEE-515", name, found, mend, "error")
