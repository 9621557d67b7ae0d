# SPDX-License-Identifier: Apache-2.0
"""What the halves lack, the order of work on the sealing faces, and what not to overlook."""

from collections.abc import Iterator

from sumpwright.metal.material import Material
from sumpwright.metal.weld import REINFORCED
from sumpwright.metal.weld_access import LEAN
from sumpwright.studies.halves_making import HOLDER_LENGTH, Making
from sumpwright.studies.halves_result import CAUSE_WORDS, Half, Joint, Reach
from sumpwright.units import figure, shown, shown_number, unit_name

BY_HAND = 1e-4
"""m^2; up to this of a half is dressed by hand, with a burr. Common practice, no source."""
LEFT = 0.005
"""Share of a half's skin at which a cutter's own rounding, left in corners, is more than a burr."""
FLAT = {
    "metric": "0.1 to 0.2 mm flat overall and 0.05 mm in any 100 mm",
    "us": "0.004 to 0.008 in flat overall and 0.002 in in any 4 in",
}
"""Of a sealing face, [common-practice]."""
TIGHT = 0.05
"""Share of the weld that may be tight for the torch: it is gone round with the part turned."""


def lacks_of(halves: tuple[Half, Half], joint: Joint, units: str) -> Iterator[str]:
    """Why the halves cannot be made as they are; nothing where they can."""
    for half in halves:
        if not half.machine.fits:
            yield f"{half.name}: larger than the machine's travel"
        if _too_much(half):
            yield f"{half.name}: {_missed(half, units)}"
    if joint.tight_m > TIGHT * joint.weld_m:
        cone, needed = (shown(c, "angle", digits=0) for c in (joint.cone, joint.cone_needed))
        yield (
            f"weld: {shown(joint.tight_m, 'length', units, finer=-1)} of it leave the torch a cone "
            f"of less than {needed}, {cone} at least"
        )
    if joint.skim_m < joint.draw_m[1]:
        draw, skim = (shown(v, "length", units, finer=1) for v in (joint.draw_m[1], joint.skim_m))
        yield f"flange: may be drawn by {draw}, and {skim} is left on it to skim"


def advice_of(halves: tuple[Half, Half], joint: Joint) -> Iterator[str]:
    """Ways out of what lacks."""
    causes = {
        cause
        for half in halves
        if _too_much(half)
        for cause, area in half.reach.causes_m2.items()
        if area > 0.1 * half.reach.missed_m2
    }
    if "undercut" in causes:
        yield (
            "Undercut: a further set-up from that side (`new.split.setups`), a flange that does "
            "not stand out over the place, leaving the metal there, or a third piece welded on."
        )
    if "too deep" in causes:
        yield "Too deep: a slimmer holder, a cutter that stands out further, or a split nearer."
    if "corner" in causes:
        yield "Corners: a smaller cutter that stands out far enough, or larger radii in the pan."
    if "floor" in causes:
        yield "Floors: a cutter with a smaller corner, or a larger radius where floor meets wall."
    if joint.skim_m < joint.draw_m[1]:
        yield "Flange: raise `new.split.skim`, or make the groove narrower."


def area_words(area: float, units: str) -> str:
    """To a tenth of a cm² or a hundredth of a square inch; what is less is not nothing."""
    least = 10.0 ** -(1 if units == "metric" else 2)
    size = shown_number(area, "area", units)
    if area <= 0.0:
        return "nothing"
    if size < 0.5 * least:
        return f"under {least:g} {unit_name('area', units)}"
    return shown(area, "area", units, finer=1)


def missed_words(reach: Reach, units: str) -> str:
    """What no cutter reaches of a half's skin."""
    missed, skin = (area_words(a, units) for a in (reach.missed_m2, reach.area_m2))
    return f"out of every cutter's reach: {missed} of {skin}"


def places_of(reach: Reach, units: str, most: int) -> Iterator[str]:
    """The largest places that no cutter reaches, as far as they are worth a line."""
    for place in reach.places[:most]:
        area = area_words(place.area_m2, units)
        if not area.startswith("under"):
            x, y, z = (figure(c, "length", units, finer=-1).replace("-", "−") for c in place.at_m)
            where = f"x {x}, y {y}, z {z} {unit_name('length', units)}"
            yield f"{area} {CAUSE_WORDS[place.cause]}, near {where}"


