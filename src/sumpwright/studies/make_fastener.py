# SPDX-License-Identifier: Apache-2.0
"""Bolts of the pan, rivets and screws of its sheet parts: counted, sized, listed as bought."""

from collections.abc import Iterator
from dataclasses import dataclass

from sumpwright.errors import Finding, RangeError
from sumpwright.job.load import LoadedJob
from sumpwright.job.rail import Rail
from sumpwright.job.sheet_part import RowOfHoles
from sumpwright.metal.clearance_hole import bolt_diameter, screw_through
from sumpwright.metal.rivet import STANDARD, rivet_for
from sumpwright.metal.thread import screw_length
from sumpwright.studies.bodies import Bodies
from sumpwright.studies.make_flange import flange_of
from sumpwright.studies.make_seat import SeatedOn, family
from sumpwright.studies.part import Part
from sumpwright.studies.sheet_part_result import SheetsResult
from sumpwright.units import shown

ENGAGED = {"grey iron": 1.5, "aluminium": 2.0}
"""Thread in the block over the bolt's diameter, [common-practice]"""
WASHER = {"M5": 1.0e-3, "M6": 1.6e-3, "M8": 1.6e-3, "M10": 2.0e-3, "M12": 2.5e-3}
"""m, thickness of a plain washer (ISO 7089, from memory)"""
LENGTHS = (10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100)
"""mm that bolts are sold in (ISO 888, from memory)"""
NUT = 1.3
"""Of a screw past the sheets over its diameter: a nut of 0.8 to 1 d and two pitches,
[common-practice]"""


@dataclass(frozen=True)
class Row:
    """A row of holes that something goes through. SI."""

    part: str
    """What the holes are in"""
    where: str
    holes: RowOfHoles
    grip: float | None
    """m of sheet that it holds together; None where the job does not draw the other sheet"""
    metal: str


def bolt_length(rail: Rail, flange: float) -> tuple[float, float]:
    """Length to buy [m]: the first on sale that reaches deep enough, and what it then engages."""
    held = flange + WASHER[rail.thread]
    needed = held + ENGAGED[rail.block] * bolt_diameter(rail.thread)
    chosen = next((1e-3 * n for n in LENGTHS if 1e-3 * n >= needed - 1e-9), needed)
    return chosen, chosen - held


def pan_bolts(loaded: LoadedJob, bodies: Bodies) -> Iterator[Part]:
    """Bolts and washers of the flange."""
    rail, units = loaded.job.rail, loaded.job.units
    if rail is None or not rail.holes:
        return
    flange = flange_of(loaded, bodies)
    name, note = f"bolt {rail.thread}", "length not known: the job has no flange thickness"
    if flange is not None:
        long, engaged = bolt_length(rail, flange)
        name = f"bolt {rail.thread} x {1e3 * long:g}"
        sizes = [shown(v, "length", units) for v in (flange, WASHER[rail.thread], engaged)]
        note = (
            f"flange {sizes[0]}, washer {sizes[1]}, {sizes[2]} in the block, "
            f"{ENGAGED[rail.block]:g} diameters asked: measure how deep the block is tapped "
            "before buying"
        )
    count = len(rail.holes)
    yield Part("pan-bolts", name, "bought", count, "steel 8.8", note=note)
    yield Part("pan-washers", f"washer for {rail.thread}", "bought", count, "steel")


def rows_of(
    loaded: LoadedJob, sheets: SheetsResult | None, seats: tuple[SeatedOn, ...]
) -> tuple[Row, ...]:
    """Every row of holes in tabs and hinge leaves that are made."""
    units = loaded.job.units
    tabs = (
        Row(
            f"tabs of {seat.baffle.name}",
            seat.where(units),
            seat.tab.holes,
            _grip(seat),
            seat.metal,
        )
        for seat in seats
        if seat.tab.holes is not None
    )
    return (*tabs, *_leaves(loaded, sheets))


def _grip(seat: SeatedOn) -> float | None:
    other = seat.on_thickness
    return None if other is None else seat.baffle.thickness + other


def _leaves(loaded: LoadedJob, sheets: SheetsResult | None) -> Iterator[Row]:
    made = {} if sheets is None else {i.name: i for i in sheets.items if i.kind == "leaf"}
    for baffle in loaded.job.new.baffles:
        for opening in baffle.openings:
            hinge = None if opening.door is None else opening.door.butt_hinge
            leaf = made.get(f"{opening.name} leaf")
            if hinge is None or hinge.holes is None or leaf is None:
                continue
            grip = baffle.thickness + leaf.pattern.thickness
            yield Row(leaf.name, f"{leaf.name}, on {baffle.name}", hinge.holes, grip, leaf.material)


