# SPDX-License-Identifier: Apache-2.0
"""Baffles put together where they meet: as the job says, or as is proposed where it says nothing.

A proposal is drawn too, because sheets that stand in each other cannot be assembled.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import Finding, Problem, RangeError
from sumpwright.job.load import LoadedJob
from sumpwright.job.sheet_part import Join
from sumpwright.metal.join import REACH, Seam, seam_of
from sumpwright.metal.join_cut import cut_back, half_lap, tongued
from sumpwright.studies.sheet_web import Web, with_region
from sumpwright.studies.size_words import in_units, nominal
from sumpwright.units import shown

Floats = NDArray[np.float64]
Marks = dict[str, list[tuple[str, Floats]]]

EVERY = 0.04
"""m of seam to a tongue; common practice, no source."""
WIDEST = 0.012
"""m; of a tongue that is proposed; common practice, no source."""
LEAST_CLEAR, SHARE_CLEAR = 1e-4, 0.1
"""m, and share of the slotted sheet's thickness, on each side; common practice, no source."""


@dataclass
class Joining:
    """Baffles as they are joined one by one."""

    loaded: LoadedJob
    webs: dict[str, Web]
    problems: list[Problem] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    marks: Marks = field(default_factory=dict)
    done: set[frozenset[str]] = field(default_factory=set)

    def join_all(self) -> None:
        """What the job asks for, then what is left."""
        for web in list(self.webs.values()):
            for number, join in enumerate(web.baffle.joins):
                where = self.loaded.where("new", "baffles", web.number, "joins", number)
                self._asked(web.panel.name, join, where)
        names = list(self.webs)
        for i, one in enumerate(names):
            for other in names[i + 1 :]:
                if frozenset((one, other)) not in self.done:
                    self._propose(one, other)

    def _asked(self, name: str, join: Join, where: str) -> None:
        if join.to not in self.webs or join.to == name:
            others = ", ".join(n for n in self.webs if n != name) or "none"
            found = f"a join to '{join.to}'"
            do = "write the other baffle's name as it is in the job"
            self.problems.append(Problem("SHEE-504", where, found, f"one of: {others}", do))
            return
        one, other = self.webs[name], self.webs[join.to]
        self.done.add(frozenset((name, join.to)))
        seam = seam_of(one.panel, one.region, other.panel, other.region)
        if seam is None:
            found = f"a join of '{name}' and '{join.to}', which do not meet"
            near = nominal(REACH, self.loaded.job.units)
            needed = (
                f"two baffles that cross, or of which one ends within {near} of the other's face"
            )
            do = "draw the edge nearer, or drop the join"
            self.problems.append(Problem("SHEE-504", where, found, needed, do))
            return
        try:
            self._cut(seam, one, other, join)
        except RangeError as err:
            needed = "a join that both sheets have room for"
            do = "move what is in the way, change `kind`, `count` or `width`, or drop the join"
            self.problems.append(Problem("SHEE-505", where, self._words(err), needed, do))

    def _words(self, err: RangeError) -> str:
        return in_units(str(err), self.loaded.job.units)

    def _cut(self, seam: Seam, one: Web, other: Web, join: Join) -> None:
        host = other if seam.kind == "first ends" else one
        clear = join.clearance
        if clear is None:
            clear = max(LEAST_CLEAR, SHARE_CLEAR * host.panel.thickness)
        if join.kind == "half-lap":
            if seam.kind != "cross":
                raise RangeError("only one of the two goes on past the other: no half-lap")
            low = join.slit == "bottom"
            done = half_lap(seam, one.region, other.region, first_from_below=low, clearance=clear)
        elif seam.kind == "cross":
            raise RangeError("the two cross: neither ends at the other")
        elif join.kind == "butt":
            done = cut_back(seam, one.region, other.region)
            self._mark(seam)
        else:
            count, width = tongues_of(seam, join)
            how = {"count": count, "width": width, "clearance": clear}
            done = tongued(seam, one.region, other.region, **how)  # type: ignore[arg-type]
        self._put(seam, done.first, done.second)

    def _put(self, seam: Seam, first: object, second: object) -> None:
        for panel, region in ((seam.first, first), (seam.second, second)):
            self.webs[panel.name] = with_region(self.webs[panel.name], region)

    def _propose(self, name: str, to: str) -> None:
        one, other = self.webs[name], self.webs[to]
        seam = seam_of(one.panel, one.region, other.panel, other.region)
        if seam is None or not seam.stands_in:
            return
        kind = "butt"
        try:
            if seam.kind == "cross":
                kind = "half-lap"
                clear = max(LEAST_CLEAR, SHARE_CLEAR * other.panel.thickness)
                regions = one.region, other.region
                done = half_lap(seam, *regions, first_from_below=True, clearance=clear)
            else:
                done = cut_back(seam, one.region, other.region)
                self._mark(seam)
        except RangeError as err:
            self.findings.append(self._stuck(seam, self._words(err)))
            return
        self._put(seam, done.first, done.second)
        self.findings.append(self._proposed(seam, kind))

    def _mark(self, seam: Seam) -> None:
        """Scribe on the sheet that goes on where the other one stands."""
        ends = seam.kind == "first ends"
        host, guest = (seam.second, seam.first) if ends else (seam.first, seam.second)
        start, along, _ = seam.line(host)
        for a, b in seam.spans:
            line = np.array([start + a * along, start + b * along])
            self.marks.setdefault(host.name, []).append((guest.name, line))

    def _proposed(self, seam: Seam, kind: str) -> Finding:
        length = shown(seam.length, "length", self.loaded.job.units)
        names = f"baffles '{seam.first.name}' and '{seam.second.name}'"
        guest, host = seam.second.name, seam.first.name
        if seam.kind != "second ends":
            guest, host = host, guest
        how = f"'{guest}' is cut back to the other's face"
        how = "each is slit half way" if kind == "half-lap" else how
        found = f"they meet over {length} and the job gives no join: {how}"
        other = "" if kind == "half-lap" else ", or kind: tab-and-slot,"
        mend = f"write joins: [{{ to: {host}, kind: {kind} }}]{other} in '{guest}' to settle it"
        return Finding("SHEE-519", names, found, mend, "note")

    def _stuck(self, seam: Seam, why: str) -> Finding:
        names = f"baffles '{seam.first.name}' and '{seam.second.name}'"
        found = f"they stand in each other and no join could be proposed: {why}"
        return Finding("SHEE-519", names, found, "draw one of them shorter", "error")


def tongues_of(seam: Seam, join: Join) -> tuple[int, float]:
    """How many tongues a tab-and-slot join has, and how wide each is [m]."""
    longest = max(b - a for a, b in seam.spans)
    count = join.count or max(round(longest / EVERY), 1)
    return count, join.width or min(WIDEST, longest / count / 3.0)