def _too_much(half: Half) -> bool:
    """Places that cutters do not get to, or more metal left in corners than a burr."""
    causes = half.reach.causes_m2
    shut = causes["undercut"] + causes["too deep"]
    left = causes["corner"] + causes["floor"]
    return shut > BY_HAND or left > LEFT * half.reach.area_m2


def _missed(half: Half, units: str) -> str:
    reach = half.reach
    words = [
        f"{area_words(area, units)} {CAUSE_WORDS[cause]}"
        for cause, area in sorted(reach.causes_m2.items(), key=lambda item: -item[1])
        if area > 0.1 * reach.missed_m2
    ]
    return f"{area_words(reach.missed_m2, units)} that no cutter reaches ({'; '.join(words)})"


def sealing_of(joint: Joint, units: str) -> tuple[str, ...]:
    """Order of work on what seals: before welding, and after."""
    draw, skim = (shown(v, "length", units, finer=1) for v in (joint.draw_m[1], joint.skim_m))
    return (
        f"Before: mill both halves to size, but leave {skim} on the flange's sealing face.",
        "Before: no bolt holes, no drain or sensor seats, no spot faces: the weld moves them.",
        "Weld bolted to a flat plate, in short runs from side to side; let it cool bolted down.",
        f"After: skim the flange. The weld may draw it by up to {draw}; aim for {FLAT[units]} "
        "(common practice, no source).",
        "After: drill the bolt holes from the rail's own pattern, then seats and threads.",
        "Leak-test before fitting: the inspection sheet has pressures and times.",
    )


def cautions_of(material: Material, joint: Joint) -> Iterator[str]:
    """What can hurt, or weaken the part."""
    yield (
        "Welding, and milling with long tools, is for those qualified for it, by their own "
        "procedure and local rules; these figures are to plan by and qualify nothing."
    )
    yield (
        "No hot work on metal that has seen oil until it is clean and degreased inside: residue "
        "burns and its fumes are poison. Never weld on or near a part with oil in it."
    )
    if material.tempered:
        yield (
            f"{material.name} loses its temper beside the weld: count on the soft metal's strength "
            "there, or have it heat-treated again by someone who is equipped for it."
        )
    if joint.wet:
        share = shown(joint.wet, "share")
        yield f"{share} of the weld stands under oil at rest: a single pore drips. Leak-test it."
    if joint.groove_depth_m == 0.0:
        yield "There is no groove: whether the weld goes through the wall is for a trial piece."


def assumptions_of(made: Making, joint: Joint) -> Iterator[str]:
    """What the figures stand on."""
    yield (
        "Reach: straight down from the split face and from the other side, without clamps, the "
        "half without lip and groove, the cutter's shank as thick as the cutter."
    )
    if made.metal.drilled:
        yield "Reach: bolt holes and the bosses' holes are drilled and left out."
    if any(c.holder is None for c in made.cutters):
        yield "Reach: a cutter without `holder` is taken to clear everything."
    if made.machine.tool is None:
        length = shown(HOLDER_LENGTH, "length", made.units, finer=-1)
        yield f"Machine: the longest tool is its reach and {length} of holder (common practice)."
    yield (
        "Milling time: metal in less metal out over the shop's average removal rate; set-up, "
        "finishing and tool changes are not in it."
    )
    yield (
        f"Weld metal: the groove and {100.0 * (REINFORCED - 1.0):.0f} % more for its cap. "
        f"Torch: a cone of {shown(joint.cone_needed, 'angle', digits=0)} half angle that leans up "
        f"to {shown(float(LEAN), 'angle', digits=0)} (both common practice, no source)."
    )
    yield (
        "Shrinkage: figures for steel (Blodgett 1966, from memory) times what the metal pulls "
        "more; sequence, clamping and heat change it by as much again. Weld a trial piece."
    )
    if joint.gap_m > 0.0:
        yield "The gap is not in the solids: the pan is deeper by it before the weld draws."