def sheet_fasteners(rows: tuple[Row, ...], units: str) -> tuple[tuple[Part, ...], list[Finding]]:
    """Rivets and screws for all rows, alike ones together; and holes that nothing is sold for."""
    parts: list[Part] = []
    findings: list[Finding] = []
    for (use, hole, grip, metal), alike in _alike(rows).items():
        count = sum(row.holes.count for row in alike)
        key = f"{use}-{1e3 * hole:g}mm" + ("" if grip is None else f"-{1e3 * grip:g}mm")
        key = key if metal == "steel" else f"{key}-{metal.replace(' ', '-')}"
        make = _rivets if use == "rivets" else _screws
        try:
            made = make(hole, grip, metal, units)
            if use == "rivets" and hole < rivet_for(hole).least - 1e-9:
                findings.append(_to_open(alike, hole, units))
        except RangeError as err:
            findings.append(_nothing_sold(alike, str(err)))
            name, note = f"{use[:-1]} for a hole of {_mm(hole, units)}", "nothing is sold for it"
            made = [(name, metal, note)]
        for number, (name, of, note) in enumerate(made):
            own = key if number == 0 else f"nuts-{key}"
            said = "; ".join((note, _where(alike)))
            parts.append(Part(own, name, "bought", count, of, note=said))
    return tuple(parts), findings


def _alike(rows: tuple[Row, ...]) -> dict[tuple[str, float, float | None, str], list[Row]]:
    """Rows by what goes in, hole, grip and metal; without those that are welded shut."""
    groups: dict[tuple[str, float, float | None, str], list[Row]] = {}
    for row in rows:
        if row.holes.use != "plug welds":
            grip = None if row.grip is None else round(row.grip, 6)
            key = row.holes.use, round(row.holes.diameter, 6), grip, family(row.metal)
            groups.setdefault(key, []).append(row)
    return groups


def _rivets(hole: float, grip: float | None, metal: str, units: str) -> list[tuple[str, str, str]]:
    rivet = rivet_for(hole)
    name = f"blind rivet {1e3 * rivet.diameter:g} mm, {STANDARD[metal]}"
    opened = hole < rivet.least - 1e-9
    open_up = f"open the holes of {_mm(hole, units)} to {_mm(rivet.least, units)}; "
    through = "the sheets" if grip is None else f"{_mm(grip, units)} of sheet"
    note = (
        f"{open_up if opened else ''}through {through}: length by its maker's grip range; drill "
        "the other sheet through these holes; count the broken mandrels, none may stay in the pan"
    )
    return [(name, metal, note)]


def _screws(hole: float, grip: float | None, metal: str, units: str) -> list[tuple[str, str, str]]:
    thread = screw_through(hole)
    name = f"ISO 4762 {thread}"
    note = "length not known: the job does not draw the other sheet"
    if grip is not None:
        long = screw_length(grip + NUT * bolt_diameter(thread), at_least=True)
        name, note = f"{name} x {1e3 * long:g}", f"through {_mm(grip, units)} of sheet"
    of = "stainless steel" if metal == "stainless steel" else "steel 8.8"
    nut = "all metal: plastic in it does not stand hot oil"
    return [(name, of, note), (f"locking nut {thread}", of, nut)]


def _where(rows: list[Row]) -> str:
    named = dict.fromkeys(row.part for row in rows)
    return f"in {', '.join(named)}"


def _to_open(rows: list[Row], hole: float, units: str) -> Finding:
    rivet = rivet_for(hole)
    found = f"holes of {_mm(hole, units)} are no rivet's as they are drawn"
    mend = f"draw them {_mm(rivet.least, units)}, for rivets of {1e3 * rivet.diameter:g} mm"
    return Finding("MAKE-508", _where(rows).removeprefix("in "), found, mend, "note")


def _nothing_sold(rows: list[Row], found: str) -> Finding:
    mend = "draw the holes for a size that is sold: 3.3 mm takes a 3.2 mm rivet, 3.4 mm an M3"
    return Finding("MAKE-508", rows[0].where, found, mend, "warning")


def _mm(value: float, units: str) -> str:
    """Of a metric fastener: in millimetres, too, where the job is in inches."""
    metric = f"{1e3 * value:.2f} mm"
    return metric if units == "metric" else f"{shown(value, 'length', units, digits=3)} ({metric})"
